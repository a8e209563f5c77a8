"""Covariates of a regression: made comparable within each stratum, and checked for columns that say the same.

What belongs here: the columns. No likelihood, no search.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives
from longmile.pipelines.estimators.row_blocks import RowBlocks, add_by_owner, row_blocks

_CONSTANT = 1e-20  # variance over mean square below which a column does not vary
_FOLLOWS = 1e-9  # share of a column's variance that the columns before it must leave over


@dataclass(frozen=True)
class Columns:
    """Covariates with each stratum's own centre and spread; made by `regression_columns()`.

    values: shape (lives, p), as given.   active: shape (n_strata, p), the columns a stratum uses.
    centre, spread: shape (n_strata, p), mean and standard deviation over the stratum's lives; 0 and 1 where a
    column is not active.   independent: active, and neither constant nor a sum of multiples of the active columns
    before it.
    """

    values: Floats
    active: Flags
    centre: Floats
    spread: Floats
    independent: Flags

    @property
    def p(self) -> int:
        """Number of columns."""
        return int(self.values.shape[1])

    @property
    def first_dependent(self) -> Codes:
        """Per stratum the first active column that follows from the others; -1 where there is none."""
        dependent = self.active & ~self.independent
        return np.where(dependent.any(axis=1), np.argmax(dependent, axis=1), -1) if self.p else self._none()

    def _none(self) -> Codes:
        return np.full(self.active.shape[0], -1, np.int64)

    def standardised(self, row: Codes, stratum: Codes) -> Floats:
        """Centred and scaled values of the rows, 0 where not active; a last axis of p is added to row's shape."""
        return (self.values[row] - self.centre[stratum]) * (self.active / self.spread)[stratum]


def regression_columns(data: Lives, covariates: npt.ArrayLike, active: npt.ArrayLike | None = None) -> Columns:
    """Checked columns of the lives.

    covariates: shape (lives, p), or (lives,) for one.   active: shape (n_strata, p); all where not given.
    Raises LivesError on other shapes, values that are not finite, or lives of negative weight.
    """
    values = _as_columns(data, covariates)
    used = np.ones((data.n_strata, values.shape[1]), np.bool_) if active is None else np.asarray(active, np.bool_)
    _check(data, values, used)
    blocks = row_blocks(data.stratum, data.n_strata, data.weight > 0)
    centre = _means(data, blocks, values)
    products = _products(data, blocks, values, centre)
    variance = np.einsum("sjj->sj", products)
    varies = used & (variance > _CONSTANT * (centre**2 + variance))
    spread = np.where(varies, np.sqrt(variance), 1.0)
    shared = products / (spread[:, :, None] * spread[:, None, :])
    return Columns(
        values=values,
        active=used,
        centre=np.where(used, centre, 0.0),
        spread=spread,
        independent=_independent(shared, varies),
    )


def _as_columns(data: Lives, covariates: npt.ArrayLike) -> Floats:
    values = np.asarray(covariates, np.float64)
    values = values[:, None] if values.ndim == 1 else values
    if values.ndim != 2 or values.shape[0] != data.entry.size:
        raise LivesError(
            f"covariates: shape {values.shape} for {data.entry.size:,} lives. Expected one row of columns per life."
        )
    return values


def _check(data: Lives, values: Floats, active: Flags) -> None:
    if active.shape != (data.n_strata, values.shape[1]):
        raise LivesError(
            f"covariates: the active columns have shape {active.shape}. "
            f"Expected {(data.n_strata, values.shape[1])}: one row per stratum, one flag per column."
        )
    broken = ~np.isfinite(values).all(axis=1)
    if broken.any():
        raise LivesError(
            f"covariates: {int(broken.sum()):,} of {broken.size:,} lives have a value that is not finite (first: "
            f"number {int(np.argmax(broken)) + 1}). Expected numbers; give what is not known a level of its own."
        )
    negative = data.weight < 0
    if negative.any():
        raise LivesError(
            f"lives: {int(negative.sum()):,} of {negative.size:,} weigh less than nothing. A regression takes lives "
            "written out, with weights of 0 or more."
        )


def _means(data: Lives, blocks: RowBlocks, values: Floats) -> Floats:
    """Weighted mean of each column in each stratum."""
    total = np.zeros((data.n_strata, values.shape[1] + 1))
    for owner, block in blocks.chunks(np.arange(data.n_strata)):
        weight = np.where(blocks.is_row[block], data.weight[blocks.row[block]], 0.0)
        taken = values[blocks.row[block]]
        add_by_owner(total[:, :-1], owner, (weight[:, None, :] @ taken)[:, 0])
        add_by_owner(total[:, -1], owner, weight.sum(axis=1))
    return total[:, :-1] / np.where(total[:, -1] > 0, total[:, -1], 1.0)[:, None]


def _products(data: Lives, blocks: RowBlocks, values: Floats, centre: Floats) -> Floats:
    """Weighted covariances of the columns in each stratum, shape (n_strata, p, p)."""
    p = values.shape[1]
    total, size = np.zeros((data.n_strata, p, p)), np.zeros(data.n_strata)
    for owner, block in blocks.chunks(np.arange(data.n_strata)):
        weight = np.where(blocks.is_row[block], data.weight[blocks.row[block]], 0.0)
        apart = values[blocks.row[block]] - centre[owner][:, None, :]
        add_by_owner(total, owner, (apart * weight[..., None]).transpose(0, 2, 1) @ apart)
        add_by_owner(size, owner, weight.sum(axis=1))
    return total / np.where(size > 0, size, 1.0)[:, None, None]


def _independent(correlation: Floats, varies: Flags) -> Flags:
    """True for columns that the ones before them do not already make up: elimination column by column."""
    left = correlation.copy()
    independent = np.zeros_like(varies)
    for j in range(varies.shape[1]):
        pivot = left[:, j, j]
        independent[:, j] = varies[:, j] & (pivot > _FOLLOWS)
        share = np.where(independent[:, j, None], left[:, :, j] / np.where(pivot > 0, pivot, 1.0)[:, None], 0.0)
        left = left - share[:, :, None] * left[:, None, j, :]
    return independent
