"""Lives as arrays: what every estimator takes. What belongs here: the arrays, their checks, plain sums.

A life is the interval (entry, exit_], open on the left and closed on the right, in miles of the part's own
age. A stratum is one cell of the answer (component x engine family, say), coded 0..n_strata-1. No table is
known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError

Miles: TypeAlias = npt.NDArray[np.float64]
Floats: TypeAlias = npt.NDArray[np.float64]
Flags: TypeAlias = npt.NDArray[np.bool_]
Codes: TypeAlias = npt.NDArray[np.int64]


_COLUMNS = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")


@dataclass(frozen=True)
class Lives:
    """Lives of all strata, one element a life; build with `lives()`, which checks them.

    entry, exit_: miles, 0 <= entry < exit_.   event: True where the component failed.
    stratum: codes 0..n_strata-1.   weight: how many identical lives; a censored life may weigh less than
    nothing, which takes lives back out of a `SharedExposure`.   left: NaN where the failure was at exit_ (or
    there was none); otherwise the failure lies somewhere in (left, exit_], with entry <= left < exit_.
    cluster: codes from 0 of what is independent (a vehicle); lives of one cluster may depend on each other.
    """

    entry: Miles
    exit_: Miles
    event: Flags
    stratum: Codes
    n_strata: int
    weight: Floats
    left: Miles
    cluster: Codes


@dataclass(frozen=True)
class SharedExposure:
    """Censored windows that several strata hold without a copy each; build with `shared_exposure()`.

    Stratum s holds, besides its own lives, `multiplicity[s]` copies of each censored life (entry[i],
    exit_[i]] with group[i] == stratum_group[s], each weighing weight[i]; stratum_group -1 holds none. In a
    shop: one window per vehicle, a group per engine family, a stratum per component on that family,
    multiplicity = sockets per vehicle (or weight, where vehicles of one group have different numbers of them).
    Sockets that were touched enter as ordinary lives, with one censored life of weight -k over the same window
    that takes the k touched sockets out.
    cluster: the same codes as in `Lives`, at most one window of a cluster in a group; -1: a cluster of its own.
    """

    group: Codes
    entry: Miles
    exit_: Miles
    stratum_group: Codes
    multiplicity: Floats
    weight: Floats
    cluster: Codes


def lives(
    entry: npt.ArrayLike,
    exit_: npt.ArrayLike,
    event: npt.ArrayLike,
    stratum: npt.ArrayLike | None = None,
    weight: npt.ArrayLike | None = None,
    left: npt.ArrayLike | None = None,
    n_strata: int | None = None,
    cluster: npt.ArrayLike | None = None,
) -> Lives:
    """Checked `Lives`; one stratum, weight 1, failures at exit_ and a cluster a life where not given otherwise.

    Raises LivesError if lengths differ, a number is not finite, entry < 0, entry >= exit_, left is not in
    [entry, exit_), left is given without an event, an event weighs less than nothing, or a stratum code is
    out of range.
    """
    first = _floats(entry, "entry")
    n = first.size
    made = Lives(
        entry=first,
        exit_=_floats(exit_, "exit_"),
        event=np.atleast_1d(np.asarray(event)).astype(np.bool_),
        stratum=np.zeros(n, np.int64) if stratum is None else _codes(stratum, "stratum"),
        n_strata=0,
        weight=np.ones(n) if weight is None else _floats(weight, "weight"),
        left=np.full(n, np.nan) if left is None else _floats(left, "left"),
        cluster=np.arange(n) if cluster is None else _codes(cluster, "cluster"),
    )
    _check_lengths(made)
    _check_miles(made)
    _check_failures(made)
    return Lives(**{**vars(made), "n_strata": _n_strata(made.stratum, n_strata)})


def shared_exposure(
    group: npt.ArrayLike,
    entry: npt.ArrayLike,
    exit_: npt.ArrayLike,
    stratum_group: npt.ArrayLike,
    multiplicity: npt.ArrayLike,
    weight: npt.ArrayLike | None = None,
    cluster: npt.ArrayLike | None = None,
) -> SharedExposure:
    """Checked `SharedExposure`; weight 1 and a cluster a window where not given otherwise.

    Raises LivesError on unequal lengths, windows that cannot be, a group code, weight or multiplicity below 0,
    or two windows of one cluster in one group.
    """
    groups = _codes(group, "group")
    made = SharedExposure(
        group=groups,
        entry=_floats(entry, "entry"),
        exit_=_floats(exit_, "exit_"),
        stratum_group=_codes(stratum_group, "stratum_group"),
        multiplicity=_floats(multiplicity, "multiplicity"),
        weight=np.ones(groups.size) if weight is None else _floats(weight, "weight"),
        cluster=np.full(groups.size, -1, np.int64) if cluster is None else _codes(cluster, "cluster"),
    )
    if not made.group.size == made.entry.size == made.exit_.size == made.weight.size == made.cluster.size:
        raise LivesError(
            f"shared exposure: {made.group.size} groups, {made.entry.size} entries, {made.exit_.size} exits, "
            f"{made.weight.size} weights, {made.cluster.size} clusters. Expected one of each per window."
        )
    if made.stratum_group.size != made.multiplicity.size:
        raise LivesError(
            f"shared exposure: {made.stratum_group.size} strata have a group, "
            f"{made.multiplicity.size} a multiplicity. Expected one of each per stratum."
        )
    _refuse(~np.isfinite(made.entry) | ~np.isfinite(made.exit_), made.entry, made.exit_, "finite miles")
    _refuse((made.entry < 0) | (made.entry >= made.exit_), made.entry, made.exit_, "0 <= entry < exit")
    _refuse(made.group < 0, made.group, made.group, "group codes from 0")
    for values, name in ((made.multiplicity, "multiplicity"), (made.weight, "weight")):
        _refuse(~np.isfinite(values) | (values < 0), values, values, f"a {name} of 0 or more")
    _refuse(_is_repeated(made), made.group, made.cluster, "one window of a cluster in a group")
    return made


def _is_repeated(made: SharedExposure) -> Flags:
    """True for windows whose group already has one of their cluster."""
    named = made.cluster >= 0
    keys = made.group * (int(made.cluster.max(initial=0)) + 1) + made.cluster
    _, first = np.unique(keys[named], return_index=True)
    repeated = named.copy()
    repeated[np.flatnonzero(named)[first]] = False
    return repeated


def no_shared_exposure(n_strata: int) -> SharedExposure:
    """A `SharedExposure` that adds nothing to any of n_strata strata."""
    nothing = np.zeros(0)
    return SharedExposure(
        group=np.zeros(0, np.int64),
        entry=nothing,
        exit_=nothing,
        stratum_group=np.full(n_strata, -1, np.int64),
        multiplicity=np.zeros(n_strata),
        weight=nothing,
        cluster=np.zeros(0, np.int64),
    )


def lives_at(data: Lives, index: Codes, stratum: Codes, n_strata: int, event: Flags | None = None) -> Lives:
    """The lives of the given places, in strata coded anew; checked lives stay checked.

    event: which of them count as failures (default: as they do).
    """
    return Lives(
        entry=data.entry[index],
        exit_=data.exit_[index],
        event=data.event[index] if event is None else event,
        stratum=stratum,
        n_strata=n_strata,
        weight=data.weight[index],
        left=data.left[index],
        cluster=data.cluster[index],
    )


def sum_by_stratum(data: Lives, values: Floats) -> Floats:
    """Sum of values (one per life) in each stratum, shape (n_strata,)."""
    return weighed(data.stratum, values, data.n_strata)


def weighed(code: Codes, values: Floats, n: int) -> Floats:
    """Sum of values for each code 0..n-1."""
    sums: Floats = np.bincount(code, weights=values, minlength=n).astype(np.float64)
    return sums


def n_lives(data: Lives, shared: SharedExposure | None = None) -> Floats:
    """Number of lives per stratum, weights and shared windows counted."""
    own = sum_by_stratum(data, data.weight)
    return own if shared is None else own + _shared_sum(shared, shared.weight)


def n_failures(data: Lives) -> Floats:
    """Number of failures per stratum, weights counted."""
    return sum_by_stratum(data, data.weight * data.event)


def miles_at_risk(data: Lives, shared: SharedExposure | None = None) -> Miles:
    """Miles watched per stratum: sum of exit_ - entry, weights and shared windows counted."""
    own = sum_by_stratum(data, data.weight * (data.exit_ - data.entry))
    return own if shared is None else own + _shared_sum(shared, shared.weight * (shared.exit_ - shared.entry))


def _shared_sum(shared: SharedExposure, values: Floats) -> Floats:
    """Multiplicity x sum of values over the windows of each stratum's group; 0 where it has none."""
    n_groups = max(int(shared.group.max(initial=-1)), int(shared.stratum_group.max(initial=-1))) + 1
    by_group = np.append(weighed(shared.group, values, n_groups), 0.0)
    # Index -1 picks the trailing 0: no group, no windows.
    total: Floats = shared.multiplicity * by_group[shared.stratum_group]
    return total


def _floats(values: npt.ArrayLike, name: str) -> Floats:
    try:
        array = np.atleast_1d(np.asarray(values, dtype=np.float64))
    except (TypeError, ValueError) as error:
        raise LivesError(f"lives: {name} holds something that is not a number ({error}). Expected numbers.") from error
    if array.ndim != 1:
        raise LivesError(f"lives: {name} has {array.ndim} dimensions. Expected a plain list of numbers.")
    return array


def _codes(values: npt.ArrayLike, name: str) -> Codes:
    array = _floats(values, name)
    wrong = ~np.isfinite(array) | (array != np.floor(np.where(np.isfinite(array), array, 0.0)))
    if wrong.any():
        raise LivesError(f"lives: {int(wrong.sum())} of {array.size} {name} codes are not whole numbers.")
    return array.astype(np.int64)


def _check_lengths(data: Lives) -> None:
    sizes = {name: getattr(data, name).size for name in _COLUMNS}
    if len(set(sizes.values())) > 1:
        listed = ", ".join(f"{name} {size:,}" for name, size in sizes.items())
        raise LivesError(f"lives: columns of unequal length ({listed}). Expected one value of each per life.")


def _check_miles(data: Lives) -> None:
    finite = np.isfinite(data.entry) & np.isfinite(data.exit_) & np.isfinite(data.weight)
    _refuse(~finite, data.entry, data.exit_, "finite entry, exit and weight")
    _refuse((data.entry < 0) | (data.entry >= data.exit_), data.entry, data.exit_, "0 <= entry < exit")
    _refuse(data.cluster < 0, data.cluster, data.cluster, "cluster codes from 0")


def _check_failures(data: Lives) -> None:
    given = ~np.isnan(data.left)
    outside = given & ~((data.left >= data.entry) & (data.left < data.exit_))
    _refuse(outside, data.left, data.exit_, "entry <= left < exit")
    _refuse(given & ~data.event, data.left, data.exit_, "an event wherever left is given")
    _refuse(data.event & (data.weight < 0), data.weight, data.exit_, "failures that weigh 0 or more")


def _refuse(wrong: Flags, low: npt.NDArray[Any], high: npt.NDArray[Any], expected: str) -> None:
    if not wrong.any():
        return
    at = int(np.argmax(wrong))
    raise LivesError(
        f"lives: {int(wrong.sum()):,} of {wrong.size:,} cannot be "
        f"(first: number {at + 1}, {low[at]:,} and {high[at]:,}). Expected {expected}."
    )


def _n_strata(stratum: Codes, n_strata: int | None) -> int:
    smallest, largest = int(stratum.min(initial=0)), int(stratum.max(initial=-1))
    n = largest + 1 if n_strata is None else n_strata
    if smallest < 0 or largest >= n:
        raise LivesError(f"lives: stratum codes run from {smallest} to {largest}. Expected 0 to {n - 1}.")
    return n
