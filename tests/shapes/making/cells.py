"""How values are written in cells: dates, money and numbers in the manners of several countries."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from part import Part
from records import Line, Order, Row, Vehicle

_EXCEL_FIRST = date(1899, 12, 30)
"""Day 0 of a spreadsheet's day numbers, for days after February 1900 (from memory)."""


@dataclass
class Made:
    """What a shape's module gives: a sentence, the files, and the parts in them."""

    title: str
    files: Mapping[str, bytes]
    parts: list[Part]
    notes: list[str] = field(default_factory=list)


def order(read: Callable[[Order], Any]) -> Callable[[Row], Any]:
    """A cell of the order; empty where the row has none."""
    return lambda row: read(row.order) if row.order else ""


def line(read: Callable[[Line], Any]) -> Callable[[Row], Any]:
    """A cell of the line; empty where the row has none."""
    return lambda row: read(row.line) if row.line else ""


def vehicle(read: Callable[[Vehicle], Any]) -> Callable[[Row], Any]:
    """A cell of the vehicle."""
    return lambda row: read(row.vehicle)


def once(cell: Callable[[Row], Any]) -> Callable[[Row], Any]:
    """The cell on the first line of its order, empty below."""
    return lambda row: cell(row) if row.first else ""


def grouped(digits: str, sign: str) -> str:
    """Whole digits with a sign between the thousands."""
    return f"{int(digits):,}".replace(",", sign)


def amount(cents: int, decimal: str = ".", thousands: str = "", form: str = "{}", below_zero: str = "-{}") -> str:
    """Money as written: `form` puts the currency, `below_zero` the sign or the parentheses around all."""
    whole, rest = divmod(abs(cents), 100)
    shown = form.format(f"{grouped(str(whole), thousands)}{decimal}{rest:02d}")
    return below_zero.format(shown) if cents < 0 else shown


def number(text: str, decimal: str = ".") -> str:
    """A plain number with another decimal sign."""
    return text.replace(".", decimal)


def excel_day(day: date) -> int:
    """The day number a spreadsheet keeps."""
    return (day - _EXCEL_FIRST).days


def theirs(codes: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """The values of a ColumnMap from ours -> theirs."""
    return tuple((written, code) for code, written in codes.items())
