"""Cells of mileage and the failures that may lie in them, in blocks: likelihood, slope and what is left to gain.

With x the hazard of each cell, the log-likelihood is a sum over failures of w log(1 - exp(-sum of x over the cells
lo..hi - 1)) less a sum over cells of c x, c being the lives known to have run through the cell. It is concave in x,
late entry or not (in the masses it is not), so a point without an uphill direction is the maximum.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, weighed
from longmile.pipelines.estimators.nonparametric import running


@dataclass(frozen=True)
class Cells:
    """Cells and the failures that may lie in them, block by block.

    c: lives known to have run through each cell.   lo, hi, w: a failure, w times, in one of the cells lo..hi - 1.
    start: cells of block b are start[b]:start[b + 1]; no failure reaches from one block into another.
    """

    c: Floats
    lo: Codes
    hi: Codes
    w: Floats
    start: Codes

    @cached_property
    def block(self) -> Codes:
        """Block of each cell."""
        return np.repeat(np.arange(self.start.size - 1), np.diff(self.start))

    @cached_property
    def first(self) -> Codes:
        """First cell of the block of each cell."""
        return self.start[self.block]

    @cached_property
    def failures(self) -> Floats:
        """Number of failures of each block."""
        return weighed(self.block[self.lo], self.w, self.start.size - 1)

    def summed(self, values: Floats) -> Floats:
        """Sum over the cells of each block."""
        return np.add.reduceat(values, self.start[:-1])

    def over(self, x: Floats) -> Floats:
        """Sum of x over the cells of each failure."""
        total = running(x, self.first, np.add)
        before = np.where(self.lo > self.first[self.lo], total[self.lo - 1], 0.0)
        return np.where(self.hi - self.lo == 1, x[self.lo], total[self.hi - 1] - before)

    def covering(self, q: Floats) -> Floats:
        """Sum of q over the failures that may lie in each cell."""
        begun = weighed(self.lo, q, self.c.size)
        ended = weighed(self.hi, q, self.c.size + 1)[:-1]
        # What ends at the end of a block must not reach into the next one.
        ended[self.start[:-1]] = 0.0
        return running(begun - ended, self.first, np.add)

    def slope(self, x: Floats) -> Floats:
        """Slope of minus the log-likelihood in the hazard of each cell."""
        u = self.over(x)
        return self.c - self.covering(self.w * np.exp(-u) / -np.expm1(-u))

    def minus_log_likelihood(self, x: Floats) -> Floats:
        """Minus the log-likelihood of each block."""
        chance = -np.expm1(-self.over(x))
        found = weighed(self.block[self.lo], self.w * np.log(chance), self.start.size - 1)
        return self.summed(self.c * x) - found

    def gap(self, x: Floats) -> Floats:
        """Per block, the steepest way up there still is, per failure: more hazard in a cell, or none of it."""
        slope = self.slope(x)
        steepest = np.maximum.reduceat(np.maximum(-slope, slope * x), self.start[:-1])
        gap: Floats = steepest / self.failures
        return gap

    def take(self, kept: Flags) -> tuple[Cells, Flags]:
        """The kept blocks alone, and which cells those are."""
        of_cell = kept[self.block]
        place = np.append(np.cumsum(of_cell) - of_cell, of_cell.sum())
        event = of_cell[self.lo]
        size = np.diff(self.start)[kept]
        lo = place[self.lo[event]]
        made = Cells(
            c=self.c[of_cell],
            lo=lo,
            hi=lo + (self.hi - self.lo)[event],
            w=self.w[event],
            start=np.concatenate([[0], np.cumsum(size)]),
        )
        return made, of_cell


def block_starts(n: int, lo: Codes, hi: Codes) -> Codes:
    """First cell of every block, and n: cells j and j + 1 are of one block where a failure may lie in both."""
    joins = np.bincount(lo, minlength=n + 1) - np.bincount(hi - 1, minlength=n + 1)
    joined = np.cumsum(joins)[: max(n - 1, 0)] > 0
    inner = np.flatnonzero(~joined) + 1
    return np.concatenate([[0], inner, [n]] if n else [[0]]).astype(np.int64)
