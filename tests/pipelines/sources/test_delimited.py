import csv
import io
import subprocess
import sys
import tempfile
from pathlib import Path

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import ReconciliationError, UnreadableFileError
from longmile.pipelines.sources.delimited import read_delimited
from longmile.pipelines.sources.delimited_head import sniff_delimiter
from longmile.pipelines.sources.delimited_record import OpenRecord
from longmile.pipelines.sources.shape import RawTable, bad_lines_frame

# Line numbers below are counted by hand: the header is line 1.


def _rows(table):
    return [tuple(row) for row in table.rows.iter_rows()]


def _bad(table):
    return [(number, reason) for number, _, reason in table.bad_lines.iter_rows()]


def test_values_come_as_written_with_the_line_they_stand_on(read):
    table = read("vehicle.csv", b" vehicle_id ,vin\n007, x \n\n1.50,\n")
    assert table.name == "vehicle"
    assert table.rows.schema == {"row_number": pl.Int64, "vehicle_id": pl.String, "vin": pl.String}
    assert _rows(table) == [(2, "007", " x "), (4, "1.50", None)]
    assert (table.n_physical, table.notes) == (2, ("1 blank line ignored",))


@pytest.mark.parametrize(
    ("data", "note"),
    [
        ("id,cause\n1,Zündung é\n".encode(), ""),
        (b"\xef\xbb\xbf" + "id,cause\n1,Zündung é\n".encode(), ""),
        ("id,cause\n1,Zündung é\n".encode("utf-16"), "UTF-16"),
        (b"\xfe\xff" + "id,cause\n1,Zündung é\n".encode("utf-16-be"), "UTF-16"),
        ("id,cause\n1,Zündung é\n".encode("cp1252"), "Windows-1252"),
        ("id,cause\r\n1,Zündung é\r\n".encode(), ""),
        ("id,cause\r1,Zündung é\r".encode(), ""),
        ("id,cause\n1,Zündung é".encode(), ""),
    ],
)
def test_every_encoding_and_line_end_gives_the_same_row(read, data, note):
    table = read("x.csv", data)
    assert _rows(table) == [(2, "1", "Zündung é")]
    assert all(note in line for line in table.notes)
    assert bool(table.notes) == bool(note)


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_delimiter_is_found(read, sign):
    text = f'id{sign}hours{sign}cause\n1{sign}"2,5;x|y\t"{sign}noise\n2{sign}3{sign}oil\n'
    assert _rows(read("x.txt", text.encode())) == [(2, "1", "2,5;x|y\t", "noise"), (3, "2", "3", "oil")]


def test_delimiter_of_decimal_commas_is_the_semicolon():
    # Commas: none in the header, so no candidate. Second case: one comma in each line, but two semicolons.
    assert sniff_delimiter(["id;hours", "1,5;2,5"]) == ";"
    assert sniff_delimiter(["id, no;hours;x", "1,5;2;3"]) == ";"
    assert sniff_delimiter(["alone", "1"]) == ","


def test_quotes_delimiters_doubled_quotes_and_line_ends_inside(read):
    table = read("x.csv", b'id,cause,n\r\n1,"a ""b"", c\r\nd",5\r\n2,,6\r\n3,"",7\r\n')
    assert _rows(table) == [(2, "1", 'a "b", c\r\nd', "5"), (4, "2", None, "6"), (5, "3", None, "7")]


def test_a_quote_inside_an_unquoted_field_is_a_plain_character(read):
    assert _rows(read("x.csv", b'id,cause\n1,12" rotor\n')) == [(2, "1", '12" rotor')]


def test_header_may_hold_a_line_end_and_blank_lines_before_it(read):
    table = read("x.csv", b'\n"id\nno",cause\n1,2\n')
    assert table.headers == ("id\nno", "cause")
    assert _rows(table) == [(4, "1", "2")]


def test_ragged_lines_are_set_aside_with_their_text(read):
    table = read("x.csv", b"a,b,c\n1,2,3\n1,2\n1,2,3,4\n5,6,7\n")
    assert _rows(table) == [(2, "1", "2", "3"), (5, "5", "6", "7")]
    assert table.bad_lines.rows() == [
        (3, "1,2", "has 2 fields, the header 3"),
        (4, "1,2,3,4", "has 4 fields, the header 3"),
    ]


def test_an_open_quote_loses_its_own_line_only(read):
    lines = ["a,b,c", '1,"open,3', *(f"{n},x,y" for n in range(2, 50)), '50,"q",z']
    table = read("x.csv", "\n".join(lines).encode())
    assert _bad(table) == [
        (2, "has text after a closing quote (closed on line 51): a quote inside quotes must be doubled"),
    ]
    assert table.rows["a"].to_list() == [str(n) for n in range(2, 51)]


def test_an_open_quote_at_the_end_of_the_file(read):
    table = read("x.csv", b'a,b\n1,2\n3,"4\n5,6\n')
    assert _bad(table) == [(3, "opens a quote that is not closed before the end of the file")]
    assert table.rows["a"].to_list() == ["1", "5"]


def test_an_open_quote_that_would_join_rows_into_one_of_the_right_width(read):
    # Taken as one record, lines 2-4 have three fields: 1 | open,3 / 2,x,y / 3,12 | 9. They are three rows.
    table = read("x.csv", b'a,b,c\n1,"open,3\n2,x,y\n3,12",9\n')
    assert [number for number, _ in _bad(table)] == [2]
    assert _rows(table) == [(3, "2", "x", "y"), (4, "3", '12"', "9")]


def test_many_open_quotes_are_each_set_aside(read):
    # Every other line opens a quote; searching the whole rest each time would take hours.
    data = b"a,b\n" + b'1,"""x\n2,y\n' * 50_000
    table = read("x.csv", data)
    assert table.n_physical == 100_000
    assert table.bad_lines.height == 50_000


def test_nul_and_undecodable_bytes_spoil_their_line_only(read):
    table = read("x.csv", "a,b\n1,é\n".encode() + b"2,\x00\n3,\xff\n4,\xc3\xa9\n")
    assert table.bad_lines.rows() == [
        (3, "2,\\x00", "holds a NUL byte"),
        (4, "3,\\xff", "holds bytes that are not UTF-8"),
    ]
    assert _rows(table) == [(2, "1", "é"), (5, "4", "é")]
    # 0x81 has no character in Windows-1252, 0xe9 is e acute (Unicode's published table of the code page).
    table = read("y.csv", b"a,b\n1,\xe9\n2,\x81\n")
    assert _rows(table) == [(2, "1", "é")]
    assert _bad(table) == [(3, "holds bytes that are not Windows-1252")]


def test_half_a_character_at_the_end_of_utf16(read):
    table = read("x.csv", "a,b\n1,2\n3,4".encode("utf-16") + b"\x00")
    assert _bad(table) == [(3, "holds bytes that are not UTF-16")]


def test_raw_text_is_cut_and_its_length_said(read):
    table = read("x.csv", b"a,b\n" + b"x" * 3_000 + b"\n")
    assert table.bad_lines["raw_text"][0] == "x" * 2_000 + "... [3,000 characters in all]"


def test_a_line_over_one_mebibyte_between_others(read):
    # 1 MiB = 1,048,576 bytes; the line has two bytes more ("1,").
    table = read("x.csv", b"a,b\n1," + b"x" * 1_048_576 + b"\n2,y\n")
    assert _bad(table) == [(2, "is 1,048,578 bytes long, at most 1,048,576 are read")]
    assert _rows(table) == [(3, "2", "y")]


# Linux: VmHWM, in kB; ru_maxrss would carry over the size of the process that started this one (seen here). Elsewhere
# ru_maxrss, which is in bytes on macOS (getrusage manual pages).
_MEASURE = """
import resource, sys
from pathlib import Path
from longmile.pipelines.sources.read import read_file
(table,) = read_file(Path(sys.argv[1]))
status = Path("/proc/self/status")
if status.exists():
    peak = next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmHWM"))
else:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1_000
print(table.rows.height, table.bad_lines.row(0)[2], peak, sep="|")
"""


def test_a_line_of_200_megabytes_is_set_aside_in_bounded_memory(tmp_path):
    path = tmp_path / "big.csv"
    with path.open("wb") as file:
        file.write(b"a,b\n1,2\n")
        for _ in range(200):
            file.write(b'x"' * 500_000)
        file.write(b"\n3,4\n")
    done = subprocess.run([sys.executable, "-c", _MEASURE, str(path)], capture_output=True, text=True, check=True)
    n_rows, reason, peak = done.stdout.strip().split("|")
    assert (n_rows, reason) == ("2", "is 200,000,000 bytes long, at most 1,048,576 are read")
    assert int(peak) / 1_000 < 400


def test_a_file_with_a_header_only_has_no_rows(read):
    table = read("x.csv", b"a,b\n")
    assert (table.n_physical, table.rows.width) == (0, 3)
    assert table.notes == ("the file has a header and no data rows",)


def test_a_column_called_row_number_is_renamed_and_said(read):
    table = read("x.csv", b"row_number,b\n9,2\n")
    assert _rows(table) == [(2, "9", "2")]
    assert table.headers == ("row_number_in_file", "b")
    assert table.notes == ("the file's own column row_number is called row_number_in_file here",)


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b",,\n1,2,3\n", "the header has no name at all"),
        (b"1,2024-05-01,7\n2,2024-05-02,8\n", "looks like data"),
        (b"V107,Kestra,2017\nV114,Lumo,2019\n", "looks like data"),
        (b"A printed list\nV107,Kestra,2017\nV114,Lumo,2019\n", "none of the first 60 lines reads as their header"),
        (b"\n \n", "only blank lines"),
        (b'a,"b\n1,2\n', "a quote never closed"),
        (b"a,\x00\n1,2\n", "line 1, which should be the header, holds a NUL byte"),
        (",".join(f"c{n}" for n in range(1_001)).encode(), "1,001 columns"),
    ],
)
def test_a_header_that_cannot_be_used(read, data, found):
    with pytest.raises(UnreadableFileError, match=r"^x\.csv: .*Expected .*\. .*\.$") as caught:
        read("x.csv", data)
    assert found in str(caught.value)


def test_a_refused_header_does_not_show_the_values_in_its_place(read):
    with pytest.raises(UnreadableFileError) as caught:
        read("x.csv", b"555-0101,2024-05-01,7\n555-0102,2024-05-02,8\n")
    assert "555" not in str(caught.value)


def test_a_thousand_columns_are_read(read):
    names = ",".join(f"c{n}" for n in range(1_000))
    table = read("x.csv", f"{names}\n{',' * 999}\n".encode())
    assert (len(table.headers), table.n_physical) == (1_000, 1)


def test_a_cell_of_a_million_characters_is_set_aside_with_its_row(read):
    # 1e6 characters fit into a line of 1 MiB (1,048,576 bytes); a cell may hold 100,000.
    table = read("x.csv", b"a,note\n1," + b"x" * 1_000_000 + b"\n2," + b"y" * 100_000 + b"\n")
    assert _bad(table) == [
        (2, "holds 1,000,000 characters in the column 'note', at most 100,000 are read in a cell"),
    ]
    assert table.rows["a"].to_list() == ["2"]


def test_a_table_that_does_not_add_up_is_refused():
    rows = pl.DataFrame({"row_number": [2], "a": ["1"]})
    with pytest.raises(ReconciliationError, match="2 data records were found, but 1 rows and 0 bad lines make 1"):
        RawTable("x", rows, bad_lines_frame([]), 2)


def _same(path):
    fast, careful = read_delimited(path, "x.csv"), read_delimited(path, "x.csv", None)
    assert fast.rows.equals(careful.rows)
    assert fast.rows.schema == careful.rows.schema
    assert fast.bad_lines.equals(careful.bad_lines)
    assert (fast.n_physical, fast.notes) == (careful.n_physical, careful.notes)
    return fast


_CELL = st.text(st.sampled_from("ab1 ,;|\t\"'\\#\r\né"), max_size=6)


@settings(max_examples=250, deadline=None)
@given(
    st.integers(2, 4).flatmap(lambda n: st.lists(st.lists(_CELL, min_size=n, max_size=n), min_size=0, max_size=8)),
    st.sampled_from(",;\t|"),
    st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    st.sampled_from(["\n", "\r\n"]),
)
def test_well_formed_files_come_back_whole_by_both_ways(records, sign, quoting, end):
    # What Python's csv module writes, it must be possible to read back.
    # The rule for open quotes may set aside a note that looks like rows: then nothing may be lost.
    if quoting == csv.QUOTE_MINIMAL:  # Python 3.11 writes a lone carriage return without quotes
        records = [[cell.replace("\r", "") for cell in record] for record in records]
    width = len(records[0]) if records else 2
    names = [f"column {place}" for place in range(width)]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=sign, quoting=quoting, lineterminator=end).writerows([names, *records])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.csv"
        path.write_bytes(text.getvalue().encode())
        table = _same(path)
    if table.bad_lines.is_empty():
        assert [[cell or "" for cell in row[1:]] for row in table.rows.iter_rows()] == records
    else:
        assert any("rows of their own" in reason for reason in table.bad_lines["reason"])


def test_one_column_needs_no_delimiter(read):
    table = read("x.csv", b'id\n7\n"a, b"\n""\n\n')
    assert _rows(table) == [(2, "7"), (3, "a, b"), (4, None)]


@settings(max_examples=300, deadline=None)
@given(st.lists(st.text(st.sampled_from('ab,"\r\x00 '), max_size=12), max_size=10))
def test_any_lines_are_accounted_for_and_both_ways_agree(lines):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.csv"
        path.write_text("\n".join(["a," + "b" * 2_000, *lines]), newline="")
        table = _same(path)
    filled = [line for line in lines if line.removesuffix("\r").strip(" ")]
    assert table.n_physical <= len(filled)


@settings(deadline=None)
@given(st.lists(st.text(st.sampled_from('a,"'), max_size=8), min_size=1, max_size=3))
def test_our_grammar_agrees_with_the_csv_module_where_that_is_strict(lines):
    record = OpenRecord(",")
    taken = 0
    while taken < len(lines) and record.feed(lines[taken]) and record.is_open:
        taken += 1
    try:
        expected = next(csv.reader([line + "\n" for line in lines], strict=True))
    except csv.Error:
        return
    if lines[0]:
        assert record.fields == expected
