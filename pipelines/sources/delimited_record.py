"""The grammar of one delimited record, and what the two readers of a file's body take and give."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from longmile.pipelines.sources.encoded import TextFile
from longmile.pipelines.sources.headers import Names
from longmile.pipelines.sources.printed_lines import PrintedLines
from longmile.pipelines.sources.shape import BadLine


@dataclass(frozen=True)
class Layout:
    """What is known before the body is read. first_line: first after the header; n_blank: blank lines before it.

    named: the names of the columns with what was done to them. printed: how to know the header when it comes again,
    totals and page lines; the lines above the header, which are counted in neither, are known to it too.
    """

    source: TextFile
    delimiter: str
    named: Names
    first_line: int
    n_blank: int
    printed: PrintedLines

    @property
    def headers(self) -> tuple[str, ...]:
        """One name per column."""
        return self.named.names


@dataclass(frozen=True)
class Body:
    """The records of a file and the account of its lines. n_record_lines: physical lines that became rows."""

    rows: pl.DataFrame
    bad: list[BadLine]
    n_blank: int
    n_record_lines: int


def is_blank(line: str) -> bool:
    """A line of spaces only. Tabs and other delimiters are fields, if empty ones."""
    return not line.removesuffix("\r").strip(" ")


def wrong_count(n_fields: int, n_headers: int) -> str:
    """Why a ragged line is set aside."""
    return f"has {n_fields} {'field' if n_fields == 1 else 'fields'}, the header {n_headers}"


class OpenRecord:
    """A record that grows line by line until its quotes are closed.

    Grammar (RFC 4180, and what exporters really write): a field that begins with a quote ends with the next
    quote that is not doubled, and a delimiter or the line's end must follow; in any other field a quote is a
    plain character (12" rotor). Line ends inside quotes stay as they are.
    """

    def __init__(self, delimiter: str) -> None:
        self._delimiter = delimiter
        self._parts: list[str] = []
        self.fields: list[str] = []
        self.is_open = False

    def feed(self, line: str) -> bool:
        """Take in one more line; False where text follows a closing quote. Time is linear in its length."""
        if self.is_open:
            self._parts.append("\n")
        end = self._quoted(line, 0) if self.is_open else self._field(line, 0)
        while not self.is_open:
            if self._is_end(line, end):
                return True
            if line[end] != self._delimiter:
                return False
            end = self._field(line, end + 1)
        return True

    def _is_end(self, line: str, at: int) -> bool:
        """The end of the line, a carriage return before the line feed included."""
        return at >= len(line) or (at == len(line) - 1 and line[at] == "\r")

    def _field(self, line: str, start: int) -> int:
        """Read the field that starts here; the place just after it."""
        if line[start : start + 1] == '"':
            self._parts = []
            return self._quoted(line, start + 1)
        end = line.find(self._delimiter, start)
        end = len(line.removesuffix("\r")) if end < 0 else end
        self.fields.append(line[start:end])
        return end

    def _quoted(self, line: str, start: int) -> int:
        """Read on inside quotes; the place after the closing quote. Without one the record stays open."""
        at = start
        while (end := line.find('"', at)) >= 0:
            if line[end + 1 : end + 2] != '"':
                self._parts.append(line[at:end])
                self.fields.append("".join(self._parts))
                self.is_open = False
                return end + 1
            self._parts.append(line[at : end + 1])
            at = end + 2
        self._parts.append(line[at:])
        self.is_open = True
        return len(line)
