"""Do repairs come faster or slower as a unit goes on? Tests against a constant rate, each unit having its own.

Under a constant rate the mileages of a unit's repairs, given how many there are, lie evenly over the miles it was
watched. That is all the tests use, so units may differ in rate, in where watching begins and ends, and have gaps.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr
from scipy.stats import chi2

from longmile.pipelines.estimators.lives import Floats, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.repair_history import (
    RepairHistory,
    is_new,
    miles_watched,
    n_repairs,
    n_units_repaired,
)

FEWEST_REPAIRS = 4.0  # Laplace's test is near enough to normal from 3 or 4 repairs on (from memory)
FEWEST_UNITS = 10.0  # a rule of this program, no source: below it the by-unit error is not to be trusted
_NOISE = 1e-24  # share of the variance below which what units differ by is rounding alone


@dataclass(frozen=True)
class TrendTests:
    """Tests of each stratum, shape (n_strata,); NaN where there is no repair. All p-values are two-sided.

    status: `ok`, `thin` (fewer than 4 repairs), `no_failures`, `too_few_at_risk` (no miles).
    laplace: standard normal; above 0 repairs come faster as the miles go on, below 0 slower.
    laplace_by_unit: the same with the error taken from how units differ, which allows for repairs that come in
    bunches; needs two units with repairs.   by_unit_status: `thin` where fewer than 10 have any.
    chi_square: that of MIL-HDBK-189 with df = 2 x repairs degrees of freedom; below df faster, above it slower.
    """

    status: npt.NDArray[np.str_]
    laplace: Floats
    laplace_p: Floats
    laplace_by_unit: Floats
    laplace_by_unit_p: Floats
    by_unit_status: npt.NDArray[np.str_]
    chi_square: Floats
    df: Floats
    chi_square_p: Floats


def trend_tests(history: RepairHistory) -> TrendTests:
    """Laplace's and MIL-HDBK-189's test per stratum, pooled over units.

    Laplace: (sum of t - expected) / root of the variance, both of places even over each unit's own watched miles. For
    one unit watched over (0, T] this is (mean t - T / 2) / (T / root(12 n)).
    MIL-HDBK-189: -2 x the sum of log u, u being the share of its unit's watched miles that lay before a repair. Where
    a unit was watched over (0, T] that is 2 x the sum of log(T / t). From a window that begins late, u runs within the
    window: the test is still exact, but speaks of the trend within the time watched.
    Sources: Cox & Lewis 1966, chapter 3; MIL-HDBK-189; error by unit: Cook & Lawless 2007, The Statistical Analysis of
    Recurrent Events, section 3.7.
    """
    n = n_repairs(history)
    off, variance, share = _placed(history)
    new = is_new(history.stratum, history.unit_row[history.window])
    by_unit = np.add.reduceat(off, np.flatnonzero(new)) if off.size else off
    squares = weighed(history.stratum[new], by_unit**2, history.n_strata)
    total, units = history.by_repair(off), n_units_repaired(history)
    laplace = total / np.sqrt(np.where(n > 0, history.by_repair(variance), np.nan))
    differ = (units >= 2) & (squares > _NOISE * history.by_repair(variance))
    robust = total / np.sqrt(np.where(differ, squares, np.nan))
    statistic = np.where(n > 0, -2 * history.by_repair(np.log(share)), np.nan)
    df = np.where(n > 0, 2 * n, np.nan)
    watched = miles_watched(history) > 0
    return TrendTests(
        status=_status(watched, n, n >= FEWEST_REPAIRS),
        laplace=laplace,
        laplace_p=2 * ndtr(-np.abs(laplace)),
        laplace_by_unit=robust,
        laplace_by_unit_p=2 * ndtr(-np.abs(robust)),
        by_unit_status=_status(watched, n, units >= FEWEST_UNITS),
        chi_square=statistic,
        df=df,
        chi_square_p=2 * np.minimum(chi2.cdf(statistic, df), chi2.sf(statistic, df)),
    )


def _placed(history: RepairHistory) -> tuple[Floats, Floats, Floats]:
    """Of each repair: miles past the middle of its unit's watched miles, variance of that, share of them before it."""
    first, length = history.unit_row, history.end - history.start
    n = length.size
    middle = (history.start + history.end) / 2
    miles = weighed(first, length, n)[first]
    centre = weighed(first, length * middle, n)[first] / miles
    spread = weighed(first, length * (length**2 / 12 + (middle - centre) ** 2), n)[first] / miles
    before = running(length, first, np.add) - length
    at = history.window
    share = (before[at] + (history.at - history.start[at])) / miles[at]
    return history.at - centre[at], spread[at], share


def _status(watched: npt.NDArray[np.bool_], n: Floats, enough: npt.NDArray[np.bool_]) -> npt.NDArray[np.str_]:
    return np.select([~watched, n == 0, ~enough], ["too_few_at_risk", "no_failures", "thin"], "ok")
