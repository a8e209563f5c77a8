"""How dates and numbers look: whether a column's values can be that, and how much they say so by themselves."""

from __future__ import annotations

from collections.abc import Callable

from longmile.pipelines.maps.evidence_dates import EXCEL
from longmile.pipelines.maps.evidence_ramps import Fit, ramp, written_date
from longmile.pipelines.maps.evidence_values import Values


def date(values: Values) -> Fit:
    """Dates; day numbers and unsigned digits can be, but do not say so."""
    format_, share = values.best_date
    is_plain = format_ == EXCEL or not set("-/. ") & set(format_)
    return Fit(ramp(share, 0.2, 0.7), 0.0 if is_plain else 0.2 * ramp(share, 0.6, 0.9))


def odometer(values: Values) -> Fit:
    """Whole numbers of the size of an odometer; with km or miles behind them they say so."""
    numbers = ramp(values.share["number"], 0.3, 0.7)
    size = ramp(values.median, 50, 1_500) * (1.0 if values.median < 2_000_000 else 0.2)
    whole = 0.4 + 0.6 * ramp(values.whole, 0.1, 0.5)
    dated = 1.0 - 0.8 * ramp(written_date(values), 0.5, 0.9)
    spread = 0.25 if values.low > 1_900 and values.high < 2_100 else 1.0
    return Fit(numbers * size * whole * dated * spread, 0.75 * ramp(values.share["number_and_unit"], 0.3, 0.9))


def year(values: Values) -> Fit:
    """Years of four digits, or of two."""
    two_digits = values.share["number"] if values.high < 100 and values.whole > 0.9 else 0.0
    return Fit(ramp(max(values.share["year"], 0.8 * two_digits), 0.2, 0.7), 0.4 * ramp(values.share["year"], 0.7, 0.95))


def number(values: Values) -> Fit:
    """Any number."""
    return Fit(ramp(values.share["number"], 0.2, 0.6) * (1 - 0.9 * ramp(written_date(values), 0.5, 0.9)), 0.0)


def money(values: Values) -> Fit:
    """Numbers with cents more often than not."""
    cents = 1.0 - 0.25 * ramp(values.whole, 0.6, 1.0)
    return Fit(number(values).can * cents, 0.0)


def count(values: Values) -> Fit:
    """Small whole numbers."""
    return Fit(number(values).can * ramp(values.whole, 0.5, 0.9) * (1.0 if values.high < 2_000 else 0.3), 0.0)


def within(most: float, whole_least: float = 0.0) -> Callable[[Values], Fit]:
    """Numbers, nearly all between 0 and `most`; whole ones where `whole_least` says so."""

    def fit(values: Values) -> Fit:
        """Agreement of one column."""
        size = 1.0 if values.high <= most else 0.4 if values.median <= most else 0.1
        return Fit(number(values).can * size * (ramp(values.whole, 0.3, whole_least) if whole_least else 1.0), 0.0)

    return fit


def quantity(values: Values) -> Fit:
    """Numbers, mostly small."""
    return Fit(number(values).can * (1.0 if values.median <= 50 else 0.4), 0.0)


def hours(values: Values) -> Fit:
    """Numbers up to a few days of work, or times such as 1:30."""
    return Fit(number(values).can * (1.0 if values.median <= 24 else 0.3), 0.0)
