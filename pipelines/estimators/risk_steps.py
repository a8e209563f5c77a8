"""Where the number at risk changes, and to what: each stratum's whole course, own lives and shared windows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats, Miles, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.risk_set import RiskSets
from longmile.pipelines.estimators.stretch import Ragged

_CHUNK = 1 << 21  # lives and windows laid out at once: bounds memory, not results


@dataclass(frozen=True)
class RiskSteps:
    """Numbers at risk of some strata, one step per distinct mileage at which a life begins or ends.

    rows: the strata.   The steps of rows[i] are start[i]:start[i + 1], by rising t.   level: at risk from just
    after t up to and including the next t; 0 after the last.
    """

    rows: Codes
    start: Codes
    t: Miles
    level: Floats


def risk_steps(sets: RiskSets, rows: Codes) -> Iterator[RiskSteps]:
    """The steps of the asked strata, some strata at a time so that memory stays bounded."""
    sources = _sources(sets)
    shared = sets.shared
    group = np.where(shared.stratum_group >= 0, shared.stratum_group, _n_groups(sets))
    cells = (rows, rows, group[rows], group[rows])
    size = sum(source.start[cell + 1] - source.start[cell] for source, cell in zip(sources, cells, strict=True))
    for part in _parts(np.cumsum(size)):
        taken = [source.take(cell[part]) for source, cell in zip(sources, cells, strict=True)]
        owner = np.concatenate([place for place, _ in taken])
        rank = np.concatenate([columns[0] for _, columns in taken]).astype(np.int64)
        copies = (np.ones(part.size), np.ones(part.size), *[shared.multiplicity[rows[part]]] * 2)
        change = np.concatenate([k[place] * columns[1] for k, (place, columns) in zip(copies, taken, strict=True)])
        yield _summed(sets.marks, rows[part], owner, rank, change)


def _summed(marks: Miles, rows: Codes, owner: Codes, rank: Codes, change: Floats) -> RiskSteps:
    stride = marks.size + 1
    keys, inverse = np.unique(owner * stride + rank, return_inverse=True)
    place, at = np.divmod(keys, stride)
    start = np.searchsorted(place, np.arange(rows.size + 1))
    level = running(weighed(inverse, change, keys.size), start[place], np.add)
    return RiskSteps(rows, start, marks[at], level)


def _sources(sets: RiskSets) -> list[Ragged]:
    """Rank and change of every begin and end: own lives by stratum, shared windows by group."""
    n_strata, n_groups = sets.shared.stratum_group.size, _n_groups(sets)
    made = []
    for keys, n_cells, sign in (
        (sets.own_entries, n_strata, 1.0),
        (sets.own_exits, n_strata, -1.0),
        (sets.shared_entries, n_groups, 1.0),
        (sets.shared_exits, n_groups, -1.0),
    ):
        # One cell more than there are, which is empty: for strata of no group.
        start = np.searchsorted(keys.keys, np.arange(n_cells + 2) * keys.stride)
        rank = (keys.keys % keys.stride).astype(np.float64)
        made.append(Ragged((rank, sign * np.diff(keys.running)), start))
    return made


def _n_groups(sets: RiskSets) -> int:
    return max(int(sets.shared.group.max(initial=-1)), int(sets.shared.stratum_group.max(initial=-1))) + 1


def _parts(ends: Codes) -> list[Codes]:
    """Places of rows, in runs that each hold about a chunk."""
    if not ends.size:
        return []
    cuts = np.flatnonzero(np.diff(ends // _CHUNK)) + 1
    return np.split(np.arange(ends.size), cuts)
