"""How often a part that is replaced at every failure is replaced at a mileage, for a Weibull of scale 1."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import fft
from scipy.special import gamma, gammaln

from longmile.pipelines.estimators.lives import Floats

_STEP = 1 / 512  # scales between the points of the grid
_EARLY = 0.3  # cumulative hazard up to which the series is used: there it settles fast, and the grid is too coarse
_TERMS = 14
_DAMPING = 24.0  # e^-24 of what runs past the end of the transform comes back at its start


@dataclass(frozen=True)
class RenewalDensity:
    """Replacements per scale of mileage at u scales, after a new part at 0; beyond the grid 1 / mean life."""

    shape: float
    grid: Floats
    density: Floats
    series: Floats

    def at(self, u: Floats) -> Floats:
        """Density at u > 0, to about 1e-5."""
        k = self.shape
        read: Floats = np.interp(u, self.grid, self.density, right=1 / gamma(1 + 1 / k))
        early = u**k < _EARLY
        power = u[early, None] ** (k * np.arange(1, _TERMS + 1))
        read[early] = (power * self.series).sum(axis=-1) / u[early]
        return read


def renewal_density(shape: float) -> RenewalDensity:
    """Density of replacements for one shape, 0.25 to 12.

    A power series early on (Smith & Leadbetter 1963, Technometrics 5:393-396), else masses on a grid, each life
    rounded to the nearest point, summed over all numbers of replacements by one transform.
    """
    # A steep part is replaced in rhythm for long, a flat one forgets it slowly: each needs its own reach.
    reach = 8.0 if shape > 2 else 30.0 if shape >= 1 else 250.0
    grid = np.arange(int(reach / _STEP) + 2) * _STEP
    edges = np.concatenate([[0.0], grid[:-1] + _STEP / 2, grid[-1:] + _STEP / 2])
    mass = np.diff(-np.expm1(-(edges**shape)))
    length = fft.next_fast_len(2 * grid.size)
    damp = np.exp(-_DAMPING * np.arange(grid.size) / length)
    once = fft.rfft(mass * damp, length)
    density: Floats = fft.irfft(once / (1 - once), length)[: grid.size] / damp / _STEP
    return RenewalDensity(shape, grid.astype(np.float64), density, _series(shape))


def _series(shape: float) -> Floats:
    """Factors of u^(shape n - 1), n = 1, 2, ..."""
    n = np.arange(1, _TERMS + 1)
    first = np.exp(gammaln(1 + n * shape) - gammaln(1 + n))
    a = np.zeros(_TERMS)
    for i in range(_TERMS):
        a[i] = first[i] - first[:i] @ a[:i][::-1]
    signed: Floats = (-1.0) ** (n - 1) * a * np.exp(-gammaln(1 + n * shape)) * n * shape
    return signed
