"""A slow, plain reading of a shape's files by their stated maps: a check of the truth, apart from the pipeline.

Only the contract's declarations are used. Lines that hold no record are known from the truth, not found here.
"""

from __future__ import annotations

import csv
import gzip
import io
import json
import re
import zipfile
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import openpyxl

Cells = dict[str, str]
MONTHS = {
    "ene": 1, "abr": 4, "ago": 8, "dic": 12, "janvier": 1, "février": 2, "mars": 3, "avril": 4, "mai": 5, "juin": 6,
    "juillet": 7, "août": 8, "septembre": 9, "octobre": 10, "novembre": 11, "décembre": 12,
}  # fmt: skip
"""Names of months that are not English; of the Spanish ones only those that differ."""
_ENGLISH = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class NotAsStatedError(ValueError):
    """A cell that does not read as the map states."""


def rows_of(folder: Path, part: Any) -> dict[int, Cells]:
    """Row number -> header -> stripped cell, for every row that is a record."""
    odd = {one.row for one in part.quarantined if one.table is None} | {row for row, _ in part.passed_over}
    content = (folder / part.file).read_bytes()
    if part.member:
        content = zipfile.ZipFile(io.BytesIO(content)).read(part.member)
    if part.file.endswith(".gz"):
        content = gzip.decompress(content)
    if part.sheet:
        return {n: row for n, row in _sheet(content, part).items() if n not in odd}
    text = content.decode("utf-16" if part.encoding == "utf-16-le" else part.encoding)
    if part.delimiter is None:
        objects = {n: line for n, line in enumerate(text.splitlines(), 1) if n not in odd}
        return {n: {k: str(v) for k, v in json.loads(line).items()} for n, line in objects.items()}
    return _records(text, part, odd)


def _sheet(content: bytes, part: Any) -> dict[int, Cells]:
    sheet = openpyxl.load_workbook(io.BytesIO(content))[part.sheet]
    rows = {n: [_shown(cell) for cell in row] for n, row in enumerate(sheet.iter_rows(values_only=True), 1)}
    names = rows[part.header_row]
    if names != [one.header for one in part.headers]:
        raise ValueError(f"{part.file} {part.sheet}: the header is {names}")
    return {n: dict(zip(names, row, strict=True)) for n, row in rows.items() if n > part.header_row}


def _shown(cell: Any) -> str:
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    return "" if cell is None else str(cell).strip()


def _records(text: str, part: Any, odd: set[int]) -> dict[int, Cells]:
    """Records of delimited text, each under the line at which it starts; quotes may span lines."""
    lines = text.splitlines(keepends=True)
    names = next(csv.reader(lines[part.header_row - 1 :], delimiter=part.delimiter))
    if names != [one.header for one in part.headers]:
        raise ValueError(f"{part.file}: the header is {names}")
    reader = csv.reader(lines, delimiter=part.delimiter)
    found, start = {}, 1
    for fields in reader:
        if start > part.header_row and start not in odd:
            stripped = [field.replace("\r\n", "\n").strip() for field in fields]
            found[start] = dict(zip(names, stripped, strict=True))
        start = reader.line_num + 1
    return found


def filled_down(rows: dict[int, Cells], headers: tuple[str, ...]) -> dict[int, Cells]:
    """Empty cells of these headers take the value of the row above."""
    above: Cells = {}
    done = {}
    for number, row in rows.items():
        above |= {header: row[header] for header in headers if row.get(header)}
        done[number] = row | {header: above.get(header, "") for header in headers}
    return done


def is_of_table(row: Cells, only_where: Any) -> bool:
    """Whether `only_where` takes the row."""
    if only_where is None:
        return True
    header, values = only_where
    cell = row.get(header, "").lower()
    return cell in [value.lower() for value in values] if values else bool(cell)


def landed_value(row: Cells, column: Any, kind: str, stated: Any) -> str | None:
    """The neutral text of one contract column (kind: its type). Raises NotAsStatedError where the cell does not fit."""
    if column.constant:
        return str(column.constant)
    cell = column.joined_by.join(row[header] for header in column.headers if row.get(header))
    cell = {theirs.lower(): ours for theirs, ours in column.values}.get(cell.lower(), cell)
    if not cell:
        return None
    if column.part != "whole":
        found = re.fullmatch(r"(.*\d)\s*(mi|km)", cell)
        if not found:
            if column.part == "number":
                raise NotAsStatedError(cell)
            return None
        cell = found[1] if column.part == "number" else found[2]
    if kind == "date":
        return as_day(cell, column.dates or stated.dates, stated.two_digit_years_to)
    if kind in ("integer", "decimal", "cents"):
        return as_number(cell, column.decimal or stated.decimal, column.thousands or stated.thousands)
    return cell


def as_number(cell: str, decimal: str, thousands: str) -> str:
    """A number in neutral form."""
    text = re.sub(r"(?i)\$|€|£|kr|zł|chf|eur", "", re.sub(r"\s", " ", cell)).strip()
    negative = text.startswith(("-", "(")) or text.endswith("-")
    text = text.strip("()-").strip()
    between = re.escape(thousands) if thousands else "(?!)"
    if not re.fullmatch(rf"(\d+|\d{{1,3}}({between}\d{{3}})+)({re.escape(decimal)}\d+)?", text):
        raise NotAsStatedError(cell)
    whole, _, rest = text.partition(decimal)
    digits = whole.replace(thousands, "") if thousands else whole
    return f"{'-' if negative else ''}{digits}{'.' + rest if rest else ''}"


def as_day(cell: str, formats: tuple[str, ...], two_digit_years_to: int) -> str:
    """A day as YYYY-MM-DD."""
    english = re.sub(r"[^\W\d_]{3,}", lambda word: _ENGLISH[MONTHS.get(word[0].lower(), 0) - 1]
                     if word[0].lower() in MONTHS else word[0], cell)  # fmt: skip
    for form in (*formats, "%Y-%m-%d"):
        if form == "excel" and re.fullmatch(r"\d{5}", cell):
            return (date(1899, 12, 30) + timedelta(days=int(cell))).isoformat()
        try:
            day = datetime.strptime(english, form.replace("%B", "%b")).date()
        except ValueError:
            continue
        while "%y" in form and day.year > two_digit_years_to:
            day = day.replace(year=day.year - 100)
        return day.isoformat()
    raise NotAsStatedError(cell)
