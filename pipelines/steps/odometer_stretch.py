"""Whole stretches of a vehicle's readings that one fact explains: an odometer gone round, the other unit.

The rule stands in `odometer_reading`. Each explanation is tried at the places where a reading contradicts the one
before it; the readings it leaves out are compared with those left out without it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log

import numpy as np

from longmile.pipelines.steps.odometer_chain import Chains, Flags, Floats, Histories, Ints, agreeing, chains, lengths
from longmile.pipelines.steps.odometer_cluster import new_clusters
from longmile.schemas.lives import MILES_DECIMALS
from longmile.schemas.units import KM_PER_MILE

ROUNDS_AT: tuple[int, ...] = (100_000, 1_000_000)
"""What an odometer of five digits, and one of six, counts to before it begins again."""
FACTORS: tuple[float, ...] = (KM_PER_MILE, 1 / KM_PER_MILE)
FEWEST_GAINED = {"rollover": 2, "unit": 1}
"""Visits that an explanation must save from being left out; the other unit must fit in more ways than the others."""
FEWEST = 2
MOST_BREAKS = 12
LEAST_DAYS = 14
"""Legs shorter than this tell little of a vehicle's usual miles a day."""
_TRIES_AT_ONCE = 20_000


@dataclass(frozen=True)
class Stretch:
    """An explanation: readings from place `start` up to `end`, times `factor`, plus `added` in the written unit."""

    row: int
    start: int
    end: int
    fault: str
    factor: float = 1.0
    added: int = 0


@dataclass(frozen=True)
class Straightened:
    """Histories with whole stretches put right or left out, and their chains.

    factor, added: what each reading, as written, was taken times and plus.   fault: of the stretch, `none` elsewhere.
    """

    histories: Histories
    chains: Chains
    factor: Floats
    added: Floats
    fault: np.ndarray


def straightened(h: Histories, rounds: int = 3) -> Straightened:
    """All whole stretches found, one in each round for every vehicle."""
    found = Straightened(
        h, chains(h), np.ones(h.miles.shape), np.zeros(h.miles.shape), np.full(h.miles.shape, "none", dtype=object)
    )
    open_rows = np.arange(h.miles.shape[0])
    for _ in range(rounds):
        left_out = (found.histories.is_open & ~found.chains.is_sure).sum(axis=1)
        open_rows = open_rows[left_out[open_rows] > 0]
        if not open_rows.size:
            break
        found, open_rows = _one_round(found, open_rows)
    return found


def _one_round(s: Straightened, rows: Ints) -> tuple[Straightened, Ints]:
    """The best explanation of each vehicle applied; the rows that had one."""
    h = s.histories.rows(rows)
    plain = Chains(*(values[rows] for values in vars(s.chains).values()))
    explained = exact_stretches(h, plain)
    miles, kept = h.miles.copy(), np.ones(h.miles.shape, dtype=bool)
    if explained:
        miles[[one.row for one in explained]] = _with_moved(h, explained).miles
    for one in explained:
        _note(s, int(rows[one.row]), h.is_free[one.row], one)
    changed = {one.row for one in explained}
    for row, lost in new_clusters(h, plain):
        if row not in changed:
            kept[row] = ~lost
            s.fault[rows[row], lost & h.is_free[row]] = "cluster_replaced"
            changed.add(row)
    which = np.array(sorted(changed), dtype=np.int64)
    _put(s, rows[which], h.only(kept).with_miles(miles).rows(which))
    return s, rows[which]


def _note(s: Straightened, row: int, is_free: Flags, one: Stretch) -> None:
    """What an explanation does to each reading of a vehicle, kept."""
    inside = np.flatnonzero(is_free[one.start : one.end]) + one.start
    s.factor[row, inside] *= one.factor
    s.added[row, inside] = s.added[row, inside] * one.factor + one.added
    s.fault[row, inside] = one.fault


def _put(s: Straightened, rows: Ints, h: Histories) -> None:
    """Some vehicles' histories exchanged and their chains sought again."""
    if rows.size:
        for name in ("miles", "is_free", "is_open"):
            getattr(s.histories, name)[rows] = getattr(h, name)
        for name, values in vars(chains(h)).items():
            getattr(s.chains, name)[rows] = values


def exact_stretches(h: Histories, plain: Chains) -> list[Stretch]:
    """At most one a vehicle: the explanation that leaves out fewest visits, where no other kind does as well."""
    tries = [one for row, breaks in enumerate(_breaks(h)) for one in _tries(h, row, breaks)]
    fitting: dict[int, list[tuple[int, Stretch]]] = {}
    for begin in range(0, len(tries), _TRIES_AT_ONCE):
        batch = tries[begin : begin + _TRIES_AT_ONCE]
        moved = _with_moved(h, batch)
        gained = lengths(moved) - plain.length[[one.row for one in batch]]
        better = np.flatnonzero(gained >= [FEWEST_GAINED[one.fault] for one in batch])
        is_sure = chains(moved.rows(better)).is_sure
        for at, sure in zip(better, is_sure, strict=True):
            if _is_fitting(moved, int(at), np.flatnonzero(sure), batch[at]):
                fitting.setdefault(batch[at].row, []).append((int(gained[at]), batch[at]))
    return [one for ranked in fitting.values() if (one := _only_best(ranked)) is not None]


def _only_best(ranked: list[tuple[int, Stretch]]) -> Stretch | None:
    most = max(gained for gained, _ in ranked)
    best = [one for gained, one in ranked if gained == most]
    if len({(one.fault, one.factor, one.added) for one in best}) > 1:
        return None
    return min(best, key=lambda one: (one.end - one.start, one.start))


def _with_moved(h: Histories, explained: list[Stretch]) -> Histories:
    """The vehicles of the explanations, one row for each, at the miles that these give."""
    rows = h.rows(np.array([one.row for one in explained]))
    place = np.arange(h.miles.shape[1])
    start, end, factor, added = (
        np.array([getattr(one, name) for one in explained])[:, None] for name in ("start", "end", "factor", "added")
    )
    is_inside = (place >= start) & (place < end) & rows.is_free
    moved = np.round(rows.miles * factor + added / rows.per_mile, MILES_DECIMALS)
    return rows.with_miles(np.where(is_inside, moved, rows.miles))


def _breaks(h: Histories) -> list[Ints]:
    """For each vehicle the places of readings that contradict the one before."""
    is_break = h.is_real[:, 1:] & ~agreeing(h, slice(None, -1), slice(1, None))
    return [np.flatnonzero(row) + 1 for row in is_break]


def _tries(h: Histories, row: int, breaks: Ints) -> list[Stretch]:
    """Explanations worth trying: from, up to and between the breaks."""
    n = int(h.is_real[row].sum())
    if len(breaks) > MOST_BREAKS:
        return []
    found = [
        Stretch(row, int(j), n, "rollover", added=full)
        for j in breaks
        for full in ROUNDS_AT
        if full / 2 < h.written[row, j - 1] < full and h.written[row, j] < full / 2
    ]
    edges = [0, *map(int, breaks), n]
    spans = [(a, b) for i, a in enumerate(edges) for b in edges[i + 1 :] if FEWEST <= b - a <= n / 3]
    return found + [Stretch(row, a, b, "unit", factor=factor) for a, b in spans for factor in FACTORS]


def _is_fitting(h: Histories, at: int, sure: Ints, one: Stretch) -> bool:
    """Whether the usual miles a day lead over the edges of the stretch, and are the same inside and outside."""
    day, miles = h.day[at, sure], h.miles[at, sure]
    days, gone = np.diff(day), np.diff(miles)
    is_inside = (sure >= one.start) & (sure < one.end)
    is_edge = is_inside[1:] != is_inside[:-1]
    is_long = (days >= LEAST_DAYS) & ~is_edge
    if is_long.sum() < FEWEST or not is_edge.any():
        return False
    usual = float(np.median(gone[is_long] / days[is_long]))
    off = np.abs(gone[is_edge] - usual * days[is_edge])
    if one.fault == "rollover":
        return bool((off <= 1_000 + usual * days[is_edge]).all())
    is_near = bool((off <= 1_000 + usual * days[is_edge] / 2).all())
    return is_near and _same_pace(gone / np.maximum(days, 1), is_long, is_inside[1:])


def _same_pace(pace: Floats, is_long: Flags, is_inside: Flags) -> bool:
    """Whether the miles a day inside and outside are nearer to each other than to the other unit's."""
    inside, outside = pace[is_long & is_inside], pace[is_long & ~is_inside]
    if min(inside.size, outside.size) < FEWEST or np.median(inside) <= 0 or np.median(outside) <= 0:
        return False
    return bool(abs(log(np.median(inside) / np.median(outside))) <= log(KM_PER_MILE) / 2)
