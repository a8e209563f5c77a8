"""The first lines of a delimited file, cut into records by each delimiter it may have. For judging, not for reading."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from longmile.pipelines.sources.delimited_record import OpenRecord, is_blank
from longmile.pipelines.sources.encoded import Line, TextFile, lines_from
from longmile.pipelines.sources.header_search import FOLLOWING, SEARCHED, Row
from longmile.pipelines.sources.shape import unreadable

DELIMITERS = (",", ";", "\t", "|")
HEADER_LINES = 100
_SNIFFED = 20
_SAMPLE_CHARACTERS = 1 << 20
_QUOTED_LINES = 20
_LONG_LINE = 1 << 16
_STATED = re.compile(r"^\ufeff?\"?sep=([!-/:-@\[-`{-~\t])\"?[,;\t| ]*\r?$", re.IGNORECASE)


@dataclass(frozen=True)
class HeadRecord:
    """A record among the first lines: the lines it covers and its row of cells."""

    first_line: int
    last_line: int
    row: Row


@dataclass(frozen=True)
class Head:
    """The first lines that are not blank. stated: the line that states the delimiter (sep=;), which is not among them.

    first_delimiter: the one that the first line alone speaks for; records: by each delimiter that may be meant.
    """

    lines: list[Line]
    stated: Line | None
    first_delimiter: str
    records: dict[str, list[HeadRecord]]


def read_head(source: TextFile) -> Head:
    """The first lines and their records. Raises UnreadableFileError where there are only blank ones."""
    lines = _first_lines(source)
    stated = _STATED.match(lines[0].text) if len(lines) > 1 else None
    delimiters = (stated[1],) if stated and stated[1] in lines[1].text else DELIMITERS
    rest = lines[1:] if stated else lines
    sniffed = sniff_delimiter([line.text for line in rest if not line.trouble][:_SNIFFED], delimiters)
    return Head(rest, lines[0] if stated else None, sniffed, {sign: _records(rest, sign) for sign in delimiters})


def _first_lines(source: TextFile) -> list[Line]:
    """The first lines that are not blank, enough to judge by."""
    taken: list[Line] = []
    size = 0
    for line in lines_from(source, 1):
        if not line.trouble and is_blank(line.text):
            continue
        taken.append(line)
        size += len(line.text)
        if len(taken) >= max(HEADER_LINES, SEARCHED) + FOLLOWING or size > _SAMPLE_CHARACTERS:
            break
    if not taken:
        raise unreadable(
            source.known_as, "there are only blank lines", "a header and data lines", "Export the file again"
        )
    return taken


def _records(lines: Sequence[Line], delimiter: str) -> list[HeadRecord]:
    """The lines as records, for judging only: one whose quotes do not come out right stands alone, cut as it is."""
    found: list[HeadRecord] = []
    at = 0
    while at < len(lines):
        fields, n_lines = _fields(lines[at : at + _QUOTED_LINES], delimiter)
        is_sound = fields is not None and not lines[at].trouble
        cells = [cell.strip() for cell in fields or lines[at].text.removesuffix("\r").split(delimiter)]
        found.append(HeadRecord(lines[at].number, lines[at + n_lines - 1].number, Row(cells, is_sound)))
        at += n_lines
    return found


def _fields(lines: Sequence[Line], delimiter: str) -> tuple[list[str] | None, int]:
    """The fields of the record that begins here and how many of the lines it takes; None where it never ends."""
    record = OpenRecord(delimiter)
    for n_lines, line in enumerate(lines, 1):
        if line.trouble or len(line.text) > _LONG_LINE or not record.feed(line.text):
            break
        if not record.is_open:
            return record.fields, n_lines
    return None, 1


def sniff_delimiter(lines: Sequence[str], delimiters: Sequence[str] = DELIMITERS) -> str:
    """Comma, semicolon, tab or bar: the one that splits most of the first lines just as it splits the first.

    Counted outside quotes. Equal so far: the one that occurs more often in the first line; then in the order given
    above. None occurs in it: comma (the file has one column).
    """
    bare = [re.sub(r'"[^"]*"', "", line) for line in lines] or [""]

    def standing(delimiter: str) -> tuple[int, int, int]:
        count = bare[0].count(delimiter)
        agreeing = sum(line.count(delimiter) == count for line in bare) if count else 0
        return agreeing, count, -delimiters.index(delimiter)

    return max(delimiters, key=standing)
