"""What an earlier map of nearly the same columns says, taken over where both files have the headers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap, normal_header

LARGELY = 0.6


def agrees(earlier: SourceMap, headers: tuple[str, ...]) -> bool:
    """Whether most headers of the earlier map are here."""
    here = {normal_header(one) for one in headers}
    there = [normal_header(one) for one in earlier.headers]
    return bool(there) and sum(one in here for one in there) >= LARGELY * len(there)


def with_earlier(proposed: SourceMap, earlier: SourceMap) -> SourceMap:
    """The earlier map's entries for headers that both have, and what is proposed for new headers and columns."""
    here = {normal_header(one): one for one in proposed.headers}
    known = {normal_header(one) for one in earlier.headers}
    tables = [_table(table, proposed, earlier, here, known) for table in earlier.tables]
    more = [table for table in proposed.tables if earlier.table(table.table) is None and _is_new(table, known)]
    return replace(
        proposed,
        tables=tuple(table for table in (*tables, *more) if table.columns),
        dates=earlier.dates,
        two_digit_years_to=earlier.two_digit_years_to or proposed.two_digit_years_to,
        decimal=earlier.decimal,
        thousands=earlier.thousands,
        fill_down=tuple(here[normal_header(one)] for one in earlier.fill_down if normal_header(one) in here),
    )


def _is_new(table: TableMap, known: set[str]) -> bool:
    """Whether a table is filled by headers of which the earlier map knew none but the order's or vehicle's number."""
    own = {
        one
        for column in table.columns
        if column.column not in ("repair_order_id", "vehicle_id")
        for one in column.headers
    }
    return bool(own) and not any(normal_header(one) in known for one in own)


def _table(
    table: TableMap, proposed: SourceMap, earlier: SourceMap, here: Mapping[str, str], known: set[str]
) -> TableMap:
    """One table: earlier entries whose headers are all here; for other columns what new headers are proposed for."""
    kept = [_kept(column, earlier, here) for column in table.columns if _is_here(column, here)]
    filled = {column.column for column in kept}
    ours = proposed.table(table.table)
    new = [
        _own_habits(column, proposed, earlier)
        for column in (ours.columns if ours else ())
        if _is_free(column, filled, known)
    ]
    where = table.only_where
    if where is not None:
        where = (here[normal_header(where[0])], where[1]) if normal_header(where[0]) in here else None
    return TableMap(table.table, (*kept, *new), where)


def _is_here(column: ColumnMap, here: Mapping[str, str]) -> bool:
    """Whether every header an entry names is in the file."""
    return all(normal_header(one) in here for one in (*column.headers, *column.numbered_within))


def _is_free(column: ColumnMap, filled: set[str], known: set[str]) -> bool:
    """Whether a proposed entry is for a column not filled yet, from a header that the earlier map did not know."""
    return column.column not in filled and any(normal_header(one) not in known for one in column.headers)


def _kept(column: ColumnMap, earlier: SourceMap, here: Mapping[str, str]) -> ColumnMap:
    """An earlier entry in this file's spelling."""
    return replace(
        column,
        headers=tuple(here[normal_header(one)] for one in column.headers),
        numbered_within=tuple(here[normal_header(one)] for one in column.numbered_within),
        confidence=1.0,
        because=f"as in the {'accepted ' if earlier.is_accepted else ''}map {earlier.name}",
    )


def _own_habits(column: ColumnMap, proposed: SourceMap, earlier: SourceMap) -> ColumnMap:
    """A proposed entry that states its formats and signs where the earlier map's are others."""
    dates = column.dates or (proposed.dates if proposed.dates != earlier.dates else ())
    decimal, thousands = column.decimal, column.thousands
    if not decimal and (proposed.decimal, proposed.thousands) != (earlier.decimal, earlier.thousands):
        decimal, thousands = proposed.decimal, proposed.thousands
    return replace(column, dates=dates, decimal=decimal, thousands=thousands)
