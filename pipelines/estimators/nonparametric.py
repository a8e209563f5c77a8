"""Survival and cumulative hazard without a model: Kaplan-Meier, Nelson-Aalen and their limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
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
    none.
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
    sets: RiskSets
    transform: Transform
    confidence: float


def kaplan_meier(
    data: Lives,
    shared: SharedExposure | None = None,
    confidence: float = 0.95,
    transform: Transform = "loglog",
) -> SurvivalCurves:
    """Survival and cumulative hazard against miles, per stratum, from left-truncated, right-censored lives.

    At a tie, failures come before censorings. A failure known only to an interval enters at exit_, the
    mileage found. Limits are pointwise: log-log by default, else log (upper cut at 1) or plain (cut at 0 and
    1).
    Raises LivesError if more fail at a mileage than are at risk (censored lives of negative weight took out
    too many).
    Sources: Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457-481; Greenwood 1926; Nelson 1972, Technometrics
    14:945-966; Aalen 1978, Ann. Stat. 6:701-726; log-log limits: Kalbfleisch & Prentice 1980, section 1.3.
    """
    sets = risk_sets(data, shared)
    stratum, t, events = _failure_rows(data, sets)
    at_risk = sets.at_risk(stratum, t)
    _check_at_risk(at_risk, events, t)
    start = np.searchsorted(stratum, np.arange(data.n_strata + 1))
    survivors = _survivors(at_risk, events)
    first = start[stratum]
    survival = running(survivors / at_risk, first, np.multiply)
    log_variance = running(_greenwood_term(at_risk, events, survivors), first, np.add)
    se = survival * np.sqrt(np.where(survival > 0, log_variance, np.nan))
    lower, upper = survival_limits(survival, se, confidence, transform)
    return SurvivalCurves(
        stratum=stratum,
        t=t,
        at_risk=at_risk,
        events=events,
        survival=survival,
        se=se,
        lower=lower,
        upper=upper,
        cumulative_hazard=running(events / at_risk, first, np.add),
        se_cumulative_hazard=np.sqrt(running(events / at_risk**2, first, np.add)),
        start=start,
        largest=largest_watched(data, sets),
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
