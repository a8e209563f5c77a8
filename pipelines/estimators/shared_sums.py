"""Weibull hazard summed over shared windows, for strata that hold them without a copy."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats, SharedExposure
from longmile.pipelines.estimators.stretch import log_width

_WIDTH = 128  # windows in one block
_CHUNK = 1 << 17  # windows x rows evaluated at once; small enough to stay in a processor's cache


@dataclass(frozen=True)
class SharedSums:
    """Windows of each group in blocks of equal width; made by `shared_sums()`.

    far: shape (blocks, width), log(exit / largest of the group), never above 0.   width: log(exit / entry).
    weight: of each window, 0 in padding.
    first_block, n_blocks: per stratum.   shift: log(largest of its group / reference of the stratum).
    """

    far: Floats
    width: Floats
    weight: Floats
    first_block: Codes
    n_blocks: Codes
    shift: Floats
    multiplicity: Floats

    def evaluate(self, rows: Codes, c: Floats, k: Floats) -> Floats:
        """Hazard over the windows of each row's stratum with two derivatives in b, shape (3, rows)."""
        size = self.n_blocks[rows]
        owner = np.repeat(np.arange(rows.size), size)
        block = np.arange(owner.size) + np.repeat(self.first_block[rows] - (np.cumsum(size) - size), size)
        moments = np.zeros((3, rows.size))
        step = max(_CHUNK // _WIDTH, 1)
        for low in range(0, owner.size, step):
            part = slice(low, low + step)
            sums = self._block_sums(block[part], k[owner[part]])
            for moment in range(3):
                moments[moment] += np.bincount(owner[part], weights=sums[moment], minlength=rows.size)
        return self._recentred(moments, rows, c, k)

    def _block_sums(self, block: Codes, k: Floats) -> tuple[Floats, Floats, Floats]:
        """Sums of y, y log, y log^2 over each block; y = (mileage / largest)^k, exit less entry."""
        far, width = self.far[block], self.width[block]
        near = np.exp(k[:, None] * far)
        weight = self.weight[block]
        y = -near * np.expm1(-k[:, None] * width)
        near -= y
        y *= weight
        near *= width * weight
        zeroth, first = y.sum(axis=1), near.sum(axis=1)
        y *= far
        first += y.sum(axis=1)
        y *= far
        near *= 2 * far - width
        return zeroth, first, y.sum(axis=1) + near.sum(axis=1)

    def _recentred(self, moments: Floats, rows: Codes, c: Floats, k: Floats) -> Floats:
        """From powers of mileage / largest to hazards about the stratum's own reference: x = log + shift."""
        s0, s1, s2 = moments
        shift = self.shift[rows]
        held = self.multiplicity[rows] > 0
        with np.errstate(over="ignore", invalid="ignore"):
            height = np.where(held, self.multiplicity[rows] * np.exp(np.where(held, c + k * shift, 0.0)), 0.0)
            h_b = height * k * (s1 + shift * s0)
            return np.stack([height * s0, h_b, h_b + height * k**2 * (s2 + 2 * shift * s1 + shift**2 * s0)])


def shared_sums(shared: SharedExposure, log_ref: Floats) -> SharedSums:
    """Blocks of the shared windows for strata with the given log reference mileages."""
    n_groups = max(int(shared.group.max(initial=-1)), int(shared.stratum_group.max(initial=-1))) + 1
    largest = np.full(n_groups, -np.inf)
    np.maximum.at(largest, shared.group, shared.exit_)
    n_windows = np.bincount(shared.group, minlength=n_groups)
    n_blocks = -(-n_windows // _WIDTH)
    first = np.cumsum(n_blocks) - n_blocks
    order = np.argsort(shared.group, kind="stable")
    group = shared.group[order]
    place = np.arange(group.size) - np.repeat(np.cumsum(n_windows) - n_windows, n_windows)
    cell = first[group] * _WIDTH + place
    far, width, weight = (np.zeros(n_blocks.sum() * _WIDTH) for _ in range(3))
    far[cell] = np.log(shared.exit_[order] / largest[group])
    width[cell] = log_width(shared.entry[order], shared.exit_[order])
    weight[cell] = shared.weight[order]
    held = (shared.stratum_group >= 0) & (shared.multiplicity > 0)
    held &= np.append(n_windows, 0)[shared.stratum_group] > 0
    at = np.where(held, shared.stratum_group, -1)
    return SharedSums(
        far=far.reshape(-1, _WIDTH),
        width=width.reshape(-1, _WIDTH),
        weight=weight.reshape(-1, _WIDTH),
        first_block=np.append(first, 0)[at],
        n_blocks=np.where(held, np.append(n_blocks, 0)[at], 0),
        shift=np.where(held, np.log(np.append(largest, 1.0)[at]) - log_ref, 0.0),
        multiplicity=np.where(held, shared.multiplicity, 0.0),
    )
