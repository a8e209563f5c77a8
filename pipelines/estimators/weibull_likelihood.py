"""The Weibull log-likelihood of every stratum with its slope and curvature. Sums, no search.

Inside, a stratum's hazard is H(t) = exp(k x + c), with k = exp(b) the shape and x = log(t / reference
mileage): c and b stay of moderate size and nearly unrelated, whatever the unit of the miles. log scale = log
reference - c / k.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Floats,
    Lives,
    SharedExposure,
    no_shared_exposure,
    weighed,
)
from longmile.pipelines.estimators.shared_sums import SharedSums, shared_sums
from longmile.pipelines.estimators.stretch import Ragged, Stretch, log_width, ragged, stretch

LOST = 1e-9  # share of the shared hazard below which what is left of it has lost its digits
_CHUNK = 1 << 19  # lives evaluated at once: bounds memory, not results


class Values(NamedTuple):
    """Log-likelihood with first (g) and second (h) derivatives in (c, b), each of shape (rows,)."""

    loglik: Floats
    g_c: Floats
    g_b: Floats
    h_cc: Floats
    h_cb: Floats
    h_bb: Floats


@dataclass(frozen=True)
class WeibullLikelihood:
    """Lives of all strata, prepared: evaluate any rows (strata, repeats allowed) at any (c, b).

    stretches: weight, log far end, log width of what was survived.   intervals: the same of where failures
    lie.
    """

    log_ref: Floats
    exact: Floats
    sum_x: Floats
    sum_log_t: Floats
    failures: Floats
    stretches: Ragged
    intervals: Ragged
    shared: SharedSums

    def survived(self, rows: Codes, c: Floats, b: Floats) -> Stretch:
        """Hazard over all that was survived, summed, with its derivatives in b; intervals left out."""
        k = np.exp(b)
        total = self.shared.evaluate(rows, c, k)
        shared_hazard = total[0].copy()
        for part in self.stretches.chunks(rows, _CHUNK):
            owner, (weight, far, width) = self.stretches.take(rows[part])
            over = stretch(k[part][owner], c[part][owner], far, width)
            for moment in range(3):
                total[moment, part] += np.bincount(owner, weights=weight * over[moment], minlength=c[part].size)
        # Taken-out windows can leave so little of a steep hazard that only rounding remains.
        total[0] = np.where(total[0] < LOST * shared_hazard, np.nan, total[0])
        return Stretch(*total)

    def evaluate(self, rows: Codes, c: Floats, b: Floats) -> Values:
        """Log-likelihood given survival to entry, including -log t; -inf where it cannot be computed."""
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            h, h_b, h_bb = self.survived(rows, c, b)
            k = np.exp(b)
            d, kx = self.exact[rows], k * self.sum_x[rows]
            values = [d * (b + c) + kx - self.sum_log_t[rows] - h, d - h, d + kx - h_b, -h, -h_b, kx - h_bb]
            for part in self.intervals.chunks(rows, _CHUNK):
                owner, (weight, far, width) = self.intervals.take(rows[part])
                terms = chance_within(stretch(k[part][owner], c[part][owner], far, width))
                for total, term in zip(values, terms, strict=True):
                    total[part] += np.bincount(owner, weights=weight * term, minlength=c[part].size)
            values[0] = np.where(np.isfinite(np.sum(values, axis=0)), values[0], -np.inf)
        return Values(*values)

    def interval_hazard(self, rows: Codes, c: Floats, b: Floats) -> Floats:
        """Hazard over the intervals, summed: what their failures add if taken as found at the far end."""
        owner, (weight, far, width) = self.intervals.take(rows)
        over = stretch(np.exp(b)[owner], c[owner], far, width)
        return weighed(owner, weight * over.h, rows.size)


def weibull_likelihood(data: Lives, shared: SharedExposure | None = None) -> WeibullLikelihood:
    """Prepared likelihood; a stratum's reference is the geometric mean mileage of its failures."""
    held = no_shared_exposure(data.n_strata) if shared is None else shared
    failed = data.event & (data.weight > 0)
    within = failed & ~np.isnan(data.left)
    weight = np.where(failed, data.weight, 0.0)
    exact = np.where(within, 0.0, weight)
    log_exit = np.log(data.exit_)
    log_ref = log_reference(data)
    survived_to = np.where(within, data.left, data.exit_)
    counted = (failed | ~data.event) & (survived_to > data.entry)
    return WeibullLikelihood(
        log_ref=log_ref,
        exact=_per_stratum(data, exact),
        sum_x=_per_stratum(data, exact * (log_exit - log_ref[data.stratum])),
        sum_log_t=_per_stratum(data, exact * log_exit),
        failures=_per_stratum(data, weight),
        stretches=_stretches(data, counted, data.entry, survived_to, log_ref),
        intervals=_stretches(data, within, data.left, data.exit_, log_ref),
        shared=shared_sums(held, log_ref),
    )


def _per_stratum(data: Lives, values: Floats) -> Floats:
    return weighed(data.stratum, values, data.n_strata)


def log_reference(data: Lives) -> Floats:
    """Log reference per stratum: at its exact failures if any, where c need not follow a rising shape."""
    failed = data.event & (data.weight > 0)
    is_within = ~np.isnan(data.left)
    exact = np.where(failed & ~is_within, data.weight, 0.0)
    within = np.where(failed & is_within, data.weight, 0.0)
    n_exact, n_within = _per_stratum(data, exact), _per_stratum(data, within)
    found = _per_stratum(data, exact * np.log(data.exit_))
    near = np.where(within > 0, (np.nan_to_num(data.left) + data.exit_) / 2, 1.0)
    between = _per_stratum(data, within * np.log(near))
    total = np.where(n_exact > 0, found, between)
    return total / np.where(n_exact > 0, n_exact, np.where(n_within > 0, n_within, 1.0))


def _stretches(data: Lives, which: Flags, low: Floats, high: Floats, log_ref: Floats) -> Ragged:
    stratum = data.stratum[which]
    far = np.log(high[which]) - log_ref[stratum]
    return ragged(stratum, data.n_strata, data.weight[which], far, log_width(low[which], high[which]))


def chance_within(over: Stretch) -> tuple[Floats, ...]:
    """log(1 - e^-D) with its derivatives, D the hazard over each interval.

    It is the chance to fail within the interval once it is reached.

    With r = 1 / (e^D - 1) the slopes are r D' and the curvatures r D'' - r (1 + r) D' D'. Where D > 700 all
    of it is 0.
    """
    sure = ~(over.h < 700)
    d, d_b, d_bb = (np.where(sure, filler, part) for part, filler in zip(over, (1.0, 0.0, 0.0), strict=True))
    r = np.where(sure, 0.0, 1 / np.expm1(d))
    # r d and r d_b stay near 1 however narrow the interval; r^2 alone would overflow.
    rd, rb, e = r * d, r * d_b, np.exp(d)
    log_chance = np.where(sure, 0.0, np.log(-np.expm1(-d)))
    return log_chance, rd, rb, rd - rd * rd * e, rb - rd * rb * e, r * d_bb - rb * rb * e
