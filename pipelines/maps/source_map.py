"""What a source map states: for one export shape, which header fills which contract column, and how values are read.

Frozen dataclasses and what follows from them. Reading and writing TOML, proposing and translating are elsewhere.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

CellPart = Literal["whole", "number", "unit"]
FINGERPRINT_DIGITS = 16


@dataclass(frozen=True)
class ColumnMap:
    """How one contract column is filled from a source row.

    column: the contract column's name in the neutral layout (`Column.incoming`: cost, odometer_in, opened_on).
    headers: source headers; several are joined with `joined_by`, empty cells left out (an engine family made of
    maker, model and engine). No headers: `constant` for every row, or a running number. With headers, `constant` is
    what an empty cell counts as (with part "unit": a cell without a unit).
    part: of a cell such as "123 456 km" the number, or the unit (mi or km); else the whole cell. A unit beside a
    number must be the one that the row's unit column says, or the cell is not as mapped.
    values: (theirs, ours), compared without capitals and outer spaces; a value that is not listed stays as it is,
    and the contract's own rule then decides. An entry with ours empty makes the cell empty. `ours` is in neutral form.
    dates, decimal, thousands: where this column differs from what the map says for all.
    numbered_within: source headers; the column counts the file's rows within equal values of these, from 1.
    confidence: 0 to 1, of the proposal.   because: what in headers and values led to it, for people.
    """

    column: str
    headers: tuple[str, ...] = ()
    constant: str = ""
    joined_by: str = " "
    part: CellPart = "whole"
    values: tuple[tuple[str, str], ...] = ()
    dates: tuple[str, ...] = ()
    decimal: str = ""
    thousands: str = ""
    numbered_within: tuple[str, ...] = ()
    confidence: float = 1.0
    because: str = ""


@dataclass(frozen=True)
class TableMap:
    """One contract table that rows of the source fill.

    only_where: (header, values): only rows with one of the values, compared as in `ColumnMap.values`, are rows of
    this table (after `fill_down`); no values: rows in which that header is filled in the file itself. None: every row.
    """

    table: str
    columns: tuple[ColumnMap, ...]
    only_where: tuple[str, tuple[str, ...]] | None = None

    def column(self, name: str) -> ColumnMap | None:
        """The map of a contract column, by its name in the neutral layout."""
        return next((one for one in self.columns if one.column == name), None)


@dataclass(frozen=True)
class SourceMap:
    """All that is stated about one export shape.

    name: name of its TOML file without the suffix.   headers: all headers of the shape, in the file's order.
    is_accepted: whether a person has accepted it; before that nothing is loaded by it.
    dates: formats as in strptime, tried in order, with `excel` for a spreadsheet's day numbers. A two-digit year YY
    (%y) is the latest year ending in YY that is not after `two_digit_years_to`; that is the year the map was made.
    A model year of two digits is read so too, one year ahead allowed. 0: years of two digits are not read.
    decimal, thousands: signs in numbers and money; thousands may be "" (none).
    fill_down: headers whose empty cells take the value of the row above (a group's number written once), outermost
    first: where an earlier one of them is filled, a new group begins, in which the later ones start empty.
    """

    name: str
    headers: tuple[str, ...]
    tables: tuple[TableMap, ...]
    is_accepted: bool = False
    dates: tuple[str, ...] = ("%Y-%m-%d",)
    two_digit_years_to: int = 0
    decimal: str = "."
    thousands: str = ""
    fill_down: tuple[str, ...] = ()

    @property
    def fingerprint(self) -> str:
        """Of the headers: see `header_fingerprint`."""
        return header_fingerprint(self.headers)

    def table(self, name: str) -> TableMap | None:
        """The map of a contract table, by name."""
        return next((one for one in self.tables if one.table == name), None)


def normal_header(header: str) -> str:
    """The header as it is compared: lower case, runs of white space as one space, none at the ends."""
    return " ".join(header.lower().split())


def header_fingerprint(headers: Iterable[str]) -> str:
    """16 hexadecimal digits of the SHA-256 of the compared headers, sorted: their order in the file is no matter."""
    text = "\n".join(sorted(normal_header(header) for header in headers))
    return hashlib.sha256(text.encode()).hexdigest()[:FINGERPRINT_DIGITS]
