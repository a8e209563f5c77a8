"""Delimiter, header and names of a delimited file, found in its first lines. For the header see `header_search`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from longmile.pipelines.sources.delimited_head import HEADER_LINES, Head, HeadRecord, read_head
from longmile.pipelines.sources.delimited_record import Layout, OpenRecord
from longmile.pipelines.sources.encoded import Line, TextFile
from longmile.pipelines.sources.header_search import SEARCHED, Found, as_wide_as_rows, find_header, is_a_record
from longmile.pipelines.sources.headers import checked_headers
from longmile.pipelines.sources.printed_lines import PrintedLines
from longmile.pipelines.sources.shape import unreadable


def find_layout(source: TextFile, notes: list[str]) -> Layout:
    """How the body is to be read; `notes` gets what was done about the header and the lines above it.

    Raises UnreadableFileError where there is no header that can be used.
    """
    head = read_head(source)
    later = _later_header(head)
    if later:
        return _below_remarks(source, *later, head.records[later[0]], notes)
    _refuse_no_header(source.known_as, head.records)
    return _at_the_first(source, head, notes)


def _later_header(head: Head) -> tuple[str, Found] | None:
    """Delimiter and header where that is not the first line; None where the first line is the header.

    A first line that is one by the rule stands, unless another delimiter gives a header below it of at least twice
    the width that fits no fewer rows: then the first line is a title with a comma in it.
    """
    found = {sign: find_header([record.row for record in those]) for sign, those in head.records.items()}
    later = [(sign, one) for sign, one in found.items() if one and one.place]
    best = max(later, key=lambda each: (each[1].n_fitting, len(each[1].names)), default=None)
    first = found[head.first_delimiter]
    if not best or not first or first.place:
        return best
    is_better = len(best[1].names) >= 2 * len(first.names) and best[1].n_fitting >= first.n_fitting
    return best if is_better else None


def _below_remarks(
    source: TextFile, delimiter: str, found: Found, records: Sequence[HeadRecord], notes: list[str]
) -> Layout:
    """The layout of a file whose header has lines above it; their text goes nowhere."""
    header = records[found.place]
    n_above = header.first_line - 1
    which = f"lines 1 to {n_above} stand" if n_above > 1 else "line 1 stands"
    notes.append(f"{which} above the header and {'were' if n_above > 1 else 'was'} passed over")
    named = checked_headers(source.known_as, found.names, notes)
    above = tuple(tuple(record.row.cells) for record in records[: found.place])
    return Layout(source, delimiter, named, header.last_line + 1, 0, PrintedLines(found.names, above))


def _at_the_first(source: TextFile, head: Head, notes: list[str]) -> Layout:
    """The layout of a file whose first line (that is not blank) is the header, or the file is refused."""
    first = head.lines[0]
    if first.trouble:
        raise unreadable(
            source.known_as,
            f"line {first.number}, which should be the header, {first.trouble}",
            "a readable first line with the names of the columns",
            "Export the file again",
        )
    delimiter = head.first_delimiter
    following = [record.row.cells for record in head.records[delimiter][1:]]
    fields, last_line = _header(source.known_as, head.lines[:HEADER_LINES], delimiter)
    names = as_wide_as_rows([field.strip() for field in fields], following)
    _refuse_record(source.known_as, names, following)
    if head.stated:
        notes.append(f"line {head.stated.number} states the delimiter and was passed over")
    named = checked_headers(source.known_as, names, notes)
    n_blank = first.number - 1 - bool(head.stated)
    return Layout(source, delimiter, named, last_line + 1, n_blank, PrintedLines(tuple(names)))


def _refuse_record(known_as: str, names: Sequence[str], following: Sequence[Sequence[str]]) -> None:
    """A first line that is made up as those below it."""
    if is_a_record(names, following):
        raise unreadable(
            known_as,
            "the first line looks like data, not like a header: it is made up as the lines below it",
            "a line with the names of the columns",
            "Export again with column names",
        )


def _refuse_no_header(known_as: str, records: dict[str, list[HeadRecord]]) -> None:
    """A first line of one cell above lines of several that agree, and no header among them, is only a title."""
    if any(len(those[0].row.cells) > 1 for those in records.values()):
        return
    for delimiter, those in records.items():
        widths = Counter(len(record.row.cells) for record in those[1:])
        width, n_lines = widths.most_common(1)[0] if widths else (1, 0)
        if width > 1 and n_lines > 1 and 2 * n_lines > widths.total():
            sign = "tab" if delimiter == "\t" else repr(delimiter)
            raise unreadable(
                known_as,
                f"the first line holds one name, {n_lines:,} of {widths.total():,} lines below it hold {width:,} "
                f"fields (by {sign}), and none of the first {SEARCHED} lines reads as their header",
                "a line with the names of the columns above the data",
                "Export again with column names",
            )


def _header(known_as: str, lines: Sequence[Line], delimiter: str) -> tuple[list[str], int]:
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
