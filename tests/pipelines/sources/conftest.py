"""Files written on the spot, read back."""

from collections.abc import Callable
from pathlib import Path

import pytest

from longmile.pipelines.sources.read import read_file
from longmile.pipelines.sources.shape import RawTable

Read = Callable[..., RawTable]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """read(name, bytes): writes the file and gives its one table."""

    def write_and_read(name: str, data: bytes) -> RawTable:
        path = tmp_path / name
        path.write_bytes(data)
        (table,) = read_file(path)
        return table

    return write_and_read
