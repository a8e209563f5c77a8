"""Which of the first rows of a file holds the names of its columns. Knows rows of cells, not files.

The rule. The header is the first row, among the first 60 that are not blank, which
- has at least two different names, more than half of them with a letter, none of them over 200 characters;
- is as wide as at least half of the rows after it (those with one filled cell aside), and has a name over more than
  half of the filled cells of each of these; a delimiter at the end of every row, or of the header only, is no width;
- if it is not the very first row: has below it at least one such row, above it only remarks (rows with at most half
  as many filled cells, or a first cell that ends in a colon), and does not look like the rows below: no cell with a
  digit that has the same make-up of letters and digits as most cells below it.
Where no row is one, the first row stands as the header, as it is; whether that can be used is decided elsewhere.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

SEARCHED = 60
FOLLOWING = 60
_LONGEST_NAME = 200


class Row(NamedTuple):
    """A row as its cells, stripped. is_sound: it can be a header (its line can be read, its quotes are closed)."""

    cells: list[str]
    is_sound: bool = True


@dataclass(frozen=True)
class Found:
    """The header. place: of the row, from 0; names: its cells, as wide as the rows; n_fitting: rows that fit it."""

    place: int
    names: tuple[str, ...]
    n_fitting: int


def find_header(rows: Sequence[Row]) -> Found | None:
    """The header by the rule above, or None."""
    for place in range(min(len(rows), SEARCHED)):
        found = _judged(rows, place)
        if found:
            return found
    return None


def _judged(rows: Sequence[Row], place: int) -> Found | None:
    """The row at this place as the header, or None."""
    row = rows[place]
    if not row.is_sound or not _are_names(row.cells):
        return None
    if place and not _are_remarks(rows[:place], _n_filled(row.cells)):
        return None
    following = [r.cells for r in rows[place + 1 : place + 1 + FOLLOWING] if _n_filled(r.cells) > 1]
    names = as_wide_as_rows(row.cells, following)
    n_fitting = sum(_fits(names, cells) for cells in following)
    if 2 * n_fitting < len(following) or (place and (not n_fitting or _n_like_rows(names, following))):
        return None
    return Found(place, tuple(names), n_fitting)


def _n_filled(cells: Sequence[str]) -> int:
    """How many cells hold anything."""
    return sum(map(bool, cells))


def _are_names(cells: Sequence[str]) -> bool:
    """At least two different short texts, most of them with a letter."""
    names = [cell for cell in cells if cell]
    if len(set(names)) < 2 or max(map(len, names)) > _LONGEST_NAME:
        return False
    return 2 * sum(bool(re.search(r"[^\W\d_]", name)) for name in names) > len(names)


def _are_remarks(above: Sequence[Row], n_names: int) -> bool:
    """Whether nothing above could be the header or a record."""
    return all(2 * _n_filled(row.cells) <= n_names or _is_labelled(row.cells) for row in above)


def _is_labelled(cells: Sequence[str]) -> bool:
    """A line such as "Period: | 01.01. to 31.12."."""
    filled = [cell for cell in cells if cell]
    return len(filled) <= 2 and bool(filled) and filled[0].endswith(":")


def as_wide_as_rows(cells: Sequence[str], following: Sequence[Sequence[str]]) -> list[str]:
    """The header with empty names at its end added or taken away, where that makes it as wide as most rows.

    Added only where the rows have nothing there either: a delimiter at the end of the row, and no value.
    """
    widths = Counter(map(len, following))
    if not widths or 2 * widths[len(cells)] >= widths.total():
        return list(cells)
    width, n_rows = widths.most_common(1)[0]
    if 2 * n_rows <= widths.total():
        return list(cells)
    if width < len(cells) and not any(cells[width:]):
        return list(cells[:width])
    is_bare_end = not any(any(row[len(cells) :]) for row in following if len(row) == width)
    return [*cells, *[""] * (width - len(cells))] if is_bare_end else list(cells)


def _fits(names: Sequence[str], cells: Sequence[str]) -> bool:
    """A row as wide as the header, with names over more than half of its filled cells."""
    if len(cells) != len(names):
        return False
    n_named = sum(bool(name and cell) for name, cell in zip(names, cells, strict=True))
    return 2 * n_named > _n_filled(cells)


def is_a_record(names: Sequence[str], following: Sequence[Sequence[str]]) -> bool:
    """Whether the very first row is no header but the first record: two cells or more, a third of all, are values."""
    n_like = _n_like_rows(names, following)
    return n_like > 1 and 3 * n_like >= _n_filled(names)


def _n_like_rows(names: Sequence[str], following: Sequence[Sequence[str]]) -> int:
    """How many cells have a digit and are made up as most cells below them: these are values, not names."""
    n_like = 0
    for place, name in enumerate(names):
        if not re.search(r"\d", name):
            continue
        below = [cells[place] for cells in following if len(cells) > place and cells[place]]
        alike = sum(_make_up(cell) == _make_up(name) for cell in below)
        n_like += bool(below) and 2 * alike >= len(below)
    return n_like


def _make_up(cell: str) -> str:
    """Every digit as 0 and every letter as a."""
    return re.sub(r"[^\W\d_]", "a", re.sub(r"\d", "0", cell))
