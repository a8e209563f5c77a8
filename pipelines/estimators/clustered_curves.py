"""Survival and cumulative hazard at asked mileages with errors by vehicle: its lives may depend on each other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.curve_reading import row_finder, survival_at
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, Miles, SharedExposure, lives_at
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, running, survival_limits
from longmile.pipelines.estimators.stretch import ragged

_OfLife = Callable[[Codes, Miles, Miles, Miles, Flags], Floats]
"""(stratum, t, entry, exit_, failed by t), all of shape (lives,) -> contribution of one life, shape (lives, 2)."""

_FEWEST_CLUSTERS = 2.0  # one cluster with failures says nothing about how clusters differ
_CHUNK = 1 << 18  # (asked point, life) pairs evaluated at once: bounds memory, not results


@dataclass(frozen=True)
class ClusteredSurvival:
    """Curves read at asked mileages with errors by cluster, all of the asked shape.

    se, se_cumulative_hazard: by cluster; NaN below the age from which the curve speaks and where fewer than two
    clusters have failed by then, se also where survival is 0.   se_greenwood: as if lives were independent.
    lower, upper: from the larger of the two, by the transform of the curves.   n_clusters_failed: by then.
    """

    survival: Floats
    se: Floats
    lower: Floats
    upper: Floats
    cumulative_hazard: Floats
    se_cumulative_hazard: Floats
    se_greenwood: Floats
    n_clusters_failed: Floats


def clustered_survival(
    curves: SurvivalCurves,
    data: Lives,
    shared: SharedExposure | None,
    stratum: npt.ArrayLike,
    t: npt.ArrayLike,
) -> ClusteredSurvival:
    """Survival and cumulative hazard at asked mileages with errors and limits by cluster.

    data, shared: what the curves were made from.   stratum, t: broadcast against each other.

    The contribution of a life to log survival at t is minus [failed by t] / (Y - d at its exit), plus the sum of
    d / (Y (Y - d)) over the failure mileages it was at risk at up to t: the derivative of the estimate in the
    weight of the life, so without late entry and clusters the error is Greenwood's. For the cumulative hazard Y
    stands in both places of Y - d. Source: Jaeckel 1972 (infinitesimal jackknife); by cluster Lin & Wei 1989, J.
    Am. Stat. Assoc. 84:1074-1078.
    """
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    squares, n_failed = _curve_squares(curves, data, shared, cell.ravel(), asked.ravel())
    read = survival_at(curves, cell, asked)
    n_failed = n_failed.reshape(cell.shape)
    spread, spread_hazard = np.sqrt(squares).T.reshape(2, *cell.shape)
    known = (n_failed >= _FEWEST_CLUSTERS) & (read.cumulative_hazard > 0)
    se = np.where(known & (read.survival > 0), read.survival * spread, np.nan)
    lower, upper = survival_limits(read.survival, np.fmax(se, read.se), curves.confidence, curves.transform)
    return ClusteredSurvival(
        survival=read.survival,
        se=se,
        lower=lower,
        upper=upper,
        cumulative_hazard=read.cumulative_hazard,
        se_cumulative_hazard=np.where(known, spread_hazard, np.nan),
        se_greenwood=read.se,
        n_clusters_failed=n_failed,
    )


def thinned_limits(
    curves: SurvivalCurves, data: Lives, shared: SharedExposure | None, most: int = 24
) -> tuple[Floats, Floats]:
    """Limits by cluster for every row of the curves, the error by cluster made at `most` rows of a stratum.

    In between, the ratio of the two errors is taken to change evenly from one such row to the next: it changes
    slowly, and making it at every failure of a large stratum would cost as many times its lives.
    """
    if not curves.t.size:
        return curves.lower, curves.upper
    size = np.diff(curves.start)
    place = np.linspace(0.0, 1.0, most)[None, :] * np.maximum(size - 1, 0)[:, None]
    rows = np.unique((curves.start[:-1, None] + np.rint(place).astype(np.int64))[size > 0])
    read = clustered_survival(curves, data, shared, curves.stratum[rows], curves.t[rows])
    wider = np.where(np.isnan(read.se), 1.0, np.maximum(read.se / np.where(read.se > 0, read.se_greenwood, 1.0), 1.0))
    ratio = np.interp(np.arange(curves.t.size), rows, wider)
    return survival_limits(curves.survival, curves.se * ratio, curves.confidence, curves.transform)


def _curve_squares(
    curves: SurvivalCurves, data: Lives, shared: SharedExposure | None, cell: Codes, t: Miles
) -> tuple[Floats, Floats]:
    """Sums over clusters of squared contributions, shape (asked, 2), and the clusters that failed by t."""
    squares, n_failed = np.zeros((t.size, 2)), np.zeros(t.size)
    of_life = _contributions(curves)
    by_stratum = ragged(data.stratum, data.n_strata, np.arange(data.entry.size, dtype=np.float64))
    for part in by_stratum.chunks(cell, _CHUNK):
        point, at = cell[part], t[part]
        owner, (index,) = by_stratum.take(point)
        asked = _asked_lives(curves, data, point, at, owner, index.astype(np.int64))
        held, of_windows = _asked_windows(shared, of_life, point, at)
        own = asked.weight[:, None] * of_life(point[owner], at[owner], asked.entry, asked.exit_, asked.event)
        # A vehicle whose lives and window cancel leaves rounding behind, and that can lie below 0.
        squares[part] = np.maximum(cluster_products(asked, held, own, of_windows)[:, [0, 1], [0, 1]], 0.0)
        n_failed[part] = n_clusters_failed(asked)
    return squares, n_failed


def _asked_lives(curves: SurvivalCurves, data: Lives, cell: Codes, t: Miles, owner: Codes, index: Codes) -> Lives:
    """The lives of each asked point as a stratum of its own; an event is a failure the curve counts by then."""
    exit_ = data.exit_[index]
    counted = data.event[index] & (exit_ <= t[owner]) & (exit_ > curves.from_age[cell[owner]])
    return lives_at(data, index, owner, cell.size, counted)


def _asked_windows(
    shared: SharedExposure | None, of_life: _OfLife, cell: Codes, t: Miles
) -> tuple[SharedExposure | None, Callable[[Codes, Codes], Floats]]:
    """The shared windows held by each asked point, and what one contributes there."""

    def of_windows(point: Codes, window: Codes) -> Floats:
        if shared is None:
            return np.zeros((point.size, 2))
        sound = np.zeros(point.size, np.bool_)
        return of_life(cell[point], t[point], shared.entry[window], shared.exit_[window], sound)

    if shared is None:
        return None, of_windows
    held = replace(shared, stratum_group=shared.stratum_group[cell], multiplicity=shared.multiplicity[cell])
    return held, of_windows


def _contributions(curves: SurvivalCurves) -> _OfLife:
    """What lives add to minus log survival and to cumulative hazard at t, shape (lives, 2)."""
    finder = row_finder(curves)
    first = curves.start[curves.stratum]
    # Where nobody is left survival is 0 and has no error: whatever is put there is not read.
    survivors = np.where(curves.survival > 0, curves.at_risk - curves.events, np.inf)
    jump = np.stack([1 / survivors, 1 / curves.at_risk], axis=1)
    steps = (curves.events / curves.at_risk)[:, None] * jump
    total = np.stack([running(column, first, np.add) for column in steps.T], axis=1)

    def summed(cell: Codes, t: Miles) -> Floats:
        row = finder.last(cell, t)
        none = row < curves.start[cell]
        return np.where(none[:, None], 0.0, total[np.where(none, 0, row)]) if total.size else np.zeros((t.size, 2))

    def of_life(cell: Codes, t: Miles, entry: Miles, exit_: Miles, failed: Flags) -> Floats:
        made = summed(cell, np.minimum(entry, t)) - summed(cell, np.minimum(exit_, t))
        at = np.flatnonzero(failed)
        made[at] += jump[finder.last(cell[at], exit_[at])]
        return made

    return of_life
