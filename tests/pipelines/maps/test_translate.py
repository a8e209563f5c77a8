from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.maps.translate import contract_select, unclaimed_select
from longmile.schemas.shop import TRADE_TABLES

Rows = Sequence[Sequence[str | None]]
Land = Callable[..., list[dict[str, Any]]]


def source(headers: str, *tables: TableMap, **stated: Any) -> SourceMap:
    return SourceMap("invented", tuple(headers.split(",")), tables, **stated)


@pytest.fixture
def land(connection) -> Land:
    """`land(map, rows, headers)`: the filled texts of the map's first table, by contract column, in order of rows."""

    def land(source_map: SourceMap, rows: Rows, headers: Sequence[str] = ()) -> list[dict[str, Any]]:
        named = headers or source_map.headers
        schema = {"row_number": pl.Int64, **dict.fromkeys(named, pl.String)}
        frame = pl.DataFrame([[i, *row] for i, row in enumerate(rows, 2)], schema=schema, orient="row")
        connection.register("mapped_rows", frame.sample(fraction=1, shuffle=True, seed=1))  # order must not matter
        sql = contract_select(source_map, source_map.tables[0], "mapped_rows", named)
        found = connection.sql(sql).pl().sort("row_number")
        names = [f"text_{c.name}" for t in TRADE_TABLES if t.name == source_map.tables[0].table for c in t.columns]
        assert found.columns == ["row_number", *names]
        assert all(found.schema[name] == pl.String for name in names)
        return [
            {k.removeprefix("text_"): v for k, v in row.items() if v is not None} for row in found.iter_rows(named=True)
        ]

    return land


@pytest.fixture
def unclaimed(connection) -> Callable[[SourceMap, Rows], list[tuple[Any, ...]]]:
    def unclaimed(source_map: SourceMap, rows: Rows) -> list[tuple[Any, ...]]:
        schema = {"row_number": pl.Int64, **dict.fromkeys(source_map.headers, pl.String)}
        connection.register(
            "mapped_rows", pl.DataFrame([[i, *r] for i, r in enumerate(rows, 2)], schema=schema, orient="row")
        )
        return connection.sql(f"SELECT * FROM ({unclaimed_select(source_map, 'mapped_rows')}) ORDER BY 1").fetchall()

    return unclaimed


def cells(found: list[dict[str, Any]], column: str) -> list[str | None]:
    return [row.get(column) for row in found]


# --- which rows are rows of a table


def test_rows_are_those_with_one_of_the_values_without_regard_to_capitals_and_spaces(land):
    lines = TableMap("repair_line", (ColumnMap("description", ("Text",)),), ("Type", ("Labour", " part ")))
    rows = [("LABOUR", "a"), (" Part", "b"), ("Parts", "c"), (None, "d"), ("", "e"), ("part\u00a0", "f")]
    assert land(source("Type,Text", lines), rows) == [
        {"row_number": 2, "description": "a"},
        {"row_number": 3, "description": "b"},
        {"row_number": 7, "description": "f"},
    ]


def test_rows_of_a_header_without_values_are_those_in_which_it_is_filled_in_the_file_itself(land):
    """Order 7 is written once and filled down for its lines; the order itself is one row."""
    order = TableMap("repair_order", (ColumnMap("repair_order_id", ("No",)),), ("No", ()))
    one = source("No,Text", order, fill_down=("No",))
    assert cells(land(one, [("7", "a"), (None, "b"), (" ", "c"), ("8", "d")]), "row_number") == [2, 5]


def test_rows_that_no_table_takes_are_listed_with_the_reason_and_without_columns_that_are_not_mapped(unclaimed):
    lines = TableMap("repair_line", (ColumnMap("description", ("Text",)),), ("Type", ("L",)))
    parts = TableMap("repair_order", (ColumnMap("repair_order_id", ("No",)),), ("No", ()))
    one = source("No,Type,Text,Customer", lines, parts)
    found = unclaimed(
        one, [("1", "L", "a", "x"), (None, "S", "Sum", "Invented Name"), ("2", "S", "b", "x"), (None,) * 4]
    )
    assert found == [
        (
            3,
            '{"No":null,"Type":"S","Text":"Sum"}',
            'no table of the source map takes such a row: Type is "S", No is empty',
        ),
        (
            5,
            '{"No":null,"Type":null,"Text":null}',
            "no table of the source map takes such a row: Type is empty, No is empty",
        ),
    ]


def test_no_row_is_unclaimed_where_a_table_takes_every_row(unclaimed):
    lines = TableMap("repair_line", (ColumnMap("description", ("Text",)),))
    assert unclaimed(source("Text", lines), [("a",), (None,)]) == []


@settings(deadline=None, max_examples=50)
@given(types=st.lists(st.sampled_from(["L", "P", "S", None, " l "]), max_size=20))
def test_every_row_is_a_row_of_some_table_or_unclaimed(connection, types: list[str | None]):
    tables = [TableMap("repair_line", (ColumnMap("description", ("Type",)),), ("Type", (letter,))) for letter in "LP"]
    one = source("Type", *tables)
    frame = pl.DataFrame(
        {"row_number": range(len(types)), "Type": types}, schema={"row_number": pl.Int64, "Type": pl.String}
    )
    connection.register("mapped_rows", frame)
    selects = [contract_select(one, table, "mapped_rows", one.headers) for table in tables]
    found = [row for sql in (*selects, unclaimed_select(one, "mapped_rows")) for row in connection.sql(sql).fetchall()]
    assert sorted(row[0] for row in found) == list(range(len(types)))


# --- where a cell comes from


def test_cells_are_trimmed_of_every_white_space_and_empty_ones_are_null(land):
    one = source("Text", TableMap("repair_line", (ColumnMap("description", ("Text",)),)))
    rows = [(" a b ",), ("\u00a0a\u202f",), ("\t\n",), ("",), (None,), ("a\nb\t",), ("é ",), ("~",)]
    assert cells(land(one, rows), "description") == ["a b", "a", None, None, None, "a\nb", "é", "~"]


def test_headers_are_found_whatever_their_capitals_spaces_and_order(land):
    lines = TableMap("repair_line", (ColumnMap("description", ("The  Text",)), ColumnMap("kind", ("kind",))))
    one = source("The  Text,kind", lines)
    assert land(one, [("part", "a")], ["KIND", " the text "]) == [{"row_number": 2, "kind": "part", "description": "a"}]


def test_awkward_headers_are_read(land):
    headers = ('a "quoted" one', "semi;colon's", "new\nline", "row number", "Größe", "back\\slash", "SELECT", "cell_0")
    columns = [column.incoming for column in TRADE_TABLES[3].columns if column.type == "text"][: len(headers)]
    lines = TableMap("repair_line", tuple(ColumnMap(c, (h,)) for c, h in zip(columns, headers, strict=True)))
    one = SourceMap("invented", headers, (lines,))
    (row,) = land(one, [[str(place) for place in range(len(headers))]])
    assert [row[column] for column in columns] == [str(place) for place in range(len(headers))]


def test_a_header_that_the_file_lacks_or_has_twice_is_an_error(land):
    one = source("Text", TableMap("repair_line", (ColumnMap("description", ("Text",)),)))
    with pytest.raises(MapError, match="no column 'text'"):
        land(one, [("a",)], ["Words"])
    with pytest.raises(MapError, match="differ only in capitals or spaces"):
        contract_select(one, one.tables[0], "mapped_rows", ["Text", "TEXT "])


def test_several_headers_are_joined_and_empty_cells_left_out(land):
    column = ColumnMap("engine_family", ("Make", "Model", "Engine"), joined_by=" / ")
    one = source("Make,Model,Engine", TableMap("vehicle", (column,)))
    rows = [("Fir", "Two", "1.9"), ("Fir", None, " 1.9 "), (None, " ", None)]
    assert cells(land(one, rows), "engine_family") == ["Fir / Two / 1.9", "Fir / 1.9", None]


def test_a_value_without_headers_stands_in_every_row_and_beside_headers_where_the_cell_is_empty(land):
    columns = (ColumnMap("status", constant="closed"), ColumnMap("location", ("Shop",), constant="Main"))
    one = source("Shop", TableMap("repair_order", columns))
    assert [(r["status"], r["location"]) for r in land(one, [("East",), (None,)])] == [
        ("closed", "East"),
        ("closed", "Main"),
    ]


def test_lines_are_numbered_within_their_order_in_the_order_of_the_file(land):
    columns = (ColumnMap("repair_order_id", ("No",)), ColumnMap("line_no", numbered_within=("No",)))
    one = source("No", TableMap("repair_line", columns), fill_down=("No",))
    rows = [("1",), (None,), ("2",), (" 1 ",), (None,)]
    assert [(r["repair_order_id"], r["line_no"]) for r in land(one, rows)] == [
        ("1", "1"),
        ("1", "2"),
        ("2", "1"),
        ("1", "3"),
        ("1", "4"),
    ]


def test_cells_are_filled_down_within_their_group_and_never_into_the_next(land):
    """
    No   Odometer   Text        order   odometer
    1    100        a           1       100
                    b           1       100
    2               c           2       (none: order 2 has no reading, and must not get that of order 1)
         300        d           2       300
    """
    columns = (ColumnMap("repair_order_id", ("No",)), ColumnMap("odometer_in", ("Odometer",)))
    one = source("No,Odometer,Text", TableMap("repair_order", columns), fill_down=("No", "Odometer"))
    rows = [("1", "100", "a"), (None, None, "b"), ("2", None, "c"), (None, "300", "d")]
    assert [(r["repair_order_id"], r.get("odometer_in")) for r in land(one, rows)] == [
        ("1", "100"),
        ("1", "100"),
        ("2", None),
        ("2", "300"),
    ]


# --- values


def test_their_words_become_ours_without_regard_to_capitals_and_other_words_stay(land):
    column = ColumnMap("action", ("Work",), values=(("R&R", "replaced"), (" ersetzt ", "replaced"), ("n/a", "")))
    one = source("Work", TableMap("repair_line", (column,)))
    rows = [("r&r",), (" R&R ",), ("ERSETZT",), ("N/A",), ("Overhauled",), (None,)]
    assert cells(land(one, rows), "action") == ["replaced", "replaced", "replaced", None, "Overhauled", None]


def test_long_lists_of_words_are_translated_like_short_ones(land):
    values = tuple((f"OP{number}", f"part {number}") for number in range(500))
    one = source("Op", TableMap("repair_line", (ColumnMap("description", ("Op",), values=values),)))
    assert cells(land(one, [("op7",), ("OP499",), ("OP500",)]), "description") == ["part 7", "part 499", "OP500"]


def test_a_translated_word_is_taken_as_it_stands_and_other_cells_are_read_by_the_formats(land):
    date_column = ColumnMap("opened_on", ("Day",), values=(("unknown", ""), ("start", "2020-01-01")))
    one = source("Day", TableMap("repair_order", (date_column,)), dates=("%d.%m.%Y",))
    rows = [("Unknown",), ("START",), ("02.01.2020",), ("soon",)]
    assert cells(land(one, rows), "opened_on") == [None, "2020-01-01", "2020-01-02", "not as mapped: soon"]


def test_a_cell_that_the_format_does_not_read_says_so_whatever_its_type(land):
    order = ("opened_on", "odometer_in", "total")
    one = source(
        "opened_on,odometer_in,total", TableMap("repair_order", tuple(ColumnMap(n, (n,)) for n in order)), decimal=","
    )
    (row,) = land(one, [("31.02.2020", "1.5", "12.50")])
    assert [row["opened_on"], row["odometer_in"], row["total_cents"]] == [
        "not as mapped: 31.02.2020",
        "not as mapped: 1.5",
        "not as mapped: 12.50",
    ]


def test_a_column_may_have_formats_of_its_own(land):
    columns = (
        ColumnMap("opened_on", ("In",)),
        ColumnMap("closed_on", ("Out",), dates=("%m/%d/%Y",)),
        ColumnMap("odometer_in", ("Km",)),
        ColumnMap("total", ("Sum",), decimal="."),
    )
    one = source("In,Out,Km,Sum", TableMap("repair_order", columns), dates=("%d.%m.%Y",), decimal=",", thousands=".")
    (row,) = land(one, [("02.03.2020", "02/03/2020", "123.456", "12.50")])
    assert row["opened_on"] == "2020-03-02" and row["closed_on"] == "2020-02-03"
    assert row["odometer_in"] == "123456" and row["total_cents"] == "12.50"


def test_yes_and_no_are_read_in_several_languages_and_nothing_else(land):
    one = source("Ok", TableMap("verification", (ColumnMap("passed", ("Ok",)),)))
    rows = [("Ja",), ("NON",), ("sí",), ("não",), ("pass",), ("1",), ("x",), ("maybe",), (None,)]
    expected = ["true", "false", "true", "false", "true", "true", "not as mapped: x", "not as mapped: maybe", None]
    assert cells(land(one, rows), "passed") == expected


def test_a_model_year_of_two_digits_is_at_most_one_year_ahead(land):
    one = source("Year", TableMap("vehicle", (ColumnMap("model_year", ("Year",)),)))
    rows = [("07",), ("'07",), ("26",), ("27",), ("99",), ("2007",), ("7",)]
    expected = ["2007", "2007", "2026", "1927", "1999", "2007", "7"]
    assert cells(land(replace(one, two_digit_years_to=2025), rows), "model_year") == expected
    assert cells(land(one, [("07",)]), "model_year") == ["07"]


# --- readings with their unit in the cell


def odometer(*more: ColumnMap, unit: ColumnMap | None = None) -> TableMap:
    reading = ColumnMap("odometer_in", ("Odo",), part="number")
    return TableMap("repair_order", (reading, unit or ColumnMap("odometer_unit", ("Odo",), part="unit"), *more))


def test_number_and_unit_of_a_reading_are_taken_apart(land):
    one = source("Odo", odometer(), thousands=",")
    rows = [("98,765 mi",), ("98765 miles",), ("158,947 KM",), ("km 5",), ("98,765",), (None,)]
    assert [(r.get("odometer_in"), r.get("odometer_unit")) for r in land(one, rows)] == [
        ("98765", "mi"),
        ("98765", "mi"),
        ("158947", "km"),
        ("5", "km"),
        ("98765", None),
        (None, None),
    ]


def test_a_cell_without_a_unit_gets_the_stated_one(land):
    one = source("Odo", odometer(unit=ColumnMap("odometer_unit", ("Odo",), part="unit", constant="km")), thousands=" ")
    rows = [("123 456 km",), ("123 456",), ("76 000 mi",)]
    assert [r["odometer_unit"] for r in land(one, rows)] == ["km", "km", "mi"]
    assert [r["odometer_in"] for r in land(one, rows)] == ["123456", "123456", "76000"]


def test_the_map_may_say_what_a_unit_is_called(land):
    unit = ColumnMap("odometer_unit", ("Odo",), part="unit", values=(("tkm", ""), ("M", "mi"), ("K", "km")))
    one = source("Odo", odometer(unit=unit))
    rows = [("5 M",), ("5k",), ("5 tkm",), ("5 h",)]
    assert [(r["odometer_in"], r.get("odometer_unit")) for r in land(one, rows)] == [
        ("5", "mi"),
        ("5", "km"),
        ("not as mapped: 5 tkm", "not as mapped: 5 tkm"),
        ("not as mapped: 5 h", "not as mapped: 5 h"),
    ]


def test_a_unit_in_the_cell_that_is_not_the_rows_unit_is_not_as_mapped(land):
    """The unit is taken from the first reading; a second reading in another unit must not pass under it."""
    one = source("Odo,Out", odometer(ColumnMap("odometer_out", ("Out",), part="number")))
    rows = [("5 km", "6 km"), ("5 km", "6"), ("5 km", "6 mi"), ("5", "6 mi")]
    assert cells(land(one, rows), "odometer_out") == ["6", "6", "not as mapped: 6 mi", "not as mapped: 6 mi"]


def test_two_cells_with_different_units_are_not_as_mapped(land):
    both = ColumnMap("odometer_unit", ("Odo", "Out"), part="unit")
    one = source("Odo,Out", odometer(unit=both))
    rows = [("5 km", "6 km"), ("5", "6 mi"), ("5 km", "6 mi")]
    assert cells(land(one, rows), "odometer_unit") == ["km", "mi", "not as mapped: 5 km / 6 mi"]


def test_a_unit_column_beside_the_reading_decides(land):
    one = source("Odo,U", odometer(unit=ColumnMap("odometer_unit", ("U",), values=(("Meilen", "mi"),))))
    rows = [("5", "km"), ("5 mi", "Meilen"), ("5 mi", "km")]
    assert cells(land(one, rows), "odometer_in") == ["5", "5", "not as mapped: 5 mi"]


def test_hours_and_bench_readings_take_their_own_units_only(land):
    lines = TableMap("repair_line", (ColumnMap("hours", ("H",), part="number"),))
    found = land(source("H", lines), [("1.5 h",), ("1.5 hrs",), ("90 min",)])
    assert cells(found, "labor_hours") == ["1.5", "1.5", "not as mapped: 90 min"]
    bench = (ColumnMap("value", ("R",), part="number"), ColumnMap("unit", ("R",), part="unit"))
    rows = [("145 PSI",), ("12.6 V",), ("85 %",), ("3 stone",)]
    assert [(r["value"], r["unit"]) for r in land(source("R", TableMap("measurement", bench)), rows)] == [
        ("145", "psi"),
        ("12.6", "volt"),
        ("85", "percent"),
        ("not as mapped: 3 stone", "not as mapped: 3 stone"),
    ]


# --- whatever stands in a cell


@settings(deadline=None, max_examples=200)
@given(
    texts=st.lists(
        st.none() | st.text(max_size=20) | st.from_regex(r"[-+(]?\d{1,30}[.,/: ]?\d{0,25}\)?.?", fullmatch=True)
    )
)
def test_no_cell_makes_the_statement_fail_or_comes_out_unmarked(connection, texts: list[str | None]):
    """Every typed column comes out empty, as mapped, or in the form that the contract reads."""
    columns = (
        ColumnMap("opened_on", ("Cell",), values=(("x", ""),)),
        ColumnMap("odometer_in", ("Cell",), part="number"),
        ColumnMap("odometer_unit", ("Cell",), part="unit"),
        ColumnMap("total", ("Cell",)),
    )
    how = TableMap("repair_order", columns)
    one = source(
        "Cell", how, dates=("%d.%m.%y", "%B %d, %Y", "excel"), two_digit_years_to=2025, decimal=",", thousands="."
    )
    schema = {"row_number": pl.Int64, "Cell": pl.String}
    connection.register("mapped_rows", pl.DataFrame({"row_number": range(len(texts)), "Cell": texts}, schema=schema))
    sql = contract_select(one, how, "mapped_rows", one.headers)
    marked = "starts_with({0}, 'not as mapped: ')"
    number = marked + r" OR regexp_full_match({0}, '-?\d+(\.\d+)?')"
    date = marked + r" OR ({0} IS NULL OR CAST(TRY_CAST({0} AS DATE) AS VARCHAR) = {0})"
    unit = marked + " OR {0} IN ('mi', 'km')"
    checks = {
        "text_opened_on": date,
        "text_odometer_in": number,
        "text_total_cents": number,
        "text_odometer_unit": unit,
    }
    wrong = " OR ".join(f"NOT ({check.format(name)})" for name, check in checks.items())
    once = f"WITH translated AS MATERIALIZED ({sql}) SELECT {', '.join(checks)} FROM translated WHERE {wrong}"
    assert connection.sql(once).fetchall() == []
