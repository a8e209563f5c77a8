"""Lines of a printed list that are no records: its header again, totals, page ends. Conservative by construction.

A row is judged by its filled cells. It is set aside only where all of them are accounted for: the names of the
header; or a total word alone in the first filled cell and nothing but numbers after it; or together one page line,
in at most half of the columns. A cell such as "total loss" is none of these, and a row with one other text in it is a
record.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import polars as pl

from longmile.pipelines.sources.printed_words import (
    BARE_ENDS,
    COUNT_TAILS,
    COUNT_WORDS,
    CURRENCIES,
    END_LINES,
    OF_WORDS,
    PAGE_WORDS,
    PRINT_WORDS,
    TAIL_WORDS,
    TOTAL_WORDS,
)
from longmile.pipelines.sources.shape import ROW_NUMBER, BadLine, cut

REPEATS_HEADER = "repeats the header"
REPEATS_ABOVE = "repeats a line above the header"
TOTAL_LINE = "a total line, not a record"
PAGE_LINE = "a page line, not a record"
WITHHELD = "(as above the header)"
_EDGE = r"[\s*=_.\-\u2013\u2014:#|]*"
_MOMENT = r"\d[\d\s.:/,\-T]*(?:[ap]\.?m\.?|uhr)?"


def _any(words: Iterable[str]) -> str:
    """One of the words, the longest first; any run of spaces where a word has one."""
    longest_first = sorted(set(words), key=lambda word: (-len(word), word))
    return "(?:" + "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first) + ")"


_TOTAL = re.compile(rf"{_EDGE}{_any(TOTAL_WORDS)}(?!\w)(?P<tail>.*)", re.DOTALL)
_NUMBER = re.compile(
    rf"[-+(]*\s*{_any(CURRENCIES)}?[\s$€£¥]*[-+(]*\d[\d\s.,'\u2019]*\)?-?\s*(?:{_any(CURRENCIES)}|[$€£¥%])?\.?\)?"
)
_PAGE = rf"{_any(PAGE_WORDS)}(?!\w)\.?\s*(?:no|nr)?\.?\s*:?\s*\d+(?:\s*(?:{_any(OF_WORDS)}|/|\|)\s*\d+)?"
_PRINTED = rf"{_any(PRINT_WORDS)}\s*:?\s*{_MOMENT}"
_COUNT = rf"\(?\d[\d.,']*\s+{_any(COUNT_WORDS)}(?:\s+{_any(COUNT_TAILS)})?\)?"
_NUMBER_OF = r"(?:total|number\s+of|anzahl|nombre\s+de|n[uú]mero\s+de|numero\s+di|aantal|antal)"
_COUNTED = rf"(?:(?:{_any(COUNT_TAILS)}|{_NUMBER_OF})\s+)?{_any(COUNT_WORDS)}\s*:?\s*\d[\d.,']*"
_END = rf"{_any(END_LINES)}|(?:[*=\-]{{2,}}\s*){_any(BARE_ENDS)}(?:\s*[*=\-]{{2,}})"
_THEN = r"[\s,;|\-]+"
_PAGES = rf"{_PAGE}(?:{_THEN}(?:{_PRINTED}|{_MOMENT}))?|{_PRINTED}(?:{_THEN}{_PAGE})?"
_PAGE_LINE = re.compile(rf"{_EDGE}(?:{_PAGES}|{_COUNT}|{_COUNTED}|{_END}){_EDGE}")
_BEGINNINGS = (
    rf"{_any((*TOTAL_WORDS, *PAGE_WORDS, *PRINT_WORDS, *END_LINES, *BARE_ENDS, *COUNT_WORDS, *COUNT_TAILS))}\b",
    rf"{_NUMBER_OF}\b",
    rf"[\d.,']+\s+{_any(COUNT_WORDS)}\b",
)
_LONGEST = 200


@dataclass(frozen=True)
class PrintedLines:
    """How to know such lines of one file. names: the cells of its header; above: the lines above it, as cells."""

    names: tuple[str, ...]
    above: tuple[tuple[str, ...], ...] = ()

    @cached_property
    def beginning(self) -> str:
        """A regular expression (re2 and Rust read it too) that the first filled cell of every such line matches."""
        first = [next(filter(None, cells), "").strip() for cells in (self.names, *self.above)]
        whole = [re.sub(r"\d+", r"\\d+", pl.escape_regex(cell)) for cell in first if 0 < len(cell) <= _LONGEST]
        own = rf"\x{{FEFF}}?\s*(?:{'|'.join(whole) or 'x^'})\s*$"
        return rf"(?i)^(?:{own}|[\s*=_.\-\x{{2013}}\x{{2014}}:#|(]*(?:{'|'.join(_BEGINNINGS)}))"

    def reason(self, cells: Sequence[str | None]) -> str:
        """Why a row of these cells is no record, or nothing."""
        plain = [_plain(cell) for cell in cells]
        if _trimmed(plain) == self._own_names:
            return REPEATS_HEADER
        if _numberless(plain) in self._own_above:
            return REPEATS_ABOVE
        filled = [cell for cell in plain if cell]
        if len(self.names) < 2 or not filled or max(map(len, filled)) > _LONGEST:
            return ""
        text = " ".join(filled)
        if 2 * len(filled) <= len(self.names) and len(text) <= _LONGEST and _PAGE_LINE.fullmatch(text):
            return PAGE_LINE
        return TOTAL_LINE if _is_total(filled) else ""

    @cached_property
    def _own_names(self) -> list[str]:
        return _trimmed([_plain(name) for name in self.names])

    @cached_property
    def _own_above(self) -> frozenset[tuple[str, ...]]:
        alike = (_numberless([_plain(cell) for cell in cells]) for cells in self.above)
        return frozenset(cells for cells in alike if re.search(r"[^\W\d_]", "".join(cells)))


def _plain(cell: str | None) -> str:
    """The cell as it is compared."""
    return " ".join((cell or "").replace("\ufeff", "").lower().split())


def _trimmed(cells: list[str]) -> list[str]:
    """The cells without the empty ones at the end."""
    n_kept = max((place for place, cell in enumerate(cells, 1) if cell), default=0)
    return cells[:n_kept]


def _numberless(cells: list[str]) -> tuple[str, ...]:
    """The filled cells with every number alike: page numbers and print times differ from page to page."""
    return tuple(re.sub(r"\d+", "0", cell) for cell in cells if cell)


def _is_total(filled: list[str]) -> bool:
    """A total word with nothing of its own behind it, then numbers only (or such words, as in "Total | Parts")."""
    found = _TOTAL.fullmatch(filled[0])
    if not found or not all(_is_tail(word) for word in found["tail"].split()):
        return False
    return all(_NUMBER.fullmatch(cell) or all(_is_tail(word) for word in cell.split()) for cell in filled[1:])


def _is_tail(word: str) -> bool:
    """A word that may follow "total": of the list, or without any letter (a number, a date, a sign)."""
    bare = word.strip("().,:;-/*=")
    return bare in TAIL_WORDS or not re.search(r"[^\W\d_]", bare)


def set_apart(rows: pl.DataFrame, printed: PrintedLines, joined_by: str) -> tuple[pl.DataFrame, list[BadLine]]:
    """The rows that may be records, and those that are lines of a printed list, with the reason."""
    bad = []
    for number, *cells in rows[_suspects(rows, printed)].iter_rows():
        if reason := printed.reason(cells):
            shown = WITHHELD if reason == REPEATS_ABOVE else cut(joined_by.join(cell or "" for cell in cells))
            bad.append(BadLine(number, shown, reason))
    if not bad:
        return rows, []
    return rows.filter(~pl.col(ROW_NUMBER).is_in([line.row_number for line in bad])), bad


def _suspects(rows: pl.DataFrame, printed: PrintedLines) -> pl.Series:
    """Places of the rows whose first filled cell begins like such a line; later columns only where it must be."""
    found = []
    places = pl.Series(range(0), dtype=pl.UInt32)
    for at, name in enumerate(name for name in rows.columns if name != ROW_NUMBER):
        cells = rows[name] if at == 0 else rows[name].gather(places)
        is_suspect = cells.str.contains(printed.beginning).fill_null(False)
        found.append(is_suspect.arg_true() if at == 0 else places.filter(is_suspect))
        is_empty = _is_empty(cells)
        places = is_empty.arg_true() if at == 0 else places.filter(is_empty)
        if places.is_empty():
            break
    return pl.concat(found) if found else places


def _is_empty(cells: pl.Series) -> pl.Series:
    """Which cells are null or blank; blank ones are looked for only where any begins with a space."""
    is_null = cells.is_null()
    begins_blank = cells.str.starts_with(" ").fill_null(False)
    return is_null | (cells.str.strip_chars() == "").fill_null(False) if begins_blank.any() else is_null


def renamed(bad: Sequence[BadLine], printed: PrintedLines, delimiter: str) -> list[BadLine]:
    """The bad lines, those of a printed list among them with that reason: most have another number of fields."""
    begins = re.compile(re.sub(r"\\x\{(\w+)\}", r"\\u\1", printed.beginning))
    return [_renamed(line, printed, delimiter, begins) for line in bad]


def _renamed(line: BadLine, printed: PrintedLines, delimiter: str, begins: re.Pattern[str]) -> BadLine:
    """One ragged line with its better reason, if it has one."""
    if not line.reason.startswith("has "):
        return line
    cells = [cell.strip().strip('"').strip() for cell in line.raw_text.split(delimiter)]
    first = next(filter(None, cells), "")
    if not begins.match(first) or not (reason := printed.reason(cells)):
        return line
    return BadLine(line.row_number, WITHHELD if reason == REPEATS_ABOVE else line.raw_text, reason)
