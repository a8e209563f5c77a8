"""Rates drawn towards their group, averaged over what the group's spread and mean might be.

Plain empirical Bayes takes the fitted prior for the true one. With a dozen families that makes limits too narrow,
and absurdly so where the fit happens to find no spread at all. Here alpha and the mean keep the uncertainty that the
counts leave them, and each member's rate is a mixture over it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.special import gammainc, gammaincc, gammaincinv, gammaln, log_expit

from longmile.pipelines.estimators.gamma_poisson import Posteriors, check_asked, coarse_looks
from longmile.pipelines.estimators.held_search import stepped
from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.negative_binomial import Counts, best_mean, log_likelihood

_NODES = 17  # values of log alpha that are averaged over, in each group
_MEANS, _MEAN_WEIGHTS = np.polynomial.hermite.hermgauss(5)
_WORTH = 12.0  # log-likelihood below the best at which an alpha no longer counts
_PRECISION = 0.25  # beforehand, of the log mean about the pooled one: within a factor of e^4 = 55 either way
_CHUNK = 1 << 10  # members whose limits are sought at once: bounds memory, not results
_ROUNDS = 100
_REACH = 3.0  # longest step in the log of a limit


@dataclass(frozen=True)
class _Mixture:
    """Gamma distributions of each member's rate: weight, shape and rate, shape (nodes, members).

    beyond: chance that the rate exceeds threshold x the group's mean, in each.   pull: share of the mean that comes
    from the member's own count, in each.
    """

    weight: Floats
    a: Floats
    b: Floats
    beyond: Floats
    pull: Floats


def averaged_posteriors(data: Counts, confidence: float = 0.95, threshold: float = 2.0) -> Posteriors:
    """Rate of every member with limits that allow for the group's own uncertainty; no prior needs to be fitted first.

    The share alpha / (alpha + e) by which a member with a usual expected count e (harmonic mean of one more than
    each) is drawn in is taken to be equally likely anywhere from 0 to 1 beforehand, and the log of the mean normal
    about the pooled one with a standard deviation of 2; the counts do the rest. The integrals are sums over 17 values
    of log alpha and 5 of the mean at each. Members of a group without a count are NaN: nothing is known of their
    spread, and a bound is what can be had.
    In simulations of 3 to 24 members limits of 95 % cover 92 to 97.5 % where members differ, and more where they do
    not; the plain ones 75 to 90 %.
    Raises LivesError on a confidence outside (0, 1) or a threshold that is not above 0.
    Source: Deely & Lindley 1981, J. Am. Stat. Assoc. 76:833-841 (the idea); Christiansen & Morris 1997, J. Am. Stat.
    Assoc. 92:618-632 (the even prior on the share drawn in).
    """
    check_asked(confidence, threshold)
    start = data.log_pooled()
    mixture = _mixture(data, *_range_of_spread(data, start), start, threshold)
    tail = (1 - confidence) / 2
    found = Posteriors(
        mean=np.sum(mixture.weight * mixture.a / mixture.b, axis=0),
        lower=_limit(mixture, tail),
        upper=_limit(mixture, 1 - tail),
        chance_above=np.sum(mixture.weight * mixture.beyond, axis=0),
        weight_on_own=np.sum(mixture.weight * mixture.pull, axis=0),
        threshold=threshold,
        confidence=confidence,
    )
    return found.only((data.sums(data.count) > 0)[data.group])


def _evenly_drawn(data: Counts, psi: Floats, start: Floats) -> Floats:
    """Log density of psi beforehand: that of the log odds of a share spread evenly from 0 to 1."""
    members = data.sums((data.exposure > 0).astype(np.float64))
    expected = np.exp(start)[data.group] * data.exposure
    # A harmonic mean, so that members who could hardly be drawn in do not set it; 1 more, so that those who were
    # hardly watched do not either.
    inverse = data.sums(np.where(data.exposure > 0, 1 / (1 + expected), 0.0))
    odds = psi - np.log(np.where(members > 0, members, 1.0) / np.where(members > 0, inverse, 1.0))
    density: Floats = log_expit(odds) + log_expit(-odds)
    return density


def _range_of_spread(data: Counts, start: Floats) -> tuple[Floats, Floats]:
    """The stretch of log alpha in each group outside which the counts leave no weight worth counting."""
    looks = coarse_looks(data)
    looks = np.append(looks, looks[-1] + np.arange(1, 31) * (looks[1] - looks[0]))
    made = [[weight for _, weight in _means(data, np.full(start.size, look), start)] for look in looks]
    heights = np.logaddexp.reduce(np.array(made), axis=1)
    counts_in = heights > heights.max(axis=0) - _WORTH
    first = np.argmax(counts_in, axis=0)
    last = looks.size - 1 - np.argmax(counts_in[::-1], axis=0)
    return looks[np.maximum(first - 1, 0)], looks[np.minimum(last + 1, looks.size - 1)]


def _mixture(data: Counts, low: Floats, high: Floats, start: Floats, threshold: float) -> _Mixture:
    """One gamma distribution per node and member, weighed by how likely the node is."""
    parts = []
    for i in range(_NODES):
        psi = low + (high - low) * i / (_NODES - 1)
        for log_mean, log_weight in _means(data, psi, start):
            parts.append((log_weight, *_of_members(data, psi, log_mean, threshold)))
    log_weight, *columns = (np.stack(column) for column in zip(*parts, strict=True))
    weight = np.exp(log_weight - log_weight.max(axis=0))
    return _Mixture((weight / weight.sum(axis=0))[:, data.group], *columns)


def _means(data: Counts, psi: Floats, start: Floats) -> Iterator[tuple[Floats, Floats]]:
    """Values of the log mean at this psi and their log weights: Gauss-Hermite about where the mean is likely to lie."""
    log_mean, bend = best_mean(data, psi, start)
    sd = 1 / np.sqrt(_PRECISION - bend)
    middle = (start * _PRECISION - log_mean * bend) * sd**2
    beforehand = _evenly_drawn(data, psi, start) + np.log(sd)
    for x, w in zip(_MEANS, _MEAN_WEIGHTS, strict=True):
        at = middle + np.sqrt(2) * sd * x
        # The likelihood itself in place of the normal curve that the nodes are made for.
        yield at, beforehand + np.log(w) + x * x + log_likelihood(data, at, psi) - _PRECISION * (at - start) ** 2 / 2


def _of_members(data: Counts, psi: Floats, log_mean: Floats, threshold: float) -> tuple[Floats, ...]:
    """Shape and rate of each member's gamma distribution at a node, chance beyond the threshold, pull."""
    alpha, mean = np.exp(psi)[data.group], np.exp(log_mean)[data.group]
    a, b = alpha + data.count, alpha / mean + data.exposure
    return a, b, gammaincc(a, threshold * mean * b), data.exposure / b


def _limit(mixture: _Mixture, share: float) -> Floats:
    """Rate below which the given share of each member's mixture lies."""
    n = mixture.a.shape[1]
    parts = [_limit_of(mixture, slice(low, low + _CHUNK), share) for low in range(0, n, _CHUNK)]
    return np.concatenate(parts) if parts else np.zeros(0)


def _limit_of(mixture: _Mixture, part: slice, share: float) -> Floats:
    """Newton in the log of the rate from one gamma distribution of the same mean and variance, kept between sides."""
    weight, a, b = mixture.weight[:, part], mixture.a[:, part], mixture.b[:, part]
    log_gamma = gammaln(a)
    mean = np.sum(weight * a / b, axis=0)
    like = mean**2 / (np.sum(weight * a * (a + 1) / b**2, axis=0) - mean**2)
    x = np.log(np.maximum(gammaincinv(like, share), 1e-300) * mean / like)
    low, high = np.full(x.size, -np.inf), np.full(x.size, np.inf)
    active = np.arange(x.size)
    for _ in range(_ROUNDS):
        w, shape, u = weight[:, active], a[:, active], b[:, active] * np.exp(x[active])
        below = np.sum(w * gammainc(shape, u), axis=0)
        density = np.sum(w * np.exp(shape * np.log(u) - u - log_gamma[:, active]), axis=0)
        low[active] = np.where(below < share, x[active], low[active])
        high[active] = np.where(below > share, x[active], high[active])
        some = density > 0
        newton = np.where(some, (share - below) / np.where(some, density, 1.0), np.sign(share - below) * _REACH)
        x[active], going = stepped(x[active], np.clip(newton, -_REACH, _REACH), low[active], high[active])
        active = active[going]
        if not active.size:
            break
    limit: Floats = np.exp(x)
    return limit
