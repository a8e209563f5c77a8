"""The Newton step in the hazards of cells, from a sparse matrix over the blocks of all strata."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from longmile.pipelines.estimators.lives import Codes, Floats
from longmile.pipelines.estimators.turnbull_blocks import Cells

_STIFF = 1e6  # a pull so many times the bend leaves the others six digits of their step
_SOLVES = 3
_FIRMER = 1 + 1e-13  # on the diagonal: a matrix that rounding has made singular is not, by as little as rounding
_REGULAR = 1e-12  # keeps the matrix definite where two ways to lay the mass are equally likely


def newton_step(cells: Cells, x: Floats, pull: Floats, uphill: Floats) -> Floats:
    """Step in the hazards: the solution of (bend + pull) dx = -uphill.

    Cells on their way to 0 have a pull so strong that the others hardly feel them move: they are left out of the
    matrix, which keeps its digits that way, and follow. What either costs in accuracy is put right by solving
    again for what is left over.
    """
    chance = -np.expm1(-cells.over(x))
    bend = cells.w * (1 - chance) / chance**2
    own_bend = cells.covering(bend)
    pull = pull + _REGULAR * own_bend
    stiff = pull > _STIFF * own_bend
    solve = _solver(cells, bend, pull, np.flatnonzero(~stiff))
    dx, rest = np.zeros(x.size), -uphill
    for _ in range(_SOLVES):
        step = np.zeros(x.size)
        step[~stiff] = solve(rest[~stiff])
        step[stiff] = (rest - cells.covering(bend * cells.over(step)))[stiff] / pull[stiff]
        dx = dx + step
        rest = -uphill - cells.covering(bend * cells.over(dx)) - pull * dx
    return dx


def _solver(cells: Cells, bend: Floats, pull: Floats, loose: Codes) -> Callable[[Floats], Floats]:
    """Solver for the loose cells, in the running sum of their hazards, in which the matrix is sparse.

    A failure then ties no more than the two ends of its interval.
    """
    n = loose.size
    if not n:
        return lambda right: right
    place = np.arange(n)
    before = np.searchsorted(loose, np.arange(cells.c.size + 1))
    first = before[cells.first[loose]]
    near = np.concatenate([before[cells.lo], place]) - 1
    far = np.concatenate([before[cells.hi], place + 1]) - 1
    value = np.concatenate([bend, pull[loose]])
    held = far > near
    near, far, value = near[held], far[held], value[held]
    tied = near >= first[far]
    low, high, inner = near[tied], far[tied], value[tied]
    rows, columns = np.concatenate([far, low, high, low]), np.concatenate([far, low, low, high])
    entries = np.concatenate([value * _FIRMER, inner * _FIRMER, -inner, -inner])
    matrix = csc_matrix((entries, (rows, columns)), shape=(n, n))
    factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    is_last = np.append(first[1:] == place[1:], True)

    def solve(right: Floats) -> Floats:
        total = factors.solve(right - np.where(is_last, 0.0, np.append(right[1:], 0.0)))
        hazards: Floats = total - np.where(first == place, 0.0, np.concatenate([[0.0], total[:-1]]))
        return hazards

    return solve
