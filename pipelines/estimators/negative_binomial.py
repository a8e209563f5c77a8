"""Counts of the members of many groups and their negative binomial likelihood. Sums, no verdict.

A member's count is Poisson with mean rate x exposure; the rates of a group's members follow a gamma distribution of
mean m and shape alpha, which makes the counts negative binomial with variance e + e^2 / alpha, e = m x exposure.
Inside, the numbers sought are log m and psi = log alpha.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import digamma, gammaln, xlogy

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Floats, weighed

_ROUNDS = 60
_SMALL = 1e-13
_LARGE = 100.0  # alpha from which on the difference of log gammas is taken from its series
_POISSON = 690.0  # psi that stands for no spread at all


@dataclass(frozen=True)
class Counts:
    """Counts and exposures of the members of all groups; build with `counts()`, which checks them.

    group: codes 0..n_groups-1, one per member.
    """

    count: Floats
    exposure: Floats
    group: Codes
    n_groups: int

    def sums(self, values: Floats) -> Floats:
        """Sum of values (one per member) over each group."""
        return weighed(self.group, values, self.n_groups)

    def log_pooled(self) -> Floats:
        """Log of each group's count over its exposure; 0 where either is 0."""
        y, e = self.sums(self.count), self.sums(self.exposure)
        some = (y > 0) & (e > 0)
        return np.log(np.where(some, y, 1.0) / np.where(some, e, 1.0))


def counts(
    count: npt.ArrayLike, exposure: npt.ArrayLike, group: npt.ArrayLike | None = None, n_groups: int = 1
) -> Counts:
    """Checked `Counts`; all in one group where none is given.

    Raises LivesError on unequal lengths, a count or an exposure that is missing, infinite or below 0, a count
    without exposure, or a group out of range.
    """
    y, e = (np.atleast_1d(np.asarray(values, np.float64)) for values in (count, exposure))
    code = np.zeros(y.size, np.int64) if group is None else np.atleast_1d(np.asarray(group, np.int64))
    if not y.size == e.size == code.size:
        raise LivesError(f"counts: {y.size} counts, {e.size} exposures, {code.size} groups. Expected one of each.")
    wrong = ~(np.isfinite(y) & np.isfinite(e) & (y >= 0) & (e >= 0)) | ((y > 0) & (e == 0))
    wrong |= (code < 0) | (code >= n_groups)
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"counts: {int(wrong.sum()):,} of {y.size:,} cannot be (first: number {at + 1}, count {y[at]:g} over an "
            f"exposure of {e[at]:g} in group {code[at]}). Expected 0 or more, no count without exposure, and groups "
            f"from 0 to {n_groups - 1}."
        )
    return Counts(y, e, code, n_groups)


def log_likelihood(data: Counts, log_mean: Floats, psi: Floats) -> Floats:
    """Log-likelihood of each group's counts at its log mean and psi (infinite: Poisson), shape (n_groups,)."""
    alpha = np.exp(np.minimum(psi, _POISSON))[data.group]
    expected = np.exp(log_mean)[data.group] * data.exposure
    own = _log_rising(data.count, alpha) + xlogy(data.count, expected) - gammaln(data.count + 1)
    return data.sums(own - (alpha + data.count) * np.log1p(expected / alpha))


def best_mean(data: Counts, psi: Floats, start: Floats) -> tuple[Floats, Floats]:
    """Log mean at which the likelihood of each group is highest with psi held, and its bend (below 0) there.

    A Newton search: in the log mean the likelihood is concave. A group without a count stays where it starts.
    """
    alpha = np.exp(psi)[data.group]
    some = data.sums(data.count) > 0
    log_mean = start.copy()
    bend = np.full(log_mean.size, -1.0)
    for _ in range(_ROUNDS):
        expected = np.exp(log_mean)[data.group] * data.exposure
        slope = data.sums((data.count - expected) * alpha / (alpha + expected))
        down = data.sums(alpha * (alpha + data.count) * expected / (alpha + expected) ** 2)
        bend = np.where(some, -down, -1.0)
        step = np.clip(np.where(some, -slope / bend, 0.0), -1.0, 1.0)
        log_mean = log_mean + step
        if np.all(np.abs(step) < _SMALL * (1 + np.abs(log_mean))):
            break
    return log_mean, bend


def spread_slope(data: Counts, log_mean: Floats, psi: Floats) -> Floats:
    """Slope of the log-likelihood of each group in psi, with the mean held."""
    alpha = np.exp(psi)[data.group]
    expected = np.exp(log_mean)[data.group] * data.exposure
    rise = digamma(alpha + data.count) - digamma(alpha) - np.log1p(expected / alpha)
    return data.sums(alpha * (rise + (expected - data.count) / (alpha + expected)))


def _log_rising(y: Floats, alpha: Floats) -> Floats:
    """Log Gamma(alpha + y) - log Gamma(alpha) - y log alpha: nearly 0 for a large alpha, with its digits."""
    small = np.minimum(alpha, _LARGE)
    plain = gammaln(small + y) - gammaln(small) - y * np.log(small)
    a, b = np.maximum(alpha, _LARGE), np.maximum(alpha, _LARGE) + y
    series = (b - 0.5) * np.log1p(y / a) - y + (1 / b - 1 / a) / 12 - (b**-3.0 - a**-3.0) / 360
    rising: Floats = np.where(alpha < _LARGE, plain, series)
    return rising
