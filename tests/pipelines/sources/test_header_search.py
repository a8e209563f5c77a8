import pytest

from longmile.pipelines.sources.header_search import Row, find_header


def _place(text):
    """Where the header of these rows is: rows by line, cells by bar."""
    rows = [Row([cell.strip() for cell in line.split("|")]) for line in text.strip("\n").split("\n")]
    found = find_header(rows)
    return None if found is None else found.place


TITLES = """
Shop of somebody
printed 02.01.2025
order|opened|price
R1|01.05.2024|12,50
R2|02.05.2024|7,00
"""
PADDED = """
Shop of somebody|||
|||
order|opened|price|note
R1|01.05.2024|12,50|
R2|02.05.2024|7,00|x
"""
LABELLED = """
Period:|01.01.2024 to 31.12.2024
Branch:|North
order|opened|price
R1|01.05.2024|12,50
"""
GROUPED = """
Order||Vehicle||Money|
order|opened|vehicle|miles|cost|price
R1|01.05.2024|V1|1200|5|9
R2|02.05.2024|V2|1300|6|9
"""
TITLE_WITH_DELIMITERS = """
Report|of January
a|b|c|d|e
1|2|3|4|5
6|7|8|9|0
"""


@pytest.mark.parametrize("text", [TITLES, PADDED, LABELLED, GROUPED, TITLE_WITH_DELIMITERS])
def test_lines_above_the_header_are_told_from_it(text):
    lines = text.strip("\n").split("\n")
    names = next(at for at, line in enumerate(lines) if line.startswith(("order|", "a|")))
    assert _place(text) == names


RAGGED = """
a|b|c
oil|change
oil|change
brake|pads|front|left
oil|filter
"""
SHORT_HEADER = """
order|note
R1|noise|front|left
R2|noise|rear|right
"""
HEADERLESS = """
V107|Kestra|2017
V114|Lumo|2019
V121|Pell|2020
"""
TITLE_AND_NO_HEADER = """
Vehicles of a shop
V107|Kestra|2017
V114|Lumo|2019
V121|Pell|2020
"""
ONE_COLUMN = """
cause
noise
leak
"""


@pytest.mark.parametrize("text", [RAGGED, SHORT_HEADER, TITLE_AND_NO_HEADER, ONE_COLUMN])
def test_a_record_is_never_taken_for_the_header(text):
    # None: the first row stands, as it is, and is judged elsewhere.
    assert _place(text) is None


def test_a_first_row_of_names_is_the_header_whatever_follows():
    assert _place("a|b|c\nd|e|f\ng|h|i") == 0
    assert _place("a|b|c") == 0


def test_the_header_is_looked_for_in_sixty_rows():
    names_and_rows = "order|opened\nR1|01.05.2024\nR2|02.05.2024"
    assert _place("remark\n" * 59 + names_and_rows) == 59
    assert _place("remark\n" * 60 + names_and_rows) is None


def test_a_row_that_cannot_be_read_is_no_header():
    rows = [Row(["title"]), Row(["a", "b"], is_sound=False), Row(["1", "2"]), Row(["3", "4"])]
    assert find_header(rows) is None


def test_a_delimiter_at_the_end_of_rows_or_of_the_header_is_no_width():
    rows = [Row(["a", "b"]), *[Row(["1", "2", ""])] * 3]
    assert find_header(rows).names == ("a", "b", "")
    rows = [Row(["a", "b", "", ""]), *[Row(["1", "2"])] * 3]
    assert find_header(rows).names == ("a", "b")
    rows = [Row(["a", "b"]), *[Row(["1", "2", "3"])] * 3]
    assert find_header(rows) is None
