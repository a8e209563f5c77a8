import pytest

from longmile.pipelines.errors import UnreadableFileError

# Line numbers are counted by hand; the first line of the file is 1.


def _bad(table):
    return [(number, reason) for number, _, reason in table.bad_lines.iter_rows()]


PRINTED = """\
Werkstatt Customer 0012
gedruckt am 02.01.2025, 09:14

Auftrag;Datum;Betrag;Text
R1;01.05.2024;1.012,50;"total loss, noise"
R2;02.05.2024;7,00;Leck
Seite 1 von 2
Werkstatt Customer 0012
gedruckt am 02.01.2025, 09:15

Auftrag;Datum;Betrag;Text
R3;03.05.2024;7,00;Summe der Teile geprüft
Summe;;1.026,50;
"""


def test_a_printed_list(read):
    table = read("x.csv", PRINTED.encode("cp1252"))
    assert table.headers == ("Auftrag", "Datum", "Betrag", "Text")
    assert table.rows["row_number"].to_list() == [5, 6, 12]
    assert table.rows["Text"].to_list() == ["total loss, noise", "Leck", "Summe der Teile geprüft"]
    assert _bad(table) == [
        (7, "a page line, not a record"),
        (8, "repeats a line above the header"),
        (9, "repeats a line above the header"),
        (11, "repeats the header"),
        (13, "a total line, not a record"),
    ]
    # 13 lines: 4 up to the header, 1 blank below it, so 8 records: 3 rows and 5 set aside.
    assert table.n_physical == 8
    assert table.notes == (
        "the text is in Windows-1252 and was decoded as such",
        "lines 1 to 3 stand above the header and were passed over",
        "1 blank line ignored",
    )


def test_the_text_above_the_header_goes_nowhere(read):
    table = read("x.csv", PRINTED.encode())
    texts = [*table.notes, *table.headers, *table.bad_lines["raw_text"], *map(str, table.rows.rows())]
    assert not any("0012" in text for text in texts)


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_the_delimiter_is_that_of_the_header_not_of_the_title(read, sign):
    title = "Report, January; 2024 | North"
    rows = "\n".join(sign.join((f"R{n}", "oil", f"{n}.5", "x", "y", "z", "new", "T01")) for n in range(5))
    table = read("x.txt", f"{title}\n{sign.join('abcdefgh')}\n{rows}\n".encode())
    assert table.headers == tuple("abcdefgh")
    assert table.n_physical == 5


def test_a_title_that_cannot_be_read_is_passed_over(read):
    table = read("x.csv", b"Werkstatt \x00\norder,price\nR1,5\nR2,6\n")
    assert table.rows.rows() == [(3, "R1", "5"), (4, "R2", "6")]


def test_a_title_with_an_open_quote_is_passed_over(read):
    table = read("x.csv", b'Shop "North\n"order, no","pr\nice"\nR1,5\nR2,6\n')
    assert table.headers == ("order, no", "pr\nice")
    assert table.rows["row_number"].to_list() == [4, 5]


@pytest.mark.parametrize("first", [b"sep=;", b'"sep=;"', b"SEP=;\r", b"\xef\xbb\xbfsep=;"])
def test_a_first_line_that_states_the_delimiter(read, first):
    # By the commas alone the header would have three columns, and both lines agree.
    table = read("x.csv", first + b"\na,b,c;d\n1,2,3;4\n")
    assert table.headers == ("a,b,c", "d")
    assert table.rows.rows() == [(3, "1,2,3", "4")]
    assert table.notes == ("line 1 states the delimiter and was passed over",)


def test_the_line_that_states_the_delimiter_is_named_by_its_number(read):
    # Found by tests/fuzz (file 50005192: blank lines above it): the note said line 1.
    table = read("x.csv", b"\n\nsep=;\na;b\n1;2\n")
    assert table.rows.rows() == [(5, "1", "2")]
    assert table.notes == ("line 3 states the delimiter and was passed over", "2 blank lines ignored")


def test_a_stated_delimiter_that_the_header_does_not_have(read):
    assert read("x.csv", b"sep=;\na,b\n1,2\n").rows.rows() == [(3, "1", "2")]


def test_a_delimiter_nobody_would_guess_can_be_stated(read):
    assert read("x.csv", b"sep=^\n\na^b\n1^2\n").rows.rows() == [(4, "1", "2")]


def test_a_delimiter_at_the_end_of_every_row_only(read):
    table = read("x.csv", b"a,b\n1,2,\n3,4,\n5,6\n")
    assert table.headers == ("a", "b")
    assert table.rows["a"].to_list() == ["1", "3"]
    assert _bad(table) == [(4, "has 2 fields, the header 3")]


def test_a_delimiter_at_the_end_of_the_header_only(read):
    assert read("x.csv", b"a,b,\n1,2\n3,4\n").rows.rows() == [(2, "1", "2"), (3, "3", "4")]


def test_one_value_too_many_in_every_row_is_not_a_delimiter_at_its_end(read):
    table = read("x.csv", b"a,b\n1,2,x\n3,4,y\n")
    assert [number for number, _ in _bad(table)] == [2, 3]


def test_the_neutral_layout_is_read_as_ever_though_most_lines_are_ragged(read):
    header = b"repair_order_id,vehicle_id,opened_on,odometer_in"
    lines = [b"R1,V1,2024-05-01", b"R2,V2", b"noise, leak, and more, front, left, right, rear", b"R4,V4,2024-05-04,7"]
    table = read("repair_order.csv", b"\n".join([header, *lines, b""]))
    assert table.headers == ("repair_order_id", "vehicle_id", "opened_on", "odometer_in")
    assert table.rows["row_number"].to_list() == [5]
    assert [number for number, _ in _bad(table)] == [2, 3, 4]


def test_data_below_a_title_are_no_header(read):
    with pytest.raises(UnreadableFileError, match="4 of 4 lines below it hold 3 fields") as caught:
        read("x.csv", b"Customer 0012\n" + b"V107;Kestra;2017\nV114;Lumo;2019\n" * 2)
    assert "0012" not in str(caught.value)
