"""The cells of one sheet to a RawTable: its header, its records, and the rows that are none."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.sources.header_search import FOLLOWING, SEARCHED, Row, find_header
from longmile.pipelines.sources.headers import Names, checked_headers, without_empty_columns
from longmile.pipelines.sources.printed_lines import PrintedLines, set_apart
from longmile.pipelines.sources.shape import (
    ROW_NUMBER,
    BadLine,
    RawTable,
    bad_lines_frame,
    cut,
    unreadable,
    without_long_cells,
)
from longmile.pipelines.sources.workbook_merged import with_merged_values
from longmile.pipelines.sources.workbook_scan import SheetScan


def sheet_table(sheet: str, values: pl.DataFrame, scan: SheetScan, place: str) -> list[RawTable]:
    """The sheet as a table; none where the sheet is empty. values: text, first row of the frame = row 1."""
    _refuse_missing_rows(values, scan, place)
    numbered = values.with_row_index(ROW_NUMBER, offset=1).cast({ROW_NUMBER: pl.Int64})
    is_filled = ~pl.all_horizontal(pl.exclude(ROW_NUMBER).is_null())
    filled = numbered.filter(is_filled) if values.width else numbered
    if filled.is_empty() and not scan.trouble:
        return []
    notes = scan.notes
    at = _header_place(filled)
    header_row = filled[ROW_NUMBER][at] if filled.height else 0
    _refuse_header_trouble(scan, header_row, at, place)
    n_physical = _account(filled, scan, header_row, notes)
    if at:
        which = f"rows 1 to {header_row - 1} stand" if header_row > 2 else "row 1 stands"
        notes.append(f"{which} above the header and {'were' if header_row > 2 else 'was'} passed over")
    columns = _used_columns(filled, at)
    rows, named = _named_columns(filled.select(ROW_NUMBER, *columns), at, notes, place)
    trouble = _bad_rows(rows, scan, header_row)
    trouble += set_apart(_without(rows, trouble), _printed(filled.select(columns), at), "\t")[1]
    rows = with_merged_values(rows, scan, [values.columns.index(column) for column in columns], values.width, notes)
    rows, long = without_long_cells(_without(rows, trouble), "\t")
    rows = without_empty_columns(rows, named, place, notes)
    bad = bad_lines_frame([*trouble, *long])
    return [RawTable(sheet, rows, bad, n_physical, tuple(notes), named.repeated)]


def _without(rows: pl.DataFrame, bad: list[BadLine]) -> pl.DataFrame:
    """The rows that are not among these lines."""
    return rows.filter(~pl.col(ROW_NUMBER).is_in([line.row_number for line in bad])) if bad else rows


def _refuse_missing_rows(values: pl.DataFrame, scan: SheetScan, place: str) -> None:
    """The reader of values must have come as far as our own scan."""
    if scan.last_row <= values.height or scan.last_row in scan.trouble:
        return
    raise ReconciliationError(
        f"{place}: the last filled row is {scan.last_row:,}, but values came only up to row "
        f"{values.height:,}. Expected all rows; nothing of this file was taken. Save the sheet as CSV "
        "and drop that in."
    )


def _header_place(filled: pl.DataFrame) -> int:
    """Which of the filled rows is the header; the first one where none is by the rule."""
    head = filled.head(SEARCHED + FOLLOWING).drop(ROW_NUMBER)
    found = find_header([Row([(cell or "").strip() for cell in row]) for row in head.iter_rows()])
    return found.place if found else 0


def _refuse_header_trouble(scan: SheetScan, header_row: int, at: int, place: str) -> None:
    """A header that has to be computed is none; nor is the first filled row, below a cell without a value."""
    early = [row for row in scan.trouble if row == header_row or (not at and row < header_row) or not header_row]
    if early:
        raise unreadable(
            place,
            f"{scan.trouble[early[0]][0]}, in or above the header",
            "a header of plain text",
            "Type the column names as text",
        )


def _account(filled: pl.DataFrame, scan: SheetScan, header_row: int, notes: list[str]) -> int:
    """The data rows found: filled by value, or known only by a cell that has none."""
    below = {row for row in (*filled[ROW_NUMBER], *scan.trouble) if row > header_row}
    if not below:
        notes.append("the sheet has a header and no data rows")
    n_blank = max(below, default=header_row) - header_row - len(below)
    if n_blank:
        notes.append(f"{n_blank:,} blank {'row' if n_blank == 1 else 'rows'} ignored")
    return len(below)


def _used_columns(filled: pl.DataFrame, at: int) -> list[str]:
    """The columns with anything in them from the header on; one with nothing in it is formatting, not data."""
    used = filled.slice(at).drop(ROW_NUMBER)
    return [name for name in used.columns if used[name].null_count() < used.height]


def _named_columns(filled: pl.DataFrame, at: int, notes: list[str], place: str) -> tuple[pl.DataFrame, Names]:
    """The rows below the header under its names."""
    named = checked_headers(place, filled.row(at)[1:], notes)
    body = filled.slice(at + 1)
    return body.rename(dict(zip(body.columns[1:], named.names, strict=True))), named


def _printed(filled: pl.DataFrame, at: int) -> PrintedLines:
    """How to know the header when it comes again, and the lines above it."""
    *above, header = ([cell or "" for cell in row] for row in filled.head(at + 1).iter_rows())
    return PrintedLines(tuple(header), tuple(map(tuple, above)))


def _bad_rows(body: pl.DataFrame, scan: SheetScan, header_row: int) -> list[BadLine]:
    """The rows with a cell that has no value to trust; their other cells are kept as raw text."""
    rows = [row for row in scan.trouble if row > header_row]
    shown = {
        row[0]: "\t".join(value or "" for value in row[1:])
        for row in body.filter(pl.col(ROW_NUMBER).is_in(rows)).iter_rows()
    }
    return [BadLine(row, cut(shown.get(row, "")), "; ".join(scan.trouble[row][:10])) for row in rows]
