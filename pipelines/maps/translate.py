"""Rows of a source to neutral text, by a map: one SELECT per contract table, and one for rows that none takes."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.maps.cells import Cells, cell_rows, cells_of, count_sql, headers_named, is_row_sql, shown_sql
from longmile.pipelines.maps.dates import day_sql
from longmile.pipelines.maps.readings import NOT_AS_MAPPED, Reading, day_name, unit_name
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap, normal_header
from longmile.pipelines.maps.unit_words import unit_column
from longmile.pipelines.sql import literal, quoted
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

__all__ = ["NOT_AS_MAPPED", "contract_select", "unclaimed_select"]

UNCLAIMED = "line.claimed"
"""Rule name, after a table's, of a row that no table of the map takes."""

_BY_NAME = {table.name: table for table in TRADE_TABLES}


def contract_select(source_map: SourceMap, table_map: TableMap, relation: str, headers: Sequence[str]) -> str:
    """SELECT giving `row_number` and `text_<column>` for every column of the contract table, in neutral text.

    relation: what stands after FROM, with columns `row_number` (BIGINT) and the headers (VARCHAR, text as in the
    file or NULL). headers: the file's own, which may differ from the map's in capitals, spaces and order. A row that
    is none of the table's is left out (`TableMap.only_where`); each other one comes out, in no order. A cell that the
    map's formats do not read is `not as mapped: <cell>`; an empty one, and a column that is not mapped, is NULL.
    Raises MapError where a column that the map names is missing from `headers` or could be two of them.
    """
    table = _BY_NAME[table_map.table]
    cells = cells_of(source_map, headers, [table_map])
    readings = _readings(source_map, table, table_map)
    rows = _joined(table_map, cells, cell_rows(source_map, cells, relation))
    prepared = _prepared(readings, cells, f"SELECT * FROM ({rows}) WHERE {is_row_sql(table_map, cells)}")
    units = {name: quoted(unit_name(name)) for name in _units_needed(readings)}
    texts = ", ".join(
        f"{units.get(column.name) or _text(readings.get(column.name), cells)} AS {quoted(f'text_{column.name}')}"
        for column in table.columns
    )
    return f"SELECT row_number, {texts} FROM ({prepared})"


def unclaimed_select(source_map: SourceMap, relation: str, headers: Sequence[str] = ()) -> str:
    """SELECT giving `row_number`, `raw_text` and `reason` of the rows that no table of the map takes.

    raw_text: JSON of the cells under headers that the map names, and of no others: personal columns stay outside.
    relation, headers: as for `contract_select`; without headers those of the map.
    """
    cells = cells_of(source_map, headers or source_map.headers, source_map.tables)
    named = dict.fromkeys(h for h in source_map.headers for t in source_map.tables if _names(t, h))
    claimed = " OR ".join(is_row_sql(table, cells) for table in source_map.tables) or "FALSE"
    asked = dict.fromkeys(table.only_where[0] for table in source_map.tables if table.only_where)
    found = " || ', ' || ".join(
        f"{literal(header + ' is ')} || coalesce('\"' || left({cells.in_file(header)}, 200) || '\"', 'empty')"
        for header in asked
    )
    reason = f"'no table of the source map takes such a row: ' || {found or literal('it has no tables')}"
    return (
        f"SELECT row_number, {shown_sql(named, cells)} AS raw_text, {reason} AS reason "
        f"FROM ({cell_rows(source_map, cells, relation)}) WHERE NOT ({claimed})"
    )


def _names(table: TableMap, header: str) -> bool:
    """Whether the table's map reads that header."""
    return normal_header(header) in {normal_header(named) for named in headers_named(table)}


def _readings(source_map: SourceMap, table: Table, table_map: TableMap) -> dict[str, Reading]:
    """Contract column name -> how it is read, for the columns that are mapped."""
    found = {}
    for column in table.columns:
        how = table_map.column(column.incoming)
        if how is not None:
            found[column.name] = Reading(source_map, column, how, table_map.column(unit_column(column)))
    return found


def _joined(table_map: TableMap, cells: Cells, rows: str) -> str:
    """The rows with a column for every text that is joined of several cells, and for every count."""
    extra = [
        f"{count_sql(c.numbered_within, cells)} AS {_joined_name(c)}" for c in table_map.columns if c.numbered_within
    ]
    for column in table_map.columns:
        if len(column.headers) > 1:
            parts = ", ".join(cells.cell(header) for header in column.headers)
            extra.append(f"nullif(concat_ws({literal(column.joined_by)}, {parts}), '') AS {_joined_name(column)}")
    return f"SELECT {', '.join(['*', *extra])} FROM ({rows})"


def _joined_name(column: ColumnMap) -> str:
    """Name of the layer's column with a joined text or a count."""
    return quoted(f"joined_{column.column}")


def _prepared(readings: dict[str, Reading], cells: Cells, rows: str) -> str:
    """The rows with the unit that each states, for numbers written beside one, and with dates without time of day."""
    extra = [f"{_text(readings.get(name), cells)} AS {quoted(unit_name(name))}" for name in _units_needed(readings)]
    dates = [r.how for r in readings.values() if r.column.type == "date" and r.how.headers]
    extra += [f"{day_sql(_whole(how, cells))} AS {day_name(how)}" for how in dates]
    return f"SELECT {', '.join(['*', *extra])} FROM ({rows})"


def _units_needed(readings: dict[str, Reading]) -> list[str]:
    """Columns of units that some number of the table stands beside in its cell."""
    return sorted({unit_column(one.column) for one in readings.values() if one.how.part == "number"} - {""})


def _whole(how: ColumnMap, cells: Cells) -> str:
    """Name of the layer's column with the text that a column is read from."""
    return cells.cell(how.headers[0]) if len(how.headers) == 1 else _joined_name(how)


def _text(reading: Reading | None, cells: Cells) -> str:
    """Expression for one contract column's neutral text."""
    if reading is None:
        return "CAST(NULL AS VARCHAR)"
    how = reading.how
    if how.numbered_within:
        return _joined_name(how)
    if not how.headers:
        return f"CAST(nullif({literal(how.constant)}, '') AS VARCHAR)"
    return reading.sql(_whole(how, cells), [cells.cell(header) for header in how.headers])
