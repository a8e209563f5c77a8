"""The shapes are what their truth says: read by a plain reader, and written again by their makers."""

from __future__ import annotations

import csv
import gzip
import io
import zipfile
from collections import Counter
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from longmile.schemas.shop import TRADE_TABLES

HERE = Path(__file__).parent
FOLDERS = sorted(path.parent for path in HERE.glob("*/*/truth.json"))
CONTRACT = {table.name: table for table in TRADE_TABLES}
COLUMNS = {(table.name, column.incoming): column for table in TRADE_TABLES for column in table.columns}
KINDS = {
    "unreadable line", "total line", "repeated header", "impossible date", "not a number", "unknown value",
    "missing required", "out of range", "closed before opened", "contradicting rows",
}  # fmt: skip


def _shape(shapes: ModuleType, folder: Path) -> Any:
    return next(shape for shape in shapes.load_shapes(folder.parent) if shape.folder == folder)


@pytest.fixture(params=FOLDERS, ids=lambda folder: f"{folder.parent.name}-{folder.name}")
def shape(request: pytest.FixtureRequest, shapes: ModuleType) -> Any:
    return _shape(shapes, request.param)


def test_there_are_eight_shapes_to_learn_from_and_twice_twelve_to_measure_by(shapes: ModuleType):
    folders = (shapes.KNOWN, shapes.HELD_OUT, shapes.FRESH)
    assert [len(shapes.load_shapes(folder)) for folder in folders] == [8, 12, 12]


def _every_shape(shapes: ModuleType) -> list[Any]:
    return [one for folder in (shapes.KNOWN, shapes.HELD_OUT, shapes.FRESH) for one in shapes.load_shapes(folder)]


def test_every_filled_column_is_of_the_contract_and_no_personal_header_fills_one(shape: Any):
    for part in shape.parts:
        for header in part.headers:
            assert not (header.personal and header.fills)
            assert all(tuple(fill.split(".")) in COLUMNS for fill in header.fills)


def test_every_required_column_is_filled_by_the_stated_map(shape: Any, shapes: ModuleType):
    for part in shape.parts:
        for table in shapes.source_map_of(part.source_map).tables if part.source_map else ():
            required = {column.incoming for column in CONTRACT[table.table].columns if column.is_required}
            assert required <= {column.column for column in table.columns}


def test_no_value_of_a_personal_column_is_among_what_lands(shape: Any):
    said = {value for part in shape.parts for row in part.landed for value in row.values.values() if value}
    assert not [value for value in shape.personal_values if any(value in text for text in said)]


def test_headers_of_different_shapes_have_different_fingerprints(shapes: ModuleType):
    owners: dict[str, set[str]] = {}
    for shape in _every_shape(shapes):
        for part in shape.parts:
            if part.source_map:
                made = shapes.source_map_of(part.source_map)
                owners.setdefault(made.fingerprint, set()).add(made.name)
    assert all(len(names) == 1 for names in owners.values())


def test_the_plain_reading_finds_the_stated_rows_and_no_others(shape: Any, shapes: ModuleType, plain: ModuleType):
    for part in shape.parts:
        for table in shapes.source_map_of(part.source_map).tables if part.source_map else ():
            kept, broken = _read(shape, part, table, shapes, plain)
            stated = {row: truth for truth in part.landed_in(table.table) for row in truth.rows}
            assert sorted(kept) == sorted(stated), (part.name, table.table)
            for row, values in kept.items():
                for column, said in stated[row].values.items():
                    assert shapes.same_value(table.table, column, values[column], said), (part.name, row, column)
            told = {
                (row, one.column, one.kind) for one in part.quarantined if one.table == table.table for row in one.rows
            }
            assert broken == told, (part.name, table.table)


def _read(
    shape: Any, part: Any, table: Any, shapes: ModuleType, plain: ModuleType
) -> tuple[dict[int, dict[str, str | None]], set[tuple[int, str, str]]]:
    """Rows of one table by row number; and (row, column, kind) of those with a broken rule."""
    stated = shapes.source_map_of(part.source_map)
    rows = plain.filled_down(plain.rows_of(shape.folder, part), stated.fill_down)
    counted: Counter[tuple[str, ...]] = Counter()
    kept: dict[int, dict[str, str | None]] = {}
    broken: set[tuple[int, str, str]] = set()
    first: dict[tuple[str | None, ...], dict[str, str | None]] = {}
    for number, row in rows.items():
        if not plain.is_of_table(row, table.only_where):
            continue
        values, faults = _values(row, table, stated, counted, plain)
        key = tuple(
            values[column.incoming] for column in CONTRACT[table.table].columns if _is_key(table, column, values)
        )
        if not faults and first.setdefault(key, values) != values:
            changed = [name for name, value in values.items() if first[key][name] != value]
            faults = [(changed[0], "contradicting rows")]
        broken |= {(number, *fault) for fault in faults}
        if not faults:
            kept[number] = values
    return kept, broken


def _is_key(table: Any, column: Any, values: dict[str, str | None]) -> bool:
    return column.name in CONTRACT[table.table].key and column.incoming in values


def _values(
    row: dict[str, str], table: Any, stated: Any, counted: Counter[tuple[str, ...]], plain: ModuleType
) -> tuple[dict[str, str | None], list[tuple[str, str]]]:
    """The neutral texts of one row, and the contract's rules they break, as (column, kind)."""
    values: dict[str, str | None] = {}
    faults = []
    for column in table.columns:
        rule = COLUMNS[table.table, column.column]
        if column.numbered_within:
            group = tuple(row.get(header, "") for header in column.numbered_within)
            counted[group] += 1
            values[column.column] = str(counted[group])
            continue
        try:
            values[column.column] = plain.landed_value(row, column, rule.type, stated)
        except plain.NotAsStatedError as error:
            values[column.column] = f"not as mapped: {error}"
            faults.append((column.column, "impossible date" if rule.type == "date" else "not a number"))
            continue
        fault = _fault(values[column.column], rule)
        faults += [(column.column, fault)] if fault else []
    opened, closed = values.get("opened_on"), values.get("closed_on")
    if not faults and opened and closed and closed < opened:
        faults.append(("closed_on", "closed before opened"))
    return values, faults


def _fault(value: str | None, rule: Any) -> str:
    """The rule of the contract that the value breaks, in the words of the truth."""
    if value is None:
        return "missing required" if rule.is_required else ""
    if rule.allowed and rule.severity == "quarantine" and value.lower() not in rule.allowed:
        return "unknown value"
    is_outside = rule.minimum is not None and not rule.minimum <= float(value) <= (rule.maximum or float("inf"))
    return "out of range" if is_outside else ""


def test_every_kind_of_trouble_is_one_of_the_listed_and_all_occur(shapes: ModuleType):
    assert {one.kind for shape in _every_shape(shapes) for part in shape.parts for one in part.quarantined} == KINDS


def test_total_lines_repeated_headers_and_cut_lines_stand_where_the_truth_says(shape: Any, plain: ModuleType):
    """By their look: a total line has a word for sum, a repeated header the header, a cut line another width."""
    for part in shape.parts:
        for one in (one for one in part.quarantined if one.table is None and part.delimiter):
            cells = _line(shape, part, one.row)
            headers = [header.header for header in part.headers]
            looks = {
                "total line": cells[0].split(" ")[0] in ("Total", "Summe", "Grand") and len(cells) == len(headers),
                "repeated header": cells == headers,
                "unreadable line": len(cells) != len(headers),
            }
            assert looks[one.kind], (part.name, one.row, cells)


def _line(shape: Any, part: Any, row: int) -> list[str]:
    content = (shape.folder / part.file).read_bytes()
    if part.member:
        content = zipfile.ZipFile(io.BytesIO(content)).read(part.member)
    if part.file.endswith(".gz"):
        content = gzip.decompress(content)
    text = content.decode("utf-16" if part.encoding == "utf-16-le" else part.encoding)
    return next(csv.reader(text.splitlines()[row - 1 :], delimiter=part.delimiter))
