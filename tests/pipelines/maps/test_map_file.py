from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_file import accept_map, parse_map, read_map, read_not_loaded
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap, normal_header
from longmile.pipelines.maps.values import compared
from longmile.schemas.contract import Column
from longmile.schemas.shop import TRADE_TABLES

ORDER = TableMap(
    "repair_order",
    (
        ColumnMap("repair_order_id", ("RO #",), confidence=0.97, because="numbers that are never repeated"),
        ColumnMap("vehicle_id", ("Unit",)),
        ColumnMap("opened_on", ("Date In",), dates=("%m/%d/%Y",)),
        ColumnMap("odometer_in", ("Miles",), part="number", thousands=","),
        ColumnMap("odometer_unit", ("Miles",), part="unit", constant="mi"),
        ColumnMap("status", ("St",), values=(("C", "closed"), ("V*", "void"), ('"?"', ""))),
    ),
    only_where=("RO #", ()),
)
MAP = SourceMap(
    "orders", ("RO #", "Unit", "Date In", "Miles", "St", 'Customer "Name"'), (ORDER,), two_digit_years_to=2025
)


# --- the round trip

_texts = st.text(max_size=12)
_headers = st.lists(_texts, min_size=1, max_size=8, unique_by=normal_header).filter(
    lambda hs: any(map(normal_header, hs))
)
_samples = {"integer": "7", "decimal": "1.5", "cents": "12.50", "boolean": "true", "date": "2020-02-29"}


def _ours(column: Column) -> st.SearchStrategy[str]:
    """What a value of this contract column may be."""
    if column.allowed:
        return st.sampled_from(column.allowed)
    return st.just(_samples[column.type]) if column.type in _samples else st.text(min_size=1, max_size=8)


@st.composite
def _column_maps(draw: st.DrawFn, column: Column, named: list[str]) -> ColumnMap:
    """A sound map of one contract column."""
    told = {"confidence": draw(st.floats(0, 1)), "because": draw(_texts)}
    kind = draw(st.sampled_from(["headers", "constant", "numbered"]))
    some = st.lists(st.sampled_from(named), min_size=1, max_size=3).map(tuple)
    if kind == "constant":
        return ColumnMap(column.incoming, constant=draw(_ours(column)), **told)
    if kind == "numbered":
        return ColumnMap(column.incoming, numbered_within=draw(some), **told)
    values = draw(
        st.lists(st.tuples(_texts, st.just("") | _ours(column)), max_size=3, unique_by=lambda v: compared(v[0]))
    )
    return ColumnMap(
        column.incoming,
        draw(some),
        constant=draw(st.just("") | _ours(column)),
        joined_by=draw(_texts),
        part=draw(st.sampled_from(["whole", "number"])) if column.type == "decimal" else "whole",
        values=tuple(values),
        dates=draw(st.sampled_from([(), ("%d.%m.%Y", "excel")])),
        decimal=draw(st.sampled_from(["", ","])),
        thousands=draw(st.sampled_from(["", " ", "\u202f"])),
        **told,
    )


@st.composite
def source_maps(draw: st.DrawFn) -> SourceMap:
    """Any sound map that is not accepted."""
    headers = draw(_headers)
    named = [header for header in headers if normal_header(header)]
    tables = []
    for table in draw(st.lists(st.sampled_from(TRADE_TABLES), unique_by=lambda t: t.name)):
        columns = draw(st.lists(st.sampled_from(table.columns), unique_by=lambda c: c.name, max_size=4))
        where = draw(st.none() | st.tuples(st.sampled_from(named), st.lists(_texts, max_size=3).map(tuple)))
        tables.append(TableMap(table.name, tuple(draw(_column_maps(column, named)) for column in columns), where))
    return SourceMap(
        draw(_texts),
        tuple(headers),
        tuple(tables),
        dates=draw(st.sampled_from([(), ("%Y-%m-%d",), ("%d.%m.%y", "excel", "%B %d, %Y")])),
        two_digit_years_to=draw(st.integers(1990, 2099)),
        decimal=draw(st.sampled_from([".", ","])),
        thousands=draw(st.sampled_from(["", " ", "\u00a0", "\u2019", "'"])),
        fill_down=tuple(draw(st.lists(st.sampled_from(named), max_size=2))),
    )


@settings(deadline=None, max_examples=200)
@given(source_map=source_maps(), why=_texts, question=_texts)
def test_a_map_written_and_read_is_the_same_map(source_map: SourceMap, why: str, question: str):
    not_loaded = tuple((header, why) for header in source_map.headers)
    text = map_text(source_map, not_loaded, (question,))
    assert parse_map(text, source_map.name) == source_map
    assert all(line.isprintable() for line in text.split("\n"))


def test_an_accepted_map_comes_back_accepted():
    assert parse_map(map_text(replace(MAP, is_accepted=True)), "orders") == replace(MAP, is_accepted=True)


def test_what_is_not_loaded_stands_in_the_file_with_the_reason(tmp_path: Path):
    path = tmp_path / "orders.toml"
    path.write_text(map_text(MAP, [('Customer "Name"', "names of people are never loaded")]), encoding="utf-8")
    assert read_not_loaded(path) == (('Customer "Name"', "names of people are never loaded"),)
    assert read_map(path) == MAP


def test_the_file_says_what_it_is_and_what_to_do_and_what_is_asked():
    text = map_text(MAP, (), ["Is Miles in miles?\n[evil]"])
    assert text.startswith("# A source map")
    assert "accepted = true" in text and "longmile map FILE --accept" in text
    assert "# - Is Miles in miles?\\n[evil]\n" in text
    assert "evil" not in tomllib.loads(text)


def test_a_required_column_that_is_missing_is_named_where_it_belongs():
    lacking = replace(MAP, tables=(replace(ORDER, columns=ORDER.columns[1:]),))
    assert "# MISSING: repair_order_id" in map_text(lacking)
    assert parse_map(map_text(lacking), "orders") == lacking


# --- what cannot be


@pytest.mark.parametrize(
    ("found", "put", "said"),
    [
        ("[repair_order]", "[repair_orders]", "'repair_orders' is neither .* Nearest is 'repair_order'"),
        ("[repair_order.status]", "[repair_order.stat]", "no column 'stat'.*Nearest is 'status'"),
        (
            'from = ["Unit"]',
            'from = ["Units"]',
            r"\[repair_order.vehicle_id\] from: 'Units' is not .*Nearest is 'Unit'",
        ),
        (
            '"C" = "closed"',
            '"C" = "close"',
            "'C' = 'close'. Expected .* Known: open, closed, void. Nearest is 'closed'",
        ),
        ('"V*" = "void"', '" c" = "void"', "values: 'c' stands there twice"),
        ('value = "mi"', 'value = "miles"', "value = 'miles'. Expected .*Nearest is 'mi'"),
        ('part = "unit"', 'part = "units"', "part = 'units'.*Nearest is 'unit'"),
        ('dates = ["%m/%d/%Y"]', 'dates = ["MM/DD/YYYY"]', r"\[repair_order.opened_on\] dates: the date format"),
        ("two_digit_years_to = 2025", "two_digit_years_to = 25", "two_digit_years_to = 25. Expected a year"),
        ('dates = ["%Y-%m-%d"]', 'dates = ["%d/%m/%Y", "%m/%d/%Y"]', "two different dates"),
        ('decimal = "."', 'decimal = ";"', "decimal = ';'. Expected"),
        ('thousands = ""', 'thousands = "."', "both '.'"),
        ("accepted = false", 'accepted = "no"', "accepted = 'no'. Expected true or false"),
        ("confidence = 0.97", "confidence = 97", "Expected a number from 0 to 1"),
        ("confidence = 0.97", "confident = 0.97", "confident: there is no such key.*Nearest is 'confidence'"),
        ('header = "RO #"', 'header = "RO"', r"only_where: 'RO' is not among the headers.*Nearest is 'RO #'"),
        ('from = ["Unit"]\n', "", r"\[repair_order.vehicle_id\] has nothing to fill it"),
        ('"Unit",', '"Unit", "unit ",', "header 'unit' stands there twice"),
        ('from = ["Unit"]', 'from = ["Unit"', "is not valid TOML"),
        ("[repair_order.status]", "[repair_order.vehicle_id]", "is not valid TOML .*twice"),
        ("fill_down = []", 'fill_down = ["Customer"]', "fill_down: 'Customer' is not among"),
        ('from = ["Unit"]', 'from = ["Unit"]\nnumbered_within = ["Unit"]', "numbered_within beside from"),
        ("headers = ", "header = ", "'header' is neither"),
    ],
)
def test_what_cannot_be_is_an_error_that_names_the_file_the_key_and_what_it_may_be(found: str, put: str, said: str):
    text = map_text(MAP)
    assert text.count(found) >= 1
    with pytest.raises(MapError, match=said) as raised:
        parse_map(text.replace(found, put, 1), "orders", "sources/orders.toml")
    assert str(raised.value).startswith("sources/orders.toml: ")
    assert raised.value.exit_code == 3


@pytest.mark.parametrize(
    ("column", "said"),
    [
        (ColumnMap("opened_on", constant="01.02.2020"), "Expected a date written YYYY-MM-DD"),
        (ColumnMap("opened_on", constant="2020-02-30"), "Expected a date written YYYY-MM-DD"),
        (ColumnMap("total", ("St",), values=(("free", "0,00"),)), "Expected an amount such as 1234.50"),
        (ColumnMap("status", ("St",), part="unit"), "only for odometer_unit and unit"),
        (ColumnMap("total", ("St",), part="number"), "only for numbers without money"),
        (ColumnMap("total", ("St",), decimal=",", thousands=","), "both ','"),
        (ColumnMap("opened_on", ("St",), dates=("%d.%m.%y",)), "two_digit_years_to"),
    ],
)
def test_a_value_that_the_contract_does_not_take_is_an_error(column: ColumnMap, said: str):
    text = map_text(replace(MAP, tables=(TableMap("repair_order", (column,)),), two_digit_years_to=0))
    with pytest.raises(MapError, match=said):
        parse_map(text, "orders")


def test_two_entries_for_one_column_are_an_error_however_they_are_made():
    twice = replace(MAP, tables=(replace(ORDER, columns=(*ORDER.columns, ColumnMap("status", constant="open"))),))
    with pytest.raises(MapError, match="twice"):
        parse_map(map_text(twice), "orders")


def test_a_map_that_lacks_a_required_column_may_be_a_draft_but_not_accepted():
    lacking = replace(MAP, tables=(replace(ORDER, columns=ORDER.columns[1:]),))
    assert parse_map(map_text(lacking), "orders") == lacking
    with pytest.raises(MapError, match=re.escape("[repair_order] repair_order_id must be filled and is not mapped")):
        parse_map(map_text(replace(lacking, is_accepted=True)), "orders")


def test_a_reading_beside_a_unit_needs_the_column_of_the_unit():
    lacking = replace(MAP, tables=(replace(ORDER, columns=ORDER.columns[:4]),), is_accepted=True)
    with pytest.raises(MapError, match="odometer_unit is not mapped"):
        parse_map(map_text(lacking), "orders")


# --- accepting


def test_accepting_changes_one_word_of_the_file_and_keeps_all_that_a_person_wrote(tmp_path: Path):
    path = tmp_path / "orders.toml"
    text = map_text(MAP).replace("[repair_order]", "# my own note: accepted = false\n[repair_order]")
    path.write_text(text, encoding="utf-8")
    assert accept_map(path) == replace(MAP, is_accepted=True)
    assert path.read_text(encoding="utf-8") == text.replace("\naccepted = false", "\naccepted = true", 1)
    assert accept_map(path) == replace(MAP, is_accepted=True)


def test_accepting_adds_the_word_where_it_is_missing(tmp_path: Path):
    path = tmp_path / "orders.toml"
    path.write_text(map_text(MAP).replace("\naccepted = false\n", "\n"), encoding="utf-8")
    accept_map(path)
    assert read_map(path).is_accepted


def test_a_map_that_lacks_something_is_not_accepted_and_stays_as_it_was(tmp_path: Path):
    path = tmp_path / "orders.toml"
    text = map_text(replace(MAP, tables=()))
    path.write_text(text, encoding="utf-8")
    with pytest.raises(MapError, match="cannot be accepted yet: no table is mapped"):
        accept_map(path)
    assert path.read_text(encoding="utf-8") == text


def test_a_file_that_is_no_text_is_an_error(tmp_path: Path):
    path = tmp_path / "orders.toml"
    path.write_bytes(b"accepted = \xff")
    with pytest.raises(MapError, match="is not text in UTF-8"):
        read_map(path)
