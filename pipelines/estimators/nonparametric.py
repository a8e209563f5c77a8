"""Survival and cumulative hazard without a model: Kaplan-Meier, Nelson-Aalen and their limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, Miles, SharedExposure, weighed
from longmile.pipelines.estimators.risk_set import RiskSets, largest_watched, risk_sets

Transform = Literal["loglog", "log", "plain"]


@dataclass(frozen=True)
class SurvivalCurves:
    """Curves of all strata: one row per distinct failure mileage, none where nothing failed.

    Rows are ordered by stratum and t.

    start: rows of stratum s are start[s]:start[s + 1].   at_risk: just before t.   survival: just after t.
    se: Greenwood's, of survival.   se_cumulative_hazard: root of the sum of events / at_risk^2. se, lower and
    upper are NaN (not defined) where survival is 0.   largest: largest mileage watched per stratum, NaN if
    none.   from_age: age from which each curve speaks; survival is that of lives which reached it, and 0 means
    from new.   failures_before: failures at or below from_age, which the curve leaves out.
    """

    stratum: Codes
    t: Miles
    at_risk: Floats
    events: Floats
    survival: Floats
    se: Floats
    lower: Floats
    upper: Floats
    cumulative_hazard: Floats
    se_cumulative_hazard: Floats
    start: Codes
    largest: Miles
    from_age: Miles
    failures_before: Floats
    sets: RiskSets
    transform: Transform
    confidence: float


def kaplan_meier(
    data: Lives,
    shared: SharedExposure | None = None,
    confidence: float = 0.95,
    transform: Transform = "loglog",
    start: npt.ArrayLike | None = None,
) -> SurvivalCurves:
    """Survival and cumulative hazard against miles, per stratum, from left-truncated, right-censored lives.

    At a tie, failures come before censorings. A failure known only to an interval enters at exit_, the
    mileage found. Limits are pointwise: log-log by default, else log (upper cut at 1) or plain (cut at 0 and
    1).   start: miles, one for all strata or one each; the curve is then that of lives which reached it, and
    failures at or below it count for nothing (`curve_start` finds where early risk sets are too thin).
    Raises LivesError if more fail at a mileage than are at risk (censored lives of negative weight took out
    too many), or a start is below 0 or missing.
    Sources: Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457-481; Greenwood 1926; Nelson 1972, Technometrics
    14:945-966; Aalen 1978, Ann. Stat. 6:701-726; log-log limits: Kalbfleisch & Prentice 1980, section 1.3.
    """
    sets = risk_sets(data, shared)
    stratum, t, events = _failure_rows(data, sets)
    at_risk = sets.at_risk(stratum, t)
    _check_at_risk(at_risk, events, t)
    rows = _Rows(stratum, t, at_risk, events)
    from_age = _from_age(0.0 if start is None else start, np.zeros(data.n_strata))
    before = np.zeros(data.n_strata)
    return _curves(rows, from_age, before, largest_watched(data, sets), sets, transform, confidence)


def conditional_curves(curves: SurvivalCurves, from_age: npt.ArrayLike) -> SurvivalCurves:
    """The same curves for lives that reached from_age: as `kaplan_meier` with that start, lives not needed.

    from_age: miles, one for all strata or one each. Numbers at risk stay as they are: a life that entered
    before from_age counts beyond it.
    Raises LivesError if an age is missing or lies below the one from which the curve speaks already.
    """
    rows = _Rows(curves.stratum, curves.t, curves.at_risk, curves.events)
    asked = _from_age(from_age, curves.from_age)
    largest = curves.largest
    return _curves(rows, asked, curves.failures_before, largest, curves.sets, curves.transform, curves.confidence)


@dataclass(frozen=True)
class _Rows:
    """What curves are made from: one row per stratum and distinct failure mileage, in that order."""

    stratum: Codes
    t: Miles
    at_risk: Floats
    events: Floats

    def beyond(self, from_age: Miles) -> _Rows:
        kept = self.t > from_age[self.stratum]
        return _Rows(self.stratum[kept], self.t[kept], self.at_risk[kept], self.events[kept])


def _curves(
    all_rows: _Rows,
    from_age: Miles,
    before: Floats,
    largest: Miles,
    sets: RiskSets,
    transform: Transform,
    confidence: float,
) -> SurvivalCurves:
    """Products, variances and limits over the rows beyond from_age; before: failures left out already."""
    rows = all_rows.beyond(from_age)
    left_out = weighed(all_rows.stratum, all_rows.events, from_age.size)
    left_out -= weighed(rows.stratum, rows.events, from_age.size)
    start = np.searchsorted(rows.stratum, np.arange(from_age.size + 1))
    survivors = _survivors(rows.at_risk, rows.events)
    first = start[rows.stratum]
    survival = running(survivors / rows.at_risk, first, np.multiply)
    log_variance = running(_greenwood_term(rows.at_risk, rows.events, survivors), first, np.add)
    se = survival * np.sqrt(np.where(survival > 0, log_variance, np.nan))
    lower, upper = survival_limits(survival, se, confidence, transform)
    return SurvivalCurves(
        stratum=rows.stratum,
        t=rows.t,
        at_risk=rows.at_risk,
        events=rows.events,
        survival=survival,
        se=se,
        lower=lower,
        upper=upper,
        cumulative_hazard=running(rows.events / rows.at_risk, first, np.add),
        se_cumulative_hazard=np.sqrt(running(rows.events / rows.at_risk**2, first, np.add)),
        start=start,
        largest=largest,
        from_age=from_age,
        failures_before=before + left_out,
        sets=sets,
        transform=transform,
        confidence=confidence,
    )


def survival_limits(survival: Floats, se: Floats, confidence: float, transform: Transform) -> tuple[Floats, Floats]:
    """Lower and upper pointwise limits of survival; NaN where it is 0 or 1 and no formula says anything."""
    z = ndtri(0.5 + confidence / 2)
    defined = (survival > 0) & (survival < 1)
    s = np.where(defined, survival, np.nan)
    if transform == "plain":
        return np.maximum(s - z * se, 0), np.minimum(s + z * se, 1)
    if transform == "log":
        return s * np.exp(-z * se / s), np.minimum(s * np.exp(z * se / s), 1)
    log_s = np.log(s)
    spread = np.exp(z * se / (s * -log_s))
    return np.exp(log_s * spread), np.exp(log_s / spread)


def running(values: Floats, first: Codes, combine: Callable[[Floats, Floats], Floats]) -> Floats:
    """Running total or product of values within each segment.

    first: index of the first element of the segment, per element.

    Doubling steps: as many passes as the logarithm of the longest segment. One running sum over all strata,
    with each stratum's start taken off, was dropped: it loses the digits of a small stratum behind a large
    one.
    """
    total = values.copy()
    place = np.arange(values.size)
    step = 1
    while step < values.size:
        later = np.flatnonzero(place - step >= first)
        if not later.size:
            break
        total[later] = combine(total[later], total[later - step])
        step *= 2
    return total


def _from_age(asked: npt.ArrayLike, least: Miles) -> Miles:
    """The asked ages, one per stratum; refused where one is missing or below the least that can be had."""
    ages = np.broadcast_to(np.asarray(asked, np.float64), least.shape).copy()
    wrong = ~(ages >= least) | ~np.isfinite(ages)
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"survival curves: {int(wrong.sum()):,} of {ages.size:,} starts cannot be (first: stratum {at}, "
            f"{ages[at]:,} miles, where the lives allow {least[at]:,} or more). Expected a mileage for each."
        )
    return ages


def _failure_rows(data: Lives, sets: RiskSets) -> tuple[Codes, Miles, Floats]:
    """Stratum, mileage and number of failures, one row per distinct failure mileage."""
    failed: Flags = data.event & (data.weight > 0)
    rank = np.searchsorted(sets.marks, data.exit_[failed])
    keys, inverse = np.unique(data.stratum[failed] * sets.marks.size + rank, return_inverse=True)
    events = weighed(inverse.astype(np.int64), data.weight[failed], keys.size)
    stratum, place = np.divmod(keys, max(sets.marks.size, 1))
    return stratum, sets.marks[place], events


def _check_at_risk(at_risk: Floats, events: Floats, t: Miles) -> None:
    short = at_risk < events * (1 - 1e-9)
    if not short.any():
        return
    at = int(np.argmax(short))
    raise LivesError(
        f"lives: at {int(short.sum()):,} failure mileages more fail than are at risk (first: {t[at]:,} "
        f"miles, {events[at]:,} of {at_risk[at]:,}). "
        "Expected censored lives of negative weight to take out no more than is shared."
    )


def _survivors(at_risk: Floats, events: Floats) -> Floats:
    """Lives left after the failures; what rounding leaves of fractional weights counts as none."""
    left = at_risk - events
    return np.where(left > 1e-9 * at_risk, left, 0.0)


def _greenwood_term(at_risk: Floats, events: Floats, survivors: Floats) -> Floats:
    some = survivors > 0
    return np.where(some, events / (at_risk * np.where(some, survivors, 1.0)), 0.0)
