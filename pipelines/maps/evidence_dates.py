"""In which date formats cells can be read. Formats as in strptime; `excel` for a spreadsheet's day numbers.

A time of day behind the date is passed over: it is dropped when cells are read, so no format names it. All names of
months are %b. Whether a day exists is not asked here: 31 June is a broken cell, not another format.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from longmile.pipelines.maps.evidence_spelling import plain
from longmile.pipelines.maps.month_names import MONTH_NAMES

EXCEL = "excel"
_EXCEL_DAYS = (20_000, 60_000)
"""Day numbers of 1954-10-03 and 2064-04-08 (day 1 is 1900-01-01; a spreadsheet counts a 29 February 1900)."""

_TIME = (
    r"(?:(?:[T, ]| - )+\d{1,2}[:.h]\d{2}(?:[:.]\d{2}(?:[.,]\d+)?)?"
    r"(?: ?[AaPp]\.?[Mm]\.?)?(?: ?(?:Z|UTC|[+-]\d{2}:?\d{2}))?)?$"
)
_WEEKDAY = r"^(?P<w>[^\W\d_]{2,}\.?,? )?"
_NUMBERS = re.compile(
    rf"{_WEEKDAY}(?P<a>\d{{1,4}})(?P<s>[-/. ])(?P<b>\d{{1,2}})(?P=s)(?P<c>\d{{4}}|\d{{1,2}})\.?{_TIME}"
)
_NAMED = re.compile(
    rf"{_WEEKDAY}(?P<a>\d{{1,2}}|\d{{4}})(?P<s>\.? ?[-/. ]? ?(?:de )?)(?P<m>[^\W\d_]{{3,}})\.?"
    rf"(?P<s2>,? ?[-/. ]? ?(?:de )?)(?P<c>\d{{4}}|\d{{1,2}}){_TIME}"
)
_NAME_FIRST = re.compile(
    rf"{_WEEKDAY}(?P<m>[^\W\d_]{{3,}})\.?(?P<s>[- /]?)(?P<a>\d{{1,2}})(?P<s2>,? ?[-/]?)(?P<c>\d{{4}}|\d{{2}}){_TIME}"
)
_SOLID = re.compile(r"^(\d{8})(?:[T ]?\d{4}(?:\d{2})?)?$")
_SHORT = re.compile(r"^(\d{2})(\d{2})(\d{2})$")
_DAY_NUMBER = re.compile(r"^\d{5}(?:\.\d+)?$")
MAYBE_DATE = (
    r"^(?:\p{L}{2,}\.?,? )?(?:\d{1,4}[-/. ]\d{1,2}[-/. ]\d{1,4}|\d{1,4}\.?[-/. ]{0,2}(?:de )?\p{L}{3,}\.?.{0,5}\d{2,4}"
    r"|\p{L}{3,}\.?[- /]?\d{1,2},?[ -/]?\d{2,4}|\d{8}(?:[T ]?\d{4,6})?$|\d{6}$|[2-5]\d{4}(?:\.\d+)?$)"
)
"""What a cell must look like before the slower reading here is worth its time."""


def formats_of(cell: str) -> frozenset[str]:
    """Every format under which the cell is a date: day at most 31, month at most 12."""
    text = cell.strip()
    found = _numbers(text) or _named(text) or _name_first(text) or _solid(text)
    if not found and _DAY_NUMBER.match(text) and _EXCEL_DAYS[0] <= float(text) <= _EXCEL_DAYS[1]:
        return frozenset((EXCEL,))
    return frozenset(found)


def format_shares(counts: Mapping[str, int]) -> dict[str, float]:
    """Share of cells that each format reads; counts: cell -> how often."""
    shares: dict[str, float] = {}
    total = sum(counts.values())
    for cell, times in counts.items():
        for one in formats_of(cell):
            shares[one] = shares.get(one, 0.0) + times / total
    return shares


def _weekday(hit: re.Match[str]) -> str:
    """What stands in the format for a weekday before the date."""
    before = hit["w"] or ""
    return f"%a{', ' if ',' in before else ' '}" if before else ""


def _numbers(text: str) -> set[str]:
    """Formats of three numbers with one sign between them."""
    hit = _NUMBERS.match(text)
    if not hit:
        return set()
    orders = _orders(hit["a"], hit["b"], hit["c"], hit["s"])
    return {_weekday(hit) + hit["s"].join(order) for order in orders}


def _orders(a: str, b: str, c: str, sign: str) -> Iterable[tuple[str, str, str]]:
    """The orders of day, month and year in which three numbers can be a date."""
    year = "%Y" if len(c) == 4 else "%y"
    if len(a) == 4 and len(c) <= 2:
        return _fitting(("%Y", "%m", "%d"), b, c) + _fitting(("%Y", "%d", "%m"), c, b, least_day=13)
    if len(a) > 2 or len(c) < 2:
        return []
    found = _fitting(("%d", "%m", year), b, a) + _fitting(("%m", "%d", year), a, b)
    return found + (_fitting(("%y", "%m", "%d"), b, c) if len(a) == len(c) == 2 and sign != " " else [])


def _fitting(order: tuple[str, str, str], month: str, day: str, least_day: int = 1) -> list[tuple[str, str, str]]:
    """The order, where month and day are in their ranges."""
    return [order] if 1 <= int(month) <= 12 and least_day <= int(day) <= 31 else []


def _named(text: str) -> set[str]:
    """Formats of a day, the name of a month and a year."""
    hit = _NAMED.match(text)
    if not hit:
        return set()
    a, c = hit["a"], hit["c"]
    first, last = ("%Y", "%d") if len(a) == 4 else ("%d", "%Y" if len(c) == 4 else "%y")
    if plain(hit["m"]) not in MONTH_NAMES:
        return set()
    day, year = (c, a) if len(a) == 4 else (a, c)
    if len(day) > 2 or not 1 <= int(day) <= 31 or len(year) not in (2, 4):
        return set()
    return {f"{_weekday(hit)}{first}{hit['s']}%b{hit['s2']}{last}"}


def _name_first(text: str) -> set[str]:
    """Formats of the name of a month, a day and a year."""
    hit = _NAME_FIRST.match(text)
    if not hit or not 1 <= int(hit["a"]) <= 31 or plain(hit["m"]) not in MONTH_NAMES:
        return set()
    return {f"{_weekday(hit)}%b{hit['s']}%d{hit['s2']}{'%Y' if len(hit['c']) == 4 else '%y'}"}


def _solid(text: str) -> set[str]:
    """Formats of eight digits, or of six, without signs between."""
    hit, short = _SOLID.match(text), _SHORT.match(text)
    if hit:
        digits = hit[1]
        year_first = [("%Y", "%m", "%d")] if 1900 <= int(digits[:4]) <= 2100 else []
        found = [order for order in year_first if _fitting(order, digits[4:6], digits[6:])]
        if 1900 <= int(digits[4:]) <= 2100:
            found += _fitting(("%d", "%m", "%Y"), digits[2:4], digits[:2]) + _fitting(
                ("%m", "%d", "%Y"), digits[:2], digits[2:4]
            )
    elif short:
        found = [*_orders(short[1], short[2], short[3], "-")]
    else:
        found = []
    return {"".join(order) for order in found}
