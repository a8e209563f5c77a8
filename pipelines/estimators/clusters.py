"""Sums over clusters of squared contributions: the middle of a sandwich variance. Knows no estimator.

Lives of one cluster (a vehicle) may depend on each other, so their contributions are added before they are
squared. Windows of a `SharedExposure` stay shared: a cluster without lives of its own adds the square of its
window's contribution, one with lives of its own adds what the two together make.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure, weighed

OfWindows = Callable[[Codes, Codes], Floats]
"""(stratum, window), both of shape (pairs,) -> contribution of one copy of weight 1, shape (pairs, m)."""

_CHUNK = 1 << 18  # (stratum, window) pairs evaluated at once: bounds memory, not results


def cluster_products(
    data: Lives, shared: SharedExposure | None, own: Floats, of_windows: OfWindows, rows: Codes | None = None
) -> Floats:
    """Sum over the clusters of a stratum of u u', u being all that the cluster contributes; (n_strata, m, m).

    own: contributions of the lives, weights counted, shape (lives, m).   rows: the strata asked for; the others
    are 0 (default: all).
    Source: Huber 1967; for clusters Liang & Zeger 1986, Biometrika 73:13-22; Lin & Wei 1989, J. Am. Stat.
    Assoc. 84:1074-1078.
    """
    asked = np.zeros(data.n_strata, np.bool_)
    asked[np.arange(data.n_strata) if rows is None else rows] = True
    stratum, cluster, total = by_cluster(data, own, asked[data.stratum])
    products = np.zeros((data.n_strata, own.shape[1], own.shape[1]))
    _add_products(products, stratum, total, total)
    if shared is not None and shared.group.size:
        _add_windows(products, shared, of_windows, np.flatnonzero(asked))
        _add_crossed(products, shared, of_windows, (stratum, cluster, total))
    return products


def n_clusters_failed(data: Lives) -> Floats:
    """Number of clusters with a failure per stratum: what a cluster variance can rest on."""
    failed = data.event & (data.weight > 0)
    keys = np.unique(np.stack([data.stratum[failed], data.cluster[failed]]), axis=1)
    return np.bincount(keys[0], minlength=data.n_strata).astype(np.float64)


def by_cluster(data: Lives, own: Floats, kept: np.ndarray) -> tuple[Codes, Codes, Floats]:
    """Stratum, cluster and summed contribution of each cluster's own lives."""
    stride = int(data.cluster.max(initial=0)) + 1
    keys, inverse = np.unique(data.stratum[kept] * stride + data.cluster[kept], return_inverse=True)
    total = np.stack([weighed(inverse, column, keys.size) for column in own[kept].T], axis=1)
    stratum, cluster = np.divmod(keys, stride)
    return stratum, cluster, total


def _add_products(products: Floats, stratum: Codes, left: Floats, right: Floats) -> None:
    m = left.shape[1]
    for i in range(m):
        for j in range(m):
            products[:, i, j] += weighed(stratum, left[:, i] * right[:, j], products.shape[0])


def _add_windows(products: Floats, shared: SharedExposure, of_windows: OfWindows, rows: Codes) -> None:
    """Squares of the windows as if no cluster had lives of its own."""
    order = np.argsort(shared.group, kind="stable")
    start = np.searchsorted(shared.group[order], np.arange(int(shared.group.max()) + 2))
    group = shared.stratum_group[rows]
    held = (group >= 0) & (group < start.size - 1) & (shared.multiplicity[rows] > 0)
    rows, group = rows[held], group[held]
    size = start[group + 1] - start[group]
    ends = np.cumsum(size)
    for low in range(0, int(ends[-1]) if ends.size else 0, _CHUNK):
        pair = np.arange(low, min(low + _CHUNK, int(ends[-1])))
        at = np.searchsorted(ends, pair, side="right")
        window = order[start[group[at]] + pair - (ends[at] - size[at])]
        u = _weighed_windows(shared, of_windows, rows[at], window)
        _add_products(products, rows[at], u, u)


def _add_crossed(
    products: Floats, shared: SharedExposure, of_windows: OfWindows, owned: tuple[Codes, Codes, Floats]
) -> None:
    """What a cluster's own lives and its window make together, beyond their two squares."""
    stratum, cluster, total = owned
    stride = max(int(shared.cluster.max(initial=0)), int(cluster.max(initial=0))) + 1
    named = np.flatnonzero(shared.cluster >= 0)
    keys = shared.group[named] * stride + shared.cluster[named]
    order = np.argsort(keys)
    wanted = shared.stratum_group[stratum] * stride + cluster
    place = np.minimum(np.searchsorted(keys[order], wanted), max(order.size - 1, 0))
    if not order.size:
        return
    found = np.flatnonzero((keys[order][place] == wanted) & (shared.stratum_group[stratum] >= 0))
    window = named[order[place[found]]]
    u = _weighed_windows(shared, of_windows, stratum[found], window)
    _add_products(products, stratum[found], total[found], u)
    _add_products(products, stratum[found], u, total[found])


def _weighed_windows(shared: SharedExposure, of_windows: OfWindows, stratum: Codes, window: Codes) -> Floats:
    copies = shared.multiplicity[stratum] * shared.weight[window]
    return copies[:, None] * of_windows(stratum, window)
