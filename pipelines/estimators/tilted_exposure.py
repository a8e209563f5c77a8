"""Watched miles weighed by e^(theta x): what both trend models of repairs rest on. Sums and a search, no repairs.

An intensity that is e^(theta x) per unit of x, with x the log of the mileage (a power law) or the mileage itself
(log-linear), puts the repairs of a stratum where the watched windows, so weighed, lie. Their log total is convex in
theta, its first derivative is the mean of x and its second the variance: the best theta is where the mean equals that
of the repairs, and there is at most one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, weighed
from longmile.pipelines.estimators.stretch import Ragged

_CHUNK = 1 << 19  # windows evaluated at once: bounds memory, not results
_NEAR = 0.3  # theta x width below which the closed forms lose digits and the series (to the ninth power) do not
_MAX_STEPS = 200


class Tilted(NamedTuple):
    """Log of the weighed total, and mean and variance of x under the weight."""

    log_total: Floats
    mean: Floats
    variance: Floats


@dataclass(frozen=True)
class TiltedExposure:
    """Windows by group in x: columns far end and width; low, high: the ends of all windows of each group."""

    windows: Ragged
    low: Floats
    high: Floats

    def at(self, group: Codes, theta: Floats) -> Tilted:
        """Total, mean and variance over all windows of each asked group, at its theta."""
        found = [np.zeros(group.size) for _ in range(3)]
        for part in self.windows.chunks(group, _CHUNK):
            owner, (far, width) = self.windows.take(group[part])
            slope = theta[part]
            # Weights are taken relative to the heaviest end there can be, so that none overflows.
            edge = np.where(slope < 0, self.low[group[part]], self.high[group[part]])
            each = tilted(slope[owner], far, width)
            with np.errstate(under="ignore"):
                weight = np.exp(each.log_total - (slope * edge)[owner])
            total = weighed(owner, weight, slope.size)
            mean = weighed(owner, weight * each.mean, slope.size) / total
            spread = each.variance + (each.mean - mean[owner]) ** 2
            found[0][part] = np.log(total) + slope * edge
            found[1][part] = mean
            found[2][part] = weighed(owner, weight * spread, slope.size) / total
        return Tilted(*found)


def tilted(theta: Floats, far: Floats, width: Floats) -> Tilted:
    """Integral of e^(theta x) over windows that end at far and are width wide, with mean and variance of x.

    A width beyond any real one stands for a window without a lower end; theta must then be above 0.
    """
    v = np.abs(theta)
    u = v * width
    near = u < _NEAR
    series, safe, flat = np.where(near, u, 0.0), np.where(near, 1.0, v), np.where(near, 1.0, u)
    with np.errstate(over="ignore"):
        log_mass = np.where(near, np.log(width * _share(series)), np.log(-np.expm1(-flat) / safe))
        offset = np.where(near, width * _offset(series), 1 / safe - width / np.expm1(flat))
        variance = np.where(near, width**2 * _variance(series), 1 / safe**2 - (width / (2 * np.sinh(flat / 2))) ** 2)
    falls = theta < 0
    heavy = np.where(falls, far - width, far)
    return Tilted(theta * heavy + log_mass, heavy + np.where(falls, offset, -offset), variance)


def solve_mean(
    exposure: TiltedExposure, group: Codes, mean: Floats, low: Floats, high: Floats, is_log: bool
) -> tuple[Floats, Flags, Flags]:
    """Theta at which the weighed mean of each group equals mean, and whether it lies below low or above high.

    low, high: bounds of the search.   is_log: theta is above 0 and searched for by its log. Newton steps kept within a
    bracket that shrinks; no step is taken on faith.
    """

    def at(y: Floats) -> Floats:
        return np.exp(y) if is_log else y

    below = mean < exposure.at(group, at(low)).mean
    above = mean > exposure.at(group, at(high)).mean
    low, high = low.copy(), high.copy()
    y = np.clip(np.zeros(group.size), low, high)
    active = np.flatnonzero(~below & ~above)
    for _ in range(_MAX_STEPS):
        if not active.size:
            break
        theta = at(y[active])
        here = exposure.at(group[active], theta)
        gap = mean[active] - here.mean
        low[active] = np.where(gap >= 0, y[active], low[active])
        high[active] = np.where(gap <= 0, y[active], high[active])
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            step = gap / (here.variance * (theta if is_log else 1.0))
        trial = y[active] + step
        inside = (trial > low[active]) & (trial < high[active])
        following = np.where(inside, trial, (low[active] + high[active]) / 2)
        done = (gap == 0) | (np.abs(following - y[active]) <= 4e-16 * np.maximum(np.abs(y[active]), 1e-3))
        y[active] = np.where(gap == 0, y[active], following)
        active = active[~done]
    return at(y), below, above


def _share(u: Floats) -> Floats:
    """(1 - e^-u) / u, 1 at 0."""
    return np.where(u > 0, -np.expm1(-u) / np.where(u > 0, u, 1.0), 1.0)


def _offset(u: Floats) -> Floats:
    """1 / u - 1 / (e^u - 1) near 0: how far the mean lies from the heavy end, in widths."""
    square = u * u
    return 0.5 - u * (1 / 12 - square * (1 / 720 - square * (1 / 30240 - square * (1 / 1209600 - square / 47900160))))


def _variance(u: Floats) -> Floats:
    """1 / u^2 - 1 / (2 sinh(u / 2))^2 near 0: the variance, in squared widths."""
    square = u * u
    return 1 / 12 - square * (1 / 240 - square * (1 / 6048 - square * (1 / 172800 - square / 5322240)))
