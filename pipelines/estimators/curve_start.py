"""From what age a survival curve can speak, where late entry leaves too few at risk early on.

A lone part first seen at 80,000 miles that fails at 81,000 takes a Kaplan-Meier curve to 0 for good, however many
parts run on to 150,000. The remedy is to say less: the curve is that of parts which reached an age from which
enough are watched. Small numbers at the end of a curve are ordinary and move nothing.
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, conditional_curves, running
from longmile.pipelines.estimators.risk_steps import RiskSteps, risk_steps

LEAST_AT_RISK = 10.0
"""A single failure among so many takes a tenth off a curve, among half as many a fifth (our own choice)."""


def curve_start(curves: SurvivalCurves, least: float = LEAST_AT_RISK) -> Miles:
    """Age in miles from which each stratum's curve should speak; 0 where nothing failed among too few early on.

    Early is before the number at risk first reaches its peak. Where a failure lies there among fewer than
    `least`, the start is the youngest age from which the number at risk stays at `least` or above until that
    peak. A stratum that never has twice `least` at risk is held to half its peak instead, and to no fewer than
    2 where its peak is that high, so that a lone late entrant never decides a curve that others carry on. A
    curve that speaks from a later age already never gets an earlier start.
    """
    start = curves.from_age.copy()
    thin = curves.at_risk < least
    for steps in risk_steps(curves.sets, np.unique(curves.stratum[thin])):
        _find(curves, steps, least, start)
    return start


def started_curves(curves: SurvivalCurves, least: float = LEAST_AT_RISK) -> SurvivalCurves:
    """The curves, each from the age that `curve_start` gives it."""
    return conditional_curves(curves, curve_start(curves, least))


def _find(curves: SurvivalCurves, steps: RiskSteps, least: float, start: Miles) -> None:
    """Write the start of each of the steps' strata that has an early failure among too few."""
    place = np.repeat(np.arange(steps.rows.size), np.diff(steps.start))
    peak = np.maximum.reduceat(steps.level, steps.start[:-1])
    enough = np.minimum(least, np.maximum(np.minimum(2.0, peak), peak / 2))
    ready = _ready_age(steps, place, steps.level >= peak[place], steps.level < enough[place])
    of_row = np.searchsorted(steps.rows, curves.stratum)
    known = np.append(steps.rows, -1)[of_row] == curves.stratum
    at = np.where(known, of_row, 0)
    early = known & (curves.t <= ready[at]) & (curves.at_risk < enough[at])
    troubled = np.unique(at[early])
    start[steps.rows[troubled]] = np.maximum(start[steps.rows[troubled]], ready[troubled])


def _ready_age(steps: RiskSteps, place: Codes, is_peak: Flags, is_thin: Flags) -> Miles:
    """Mileage at which the last too thin step before the peak ends; the first step's own where there is none."""
    peaked: Floats = running(is_peak.astype(np.float64), steps.start[place], np.maximum)
    before = is_thin & (peaked == 0)
    ready = steps.start[:-1].copy()
    np.maximum.at(ready, place[before], np.flatnonzero(before) + 1)
    return steps.t[ready]
