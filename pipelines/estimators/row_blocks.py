"""Rows of many strata in blocks of equal height, each of one stratum: their products become matrix products.

Knows rows and strata, no likelihood.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats

_HEIGHT = 128  # rows in one block
_CHUNK = 1 << 15  # rows taken at once: bounds memory, and stays near a processor's cache


@dataclass(frozen=True)
class RowBlocks:
    """Blocks of rows; those of stratum s are start[s]:start[s + 1]. Made by `row_blocks()`.

    row: shape (blocks, height); a block's padding repeats its first row.   is_row: False in padding.
    """

    row: Codes
    is_row: Flags
    start: Codes

    def chunks(self, strata: Codes) -> Iterator[tuple[Codes, Codes]]:
        """(owner, block) of all blocks of the asked strata, a bounded number at a time; owner: place in strata."""
        size = self.start[strata + 1] - self.start[strata]
        owner = np.repeat(np.arange(strata.size), size)
        block = np.arange(owner.size) + np.repeat(self.start[strata] - (np.cumsum(size) - size), size)
        step = _CHUNK // _HEIGHT
        for low, high in pairwise([*range(0, owner.size, step), owner.size]):
            yield owner[low:high], block[low:high]


def row_blocks(stratum: Codes, n_strata: int, kept: Flags) -> RowBlocks:
    """Blocks of the kept rows."""
    row = np.flatnonzero(kept)
    row = row[np.argsort(stratum[row], kind="stable")]
    n_rows = np.bincount(stratum[row], minlength=n_strata)
    n_blocks = -(-n_rows // _HEIGHT)
    first = np.cumsum(n_blocks) - n_blocks
    place = np.arange(row.size) - np.repeat(np.cumsum(n_rows) - n_rows, n_rows)
    cell = np.repeat(first, n_rows) * _HEIGHT + place
    laid = np.full(int(n_blocks.sum()) * _HEIGHT, -1, np.int64)
    laid[cell] = row
    blocks = laid.reshape(-1, _HEIGHT)
    return RowBlocks(
        row=np.where(blocks >= 0, blocks, blocks[:, :1]),
        is_row=blocks >= 0,
        start=np.append(first, n_blocks.sum()).astype(np.int64),
    )


def add_by_owner(total: Floats, owner: Codes, values: Floats) -> None:
    """Adds values, one per block, to total[owner]; owner must not fall."""
    if owner.size:
        first = np.flatnonzero(np.diff(owner, prepend=-1))
        total[owner[first]] += np.add.reduceat(values, first, axis=0)


def sums_of_products(stratum: Codes, n_strata: int, values: Floats, weight: Floats) -> Floats:
    """Sum of weight x v v' over the rows v of each stratum, shape (n_strata, p, p)."""
    blocks = row_blocks(stratum, n_strata, weight != 0)
    total = np.zeros((n_strata, values.shape[1], values.shape[1]))
    for owner, block in blocks.chunks(np.arange(n_strata)):
        row = blocks.row[block]
        taken = values[row]
        weighted = taken * np.where(blocks.is_row[block], weight[row], 0.0)[..., None]
        add_by_owner(total, owner, weighted.transpose(0, 2, 1) @ taken)
    return total
