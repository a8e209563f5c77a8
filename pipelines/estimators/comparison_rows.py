"""Who was at risk and who was struck in each group, mileage by mileage, for many comparisons of groups at once.

What the tests of groups share: the rows they sum over, and the chi-square their sums make. Knows no score.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
from scipy.special import chdtrc

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, Miles, SharedExposure, weighed
from longmile.pipelines.estimators.risk_set import risk_sets

FEWEST_EXPECTED = 5.0
"""Below so many expected failures in a group its chi-square is rough: `thin` (Cochran 1954, Biometrics 10:417-451)."""
_NOTHING = 1e-10  # share of the largest below which a direction of the variance counts as none


@dataclass(frozen=True)
class ComparisonRows:
    """One row per comparison, block and distinct mileage at which anything counted struck, in that order.

    at_risk: shape (rows, n_groups), just before t.   events: one such array for each kind of event asked.
    first: index of the first row of the same comparison and block, per row.
    """

    comparison: Codes
    first: Codes
    t: Miles
    at_risk: Floats
    events: tuple[Floats, ...]
    n_comparisons: int

    def total(self, values: Floats) -> Floats:
        """Sum of values, shape (rows, m), over the rows of each comparison, shape (n_comparisons, m)."""
        return np.stack([weighed(self.comparison, column, self.n_comparisons) for column in values.T], axis=1)

    def products(self, values: Floats, weight: Floats) -> Floats:
        """Sum of weight x values values' over the rows of each comparison, shape (n_comparisons, m, m)."""
        m = values.shape[1]
        made = np.zeros((self.n_comparisons, m, m))
        for i in range(m):
            lower = self.total((weight * values[:, i])[:, None] * values[:, : i + 1])
            made[:, i, : i + 1], made[:, : i + 1, i] = lower, lower
        return made


@dataclass(frozen=True)
class GroupTest:
    """Tests of many comparisons, one element (or row) each; column g is group g.

    observed, expected: failures, shape (n_comparisons, n_groups).   variance: of observed - expected, shape
    (n_comparisons, n_groups, n_groups).   degrees_of_freedom: groups that can be told apart, less one.
    status: `ok`; `thin` where a group that is compared expects fewer than `FEWEST_EXPECTED` failures or some were
    left out; `no_failures`; `too_few_at_risk` where no two groups were ever at risk together at a failure. chi_square
    and p are NaN for the last two.   left_out: failures not counted, because the test cannot say anything about them.
    """

    observed: Floats
    expected: Floats
    variance: Floats
    chi_square: Floats
    degrees_of_freedom: Codes
    p: Floats
    left_out: Floats
    status: npt.NDArray[np.str_]


def comparison_rows(
    data: Lives,
    groups: tuple[Codes, Codes, int],
    kinds: tuple[Flags, ...],
    shared: SharedExposure | None,
    start: npt.ArrayLike | None,
) -> ComparisonRows:
    """Rows of lives whose stratum is the comparison; groups: from `groups_of`.

    kinds: one flag per life for each kind of event.   start: miles, one for all comparisons or one each; what
    struck at or below it has no row.
    Raises LivesError if more of a group fail at a mileage than are at risk.
    """
    group, block, n_groups = groups
    n_blocks = int(block.max(initial=0)) + 1
    sheet = data.stratum * n_blocks + block
    cells = replace(data, stratum=sheet * n_groups + group, n_strata=data.n_strata * n_blocks * n_groups)
    sets = risk_sets(cells, shared)
    counted = np.logical_or.reduce(kinds) & (data.weight > 0) & (data.exit_ > _starts(start, data)[data.stratum])
    struck = np.flatnonzero(counted)
    stride = sets.marks.size + 1
    keys, row = np.unique(sheet[struck] * stride + np.searchsorted(sets.marks, data.exit_[struck]), return_inverse=True)
    of_row: Codes = np.asarray(keys // stride, np.int64)
    t = sets.marks[keys % stride]
    at_risk = sets.at_risk(of_row[:, None] * n_groups + np.arange(n_groups), t[:, None])
    cell = row.astype(np.int64) * n_groups + group[struck]
    events = tuple(weighed(cell, (data.weight * kind)[struck], at_risk.size).reshape(at_risk.shape) for kind in kinds)
    at_risk = _settled(at_risk, np.sum(events, axis=0))
    first = np.searchsorted(of_row, of_row)
    return ComparisonRows(of_row // n_blocks, first, t, at_risk, events, data.n_strata)


def chi_square_test(
    rows: ComparisonRows, observed: Floats, expected: Floats, variance: Floats, left_out: Floats
) -> GroupTest:
    """Chi-square of observed - expected in every comparison, over the directions in which the variance says anything.

    The variance is scaled to ones on its diagonal and taken apart by eigenvectors, so that a group that was never
    at risk, or never together with another, drops out and takes its degree of freedom along.
    """
    size = np.sqrt(np.maximum(np.diagonal(variance, axis1=1, axis2=2), 0.0))
    scale = np.where(size > 0, 1 / np.where(size > 0, size, 1.0), 0.0)
    value, vector = np.linalg.eigh(variance * scale[:, :, None] * scale[:, None, :])
    kept = value > _NOTHING * np.maximum(value[:, -1:], 1e-300)
    along = np.einsum("cg,cgk->ck", (observed - expected) * scale, vector)
    chi_square = np.where(kept, along**2 / np.where(kept, value, 1.0), 0.0).sum(axis=1)
    freedom = kept.sum(axis=1)
    failures = rows.total(np.stack([rows.events[0].sum(axis=1)], axis=1))[:, 0]
    status = np.where(freedom > 0, "ok", np.where(failures > 0, "too_few_at_risk", "no_failures")).astype("<U32")
    thin = ((size > 0) & (expected < FEWEST_EXPECTED)).any(axis=1) | (left_out > 0)
    status[(status == "ok") & thin] = "thin"
    known = freedom > 0
    return GroupTest(
        observed=observed,
        expected=expected,
        variance=variance,
        chi_square=np.where(known, chi_square, np.nan),
        degrees_of_freedom=freedom,
        p=np.where(known, chdtrc(np.maximum(freedom, 1), chi_square), np.nan),
        left_out=left_out,
        status=status,
    )


def _starts(start: npt.ArrayLike | None, data: Lives) -> Miles:
    starts = np.broadcast_to(np.asarray(0.0 if start is None else start, np.float64), (data.n_strata,))
    wrong = ~(starts >= 0) | ~np.isfinite(starts)
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"comparison of groups: {int(wrong.sum()):,} of {starts.size:,} starts cannot be (first: comparison {at}, "
            f"{starts[at]:,} miles). Expected 0 or more for each."
        )
    return starts


def _settled(at_risk: Floats, events: Floats) -> Floats:
    """Numbers at risk, 0 where only the rounding of fractional weights is left; refused where events exceed them."""
    short = at_risk < events * (1 - 1e-9)
    if short.any():
        at = tuple(int(i) for i in np.argwhere(short)[0])
        raise LivesError(
            f"comparison of groups: {int(short.sum()):,} times more of a group fail at a mileage than are at risk "
            f"(first: {events[at]:,} of {at_risk[at]:,} of group {at[1]}). "
            "Expected censored lives of negative weight to take out no more than is shared."
        )
    some = at_risk > 1e-9 * at_risk.sum(axis=1, keepdims=True)
    return np.where(some | (events > 0), at_risk, 0.0)
