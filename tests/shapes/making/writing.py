"""A part's items as the bytes of a file; each item gets the line or sheet row at which it starts."""

from __future__ import annotations

import csv
import gzip
import io
import json
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

import xlsxwriter
from part import Part

_FIXED = datetime(2024, 1, 1)


def delimited(
    part: Part, delimiter: str = ",", encoding: str = "utf-8", newline: str = "\n", preamble: Sequence[str] = ()
) -> bytes:
    """The part as delimited text. encoding: as Python names it; utf-16-le gets its mark in front."""
    lines = 0
    chunks: list[str] = []

    def put(text: str) -> int:
        nonlocal lines
        start = lines + 1
        lines += text.count("\n") + 1
        chunks.append(text + newline)
        return start

    for text in preamble:
        part.odd("preamble line" if text else "blank line", text=text)
        part.items[-1].n = put(text)
    part.header_row = put(_line(part.header_cells(), delimiter))
    for item in part.items:
        if item.kind == "repeated header":
            item.cells = part.header_cells()
        if not item.n:
            item.n = put(_line(item.cells, delimiter) if item.text is None else item.text)
    part.place |= {"encoding": encoding, "delimiter": delimiter}
    mark = "\ufeff" if encoding == "utf-16-le" else ""
    return (mark + "".join(chunks)).encode(encoding)


def _line(cells: Sequence[Any], delimiter: str) -> str:
    target = io.StringIO()
    csv.writer(target, delimiter=delimiter).writerow(["" if cell is None else cell for cell in cells])
    return target.getvalue().removesuffix("\r\n")


def json_lines(part: Part) -> bytes:
    """The part as one JSON object a line; empty cells are left out."""
    part.header_row = 0
    texts = []
    for number, item in enumerate(part.items, 1):
        item.n = number
        pairs = {h: c for h, c in zip(part.headers, item.cells, strict=False) if c not in ("", None)}
        texts.append(json.dumps(pairs, ensure_ascii=False) if item.text is None else item.text)
    part.place |= {"encoding": "utf-8", "delimiter": None}
    return ("\n".join(texts) + "\n").encode()


def workbook(parts: Mapping[str, Part], preambles: Mapping[str, Sequence[str]] | None = None) -> bytes:
    """The parts as sheets, preamble lines in merged cells.

    `merge` in a part's place names the headers whose cells are merged over each order.
    """
    target = io.BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True})
    book.set_properties({"created": _FIXED, "author": "", "comments": ""})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for name, part in parts.items():
        _sheet(book.add_worksheet(name), part, (preambles or {}).get(name, ()), day)
        part.place |= {"sheet": name}
    book.close()
    return target.getvalue()


def _sheet(sheet: Any, part: Part, preamble: Sequence[str], day: Any) -> None:
    at = 0
    for text in preamble:
        if text:
            sheet.merge_range(at, 0, at, 4, text)
        part.odd("preamble line" if text else "blank line", text=text)
        at += 1
        part.items[-1].n = at
    already = {id(item) for item in part.items if item.n}
    sheet.write_row(at, 0, part.header_cells())
    at += 1
    part.header_row = at
    for item in part.items:
        if id(item) in already:
            continue
        if item.kind == "repeated header":
            item.cells = part.header_cells()
        for column, cell in enumerate(item.cells):
            _write(sheet, at, column, cell, day)
        at += 1
        item.n = at
    for header in part.place.pop("merge", ()):
        _merge(sheet, part, part.headers.index(header), day)


def _write(sheet: Any, row: int, column: int, cell: Any, day: Any) -> None:
    if isinstance(cell, date):
        sheet.write_datetime(row, column, datetime(cell.year, cell.month, cell.day), day)
    elif isinstance(cell, bool):
        sheet.write_boolean(row, column, cell)
    elif isinstance(cell, int | float):
        sheet.write_number(row, column, cell)
    elif cell not in ("", None):
        sheet.write_string(row, column, str(cell))


def _merge(sheet: Any, part: Part, column: int, day: Any) -> None:
    """Merge each group's cell with the empty ones below it."""
    group: list[Any] = []
    for item in [*part.items, None]:
        is_more = item is not None and item.kind == "row" and group and item.row.order is group[0].row.order
        if is_more:
            group.append(item)
            continue
        if len(group) > 1:
            first = group[0]
            cell = first.cells[column]
            sheet.merge_range(first.n - 1, column, group[-1].n - 1, column, "")
            _write(sheet, first.n - 1, column, cell, day)
        group = [item] if item is not None and item.kind == "row" else []


def zipped(members: Mapping[str, bytes]) -> bytes:
    """A zip archive of files, the same bytes for the same content."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(zipfile.ZipInfo(name, (2024, 1, 1, 0, 0, 0)), content, zipfile.ZIP_DEFLATED)
    return target.getvalue()


def gzipped(content: bytes) -> bytes:
    """The content packed by gzip, without a time in it."""
    return gzip.compress(content, mtime=0)
