"""Writing the shapes again gives what is committed."""

from __future__ import annotations

import gzip
import subprocess
import sys
import zipfile
from pathlib import Path

import openpyxl

HERE = Path(__file__).parent


def test_writing_the_shapes_again_gives_the_same(tmp_path: Path):
    """Bytes; of packed files their content, of workbooks their cells and merged ranges."""
    subprocess.run([sys.executable, str(HERE / "make_shapes.py"), str(tmp_path)], check=True)
    made = {path.relative_to(tmp_path): path for path in tmp_path.glob("*/*/*")}
    here = {
        path.relative_to(HERE): path for kind in ("known", "held_out", "fresh") for path in HERE.glob(f"{kind}/*/*")
    }
    assert sorted(made) == sorted(here)
    for name, path in made.items():
        assert _content(path) == _content(here[name]), f"{name}: run python tests/shapes/make_shapes.py"


def _content(path: Path) -> object:
    if path.suffix == ".gz":
        return gzip.decompress(path.read_bytes())
    if path.suffix == ".zip":
        with zipfile.ZipFile(path) as archive:
            return [(name, archive.read(name)) for name in archive.namelist()]
    if path.suffix == ".xlsx":
        sheets = openpyxl.load_workbook(path).worksheets
        return [
            (sheet.title, list(sheet.iter_rows(values_only=True)), sorted(map(str, sheet.merged_cells.ranges)))
            for sheet in sheets
        ]
    return path.read_bytes()
