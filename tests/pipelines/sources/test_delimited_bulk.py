"""DuckDB's reader, tried on small files: whatever of them it is believed, the careful reader says the same."""

from __future__ import annotations

import csv
import io
import itertools
import tempfile
from collections.abc import Callable
from pathlib import Path

import duckdb
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.sources.bulk_account import BulkAccount, NotProvenError
from longmile.pipelines.sources.delimited import read_delimited
from longmile.pipelines.sources.delimited_bulk import bulk_file, bulk_sql
from longmile.pipelines.sources.shape import RawTable, bad_lines_frame

NAME = "repair_line.csv"
Write = Callable[[bytes], Path]


@pytest.fixture(scope="module")
def connection():
    with duckdb.connect(config={"threads": 1}) as opened:
        yield opened


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def written(data: bytes) -> Path:
        (tmp_path / NAME).write_bytes(data)
        return tmp_path / NAME

    return written


def in_bulk(connection: duckdb.DuckDBPyConnection, path: Path, rows_at_once: int = 100_000) -> RawTable | None:
    """The file's table as DuckDB reads it, stripped like the careful one below; None where it is not believed."""
    file = bulk_file(path, NAME, 0)
    if file is None:
        return None
    account = BulkAccount(file)
    try:
        whole = connection.sql(bulk_sql(file)).to_arrow_table()
        pieces = [account.take(whole.slice(at, rows_at_once)) for at in range(0, whole.num_rows or 1, rows_at_once)]
        account.close()
    except (duckdb.Error, NotProvenError):
        return None
    rows = pl.concat([pl.DataFrame(pl.from_arrow(piece)) for piece in pieces])
    return RawTable(
        path.stem, rows.select("row_number", *file.layout.headers), bad_lines_frame(account.bad), account.n_rows
    )


def stripped(rows: pl.DataFrame) -> list[tuple[object, ...]]:
    """Rows without white space at the ends of texts, empty as None: what is done with every text before it lands."""
    text = pl.col(pl.String).str.strip_chars()
    return rows.with_columns(pl.when(text != "").then(text)).rows()


def agrees(connection: duckdb.DuckDBPyConnection, path: Path, rows_at_once: int = 100_000) -> bool:
    """Whether DuckDB is believed; then the careful reader must say the same, bad lines and line numbers included."""
    found = in_bulk(connection, path, rows_at_once)
    if found is None:
        return False
    careful = read_delimited(path, NAME, None)
    assert stripped(found.rows) == stripped(careful.rows)
    assert found.bad_lines.rows() == careful.bad_lines.rows()
    assert found.n_physical == careful.n_physical
    return True


@pytest.mark.parametrize(("alphabet", "header"), [('a, "\n', "h,k"), ('a,"\r\n', "h,k"), ('a,"\n', "h,k,m")])
def test_of_every_short_text_only_what_the_careful_reader_says_is_believed(connection, tmp_path, alphabet, header):
    # All texts of up to four signs; DuckDB alone would be wrong on dozens of them (trailing delimiters, spaces
    # beside quotes, blank lines, lone carriage returns, records over several lines that are rows of their own).
    path = tmp_path / NAME
    n_believed = 0
    for length in range(1, 5):
        for signs in itertools.product(alphabet, repeat=length):
            if "," in signs:
                path.write_bytes(f"{header}\n{''.join(signs)}".encode())
                n_believed += agrees(connection, path)
    assert n_believed >= 20


_CELL = st.text(st.sampled_from("ab1 ,;|\t\"'\\#\r\néß\u00a0"), max_size=6)


@settings(max_examples=80, deadline=None, derandomize=True)
@given(
    st.integers(2, 4).flatmap(lambda n: st.lists(st.lists(_CELL, min_size=n, max_size=n), min_size=0, max_size=8)),
    st.sampled_from(",;\t|"),
    st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    st.sampled_from(["\n", "\r\n"]),
    st.sampled_from(["", "\ufeff", "\n", "\n\n"]),
    st.integers(1, 4),
)
def test_well_formed_files_are_read_the_same_or_given_up(connection, records, sign, quoting, end, around, rows_at_once):
    names = [f"column {place}" for place in range(len(records[0]) if records else 2)]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=sign, quoting=quoting, lineterminator=end).writerows([names, *records])
    whole = around + text.getvalue() if around == "\ufeff" else text.getvalue() + around
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / NAME
        path.write_bytes(whole.encode())
        agrees(connection, path, rows_at_once)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.text(st.sampled_from('ab,"\r\x00 é'), max_size=12), max_size=10))
def test_any_lines_are_read_the_same_or_given_up(connection, lines):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / NAME
        path.write_bytes("\n".join(["alpha,beta", *lines]).encode())
        agrees(connection, path)


# Line numbers below are counted by hand: the header is line 1.


@pytest.mark.parametrize(
    ("data", "numbers"),
    [
        (b"id,cause\n1,x\n2,y\n", [2, 3]),
        (b"id,cause\r\n1,x\r\n2,y", [2, 3]),
        (b'id,cause\n1,"two\nlines, and ""more"""\n2,y\n3,"a\n\nb"\n4,z\n', [2, 4, 5, 8]),
        (b'id,cause\r\n1,"two\r\nlines"\r\n2,y\r\n', [2, 4]),
        (b"\xef\xbb\xbfid,cause\n1,x\n", [2]),
        (b'id,cause\n1,12" rotor\n2, padded \n', [2, 3]),
        (b"List of jobs\n\nid,cause\n1,x\n2,y\n", [4, 5]),
        (b"id\tcause\n1\tx y\n", [2]),
        (b'id,cause\n"1","x"\n"","y"\n', [2, 3]),
        ("id,cause\n1,Ölpumpe\n".encode(), [2]),
        (b"id,cause\n", []),
    ],
)
def test_ordinary_files_are_believed_and_numbered_by_the_line_at_which_a_record_starts(
    connection, write, data, numbers
):
    path = write(data)
    assert agrees(connection, path, rows_at_once=1)
    assert in_bulk(connection, path).rows["row_number"].to_list() == numbers


@pytest.mark.parametrize(
    "data",
    [
        b"id,cause\n1,x\n2\n",  # ragged
        b"id,cause\n1,x,\n",  # an empty field too many, which DuckDB drops
        b'id,cause\n1, "x"\n',  # spaces before a quote, which DuckDB drops
        b'id,cause\n1,"x" \n',  # and after one
        b'id,cause\n1,"a" "b"\n',
        b"id,cause\n1,x\n\n2,y\n",  # a blank line
        b"id,cause\n1,x\ry\n2,z\n",  # a carriage return alone
        b"id,cause\n1,x\0\n",
        b"id,cause\n1,\xff\n2,\xc3\xa9\n3,\xc3\xa9\n",
        b'id,cause\n1,"open\n2,y\n',
        b'a,b,c\n1,"open,3\n2,x,y\n3,12",9\n',  # one open quote across rows, closed by chance
        b"id\n1\n2\n",  # one column
        b"id,\n1,x\n",  # a column without a name
        b"id;cause\r1;x\r",  # lines that end in a carriage return alone
        "id,cause\n1,Ölpumpe\n".encode("cp1252"),
        "id,cause\n1,x\n".encode("utf-16"),
        b'{"id": 1}\n',
        b"id,cause\n1," + b"x" * (1 << 20) + b"\n",
    ],
    ids=lambda data: repr(data[:24]),
)
def test_what_duckdb_may_read_in_its_own_way_is_given_up(connection, write, data):
    assert in_bulk(connection, write(data)) is None


def test_totals_repeated_headers_and_long_cells_are_set_apart_as_by_the_careful_reader(connection, write):
    long = "x" * 100_001  # one more than a cell may have
    path = write(f"id,cause\n1,x\nid,cause\n2,{long}\nTotal,2\n3,y\n".encode())
    assert agrees(connection, path, rows_at_once=2)
    found = in_bulk(connection, path)
    assert found.rows["row_number"].to_list() == [2, 6]
    assert found.bad_lines["row_number"].to_list() == [3, 4, 5]


@pytest.mark.parametrize("name", ["jobs[1].csv", "jobs*.csv", "jobs?.csv"])
def test_a_name_that_duckdb_reads_as_a_pattern_is_given_up(tmp_path, name):
    (tmp_path / name).write_bytes(b"id,cause\n1,x\n")
    assert bulk_file(tmp_path / name, name, 0) is None


def test_a_small_file_and_one_of_another_kind_are_left_to_the_other_readers(write):
    path = write(b"id,cause\n1,x\n")
    assert bulk_file(path, NAME) is None
    assert bulk_file(path, "repair_line.jsonl", 0) is None
    assert bulk_file(path, NAME, 0) is not None
