"""Merged cells: the one value of the range holds for every record it covers."""

from __future__ import annotations

import re
from collections import defaultdict
from typing import NamedTuple

import polars as pl

from longmile.pipelines.sources.shape import ROW_NUMBER
from longmile.pipelines.sources.workbook_glance import column_number
from longmile.pipelines.sources.workbook_scan import SheetScan, named

_RANGE = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7}):\$?([A-Z]{1,3})\$?(\d{1,7})")


class _Range(NamedTuple):
    """A merged range; all four bounds belong to it. Columns count from 0 in the frame of values."""

    written: str
    first_row: int
    last_row: int
    first_column: int
    last_column: int

    def n_cells(self, n_rows: int) -> int:
        """How many cells it has at most, in a sheet of so many records."""
        return min(self.last_row - self.first_row + 1, n_rows) * (self.last_column - self.first_column + 1)


def with_merged_values(
    rows: pl.DataFrame, scan: SheetScan, places: list[int], width: int, notes: list[str]
) -> pl.DataFrame:
    """The records with the value of every merged range in all its cells; `notes` names the ranges.

    places: which column of the sheet's frame each column of `rows` is, of `width`. Only filled rows below the header
    get values. A range whose first cell is not in a record (the header, a title) is left,
    and so is one that is all there is in its row: a heading between the records.
    """
    if not scan.merged:
        return rows
    ranges, left = _ranges(scan, width)
    filled: dict[int, dict[int, str]] = defaultdict(dict)
    done: list[str] = []
    by_number = {number: place for place, number in enumerate(rows[ROW_NUMBER])}
    column_of = {place: at for at, place in enumerate(places, 1)}
    n_left = rows.height * width
    for one in ranges:
        n_left -= one.n_cells(rows.height)
        if n_left < 0:  # ranges that overlap, which no spreadsheet program writes
            left.append(one.written)
            continue
        cells = _cells(rows, one, by_number, column_of, filled)
        (done if cells else left).append(one.written)
        for at, row, value in cells:
            filled[at][row] = value
    if done:
        notes.append(f"merged cells {named(done)}: the value was taken for every row and column they cover")
    if left:
        notes.append(f"merged cells {named(left)}: only the first cell of each has the value")
    return rows.with_columns(_patched(rows, at, values) for at, values in filled.items())


def _ranges(scan: SheetScan, width: int) -> tuple[list[_Range], list[str]]:
    """The ranges that can be placed in the frame, and the others as written.

    The frame begins with the first column that has a value; none can be placed where its width is another than ours.
    """
    placed, left = [], []
    for written in scan.merged:
        found = _RANGE.fullmatch(written)
        if not found or scan.last_column - scan.first_column + 1 != width:
            left.append(written)
            continue
        first, last = (column_number(found[group]) - scan.first_column for group in (1, 3))
        placed.append(_Range(written, int(found[2]), int(found[4]), first, min(last, width - 1)))
    return placed, left


def _cells(
    rows: pl.DataFrame,
    one: _Range,
    by_number: dict[int, int],
    column_of: dict[int, int],
    filled: dict[int, dict[int, str]],
) -> list[tuple[int, int, str]]:
    """The empty cells of the range that are in records: column of `rows`, its place, the value."""
    first_row, first_at = by_number.get(one.first_row), column_of.get(one.first_column)
    if first_row is None or first_at is None or (value := rows[first_row, first_at]) is None:
        return []
    if _is_heading(rows.row(first_row), one):
        return []
    numbers = rows[ROW_NUMBER]
    last_row = int(numbers.search_sorted(one.last_row, "right"))
    ats = [at for place, at in column_of.items() if one.first_column <= place <= one.last_column]
    return [
        (at, row, value)
        for at in ats
        for row in range(first_row, last_row)
        if row not in filled[at] and rows[row, at] is None
    ]


def _is_heading(row: tuple[object, ...], one: _Range) -> bool:
    """A range over several columns that is all there is in its row."""
    return one.last_column > one.first_column and sum(cell is not None for cell in row[1:]) == 1


def _patched(rows: pl.DataFrame, at: int, values: dict[int, str]) -> pl.Series:
    """One column with these values at these places."""
    column = rows.to_series(at)
    return column.scatter(list(values), list(values.values()))
