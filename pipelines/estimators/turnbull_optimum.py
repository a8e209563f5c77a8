"""The hazards of most likelihood over cells of mileage, in closed form where there is one and searched for elsewhere.

Cells that no failure ties to others have the hazard of Kaplan and Meier; the rest fall into blocks.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, weighed
from longmile.pipelines.estimators.turnbull_blocks import Cells, block_starts
from longmile.pipelines.estimators.turnbull_search import most_likely


@dataclass(frozen=True)
class Optimum:
    """The maximum, block by block.

    x: hazard of each cell, infinite in the last cells of all that were at risk.   start: cells of block b are
    start[b]:start[b + 1].   log_likelihood, gap: per block; gap is the steepest way up there still is, per failure.
    """

    x: Floats
    start: Codes
    log_likelihood: Floats
    gap: Floats


def optimum(c: Floats, lo: Codes, hi: Codes, w: Floats) -> Optimum:
    """The hazards of most likelihood.

    c, lo, hi, w: as in `Cells`, no block marked; every failure has a cell.
    """
    last, fails_for_sure = _last_cells(c, lo, hi)
    lo, hi, w = lo[~fails_for_sure], hi[~fails_for_sure], w[~fails_for_sure]
    cells = Cells(c, lo, hi, w, block_starts(c.size, lo, hi))
    x = np.log1p(weighed(lo, w, c.size) / np.where(c > 0, c, np.inf))
    x[last] = np.inf
    tied, of_cell = cells.take(np.diff(cells.start) > 1)
    if of_cell.any():
        x[of_cell] = most_likely(tied)
    n_blocks = cells.start.size - 1
    log_likelihood, gap = np.zeros(n_blocks), np.zeros(n_blocks)
    failing = cells.failures > 0
    part, of_cell = cells.take(failing)
    if of_cell.any():
        log_likelihood[failing] = -part.minus_log_likelihood(x[of_cell])
        gap[failing] = part.gap(x[of_cell])
    return Optimum(x, cells.start, log_likelihood, gap)


def _last_cells(c: Floats, lo: Codes, hi: Codes) -> tuple[Codes, Flags]:
    """Cells in which all that are at risk must fail, and the failures that this makes certain.

    Nobody is known to have run through such a cell, so all hazard put there is free. Where a failure has several of
    them one is enough, and the furthest is taken that serves, so that a curve is not brought down before it must be.
    """
    zero = np.maximum.accumulate(np.where(c == 0, np.arange(c.size), -1))
    furthest = zero[hi - 1]
    sure = furthest >= lo
    start = block_starts(c.size, lo, hi)
    block = np.repeat(np.arange(start.size - 1), np.diff(start))
    open_, found = np.flatnonzero(sure), [np.zeros(0, np.int64)]
    while open_.size:
        next_ = np.full(start.size - 1, c.size)
        np.minimum.at(next_, block[lo[open_]], furthest[open_])
        found.append(next_[next_ < c.size])
        open_ = open_[lo[open_] > next_[block[lo[open_]]]]
    return np.concatenate(found), sure
