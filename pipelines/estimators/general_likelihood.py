"""The log-likelihood of any log-location-scale distribution, every stratum, with slope and curvature.

The same inside coordinates as `WeibullLikelihood` (which has sums of its own, and is faster): z = k x + c with
k = exp(b) the shape and x = log(t / reference mileage). Sums, no search.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from longmile.pipelines.estimators.distributions import Distribution
from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Floats,
    Lives,
    Miles,
    SharedExposure,
    no_shared_exposure,
    weighed,
)
from longmile.pipelines.estimators.stretch import Ragged, ragged
from longmile.pipelines.estimators.weibull_likelihood import LOST, Values, log_reference

_CHUNK = 1 << 17  # lives or windows evaluated at once: bounds memory, not results
_NOT_LATE = -1e300  # log mileage of an entry at 0
_Terms: TypeAlias = Callable[[Floats, list[Floats], Floats, list[Floats]], tuple[Floats, ...]]


@dataclass(frozen=True)
class GeneralLikelihood:
    """Lives of all strata, prepared: evaluate any rows (strata, repeats allowed) at any (c, b).

    exact: weight, log mileage of the failures exactly known.   survived: weight, log far, log near end of what
    was survived.   within: the same of the intervals in which failures lie.   windows: the same of each group
    of shared windows.
    """

    distribution: Distribution
    log_ref: Floats
    failures: Floats
    exact: Ragged
    survived: Ragged
    within: Ragged
    windows: Ragged
    group: Codes
    multiplicity: Floats

    def evaluate(self, rows: Codes, c: Floats, b: Floats) -> Values:
        """Log-likelihood given survival to entry, including -log t; -inf where it cannot be computed."""
        total, survived = np.zeros((6, rows.size)), np.zeros((6, rows.size))
        at = _Placed(self.log_ref[rows], c, np.exp(b))
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            self._sum(total, self.exact, rows, at, self._of_failures)
            self._sum(total, self.within, rows, at, self._of_intervals)
            self._sum(survived, self.survived, rows, at, self._of_survival)
            shared = self._of_windows(rows, at)
            total += survived + shared
            # Taken-out windows can leave so little of a steep hazard that only rounding remains.
            lost = survived[0] + shared[0] > LOST * shared[0]
            total[0] = np.where(np.isfinite(total.sum(axis=0)) & ~lost, total[0], -np.inf)
        return Values(*total)

    def _of_windows(self, rows: Codes, at: _Placed) -> Floats:
        """Terms of the shared windows of each row's group, as often as its stratum holds them."""
        terms = np.zeros((6, rows.size))
        held = np.flatnonzero((self.group[rows] >= 0) & (self.multiplicity[rows] > 0))
        part = np.zeros((6, held.size))
        of = _Placed(at.log_ref[held], at.c[held], at.k[held])
        self._sum(part, self.windows, self.group[rows[held]], of, self._of_survival)
        terms[:, held] = part * self.multiplicity[rows[held]]
        return terms

    def _sum(self, total: Floats, lives: Ragged, rows: Codes, of: _Placed, terms: _Terms) -> None:
        """Adds the terms of each row's lives to its column of total."""
        for part in lives.chunks(rows, _CHUNK):
            owner, (weight, *ends) = lives.take(rows[part])
            k, c = of.k[part][owner], of.c[part][owner]
            kx = [k * (end - of.log_ref[part][owner]) for end in ends]
            for row, term in zip(total, terms(c, kx, np.log(k), ends), strict=True):
                row[part] += np.bincount(owner, weights=weight * term, minlength=of.c[part].size)

    def _of_failures(self, c: Floats, kx: list[Floats], b: Floats, ends: list[Floats]) -> tuple[Floats, ...]:
        """Log hazard at the failure: log rate in z, plus log of dz / dt = k / t."""
        rate = self.distribution.log_rate(kx[0] + c)
        slope_b = rate.slope * kx[0]
        bend_b = rate.bend * kx[0]
        return rate.value + b - ends[0], rate.slope, 1 + slope_b, rate.bend, bend_b, bend_b * kx[0] + slope_b

    def _of_survival(self, c: Floats, kx: list[Floats], b: Floats, ends: list[Floats]) -> tuple[Floats, ...]:
        over = hazard_over(self.distribution, c, kx[0], kx[1], ends[1] > _NOT_LATE)
        return tuple(-part for part in over)

    def _of_intervals(self, c: Floats, kx: list[Floats], b: Floats, ends: list[Floats]) -> tuple[Floats, ...]:
        return chance_within(hazard_over(self.distribution, c, kx[0], kx[1], ends[1] > _NOT_LATE))


@dataclass(frozen=True)
class _Placed:
    """Where each row's curve lies."""

    log_ref: Floats
    c: Floats
    k: Floats


def general_likelihood(
    distribution: Distribution, data: Lives, shared: SharedExposure | None = None
) -> GeneralLikelihood:
    """Prepared likelihood; a stratum's reference is the geometric mean mileage of its failures."""
    held = no_shared_exposure(data.n_strata) if shared is None else shared
    failed = data.event & (data.weight > 0)
    between = failed & ~np.isnan(data.left)
    sound_to = np.where(between, data.left, data.exit_)
    counted = (failed | ~data.event) & (sound_to > data.entry)
    exact = failed & ~between
    n_groups = max(int(held.group.max(initial=-1)), int(held.stratum_group.max(initial=-1))) + 1
    return GeneralLikelihood(
        distribution=distribution,
        log_ref=log_reference(data),
        failures=weighed(data.stratum, np.where(failed, data.weight, 0.0), data.n_strata),
        exact=ragged(data.stratum[exact], data.n_strata, data.weight[exact], np.log(data.exit_[exact])),
        survived=_stretches(data, counted, data.entry, sound_to),
        within=_stretches(data, between, sound_to, data.exit_),
        windows=ragged(held.group, n_groups, held.weight, np.log(held.exit_), log_or_never(held.entry)),
        group=held.stratum_group,
        multiplicity=held.multiplicity,
    )


def log_or_never(miles: Miles) -> Floats:
    """Log mileage; a stand-in far below any where it is 0."""
    late = miles > 0
    return np.where(late, np.log(np.where(late, miles, 1.0)), _NOT_LATE)


def hazard_over(
    distribution: Distribution, c: Floats, kx_far: Floats, kx_near: Floats, late: Flags
) -> tuple[Floats, ...]:
    """H(far) - H(near) with its derivatives (c, b, cc, cb, bb); near counts only where late."""
    far = _in_coordinates(distribution, c, kx_far)
    near = _in_coordinates(distribution, c, np.where(late, kx_near, 0.0))
    return tuple(f - np.where(late, n, 0.0) for f, n in zip(far, near, strict=True))


def _in_coordinates(distribution: Distribution, c: Floats, kx: Floats) -> tuple[Floats, ...]:
    h = distribution.hazard(kx + c)
    slope_b, bend_b = h.slope * kx, h.bend * kx
    return h.value, h.slope, slope_b, h.bend, bend_b, bend_b * kx + slope_b


def _stretches(data: Lives, which: Flags, low: Floats, high: Floats) -> Ragged:
    ends = np.log(high[which]), log_or_never(low[which])
    return ragged(data.stratum[which], data.n_strata, data.weight[which], *ends)


def chance_within(over: tuple[Floats, ...]) -> tuple[Floats, ...]:
    """log(1 - e^-D) with its derivatives, D the hazard over the interval; 0 where D > 700 and all is sure."""
    sure = ~(over[0] < 700)
    fillers = (1.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    d, d_c, d_b, d_cc, d_cb, d_bb = (np.where(sure, f, part) for part, f in zip(over, fillers, strict=True))
    r, grown = np.where(sure, 0.0, 1 / np.expm1(d)), np.exp(d)
    # r d_c and r d_b stay moderate however narrow the interval; r^2 alone would overflow.
    rc, rb = r * d_c, r * d_b
    value = np.where(sure, 0.0, np.log(-np.expm1(-d)))
    return value, rc, rb, r * d_cc - rc * rc * grown, r * d_cb - rc * rb * grown, r * d_bb - rb * rb * grown
