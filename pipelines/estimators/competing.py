"""Cumulative incidence of each cause where causes compete: a part removed for another reason can no longer fail.

One minus Kaplan-Meier of one cause, others taken for censored, answers for a world without the others and
overstates what happens in this one. Reading at a mileage and errors by cluster are in `incidence_reading`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.curve_reading import row_finder
from longmile.pipelines.estimators.incidence_influence import running_columns, survival_before
from longmile.pipelines.estimators.incidence_variance import aalen_variance, greenwood_variance, jackknife_variance
from longmile.pipelines.estimators.life_codes import causes_of
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure, weighed
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier, survival_limits

Variance = Literal["jackknife", "greenwood", "aalen"]
_ROUNDING = 1e-12  # less than this short of 1 is 1


@dataclass(frozen=True)
class CumulativeIncidence:
    """Chance to have been struck by each cause by a mileage, one row per distinct mileage at which any cause struck.

    curves: survival from every cause, whose rows these are (stratum, t, at_risk, start; survival is 1 less the sum
    of incidences).   events, incidence, se, lower, upper: shape (rows, n_causes), column k for cause k + 1.   lower,
    upper: NaN (not defined) where the incidence is 0 or 1; se is 0 before the cause has struck.
    status: shape (n_strata, n_causes): `ok`, `no_failures` (that cause never struck) or `too_few_at_risk` (nothing
    was watched).   variance: which one se is the root of.
    """

    curves: SurvivalCurves
    events: Floats
    incidence: Floats
    se: Floats
    lower: Floats
    upper: Floats
    status: npt.NDArray[np.str_]
    variance: Variance

    @property
    def n_causes(self) -> int:
        """How many causes there are."""
        return int(self.events.shape[1])


def cumulative_incidence(
    data: Lives,
    cause: npt.ArrayLike,
    n_causes: int | None = None,
    shared: SharedExposure | None = None,
    confidence: float = 0.95,
    variance: Variance = "jackknife",
    start: npt.ArrayLike | None = None,
) -> CumulativeIncidence:
    """Aalen-Johansen incidence of each cause, per stratum, from left-truncated, right-censored lives.

    cause: shape (lives,), 0 where the life ended sound, 1..n_causes what ended it; whoever asks may leave `event` to
    failures alone, but an event needs a cause. Ties, intervals and `start` are as in `kaplan_meier`.
    variance: `jackknife`, the infinitesimal jackknife, right with late entry too; `greenwood`, the delta method,
    equal to it without late entry; `aalen`, somewhat wider among few. Limits are pointwise, log-log
    of one minus the incidence, so that with one cause they are those of Kaplan-Meier.
    Raises LivesError on causes that do not fit the lives, or as `kaplan_meier` does.
    Source: Aalen & Johansen 1978, Scand. J. Stat. 5:141-150; the variances: `incidence_variance`.
    """
    code, n = causes_of(data, cause, n_causes)
    struck = replace(data, event=code > 0)
    curves = kaplan_meier(struck, shared, confidence, start=start)
    events = _events(curves, struck, code, n)
    hit = survival_before(curves)[:, None] * events / curves.at_risk[:, None]
    incidence = running_columns(hit, curves.start[curves.stratum])
    if variance == "jackknife":
        squares = jackknife_variance(curves, events, incidence, (data, code), shared)
    else:
        by_formula = aalen_variance if variance == "aalen" else greenwood_variance
        squares = by_formula(curves, events, incidence)
    se = np.sqrt(squares)
    lower, upper = incidence_limits(incidence, se, confidence)
    return CumulativeIncidence(curves, events, incidence, se, lower, upper, _status(curves, events), variance)


def incidence_limits(incidence: Floats, se: Floats, confidence: float) -> tuple[Floats, Floats]:
    """Lower and upper pointwise limits; NaN where the incidence is 0 or 1 and no formula says anything."""
    free = np.where(1 - incidence > _ROUNDING, 1 - incidence, 0.0)
    # An error far larger than what is left overflows to limits of 0 and 1, which is what it says.
    with np.errstate(over="ignore"):
        low, high = survival_limits(free, se, confidence, "loglog")
    defined = incidence > 0
    return np.where(defined, 1 - high, np.nan), np.where(defined, 1 - low, np.nan)


def _events(curves: SurvivalCurves, struck: Lives, code: Codes, n_causes: int) -> Floats:
    """Weight struck by each cause at each row, shape (rows, n_causes); those below the start have no row."""
    at = np.flatnonzero(struck.event & (struck.exit_ > curves.from_age[struck.stratum]))
    row = row_finder(curves).last(struck.stratum[at], struck.exit_[at])
    events = weighed(row * n_causes + code[at] - 1, struck.weight[at], curves.t.size * n_causes)
    return events.reshape(curves.t.size, n_causes)


def _status(curves: SurvivalCurves, events: Floats) -> npt.NDArray[np.str_]:
    n_strata = curves.start.size - 1
    total = np.stack([weighed(curves.stratum, column, n_strata) for column in events.T], axis=1)
    watched = (curves.largest > curves.from_age)[:, None]
    return np.where(watched, np.where(total > 0, "ok", "no_failures"), "too_few_at_risk")
