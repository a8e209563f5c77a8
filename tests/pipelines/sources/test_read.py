import contextlib
import gzip
import os
import tempfile
import time
from pathlib import Path

import polars as pl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.read import read_file

from .test_workbook import _book, _rezipped


@pytest.mark.parametrize(
    ("name", "data", "found"),
    [
        ("x.csv", b"", "the file is empty (0 bytes)"),
        ("x.csv", b"\x89PNG\r\n\x1a\n" + bytes(100), "a PNG picture"),
        ("x.csv", bytes(range(32)) * 50, "binary data, not text"),
        ("x.csv", "a,b\n".encode("utf-32"), "UTF-32"),
        ("x.csv", b"<!DOCTYPE html><html></html>", "a web page or XML document"),
        ("x.csv.gz", gzip.compress(b"a,b\n1,2\n" * 99, mtime=0)[:20], "the gzip archive is damaged or cut short"),
        ("x.parquet", b"a,b\n1,2\n", "text, not the Parquet its name says"),
        ("x.xlsx", b"a,b\n1,2\n", "text, not the workbook its name says"),
        ("x.dat", b"a,b\n1,2\n", "a file of type .dat"),
        ("x", b"a,b\n1,2\n", "a file without a type in its name"),
    ],
)
def test_files_that_cannot_be_read(tmp_path, name, data, found):
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(UnreadableFileError, match=r"^x\S*: .*\. Expected .*\. .*\.$") as caught:
        read_file(path)
    assert found in str(caught.value)


def test_the_name_it_was_dropped_in_under_is_used(tmp_path):
    path = tmp_path / "0f3a"
    path.write_bytes(b"a,b\n1,2\n")
    (table,) = read_file(path, "repair_line_2024-05.CSV")
    assert table.name == "repair_line_2024-05"


def test_links_that_lead_out_are_refused_and_those_within_are_not(tmp_path):
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    (tmp_path / "secret.csv").write_bytes(b"a,b\n1,2\n")
    (inbox / "x.csv").write_bytes(b"a,b\n1,2\n")
    (inbox / "out.csv").symlink_to(tmp_path / "secret.csv")
    (inbox / "in.csv").symlink_to(inbox / "x.csv")
    (inbox / "loop.csv").symlink_to(inbox / "loop.csv")
    with pytest.raises(UnreadableFileError, match=r"^out\.csv: a link that leads out of the folder"):
        read_file(inbox / "out.csv")
    with pytest.raises(UnreadableFileError, match="cannot be found"):
        read_file(inbox / "loop.csv")
    assert read_file(inbox / "in.csv")[0].n_physical == 1


def test_folders_pipes_and_missing_files(tmp_path):
    (tmp_path / "folder.csv").mkdir()
    os.mkfifo(tmp_path / "pipe.csv")
    for name, found in (
        ("folder.csv", "not a regular file"),
        ("pipe.csv", "not a regular file"),
        ("none.csv", "found"),
    ):
        with pytest.raises(UnreadableFileError, match=found):
            read_file(tmp_path / name)


def _workbook_bytes():
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "cause", "n"])
        for row in range(1, 6):
            sheet.write_row(row, 0, [f"r{row}", "leak", row + 0.5])
        sheet.write_formula("C8", "=1+1", value=2)
        sheet.merge_range("A9:A10", "both")

    return _book(fill)


def _parquet_bytes():
    with tempfile.NamedTemporaryFile(suffix=".parquet") as file:
        pl.DataFrame({"id": ["a", "b", "c"] * 20, "n": [1.5, None, 3.0] * 20}).write_parquet(file.name)
        return Path(file.name).read_bytes()


_SAMPLES = {
    "x.csv": b'id,cause,n\r\n1,"a ""b"", c",5\r\n2,"two\nlines",\r\n\r\n3,\xc3\xa9,7\r\n' * 3,
    "y.csv": "id;cause\n1;Öl\n2;x\n".encode("utf-16"),
    "x.jsonl": b'{"id": "1", "n": 1.50, "ok": true}\n{"id": null, "cause": "\\u00e9"}\n' * 3,
    "x.xlsx": _workbook_bytes(),
    "x.parquet": _parquet_bytes(),
}
_EDIT = st.tuples(
    st.floats(0, 1, exclude_max=True), st.integers(0, 4), st.binary(min_size=1, max_size=4) | st.just(b'"')
)


def _mutated(data, edits):
    """Each edit: where (as a share of the length), how many bytes go, which come."""
    for share, n_out, new in edits:
        at = int(share * len(data))
        data = data[:at] + new + data[at + n_out :]
    return data


@pytest.mark.parametrize("name", _SAMPLES)
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(edits=st.lists(_EDIT, min_size=1, max_size=6), kept=st.floats(0.2, 2))
def test_damaged_files_are_read_or_refused_and_nothing_else(name, edits, kept):
    # That rows and bad lines add up to the records found is held by RawTable itself, in every reading here.
    data = _mutated(_SAMPLES[name], edits)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data[: int(len(data) * kept)])
        start = time.perf_counter()
        try:
            tables = read_file(path)
        except UnreadableFileError as error:
            assert str(error).startswith(name)
        else:
            assert all(table.rows.width > 1 for table in tables)
        assert time.perf_counter() - start < 5


_PARTS = ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/styles.xml", "xl/workbook.xml"]


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(_PARTS), st.lists(_EDIT, min_size=1, max_size=3))
def test_workbooks_damaged_inside_sound_archives_are_read_or_refused(part, edits):
    data = _rezipped(_SAMPLES["x.xlsx"], lambda name, old: _mutated(old, edits) if name == part else old)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.xlsx"
        path.write_bytes(data)
        with contextlib.suppress(UnreadableFileError):
            assert all(table.rows.width > 1 for table in read_file(path))
