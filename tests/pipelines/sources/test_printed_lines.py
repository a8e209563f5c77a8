import polars as pl
import pytest

from longmile.pipelines.sources.printed_lines import PAGE_LINE, TOTAL_LINE, PrintedLines, set_apart

LINES = PrintedLines(("order", "concern", "hours", "cost", "price", "note"))


def _reason(text):
    """The judgement of a row: cells by bar, padded to six."""
    cells = [cell.strip() or None for cell in text.split("|")]
    return LINES.reason(cells + [None] * (6 - len(cells)))


@pytest.mark.parametrize(
    "text",
    [
        *(
            "Total",
            "TOTAL:",
            "Totals|||12.50|99.00",
            "Grand Total||7.5|$1,234.50|(12.00)",
            "||Summe|9.876,54|14.814,81",
        ),
        *(
            "Gesamt|||1 234,50 €",
            "Zwischensumme:|||5",
            "Total général|||12,50 €",
            "Totale||||7",
            "Totaal|||5|6",
            "Suma|||5",
        ),
        *(
            "Subtotal|||5|6",
            "Sub-total for 2024-05|||5",
            "Count|3",
            "Anzahl: 43",
            "*** Total ***|||5",
            "Total|Parts||5|6",
        ),
        *("Razem||||1 200,00 zł", "Summa||||5", "Total|4001|3.5|EUR 12.50|12,50 EUR", "Total USD|||-12.50|12.50-"),
    ],
)
def test_total_lines(text):
    assert _reason(text) == TOTAL_LINE


@pytest.mark.parametrize(
    "text",
    [
        *(
            "Page 3 of 7",
            "Seite 3/7",
            "Page 3|of 7",
            "- Page 3 -",
            "Página 3 de 7",
            "Strona 2 z 3",
            "Page: 3 printed 02.01.2025",
        ),
        *(
            "printed on 02.01.2025 09:14",
            "Druckdatum: 02.01.2025",
            "123 rows",
            "(5 rows affected)",
            "1,204 records found",
        ),
        *(
            "Records: 43",
            "Number of records: 43",
            "Anzahl Datensätze: 43",
            "End of report",
            "Ende der Liste",
            "*** END ***",
        ),
        *("Seite 2 von 3 gedruckt am 02.01.2025 09:14", "Printed 02/01/2025 9:14 PM Page 1 of 3"),
    ],
)
def test_page_lines(text):
    assert _reason(text) == PAGE_LINE


@pytest.mark.parametrize(
    "text",
    [
        *(
            "R1|total loss|1.5|5|6|",
            "|total loss",
            "total loss",
            "Total loss, towed in",
            "Total|noise|1.5",
            "Totalschaden",
        ),
        *(
            "Total overhaul|||5",
            "sum of all fears|||5",
            "Summer tyres|||5",
            "R4|Page 3 of the manual",
            "Page",
            "Page turner 3",
        ),
        *(
            "Page 3 of 7|noise|1.5|5|6|",
            "end",
            "End play measured",
            "Count|T07",
            "R1|||||",
            "Total|||5||ask the owner",
            "|",
        ),
        *(
            "Seitenschneider 3",
            "123 rows of rivets",
            "records",
            "printed circuit board",
            "Stand",
            "Total 4001 engine",
            "12.50",
        ),
    ],
)
def test_records_are_left_alone(text):
    assert _reason(text) == ""


def test_the_header_again_whatever_its_capitals_and_spaces():
    assert _reason("ORDER | concern|Hours|cost| price |note") == "repeats the header"
    assert _reason("\ufefforder|concern|hours|cost|price|note") == "repeats the header"
    assert _reason("order|concern|hours|cost|price|other") == ""
    assert _reason("order|concern|hours|cost|price") == ""


def test_lines_above_the_header_again_whatever_their_numbers():
    lines = PrintedLines(("order", "price"), (("Shop of somebody", ""), ("", "page 1, 09:14"), ("2024", "")))
    assert lines.reason(["Shop of somebody", None]) == "repeats a line above the header"
    assert lines.reason([None, "page 23, 10:02"]) == "repeats a line above the header"
    assert lines.reason(["2023", None]) == ""


def test_a_table_of_one_column_has_no_totals():
    assert PrintedLines(("note",)).reason(["Total"]) == ""
    assert PrintedLines(("note",)).reason(["note"]) == "repeats the header"


def test_rows_are_looked_at_by_their_first_filled_cell():
    rows = pl.DataFrame(
        {
            "row_number": [2, 3, 4, 5, 6, 7],
            "order": ["R1", None, "Total", " ", None, "order"],
            "concern": ["total loss", "Summe", None, "Subtotal", None, "concern"],
            "price": ["5", "5", "5", "5", "5", "price"],
        }
    )
    kept, bad = set_apart(rows, PrintedLines(("order", "concern", "price")), ";")
    assert kept["row_number"].to_list() == [2, 6]
    assert [(line.row_number, line.raw_text) for line in sorted(bad)] == [
        (3, ";Summe;5"),
        (4, "Total;;5"),
        (5, " ;Subtotal;5"),
        (7, "order;concern;price"),
    ]


def test_a_long_cell_costs_no_time():
    # The grammar of a page line tries many ways to split such a text; it is not asked about cells this long.
    assert _reason("page 1 " + "- " * 50_000 + "x") == ""
    assert _reason("Total|" + "(" * 100_000) == ""
    assert _reason("page 1" + "-" * 150 + "x") == ""
