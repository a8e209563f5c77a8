"""Tables for people to open in a spreadsheet program, with every cell that would be taken for a formula made harmless.

A cell that begins with = + - @, a tab or a carriage return gets an apostrophe in front; `plain` takes it away again
when such a file comes back.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from pathlib import Path

from longmile.pipelines.errors import LongmileError

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
MOST_SIGNS = 32_767
"""Signs that a cell of a workbook can hold."""
_NARROWEST, _WIDEST = 9, 60

Rows = Sequence[Sequence[str | None]]


def harmless(value: str | None) -> str:
    """The cell as it is written."""
    text = value or ""
    return f"'{text}" if text.startswith(FORMULA_SIGNS) else text


def plain(value: str | None) -> str | None:
    """The cell as it was before `harmless`."""
    if value and value[0] == "'" and value[1:].startswith(FORMULA_SIGNS):
        return value[1:]
    return value


def write_table(path: Path, sheets: Mapping[str, tuple[Sequence[str], Rows]], notes: Mapping[str, str]) -> None:
    """A workbook (.xlsx) with a sheet for each table, or a CSV file where there is one table only.

    sheets: name -> (header, rows).   notes: header -> what the column is for, shown over the header in a workbook.
    Raises LongmileError where the name says neither, where a CSV is asked for several tables, or where it cannot be
    written.
    """
    suffix = path.suffix.lower()
    try:
        if suffix == ".xlsx":
            _write_book(path, sheets, notes)
        elif suffix == ".csv" and len(sheets) == 1:
            _write_csv(path, *next(iter(sheets.values())))
        else:
            raise LongmileError(
                f"{path}: {len(sheets)} tables cannot be written so. Expected a name ending in .xlsx"
                f"{' or .csv' if len(sheets) == 1 else ''}. Give such a name."
            )
    except OSError as error:
        raise LongmileError(f"{path}: cannot be written ({error.strerror or error}).") from error


def _write_csv(path: Path, header: Sequence[str], rows: Rows) -> None:
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(header)
        writer.writerows([harmless(cell) for cell in row] for row in rows)


def _write_book(path: Path, sheets: Mapping[str, tuple[Sequence[str], Rows]], notes: Mapping[str, str]) -> None:
    import xlsxwriter
    from xlsxwriter.exceptions import XlsxWriterException

    book = xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False})
    head = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    body = book.add_format({"text_wrap": True, "valign": "top", "num_format": "@"})
    for name, (header, rows) in sheets.items():
        sheet = book.add_worksheet(name[:31])
        sheet.freeze_panes(1, 0)
        for place, title in enumerate(header):
            sheet.write_string(0, place, title, head)
            sheet.set_column(place, place, _width(title, rows, place))
            if title in notes:
                sheet.write_comment(0, place, notes[title])
        for number, row in enumerate(rows, 1):
            for place, cell in enumerate(row):
                sheet.write_string(number, place, harmless(cell)[:MOST_SIGNS], body)
    try:
        book.close()
    except XlsxWriterException as error:
        raise OSError(str(error)) from error


def _width(title: str, rows: Rows, place: int) -> int:
    """A width at which most cells of the column can be read."""
    longest = max((len(row[place] or "") for row in rows[:200]), default=0)
    return min(_WIDEST, max(_NARROWEST, len(title) + 2, longest + 2))
