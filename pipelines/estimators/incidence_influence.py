"""What one life adds to a cumulative incidence: its derivative in the weight of the life, in closed form.

Every life's contribution at t is `apart + F(t) x along`, F the incidence at t: two numbers a life and cause, however
many mileages are asked. Sums no squares; those are next door (`incidence_variance`) and in `clusters`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.curve_reading import RowFinder, row_finder
from longmile.pipelines.estimators.lives import Codes, Floats, Miles
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, running


@dataclass(frozen=True)
class IncidenceSteps:
    """Sums over the rows of all strata, with a last element of 0 for "before the first row"; by `incidence_steps()`.

    jump: chance of being there just before the row over the number at risk.   tilt: 1 / survivors of the row, 0 once
    nobody is left.   incidence, apart: shape (rows + 1, n_causes); along: shape (rows + 1,); of a life at risk from
    new to the row and beyond, -apart and along are the two parts of its contribution.
    """

    finder: RowFinder
    start: Codes
    jump: Floats
    tilt: Floats
    incidence: Floats
    apart: Floats
    along: Floats

    def last_row(self, stratum: Codes, t: Miles) -> Codes:
        """Last row of the stratum at or before t; -1, which holds the zeros, where there is none."""
        row = self.finder.last(stratum, t)
        return np.where(row >= self.start[stratum], row, -1)

    def of_lives(self, stratum: Codes, entry: Miles, exit_: Miles, cause: Codes) -> tuple[Floats, Floats]:
        """Parts apart, shape (lives, n_causes), and along, shape (lives,), once the life has ended.

        cause: 0 for a life that was still sound. One that ended before the first row of its stratum adds nothing.
        """
        in_, out = self.last_row(stratum, entry), self.last_row(stratum, exit_)
        struck = cause > 0
        tilt = np.where(struck, self.tilt[out], 0.0)
        apart = self.apart[in_] - self.apart[out] + tilt[:, None] * self.incidence[out]
        at = np.flatnonzero(struck)
        apart[at, cause[at] - 1] += self.jump[out[at]]
        return apart, self.along[out] - self.along[in_] - tilt

    def at(self, stratum: Codes, entry: Miles, exit_: Miles, cause: Codes, t: Miles) -> Floats:
        """Contribution of each life to the incidences at t (one per life), shape (lives, n_causes)."""
        by_then = np.where(exit_ <= t, cause, 0)
        apart, along = self.of_lives(stratum, np.minimum(entry, t), np.minimum(exit_, t), by_then)
        return apart + along[:, None] * self.incidence[self.last_row(stratum, t)]


def incidence_steps(curves: SurvivalCurves, events: Floats, incidence: Floats) -> IncidenceSteps:
    """Steps of curves of all causes with the events and incidence of each, shape (rows, n_causes).

    With S survival from every cause, Y at risk, d events, F_k incidence of cause k, the derivative of F_k(t) in the
    weight of a life is the sum over v <= t of S(v-) m_k(v) / Y(v) - (F_k(t) - F_k(v)) m(v) / (Y(v) - d(v)), with m_k
    the life's own event of cause k less d_k / Y while it was at risk, m the sum of m_k.
    Source: Jaeckel 1972, for the infinitesimal jackknife; the derivative is worked out here.
    """
    first = curves.start[curves.stratum]
    survivors = np.where(curves.survival > 0, curves.at_risk - curves.events, np.inf)
    jump, tilt = survival_before(curves) / curves.at_risk, 1 / survivors
    bent = tilt * curves.events / curves.at_risk
    apart = (jump / curves.at_risk)[:, None] * events + bent[:, None] * incidence
    return IncidenceSteps(
        finder=row_finder(curves),
        start=curves.start,
        jump=np.append(jump, 0.0),
        tilt=np.append(tilt, 0.0),
        incidence=_with_zero(incidence),
        apart=_with_zero(running_columns(apart, first)),
        along=np.append(running(bent, first, np.add), 0.0),
    )


def survival_before(curves: SurvivalCurves) -> Floats:
    """Survival just before each row."""
    before = np.append(1.0, curves.survival[:-1])[: curves.t.size]
    before[curves.start[:-1][np.diff(curves.start) > 0]] = 1.0
    return before


def running_columns(values: Floats, first: Codes) -> Floats:
    """Running total of each column within its segments; first as in `running`."""
    return np.stack([running(column, first, np.add) for column in values.T], axis=1)


def _with_zero(values: Floats) -> Floats:
    return np.concatenate([values, np.zeros((1, values.shape[1]))])
