"""Variances of cumulative incidences at every row, by running sums: no row is laid out against every life."""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.incidence_influence import (
    IncidenceSteps,
    incidence_steps,
    running_columns,
    survival_before,
)
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, Miles, SharedExposure
from longmile.pipelines.estimators.nonparametric import SurvivalCurves
from longmile.pipelines.estimators.stretch import ragged

_CHUNK = 1 << 18  # (stratum, window) pairs evaluated at once: bounds memory, not results


def jackknife_variance(
    curves: SurvivalCurves,
    events: Floats,
    incidence: Floats,
    lives_and_causes: tuple[Lives, Codes],
    shared: SharedExposure | None,
) -> Floats:
    """Sum over the lives of weight x squared contribution, shape (rows, n_causes).

    A life's squared contribution is a quadratic in F(t) once it has ended, and one about what it brought in at entry
    while it runs; the coefficients are summed over lives where they change, then along the rows.
    Source: Jaeckel 1972 (infinitesimal jackknife). Equal to the Greenwood-type variance without late entry.
    """
    steps = incidence_steps(curves, events, incidence)
    sums = _Squares(steps, curves)
    data, cause = lives_and_causes
    sums.add(data.stratum, data.entry, data.exit_, cause, data.weight)
    if shared is not None:
        _add_windows(sums, shared)
    return sums.variance()


class _Squares:
    """Coefficients of the sum of squares, changed row by row; `add` lives, then ask for the `variance`."""

    def __init__(self, steps: IncidenceSteps, curves: SurvivalCurves) -> None:
        n_rows, n_causes = curves.t.size, steps.incidence.shape[1]
        self.steps = steps
        self.t = np.append(curves.t, np.nan)
        self.first = curves.start[curves.stratum]
        # Ended lives: squares, products, squares of (apart, along). Running ones: moments of what held at entry.
        self.ended = np.zeros((3, n_rows, n_causes))
        self.runs = np.zeros((6, n_rows, n_causes))

    def add(self, stratum: Codes, entry: Miles, exit_: Miles, cause: Codes, weight: Floats) -> None:
        """Adds lives, each `weight` times."""
        steps = self.steps
        past = steps.start[stratum + 1]
        enters, ends = (steps.finder.last(stratum, at) + 1 for at in (entry, exit_))
        out = steps.last_row(stratum, exit_)
        ends = np.where(self.t[out] == exit_, out, ends)
        entered, ended = enters < past, ends < past
        apart, along = steps.of_lives(stratum, entry, exit_, cause)
        at_entry = steps.last_row(stratum, entry)
        for k in range(apart.shape[1]):
            a, h, b = apart[:, k], steps.apart[at_entry, k], steps.along[at_entry]
            self._put(self.ended, k, ends, ended, weight, (a * a, a * along, along * along))
            held = (np.ones(h.size), h, b, h * h, h * b, b * b)
            self._put(self.runs, k, enters, entered, weight, held)
            self._put(self.runs, k, ends, ended, -weight, held)

    def variance(self) -> Floats:
        """Shape (rows, n_causes)."""
        f = self.steps.incidence[:-1]
        aa, ab, bb = (running_columns(part, self.first) for part in self.ended)
        n, h, b, hh, hb, b2 = (running_columns(part, self.first) for part in self.runs)
        so_far = f * self.steps.along[:-1, None] - self.steps.apart[:-1]
        ended = aa + f * (2 * ab + f * bb)
        runs = n * so_far**2 + 2 * so_far * (h - f * b) + hh - f * (2 * hb - f * b2)
        # Rounding may leave less than nothing where nothing is uncertain.
        return np.maximum(ended + runs, 0.0)

    @staticmethod
    def _put(sums: Floats, k: int, row: Codes, kept: np.ndarray, weight: Floats, values: tuple[Floats, ...]) -> None:
        at, w = row[kept], weight[kept]
        for place, value in enumerate(values):
            sums[place, :, k] += np.bincount(at, weights=w * value[kept], minlength=sums.shape[1])


def _add_windows(sums: _Squares, shared: SharedExposure) -> None:
    """Adds the shared windows of each stratum, a bounded number at a time."""
    n_groups = max(int(shared.group.max(initial=-1)), int(shared.stratum_group.max(initial=-1))) + 1
    windows = ragged(shared.group, n_groups, shared.entry, shared.exit_, shared.weight)
    rows_of = np.diff(sums.steps.start)
    held = np.flatnonzero((shared.stratum_group >= 0) & (shared.multiplicity > 0) & (rows_of > 0))
    for part in windows.chunks(shared.stratum_group[held], _CHUNK):
        stratum = held[part]
        owner, (entry, exit_, weight) = windows.take(shared.stratum_group[stratum])
        weight = weight * shared.multiplicity[stratum[owner]]
        sums.add(stratum[owner], entry, exit_, np.zeros(owner.size, np.int64), weight)


def greenwood_variance(curves: SurvivalCurves, events: Floats, incidence: Floats) -> Floats:
    """Delta-method variance, events of the causes at one mileage multinomial; shape (rows, n_causes).

    With one cause it is Greenwood's. Source: Marubini & Valsecchi 1995, Analysing Survival Data from Clinical Trials
    and Observational Studies, section 10.2; Gaynor et al. 1993, J. Am. Stat. Assoc. 88:400-409.
    """
    at_risk, before = curves.at_risk[:, None], survival_before(curves)[:, None]
    left = _left(curves)[:, None]
    both = before * events / at_risk**2
    own = before * both * (at_risk - events) / at_risk
    return _quadratic(curves, incidence, curves.events[:, None] / (at_risk * left), both, own)


def aalen_variance(curves: SurvivalCurves, events: Floats, incidence: Floats) -> Floats:
    """Aalen's variance, each cause's events hypergeometric and independent of the others; shape (rows, n_causes).

    It has at risk - 1 where the delta method has at risk, which must therefore count lives. Source: Aalen 1978, Ann.
    Stat. 6:534-545.
    """
    at_risk, before = curves.at_risk[:, None], survival_before(curves)[:, None]
    left, less = _left(curves)[:, None], np.where(curves.at_risk > 1, curves.at_risk - 1, np.inf)[:, None]
    share = events * (at_risk - events) / less
    spread = share.sum(axis=1, keepdims=True) / left**2
    return _quadratic(curves, incidence, spread, before * share / (at_risk * left), before**2 * share / at_risk**2)


def _quadratic(curves: SurvivalCurves, f: Floats, spread: Floats, both: Floats, own: Floats) -> Floats:
    """Sum over rows v <= t of (F(t) - F(v))^2 spread - 2 (F(t) - F(v)) both + own."""
    first = curves.start[curves.stratum]
    parts = (spread + 0 * f, spread * f, spread * f * f, both, both * f, own)
    s0, s1, s2, b0, b1, o = (running_columns(part, first) for part in parts)
    return np.maximum(f * f * s0 - 2 * f * s1 + s2 - 2 * (f * b0 - b1) + o, 0.0)


def _left(curves: SurvivalCurves) -> Floats:
    """Survivors of each row; infinitely many where nobody is left, as nothing is uncertain after that."""
    return np.where(curves.survival > 0, curves.at_risk - curves.events, np.inf)
