"""The body of a delimited file, record by record: the reader that settles every doubtful line.

Slower than `delimited_fast`, and the meaning of it: where the two could differ, the fast one must refuse the
file.
"""

from __future__ import annotations

import csv
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import polars as pl

from longmile.pipelines.sources.delimited_record import Body, Layout, OpenRecord, is_blank, wrong_count
from longmile.pipelines.sources.encoded import MAX_LINE, Line, lines_from
from longmile.pipelines.sources.shape import ROW_NUMBER, BadLine, cut

_BATCH = 50_000
_ROWS_SHARE = 0.9


class _Source:
    """Lines that can be put back: after an open quote reading resumes at the very next line."""

    def __init__(self, lines: Iterable[Line]) -> None:
        self._lines = iter(lines)
        self._returned: deque[Line] = deque()

    def __iter__(self) -> Iterator[Line]:
        return self

    def __next__(self) -> Line:
        return self._returned.popleft() if self._returned else next(self._lines)

    def put_back(self, lines: list[Line]) -> None:
        self._returned.extendleft(reversed(lines))


class _OneLine:
    """Quoted lines, one at a time, through the csv module: several times faster than our own grammar.

    Strict, and asked only where it agrees with OpenRecord: whatever it objects to (and any carriage return,
    which it takes for a line end, and any field over its own limit) gives None and goes the long way.
    """

    def __init__(self, delimiter: str) -> None:
        self._line: str | None = None
        self._reader = csv.reader(self, delimiter=delimiter, strict=True)

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line, self._line = self._line, None
        if line is None:
            raise StopIteration
        return line

    def fields(self, line: str) -> list[str] | None:
        text = line.removesuffix("\r")
        if "\r" in text:
            return None
        self._line = text
        try:
            return next(self._reader)
        except csv.Error:
            return None


@dataclass
class _Account:
    """What has been read so far; rows are turned into frames in batches to keep memory low."""

    headers: tuple[str, ...]
    numbers: list[int] = field(default_factory=list)
    records: list[list[str]] = field(default_factory=list)
    frames: list[pl.DataFrame] = field(default_factory=list)
    bad: list[BadLine] = field(default_factory=list)
    n_blank: int = 0
    n_record_lines: int = 0

    def keep(self, number: int, fields: list[str], n_lines: int) -> None:
        """One good record that covers so many lines."""
        self.numbers.append(number)
        self.records.append(fields)
        self.n_record_lines += n_lines
        if len(self.records) >= _BATCH:
            self.frames.append(self._frame())

    def set_aside(self, line: Line, reason: str) -> None:
        """One bad line."""
        self.bad.append(BadLine(line.number, line.text if line.trouble else cut(line.text), reason))

    def _frame(self) -> pl.DataFrame:
        columns = zip(*self.records, strict=True) if self.records else [()] * len(self.headers)
        batch = pl.DataFrame(
            [pl.Series(ROW_NUMBER, self.numbers, dtype=pl.Int64)]
            + [pl.Series(name, column, dtype=pl.String) for name, column in zip(self.headers, columns, strict=True)]
        )
        self.numbers, self.records = [], []
        return batch

    def body(self) -> Body:
        """The whole account."""
        rows = pl.concat([*self.frames, self._frame()])
        return Body(rows, self.bad, self.n_blank, self.n_record_lines)


def read_carefully(layout: Layout) -> Body:
    """The records after the header; a line that is none, or opens one that never ends, is set aside alone."""
    account = _Account(layout.headers)
    source = _Source(lines_from(layout.source, layout.first_line))
    one_line = _OneLine(layout.delimiter)
    n_headers = len(layout.headers)
    for line in source:
        if line.trouble:
            account.set_aside(line, line.trouble)
        elif is_blank(line.text):
            account.n_blank += 1
        else:
            fields = _plain(line.text, layout.delimiter) or one_line.fields(line.text)
            if fields is None:
                _read_quoted(line, source, layout, account)
            elif len(fields) == n_headers:
                account.keep(line.number, fields, 1)
            else:
                account.set_aside(line, wrong_count(len(fields), n_headers))
    return account.body()


def _plain(line: str, delimiter: str) -> list[str] | None:
    """The fields of a line without quotes; None where there are any."""
    return None if '"' in line else line.removesuffix("\r").split(delimiter)


def _read_quoted(first: Line, source: _Source, layout: Layout, account: _Account) -> None:
    """Read the record that begins here; where it fails, set this line aside and put the others back."""
    record = OpenRecord(layout.delimiter)
    held = [first]
    reason = _complete(record, held, source)
    if not reason:
        reason = _objection(record, held, layout)
    if reason:
        account.set_aside(first, reason)
        source.put_back(held[1:])
        return
    account.keep(first.number, record.fields, len(held))


def _complete(record: OpenRecord, held: list[Line], source: _Source) -> str:
    """Feed lines until the record is closed; why it cannot be, or nothing. `held` gets the lines taken."""
    size = len(held[0].text)
    is_sound = record.feed(held[0].text)
    while is_sound and record.is_open:
        line = next(source, None)
        if line is None:
            return "opens a quote that is not closed before the end of the file"
        held.append(line)
        size += len(line.text)
        if line.trouble or size > MAX_LINE:
            return f"opens a quote that is not closed by line {line.number}"
        is_sound = record.feed(line.text)
    if is_sound:
        return ""
    place = "" if len(held) == 1 else f" (closed on line {held[-1].number})"
    return f"has text after a closing quote{place}: a quote inside quotes must be doubled"


def _objection(record: OpenRecord, held: list[Line], layout: Layout) -> str:
    """Why a closed record is still none: its number of fields, or a quote that joined several rows."""
    n_headers = len(layout.headers)
    if len(record.fields) != n_headers:
        reason = wrong_count(len(record.fields), n_headers)
        return reason if len(held) == 1 else f"{reason} (its quotes run to line {held[-1].number})"
    if len(held) > 1 and n_headers > 2 and _are_rows(held, n_headers, layout.delimiter):
        return (
            f"opens a quote that is not closed until line {held[-1].number}, across {len(held) - 1} lines "
            "that are rows of their own"
        )
    return ""


def _are_rows(held: list[Line], n_headers: int, delimiter: str) -> bool:
    """Whether nearly all lines of a record have, quotes taken literally, as many fields as the header.

    Then it is one open quote that found its end in a later row, not a note with line ends in it. The rule
    needs three columns: with two, a single comma in every line of a note would do. It prefers a good note set
    aside, which is seen, to rows swallowed, which are not.
    """
    filled = [line.text for line in held if not is_blank(line.text)]
    alone = sum(text.count(delimiter) == n_headers - 1 for text in filled)
    return alone >= _ROWS_SHARE * len(filled)
