"""Numbers as a person says them: miles, rates, shares, counts, dates. Rounding only; no number is made here.

None and values that are not finite are refused: a page must say in words that a number is not known.
"""

from __future__ import annotations

import math
from datetime import date, datetime

MILLION = 1_000_000


def _sound(value: float | None) -> float:
    """The value itself; ValueError for None, NaN and infinity."""
    if value is None or not math.isfinite(value):
        raise ValueError(f"a number was to be printed but it is {value!r}; say in words that it is not known.")
    return float(value)


def significant(value: float, digits: int) -> float:
    """The value rounded to so many significant digits."""
    return value if value == 0 else round(value, digits - 1 - math.floor(math.log10(abs(value))))


def count(value: float) -> str:
    """A whole number with thousands separators."""
    return f"{round(_sound(value)):,}"


def miles(value: float) -> str:
    """Miles to three significant digits: 98,400; 2.13 million."""
    rounded = significant(_sound(value), 3)
    if rounded >= MILLION:
        return f"{rounded / MILLION:,.3g} million" if rounded < 1000 * MILLION else f"{rounded / MILLION:,.0f} million"
    return f"{rounded:,.0f}"


def rate(value: float) -> str:
    """A rate to two significant digits, three from 100 on: 0.18; 4.2; 38; 384."""
    rounded = significant(_sound(value), 2 if abs(value) < 100 else 3)
    if rounded == 0:
        return "0"
    decimals = max(0, 1 - math.floor(math.log10(abs(rounded))))
    return f"{rounded:,.{decimals}f}"


def per_hundred(share: float) -> str:
    """A share as so many in 100; a share too near 0 or 100 for a whole number is given to one decimal."""
    value = _sound(share) * 100
    if 0 < value < 1 or 99 < value < 100:
        inside = min(max(value, 0.1), 99.9)
        return f"{inside:.1f}"
    return f"{value:.0f}"


def times(value: float) -> str:
    """A ratio: 1.4; 3.2; 12."""
    return f"{significant(_sound(value), 2):,.2g}" if value < 10 else f"{_sound(value):,.0f}"


def plain(value: float) -> str:
    """A pure number to two decimals, such as a Weibull shape."""
    return f"{_sound(value):.2f}"


def day(value: date) -> str:
    """A date as 5 March 2026."""
    return f"{value.day} {value:%B %Y}"


def moment(value: datetime) -> str:
    """A moment as 5 March 2026, 04:10 UTC."""
    return f"{day(value)}, {value:%H:%M} UTC"


def measured(value: float) -> str:
    """What a rule on a whole table found: a share, days or a ratio, to three significant digits."""
    return f"{significant(_sound(value), 3):,.10g}"
