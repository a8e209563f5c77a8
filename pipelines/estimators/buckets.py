"""Lives of a bucket of vehicles as sums that add up over buckets: identical lives merged, their weights added.

Whatever the estimators take from lives is a sum over them: failures, miles, numbers at risk at a mileage,
log-likelihoods. So a table of distinct lives with weights says all that the lives said, the tables of two buckets of
vehicles put together are the table of both, and answers from it are those of the whole. Estimates nothing.

Codes are those of the whole: a stratum, a group of windows and (where kept) a cluster has the same code in every
bucket. Where weights are whole numbers the merged table is the same to the last digit however the vehicles were
divided; else sums of weights may differ in the last digit.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure


def collapse(data: Lives, *, keep_clusters: bool = False) -> Lives:
    """The same lives, identical ones merged into one that weighs as much as they did; sorted by all that they are.

    Lives that add and lives that take out (negative weight) stay apart, so that what was watched stays known.
    keep_clusters: lives of different clusters stay apart too. Otherwise all lives come out in cluster 0: errors by
    cluster then lack clusters and say so, as they must, since lives of many vehicles are merged.
    """
    left = np.where(np.isnan(data.left), -1.0, data.left)  # no mileage is below 0
    keys = [data.stratum, data.entry, data.exit_, data.event, left, np.sign(data.weight)]
    first, weight = _summed([*keys, data.cluster] if keep_clusters else keys, data.weight)
    return Lives(
        entry=data.entry[first],
        exit_=data.exit_[first],
        event=data.event[first],
        stratum=data.stratum[first],
        n_strata=data.n_strata,
        weight=weight,
        left=data.left[first],
        cluster=data.cluster[first] if keep_clusters else np.zeros(first.size, np.int64),
    )


def collapse_windows(shared: SharedExposure, *, keep_clusters: bool = False) -> SharedExposure:
    """The same shared windows, identical ones of a group merged; sorted.

    keep_clusters: nothing is merged, since a cluster has one window in a group and -1 is a cluster of its own.
    Otherwise every window comes out as -1, one that stands for several vehicles too: errors by cluster mean nothing
    then.
    """
    keys = [shared.group, shared.entry, shared.exit_]
    if keep_clusters:
        keys += [shared.cluster, np.where(shared.cluster < 0, np.arange(shared.group.size), -1)]
    first, weight = _summed(keys, shared.weight)
    return SharedExposure(
        group=shared.group[first],
        entry=shared.entry[first],
        exit_=shared.exit_[first],
        stratum_group=shared.stratum_group,
        multiplicity=shared.multiplicity,
        weight=weight,
        cluster=shared.cluster[first] if keep_clusters else np.full(first.size, -1, np.int64),
    )


def merge(parts: Sequence[Lives], *, keep_clusters: bool = False) -> Lives:
    """Lives of all buckets in one table, collapsed.

    Raises LivesError if there is no bucket, if they do not have the same strata, or, where clusters are kept, if a
    cluster is in two of them: a vehicle is in one bucket, so its code was given twice.
    """
    _check_some(parts)
    sizes = sorted({part.n_strata for part in parts})
    if len(sizes) > 1:
        raise LivesError(f"buckets: {len(parts)} of them have {sizes} strata. Expected those of the whole in each.")
    if keep_clusters:
        _check_apart([part.cluster for part in parts])
    columns = {
        name: np.concatenate([getattr(part, name) for part in parts])
        for name in ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
    }
    return collapse(Lives(n_strata=sizes[0], **columns), keep_clusters=keep_clusters)


def merge_windows(parts: Sequence[SharedExposure], *, keep_clusters: bool = False) -> SharedExposure:
    """Shared windows of all buckets, collapsed.

    Raises LivesError if there is no bucket, if strata do not hold the same groups as often in each, or, where clusters
    are kept, if a cluster is in two of them.
    """
    _check_some(parts)
    first = parts[0]
    for number, part in enumerate(parts):
        same = np.array_equal(part.stratum_group, first.stratum_group)
        if not (same and np.array_equal(part.multiplicity, first.multiplicity)):
            raise LivesError(
                f"buckets: in bucket {number + 1} of {len(parts)} strata hold other groups of windows, or hold them "
                "more or less often, than in the first. Expected the groups and multiplicities of the whole in each."
            )
    if keep_clusters:
        _check_apart([part.cluster[part.cluster >= 0] for part in parts])
    columns = {
        name: np.concatenate([getattr(part, name) for part in parts])
        for name in ("group", "entry", "exit_", "weight", "cluster")
    }
    whole = SharedExposure(stratum_group=first.stratum_group, multiplicity=first.multiplicity, **columns)
    return collapse_windows(whole, keep_clusters=keep_clusters)


def _summed(keys: Sequence[npt.NDArray[np.generic]], weight: Floats) -> tuple[Codes, Floats]:
    """Place of the first row of each distinct key, keys rising, and the summed weight of its rows."""
    order = np.lexsort(keys[::-1])
    if not order.size:
        return order, np.zeros(0)
    is_new = np.ones(order.size, np.bool_)
    is_new[1:] = np.any([key[order[1:]] != key[order[:-1]] for key in keys], axis=0)
    start = np.flatnonzero(is_new)
    return order[start], np.add.reduceat(weight[order], start)


def _check_some(parts: Sequence[object]) -> None:
    if not parts:
        raise LivesError("buckets: none was given. Expected one at least; one without vehicles will do.")


def _check_apart(clusters: Sequence[Codes]) -> None:
    codes, n_parts = np.unique(np.concatenate([np.unique(part) for part in clusters]), return_counts=True)
    twice = codes[n_parts > 1]
    if twice.size:
        raise LivesError(
            f"buckets: {twice.size:,} of {codes.size:,} clusters are in more than one bucket (first: {twice[0]}). "
            "Expected each vehicle in one bucket, under a code of its own among all of them."
        )
