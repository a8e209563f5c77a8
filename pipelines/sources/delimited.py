"""CSV and its kin to a RawTable: finds the delimiter and the header, then reads the body fast or carefully.

Both ways of reading the body (`delimited_fast`, `delimited_careful`) give the same rows for every file the
fast one accepts; the fast one refuses whatever it cannot prove to be one record per line.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import islice
from pathlib import Path

from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.sources.delimited_careful import read_carefully
from longmile.pipelines.sources.delimited_fast import read_fast
from longmile.pipelines.sources.delimited_record import Body, Layout, OpenRecord, is_blank
from longmile.pipelines.sources.encoded import Line, TextFile, lines_from, text_file
from longmile.pipelines.sources.shape import (
    RawTable,
    bad_lines_frame,
    checked_headers,
    unreadable,
    with_nulls,
)

DELIMITERS = (",", ";", "\t", "|")
_SAMPLE_LINES = 20
_HEADER_LINES = 100


def read_delimited(path: Path, known_as: str, fast: Callable[[Layout], Body | None] | None = read_fast) -> RawTable:
    """The file's records as text; `fast=None` reads carefully from the start (same rows, slower).

    Raises UnreadableFileError where there is no usable header, ReconciliationError where a line is
    unaccounted for.
    """
    source = text_file(path, known_as)
    notes = list(source.notes)
    layout = _layout(source, notes)
    body = (fast(layout) if fast else None) or read_carefully(layout)
    _reconcile(layout, body)
    n_blank = body.n_blank + layout.n_blank
    if n_blank:
        notes.append(f"{n_blank:,} blank {'line' if n_blank == 1 else 'lines'} ignored")
    n_physical = body.rows.height + len(body.bad)
    if not n_physical:
        notes.append("the file has a header and no data rows")
    return RawTable(Path(known_as).stem, with_nulls(body.rows), bad_lines_frame(body.bad), n_physical, tuple(notes))


def _reconcile(layout: Layout, body: Body) -> None:
    """Every physical line is header, blank, bad or part of a row; the lines were counted apart from this."""
    parts = layout.first_line - 1, body.n_blank, len(body.bad), body.n_record_lines
    if sum(parts) == layout.source.n_lines:
        return
    raise ReconciliationError(
        f"{layout.source.known_as}: the file has {layout.source.n_lines:,} lines, but {parts[0]:,} up to the "
        f"header, {parts[1]:,} blank, {parts[2]:,} bad and {parts[3]:,} in rows make {sum(parts):,}. "
        "Expected the two to be equal; nothing of this file was taken. If it was still being written, drop "
        "it in again when complete; if not, keep the file and report it."
    )


def _layout(source: TextFile, notes: list[str]) -> Layout:
    """Delimiter and header from the first lines."""
    head = list(islice(lines_from(source, 1), _SAMPLE_LINES + _HEADER_LINES))
    filled = [line for line in head if line.trouble or not is_blank(line.text)]
    if not filled:
        raise unreadable(
            source.known_as,
            "there are only blank lines",
            "a header and data lines",
            "Export the file again",
        )
    first = filled[0]
    if first.trouble:
        raise unreadable(
            source.known_as,
            f"line {first.number}, which should be the header, {first.trouble}",
            "a readable first line with the names of the columns",
            "Export the file again",
        )
    delimiter = sniff_delimiter([line.text for line in filled if not line.trouble][:_SAMPLE_LINES])
    fields, last_line = _header(source.known_as, filled, delimiter)
    names = checked_headers(source.known_as, fields, notes)
    return Layout(source, delimiter, names, last_line + 1, first.number - 1)


def _header(known_as: str, lines: list[Line], delimiter: str) -> tuple[list[str], int]:
    """The fields of the header and the last line it covers; a name may hold a line end inside quotes."""
    record = OpenRecord(delimiter)
    for line in lines:
        if line.trouble or not record.feed(line.text):
            break
        if not record.is_open:
            return record.fields, line.number
    raise unreadable(
        known_as,
        f"the header on line {lines[0].number} has a quote never closed, or text after a closing quote",
        "names of columns, quoted properly or not at all",
        "Correct the quotes of the first line",
    )


def sniff_delimiter(lines: list[str]) -> str:
    """Comma, semicolon, tab or bar: the one that splits most of the first lines just as it splits the header.

    Counted outside quotes. Equal so far: the one that occurs more often in the header; then in the order
    given above. None occurs in the header: comma (the file has one column).
    """
    bare = [re.sub(r'"[^"]*"', "", line) for line in lines]

    def standing(delimiter: str) -> tuple[int, int, int]:
        count = bare[0].count(delimiter)
        agreeing = sum(line.count(delimiter) == count for line in bare) if count else 0
        return agreeing, count, -DELIMITERS.index(delimiter)

    return max(DELIMITERS, key=standing)
