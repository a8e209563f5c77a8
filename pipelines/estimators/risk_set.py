"""How many lives are at risk at a mileage: counts over (entry, exit_], from sorted arrays alone.

At risk at t means entry < t <= exit_. Shared windows are counted from their own sorted arrays, never laid out
per stratum. Keys are whole numbers (stratum x rank of the mileage), because a floating composite key loses
the equality of ties.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import (
    Codes,
    Floats,
    Lives,
    Miles,
    SharedExposure,
    no_shared_exposure,
)


@dataclass(frozen=True)
class _Before:
    """Sorted (cell, rank) keys with running weights: how much weight lies before a rank in a cell."""

    keys: Codes
    running: Floats
    stride: int

    def weight_before(self, cell: Codes, rank: Codes) -> Floats:
        first = np.searchsorted(self.keys, cell * self.stride)
        last = np.searchsorted(self.keys, cell * self.stride + rank)
        return self.running[last] - self.running[first]

    def next_rank(self, cell: Codes, rank: Codes) -> Codes:
        """Rank of the cell's first key at or after rank; stride (past every mark) where there is none."""
        at = np.searchsorted(self.keys, cell * self.stride + rank)
        key = np.append(self.keys, np.iinfo(np.int64).max)[at]
        return np.where(key < (cell + 1) * self.stride, key % self.stride, self.stride)


@dataclass(frozen=True)
class RiskSets:
    """At-risk counts of every stratum at any mileage; made by `risk_sets()`.

    marks: the distinct mileages of all lives and windows, rising. Counts are exact whole numbers when weights
    are.
    """

    marks: Miles
    own_entries: _Before
    own_exits: _Before
    shared_entries: _Before
    shared_exits: _Before
    shared: SharedExposure

    def at_risk(self, stratum: npt.ArrayLike, t: npt.ArrayLike) -> Floats:
        """Weight of the lives with entry < t <= exit_ in each asked stratum, shape of t."""
        cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
        rank = np.searchsorted(self.marks, asked).astype(np.int64)
        return self._at_rank(cell, rank)

    def at_risk_next(self, stratum: npt.ArrayLike, t: npt.ArrayLike) -> Floats:
        """Weight at risk at the first mileage >= t at which a life of the stratum ended; 0 past the last.

        Without late entry this equals `at_risk`. With it, the lives that enter between t and that mileage are
        counted, as general-purpose survival programs do in their summaries at asked times.
        """
        cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
        rank = np.searchsorted(self.marks, asked).astype(np.int64)
        group = self.shared.stratum_group[cell]
        windows = np.where(group >= 0, self.shared_exits.next_rank(group, rank), self.shared_exits.stride)
        following = np.minimum(self.own_exits.next_rank(cell, rank), windows)
        return self._at_rank(cell, following)

    def _at_rank(self, cell: Codes, rank: Codes) -> Floats:
        own = self.own_entries.weight_before(cell, rank) - self.own_exits.weight_before(cell, rank)
        group = self.shared.stratum_group[cell]
        # Group -1 lies before every key, so both counts are 0 there.
        windows = self.shared_entries.weight_before(group, rank) - self.shared_exits.weight_before(group, rank)
        return own + self.shared.multiplicity[cell] * windows


def risk_sets(data: Lives, shared: SharedExposure | None = None) -> RiskSets:
    """At-risk counts over lives and shared windows.

    Raises LivesError if the shared exposure does not list every stratum.
    """
    held = no_shared_exposure(data.n_strata) if shared is None else shared
    if held.stratum_group.size != data.n_strata:
        raise LivesError(
            f"shared exposure lists {held.stratum_group.size} strata, the lives have {data.n_strata}. "
            "Expected the same."
        )
    ends = [data.entry, data.exit_, held.entry, held.exit_]
    # The ranks come with the sorting; looking each mileage up again took most of the time.
    marks, ranks = np.unique(np.concatenate(ends), return_inverse=True)
    entries, exits, shared_entries, shared_exits = np.split(ranks, np.cumsum([end.size for end in ends])[:-1])
    stride = marks.size + 1
    return RiskSets(
        marks=marks,
        own_entries=_before(data.stratum, entries, data.weight, stride),
        own_exits=_before(data.stratum, exits, data.weight, stride),
        shared_entries=_before(held.group, shared_entries, held.weight, stride),
        shared_exits=_before(held.group, shared_exits, held.weight, stride),
        shared=held,
    )


def largest_watched(data: Lives, sets: RiskSets) -> Miles:
    """Largest mileage at which a life of each stratum was still watched; NaN where none ever was.

    A shared window whose every socket was touched does not count: nothing at risk is left in it.
    """
    own = np.full(data.n_strata, -np.inf)
    real = data.weight > 0
    np.maximum.at(own, data.stratum[real], data.exit_[real])
    best = np.maximum(own, _largest_shared(data.n_strata, sets, own))
    return np.where(np.isfinite(best), best, np.nan)


def _largest_shared(n_strata: int, sets: RiskSets, floor: Miles) -> Miles:
    """Largest window end above floor with something at risk; walks down past windows wholly taken out."""
    keys, marks = sets.shared_exits.keys, sets.marks
    stride = sets.shared_exits.stride
    found = np.full(n_strata, -np.inf)
    asked = np.flatnonzero(sets.shared.multiplicity > 0)
    group = sets.shared.stratum_group[asked]
    start = np.searchsorted(keys, group * stride)
    at = np.searchsorted(keys, (group + 1) * stride) - 1
    while asked.size:
        inside = at >= start
        asked, start, at = asked[inside], start[inside], at[inside]
        rank = keys[at] % stride
        higher = marks[rank] > floor[asked]
        asked, start, at, rank = asked[higher], start[higher], at[higher], rank[higher]
        watched = sets._at_rank(asked, rank) > 0
        found[asked[watched]] = marks[rank[watched]]
        asked, start, at = asked[~watched], start[~watched], at[~watched] - 1
    return found


def _before(cell: Codes, rank: Codes, weight: Floats, stride: int) -> _Before:
    keys = cell * stride + rank
    order = np.argsort(keys, kind="stable")
    return _Before(keys[order], np.concatenate([[0.0], np.cumsum(weight[order])]), stride)
