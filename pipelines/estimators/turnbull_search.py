"""The search for the hazards of most likelihood: a primal-dual interior point method, all blocks at once.

The barrier, mu r log x per cell, keeps hazards off 0 while mu falls to nothing. Sources: Wright 1997, Primal-Dual
Interior-Point Methods; the line search on the barrier as in Waechter & Biegler 2006, Math. Program. 106:25-57.
Expectation-maximisation was dropped: it stops in the fourth digit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats
from longmile.pipelines.estimators.turnbull_blocks import Cells
from longmile.pipelines.estimators.turnbull_newton import newton_step

_GAP = 1e-11  # per failure, at which the barrier has done its work
_MAX_STEPS = 100
_MAX_HALVINGS = 40
_LEAST_BARRIER = 1e-15  # below it rounding takes over
_TO_ZERO = 1e-3  # failures a hazard expects, against what pushes it off 0: far below on the way to 0, far above else
_SETTLED_GAP, _ENOUGH = 1e-9, 1e-13  # a settled block is taken below the one, and settles no further below the other
_SETTLING_STEPS = 6
_HOLD = 1e-6  # of the pull of the barrier: holds a hazard that nothing else holds, and slows no other
_NOTHING = 1e-12  # of all failures: a hazard that expects so few is rounding


@dataclass
class _Point:
    """Where the search stands.

    x: hazards.   z: slopes that push them away from 0.   mu: height of the barrier per block, in parts of r.
    r: weight of the barrier per cell, about the failures expected there, so that no cell is pushed far off.
    """

    x: Floats
    z: Floats
    mu: Floats
    r: Floats

    def take(self, kept: Flags, of_cell: Flags) -> _Point:
        return _Point(self.x[of_cell], self.z[of_cell], self.mu[kept], self.r[of_cell])


def most_likely(cells: Cells) -> Floats:
    """Hazards at the maximum, for blocks whose every c is above 0; blocks are let go as they get there."""
    found = np.zeros(cells.c.size)
    at = np.arange(cells.c.size)
    point = _first(cells)
    for _ in range(_MAX_STEPS):
        done = cells.gap(point.x) <= _GAP
        if done.any():
            part, of_cell = cells.take(done)
            found[at[of_cell]] = _settled(part, point.take(done, of_cell))
            cells, of_cell = cells.take(~done)
            point, at = point.take(~done, of_cell), at[of_cell]
        if not at.size:
            break
        _step(cells, point)
    found[at] = point.x
    return found


def _first(cells: Cells) -> _Point:
    """Every failure spread evenly over its cells."""
    spread = cells.covering(cells.w / (cells.hi - cells.lo))
    x = np.log1p(spread / cells.c)
    r = cells.c * x
    mu = np.full(cells.start.size - 1, 0.1)
    return _Point(x, 0.1 * r / x, mu, r)


def _step(cells: Cells, point: _Point) -> None:
    """One Newton step on the barrier problem, the barrier lowered first where it is solved well enough."""
    block, x = cells.block, point.x
    slope = cells.slope(x)
    point.mu = _lowered(cells, point, slope)
    barrier = point.mu[block] * point.r
    uphill = slope - barrier / x
    dx = newton_step(cells, x, point.z / x, uphill)
    dz = barrier / x - point.z - point.z / x * dx
    near = np.maximum(0.99, 1 - point.mu)
    reach = _searched(cells, point, dx, _reach(cells, x, dx, near), cells.summed(uphill * dx))
    point.x = x + reach[block] * dx
    z = point.z + _reach(cells, point.z, dz, near)[block] * dz
    point.z = np.clip(z, barrier / (1e10 * point.x), 1e10 * barrier / point.x)


def _lowered(cells: Cells, point: _Point, slope: Floats) -> Floats:
    """The barrier per block; several lowerings may be due at once."""
    first = cells.start[:-1]
    product = point.x * point.z / point.r
    off = np.maximum.reduceat(np.abs((slope - point.z) * point.x), first) / np.maximum.reduceat(point.r, first)
    most, fewest = np.maximum.reduceat(product, first), np.minimum.reduceat(product, first)
    mu = point.mu.copy()
    while True:
        error = np.maximum(off, np.maximum(most - mu, mu - fewest))
        due = (error <= 10 * mu) & (mu > _LEAST_BARRIER)
        if not due.any():
            return mu
        mu = np.where(due, np.maximum(_LEAST_BARRIER, np.minimum(0.1 * mu, mu**1.5)), mu)


def _reach(cells: Cells, value: Floats, step: Floats, near: Floats) -> Floats:
    """How much of the step each block can take, at most all of it, with every value still above 0."""
    falling = step < 0
    most = np.where(falling, -value / np.where(falling, step, -1.0), np.inf)
    return np.minimum(1.0, near * np.minimum.reduceat(most, cells.start[:-1]))


def _searched(cells: Cells, point: _Point, dx: Floats, reach: Floats, fall: Floats) -> Floats:
    """The reach halved until the barrier falls as it should, block by block; rounding is allowed for."""
    block = cells.block

    def height(x: Floats) -> Floats:
        return cells.minus_log_likelihood(x) - point.mu * cells.summed(point.r * np.log(x))

    now = height(point.x)
    slack = 1e-13 * (np.abs(now) + cells.failures)
    for _ in range(_MAX_HALVINGS):
        high = height(point.x + reach[block] * dx) > now + 1e-4 * reach * fall + slack
        if not high.any():
            break
        reach = np.where(high, reach / 2, reach)
    return reach


def _settled(cells: Cells, point: _Point) -> Floats:
    """The hazards with those on their way to 0 put there and the others moved to where they then belong."""
    x = point.x
    lost = x * cells.c < _TO_ZERO * point.z
    pull = _HOLD * point.z / point.x
    nothing = _NOTHING * cells.failures[cells.block]
    for _ in range(_SETTLING_STEPS):
        without = np.where(lost, 0.0, x)
        needed = cells.over(without) == 0  # failures with no hazard left
        x = np.where(_any(cells, cells.block[cells.lo[needed]])[cells.block], x, without)
        zero = x == 0
        step = newton_step(cells, x, np.where(zero, 1e300, pull), np.where(zero, 0.0, cells.slope(x)))
        lost = ~zero & ~((x + step) * cells.c > nothing)
        x = np.where(_any(cells, cells.block[lost])[cells.block] | zero, x, x + step)
        if not lost.any() and (cells.gap(x) <= _ENOUGH).all():
            break
    good = cells.gap(x) <= _SETTLED_GAP
    return np.where(good[cells.block], x, point.x)


def _any(cells: Cells, block: Codes) -> Flags:
    """True for the blocks that are named."""
    return np.bincount(block, minlength=cells.start.size - 1) > 0
