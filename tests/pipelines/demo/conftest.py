from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest

from longmile.pipelines.demo.shop import write_demo_shop
from longmile.pipelines.demo.truth import DemoTruth


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, DemoTruth]:
    """The default demo shop, written once for all tests of it."""
    folder = tmp_path_factory.mktemp("demo") / "inbox"
    return folder, write_demo_shop(folder)


def read_rows(path: Path) -> pl.DataFrame:
    """Rows of one export file as text, read by plain polars and none of the project's own readers."""
    if path.suffix == ".jsonl":
        frame = pl.read_ndjson(path, infer_schema_length=None)
    elif path.suffix == ".parquet":
        frame = pl.read_parquet(path)
    elif path.suffix == ".xlsx":
        frame = pl.read_excel(path, infer_schema_length=0)
    else:
        content = path.read_bytes()
        is_windows = content.split(b"\n", 1)[0].count(b";") > 3
        text = content.decode("cp1252" if is_windows else "utf-8")
        frame = pl.read_csv(
            text.encode(),
            separator=";" if is_windows else ",",
            infer_schema_length=0,
            truncate_ragged_lines=False,
        )
    return frame.with_columns(pl.all().cast(pl.String))


@pytest.fixture(scope="session")
def tables(written: tuple[Path, DemoTruth]) -> dict[str, pl.DataFrame]:
    """All rows of all files by table, with the file each stands in."""
    folder, truth = written
    found: dict[str, list[pl.DataFrame]] = {}
    for name, (table, _) in sorted(truth.files.items()):
        frame = read_rows(folder / name).with_columns(pl.lit(name).alias("file"))
        found.setdefault(table, []).append(frame)
    return {table: pl.concat(frames) for table, frames in found.items()}
