"""XLSX workbooks to one RawTable per sheet. Values by fastexcel, all as text; the rest by our own scan."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import polars as pl

from longmile.pipelines.errors import ReconciliationError, UnreadableFileError
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.shape import (
    ROW_NUMBER,
    BadLine,
    RawTable,
    bad_lines_frame,
    checked_headers,
    cut,
    unreadable,
    with_nulls,
)
from longmile.pipelines.sources.workbook_archive import opened_workbook, sheet_parts
from longmile.pipelines.sources.workbook_scan import SheetScan, scan_sheet

_MIDNIGHT = r"^(\d{4}-\d{2}-\d{2}) 00:00:00(?:\.0+)?$"


def read_workbook(path: Path, known_as: str) -> list[RawTable]:
    """One table per sheet that holds anything; `row_number` is the row as the spreadsheet program numbers it.

    Dates come as YYYY-MM-DD, whole numbers without a decimal point, logical values as true and false. A row
    with an error cell, or with a formula that has no computed value, goes to the bad lines, the cell named.
    A sheet whose header cannot be used is left out and noted, if another sheet can be used.
    Raises UnreadableFileError where the workbook, or the header of every sheet in it, cannot be used.
    """
    import fastexcel

    with opened_workbook(path, known_as) as archive, damaged_if_it_fails(known_as, "workbook"):
        book = fastexcel.read_excel(path.read_bytes())
        tables: list[RawTable] = []
        refusals: list[UnreadableFileError] = []
        for sheet, part in sheet_parts(archive, known_as).items():
            scan = scan_sheet(archive, part, known_as)
            try:
                tables += _sheet(sheet, _values(book, sheet), scan, f"{known_as}, sheet {sheet!r}")
            except UnreadableFileError as refused:
                refusals.append(refused)
    return _with_refusals(tables, refusals, known_as)


def _with_refusals(tables: list[RawTable], refusals: list[UnreadableFileError], known_as: str) -> list[RawTable]:
    """The tables, the first one noting the sheets without a usable header: a page of remarks beside the data, say."""
    if not tables:
        if refusals:
            raise refusals[0]
        raise unreadable(known_as, "all sheets are empty", "a sheet with a header and rows", "Export the file again")
    notes = tuple(f"sheet not loaded: {refused}" for refused in refusals)
    return [replace(tables[0], notes=(*tables[0].notes, *notes)), *tables[1:]]


def _values(book: Any, sheet: str) -> pl.DataFrame:
    """The sheet's cells as text, first row of the frame = row 1 of the sheet, whatever is empty above.

    Types must not be inferred: one text cell deep in a column of numbers would come out empty.
    """
    loaded = book.load_sheet(sheet, header_row=None, skip_rows=0, dtypes="string")
    frame: pl.DataFrame = loaded.to_polars()
    if not frame.width:
        return frame
    text = frame.select(pl.all().cast(pl.String).str.replace(_MIDNIGHT, "$1"))
    return with_nulls(text)


def _sheet(sheet: str, values: pl.DataFrame, scan: SheetScan, place: str) -> list[RawTable]:
    """The sheet as a table; none where the sheet is empty."""
    if scan.last_row > values.height and scan.last_row not in scan.trouble:
        raise ReconciliationError(
            f"{place}: the last filled row is {scan.last_row:,}, but values came only up to row "
            f"{values.height:,}. Expected all rows; nothing of this file was taken. Save the sheet as CSV "
            "and drop that in."
        )
    numbered = values.with_row_index(ROW_NUMBER, offset=1).cast({ROW_NUMBER: pl.Int64})
    is_filled = ~pl.all_horizontal(pl.exclude(ROW_NUMBER).is_null())
    filled = numbered.filter(is_filled) if values.width else numbered
    if filled.is_empty() and not scan.trouble:
        return []
    notes = scan.notes
    header_row = filled[ROW_NUMBER][0] if filled.height else 0
    _refuse_header_trouble(scan, header_row, place)
    body = _named_columns(filled, notes, place)
    bad = _bad_rows(body, scan, header_row)
    rows = body.filter(~pl.col(ROW_NUMBER).is_in([line.row_number for line in bad]))
    return [RawTable(sheet, rows, bad_lines_frame(bad), *_account(filled, scan, header_row, notes))]


def _account(filled: pl.DataFrame, scan: SheetScan, header_row: int, notes: list[str]) -> tuple[int, tuple[str, ...]]:
    """The data rows found: filled by value, or known only by a cell that has none; and the notes."""
    below = set(filled[ROW_NUMBER].to_list()) | set(scan.trouble)
    below.discard(header_row)
    if not below:
        notes.append("the sheet has a header and no data rows")
    n_blank = max(below, default=header_row) - header_row - len(below)
    if n_blank:
        notes.append(f"{n_blank:,} blank {'row' if n_blank == 1 else 'rows'} ignored")
    return len(below), tuple(notes)


def _refuse_header_trouble(scan: SheetScan, header_row: int, place: str) -> None:
    """A header that has to be computed, or stands below a cell without a value, is none."""
    early = [row for row in scan.trouble if row <= header_row or not header_row]
    if early:
        raise unreadable(
            place,
            f"{scan.trouble[early[0]][0]}, in or above the header",
            "a header of plain text",
            "Type the column names as text",
        )


def _named_columns(filled: pl.DataFrame, notes: list[str], place: str) -> pl.DataFrame:
    """The rows below the header under its names; a column with nothing in it is formatting, not data."""
    empty = [name for name in filled.columns if name != ROW_NUMBER and filled[name].null_count() == filled.height]
    kept = filled.drop(empty)
    header, body = kept.row(0)[1:], kept.slice(1)
    names = checked_headers(place, header, notes)
    return body.rename(dict(zip(body.columns[1:], names, strict=True)))


def _bad_rows(body: pl.DataFrame, scan: SheetScan, header_row: int) -> list[BadLine]:
    """The rows with a cell that has no value to trust; their other cells are kept as raw text."""
    rows = [row for row in scan.trouble if row > header_row]
    shown = {
        row[0]: "\t".join(value or "" for value in row[1:])
        for row in body.filter(pl.col(ROW_NUMBER).is_in(rows)).iter_rows()
    }
    return [BadLine(row, cut(shown.get(row, "")), "; ".join(scan.trouble[row][:10])) for row in rows]
