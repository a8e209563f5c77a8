"""Values read off survival curves: at a mileage, at a share failed, and the area under them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, running

_FLAT = 1e-9  # how near survival must be to 1 - p for its step to count as lying exactly there


@dataclass(frozen=True)
class SurvivalAt:
    """Curves read at asked mileages, all of the asked shape.

    at_risk: just before t (entry < t <= exit_).   at_risk_next: just before the first mileage >= t at which a
    life ended.
    events: failures at exactly t.   survival, cumulative_hazard: just after t.
    lower, upper, se: NaN before the first failure and where survival is 0.   Of a curve that speaks from a later
    age on, all but the numbers at risk are NaN below that age (events also at it), and survival there is 1.
    """

    at_risk: Floats
    at_risk_next: Floats
    events: Floats
    survival: Floats
    se: Floats
    lower: Floats
    upper: Floats
    cumulative_hazard: Floats
    se_cumulative_hazard: Floats


@dataclass(frozen=True)
class Quantiles:
    """Miles by which a share has failed, one per stratum. NaN: curve (or band) never falls so far.

    The share is of lives that reached the age from which the curve speaks.
    """

    estimate: Miles
    lower: Miles
    upper: Miles


@dataclass(frozen=True)
class RestrictedMeans:
    """Mean miles survived up to the horizon, one per stratum, counted from the age from which the curve speaks.

    A curve that speaks from 40,000 miles on gives the mean further miles, up to the horizon, of lives that
    reached 40,000.   beyond_last: the horizon lies past the largest mileage watched, where the curve is carried
    on flat (an over-estimate). estimate is NaN for a stratum in which nothing was watched beyond that age, or
    whose horizon lies below it; se, lower, upper are NaN without a failure.
    """

    estimate: Miles
    se: Floats
    lower: Miles
    upper: Miles
    horizon: Miles
    beyond_last: Flags


@dataclass(frozen=True)
class RowFinder:
    """Finds rows of curves by mileage; made by `row_finder()`."""

    keys: Codes
    marks: Miles

    def last(self, cell: Codes, t: Miles) -> Codes:
        """Index of the stratum's last row at or before t; one before its first row where there is none."""
        asked = cell * (self.marks.size + 1) + np.searchsorted(self.marks, t, side="right") - 1
        return np.searchsorted(self.keys, asked, side="right") - 1


def survival_at(curves: SurvivalCurves, stratum: npt.ArrayLike, t: npt.ArrayLike) -> SurvivalAt:
    """Survival, hazard and at-risk counts at any mileages; stratum and t are broadcast against each other."""
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    row = row_finder(curves).last(cell, asked)
    none = row < curves.start[cell]
    at = np.where(none, 0, row)
    from_age = curves.from_age[cell]

    def read(values: Floats, before: float) -> Floats:
        known = np.where(none, before, values[at]) if values.size else np.full(cell.shape, before)
        return np.where(asked < from_age, np.nan, known)

    exactly = read(curves.t, np.nan) == asked
    left_out = (asked <= from_age) & (from_age > 0)
    return SurvivalAt(
        at_risk=curves.sets.at_risk(cell, asked),
        at_risk_next=curves.sets.at_risk_next(cell, asked),
        events=np.where(left_out, np.nan, np.where(exactly, read(curves.events, 0.0), 0.0)),
        survival=read(curves.survival, 1.0),
        se=read(curves.se, np.nan),
        lower=read(curves.lower, np.nan),
        upper=read(curves.upper, np.nan),
        cumulative_hazard=read(curves.cumulative_hazard, 0.0),
        se_cumulative_hazard=read(curves.se_cumulative_hazard, 0.0),
    )


def survival_quantiles(curves: SurvivalCurves, p_failed: float) -> Quantiles:
    """Smallest mileage with survival <= 1 - p_failed, and the same read off the band, one per stratum.

    Where a step lies exactly at 1 - p_failed the two ends of that step are averaged (its end is the next
    failure, or the largest mileage watched after the last one). Source of the limits: Brookmeyer & Crowley
    1982, Biometrics 38:29-41.
    """
    return Quantiles(
        estimate=_first_at_or_below(curves, curves.survival, 1 - p_failed),
        lower=_first_at_or_below(curves, curves.lower, 1 - p_failed),
        upper=_first_at_or_below(curves, curves.upper, 1 - p_failed),
    )


def restricted_means(curves: SurvivalCurves, horizon: npt.ArrayLike) -> RestrictedMeans:
    """Area under each curve from its first age to the horizon, with plain limits cut to what is possible.

    horizon: miles, one for all strata or one each. A curve's first age is 0 unless it was given a later start.

    Source: Klein & Moeschberger 2003, section 4.5; variance = sum of (area right of t)^2 d / (n (n - d)), the
    term of a failure that leaves no survivor being 0, as nothing of the area lies right of it.
    """
    n_strata = curves.start.size - 1
    to = np.broadcast_to(np.asarray(horizon, np.float64), (n_strata,)).copy()
    area, right = step_areas(curves, to)
    survivors = curves.at_risk - curves.events
    term = np.where(right > 0, right**2 * curves.events / (curves.at_risk * np.maximum(survivors, 1e-300)), 0.0)
    inside = np.where(curves.t <= to[curves.stratum], term, 0.0)
    variance = np.bincount(curves.stratum, weights=inside, minlength=n_strata)
    after = np.bincount(curves.stratum, weights=area, minlength=n_strata)
    watched = (curves.from_age < curves.largest) & (curves.from_age <= to)
    estimate = np.where(watched, np.minimum(_first_t(curves), to) - curves.from_age + after, np.nan)
    se = np.where(variance > 0, np.sqrt(variance), np.nan)
    reach = ndtri(0.5 + curves.confidence / 2) * se
    lower, upper = np.maximum(estimate - reach, 0.0), np.minimum(estimate + reach, to - curves.from_age)
    return RestrictedMeans(estimate, se, lower, upper, to, ~(to <= curves.largest))


def step_areas(curves: SurvivalCurves, to: Miles) -> tuple[Floats, Floats]:
    """Area under each flat step up to the stratum's mileage `to`, and all of it from there on, one per row."""
    row_end = np.minimum(_step_end(curves, np.inf), to[curves.stratum])
    area = curves.survival * np.maximum(row_end - curves.t, 0.0)
    # Summed from the right, so that the area right of each failure is a running total.
    last = curves.t.size - curves.start[1:][curves.stratum]
    return area, running(area[::-1], last[::-1], np.add)[::-1]


def row_finder(curves: SurvivalCurves) -> RowFinder:
    """`RowFinder` of the curves."""
    marks = curves.sets.marks
    return RowFinder(curves.stratum * (marks.size + 1) + np.searchsorted(marks, curves.t), marks)


def _step_end(curves: SurvivalCurves, after_last: float | Miles) -> Miles:
    """Mileage at which each row's flat step ends: the next failure of the stratum, or after_last."""
    following = np.append(curves.t[1:], np.inf)[: curves.t.size]
    is_last = np.arange(curves.t.size) + 1 == curves.start[1:][curves.stratum]
    return np.where(is_last, after_last, following)


def _first_t(curves: SurvivalCurves) -> Miles:
    """First failure mileage per stratum; infinite where nothing failed."""
    n_rows = np.diff(curves.start)
    padded = np.append(curves.t, np.inf)
    return np.where(n_rows > 0, padded[curves.start[:-1]], np.inf)


def _first_at_or_below(curves: SurvivalCurves, height: Floats, level: float) -> Miles:
    n_strata = curves.start.size - 1
    found = np.full(n_strata, np.nan)
    rows = np.flatnonzero(height <= level + _FLAT)
    strata, position = np.unique(curves.stratum[rows], return_index=True)
    row = rows[position]
    ends = _step_end(curves, curves.largest[curves.stratum])
    flat = np.abs(height[row] - level) < _FLAT
    found[strata] = np.where(flat, (curves.t[row] + ends[row]) / 2, curves.t[row])
    return found
