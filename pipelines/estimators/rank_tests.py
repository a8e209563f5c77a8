"""Log-rank tests: do groups fail at different rates, mileage for mileage? Many comparisons at once."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.comparison_rows import (
    ComparisonRows,
    GroupTest,
    chi_square_test,
    comparison_rows,
)
from longmile.pipelines.estimators.life_codes import groups_of
from longmile.pipelines.estimators.lives import Floats, Lives, SharedExposure


def log_rank(
    data: Lives,
    group: npt.ArrayLike,
    block: npt.ArrayLike | None = None,
    n_groups: int | None = None,
    shared: SharedExposure | None = None,
    start: npt.ArrayLike | None = None,
) -> GroupTest:
    """Log-rank test of equal hazards of the groups in every comparison, with late entry, ties and weights.

    data: the stratum is the comparison (a component, say).   group: shape (lives,), codes 0..n_groups-1 (this family,
    the others).   block: shape (lives,), codes from 0; lives are compared within their block only and the sums are
    added (stratified log-rank).   shared: its strata are the cells (comparison x n_blocks + block) x n_groups +
    group, n_blocks one more than the largest block code.   start: failures at or below this mileage count for nothing.
    Lives are taken for independent; several sockets of one vehicle make p too small.
    Raises LivesError on codes that do not fit, or if more of a group fail at a mileage than are at risk.
    Source: Mantel 1966, Cancer Chemother. Rep. 50:163-170; Peto & Peto 1972, J. R. Stat. Soc. A 135:185-207;
    hypergeometric variance with ties and several groups: Kalbfleisch & Prentice 1980, section 1.4.
    """
    groups = groups_of(data, group, block, n_groups)
    rows = comparison_rows(data, groups, (data.event,), shared, start)
    events, at_risk = rows.events[0], rows.at_risk
    failed, watched = events.sum(axis=1), at_risk.sum(axis=1)
    share = at_risk / watched[:, None]
    expected = rows.total(failed[:, None] * share)
    variance = _hypergeometric(rows, share, failed, watched)
    return chi_square_test(rows, rows.total(events), expected, variance, np.zeros(data.n_strata))


def _hypergeometric(rows: ComparisonRows, share: Floats, failed: Floats, watched: Floats) -> Floats:
    """Variance of the failures of each group given how many failed, shape (n_comparisons, n_groups, n_groups)."""
    several = watched > 1
    weight = np.where(several, failed * (watched - failed) / np.where(several, watched - 1, 1.0), 0.0)
    variance = -rows.products(share, weight)
    # The sums of a row are 0: from its other elements the diagonal keeps the digits of a group near all at risk.
    each = np.arange(share.shape[1])
    variance[:, each, each] = 0.0
    variance[:, each, each] = -variance.sum(axis=2)
    return variance
