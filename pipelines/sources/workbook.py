"""XLSX workbooks to one RawTable per sheet. Values by fastexcel, all as text; the rest by our own scan."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import polars as pl

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.shape import RawTable, unreadable, with_nulls
from longmile.pipelines.sources.workbook_archive import opened_workbook, sheet_parts
from longmile.pipelines.sources.workbook_scan import scan_sheet
from longmile.pipelines.sources.workbook_sheet import sheet_table

_MIDNIGHT = r"^(\d{4}-\d{2}-\d{2}) 00:00:00(?:\.0+)?$"


def read_workbook(path: Path, known_as: str) -> list[RawTable]:
    """One table per sheet that holds anything; `row_number` is the row as the spreadsheet program numbers it.

    Dates come as YYYY-MM-DD, whole numbers without a decimal point, logical values as true and false, a day number in
    a cell that is not formatted as a date as that number. A row with an error cell, or with a formula that has no
    computed value, goes to the bad lines, the cell named; so do the header when it comes again, totals and page lines.
    The value of merged cells holds for all of them. Hidden sheets and rows are read and noted.
    A sheet whose header cannot be used is left out and noted, if another sheet can be used.
    Raises UnreadableFileError where the workbook, or the header of every sheet in it, cannot be used.
    """
    import fastexcel

    with opened_workbook(path, known_as) as archive, damaged_if_it_fails(known_as, "workbook"):
        book = fastexcel.read_excel(path.read_bytes())
        tables: list[RawTable] = []
        refusals: list[UnreadableFileError] = []
        for sheet, (part, is_hidden) in sheet_parts(archive, known_as).items():
            place = f"{known_as}, sheet {sheet!r}"
            try:
                scan = scan_sheet(archive, part, place)
                found = sheet_table(sheet, _values(book, sheet), scan, place)
            except UnreadableFileError as refused:
                refusals.append(refused)
                continue
            tables += [_noted(table, is_hidden) for table in found]
    return _with_refusals(tables, refusals, known_as)


def _noted(table: RawTable, is_hidden: bool) -> RawTable:
    """The table, with a note where its sheet is hidden."""
    if not is_hidden:
        return table
    note = f"the sheet {table.name!r} is hidden in the workbook, and was read all the same"
    return replace(table, notes=(*table.notes, note))


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
