"""Robust variance of a mean cumulative number or cost: squared contributions of whole units, summed.

A unit contributes U(t) = sum over the mileages up to t at which it is watched of (its own - the mean) / at risk;
the variance is the sum of U(t)^2 over the units (Lawless & Nadeau 1995, Technometrics 37:158-168). It is
followed from one repair mileage to the next by what changes, so that its cost grows with repairs plus windows and
not with their product. With the rows of the whole, the sums of several parts of the units add up to the whole's.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.lives import Codes, Floats, Miles, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.repair_history import RepairHistory, is_new

_CHUNK = 1 << 19  # (stratum, window) pairs held at once: bounds memory, not results


@dataclass(frozen=True)
class RepairRows:
    """Distinct repair mileages of all strata, ordered by stratum and t, with the counts that everything rests on.

    start: rows of stratum s are start[s]:start[s + 1].   at_risk: units watched at t.   events: repairs at t.
    cost: their cost; None where none is known. events and cost of parts of the units add up to the whole's.
    """

    stratum: Codes
    t: Miles
    at_risk: Floats
    events: Floats
    cost: Floats | None
    start: Codes

    @cached_property
    def marks(self) -> Miles:
        """The distinct mileages of all rows, rising."""
        return np.unique(self.t)

    @cached_property
    def _keys(self) -> Codes:
        return self.stratum * (self.marks.size + 1) + np.searchsorted(self.marks, self.t)

    @property
    def first(self) -> Codes:
        """First row of each row's stratum."""
        return self.start[self.stratum]

    def from_rank(self, stratum: Codes, rank: Codes) -> Codes:
        """First row of the stratum whose mileage is marks[rank] or later; the end of its rows where there is none."""
        return np.searchsorted(self._keys, stratum * (self.marks.size + 1) + rank).astype(np.int64)

    def row_at(self, stratum: npt.ArrayLike, t: npt.ArrayLike) -> Codes:
        """Last row of the stratum at or before t; -1 where there is none."""
        cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
        row = self.from_rank(cell, np.searchsorted(self.marks, asked, side="right")) - 1
        return np.where(row >= self.start[cell], row, -1)


def repair_rows(history: RepairHistory) -> RepairRows:
    """Repairs, their cost and the units at risk at every distinct repair mileage of each stratum."""
    marks = np.unique(history.at)
    keys, row = np.unique(history.stratum * marks.size + np.searchsorted(marks, history.at), return_inverse=True)
    stratum, place = np.divmod(keys, max(marks.size, 1))
    t = marks[place]
    return RepairRows(
        stratum=stratum,
        t=t,
        at_risk=history.sets.at_risk(stratum, t),
        events=weighed(row, np.ones(row.size), keys.size),
        cost=None if history.cost is None else weighed(row, history.cost, keys.size),
        start=np.searchsorted(stratum, np.arange(history.n_strata + 1)).astype(np.int64),
    )


def squared_contributions(
    history: RepairHistory, rows: RepairRows, *followed: tuple[Floats, Floats]
) -> tuple[Floats, ...]:
    """Sums of U(t)^2 over the units of history just after each row, one for each (value, total) followed.

    rows: of the whole of which history is a part, or of history itself.   value: what each repair of history adds
    (1, or its cost).   total: the same added up over the whole, per row.
    """
    means = [_Mean.of(rows, total) for _, total in followed]
    tied = [_tied(history, rows, value) for value, _ in followed]
    found = tuple(np.zeros(rows.t.size) for _ in followed)
    ranks = tuple(np.searchsorted(rows.marks, side, side="right") for side in (history.start, history.end))
    asked = np.flatnonzero(np.diff(rows.start) > 0)
    windows = history.windows(np.arange(history.start.size, dtype=np.float64))
    for part in windows.chunks(history.stratum_group[asked], _CHUNK):
        strata = asked[part]
        owner, (window,) = windows.take(history.stratum_group[strata])
        pairs = _pairs(history, rows, strata[owner], window.astype(np.int64), ranks)
        span = slice(rows.start[strata[0]], rows.start[strata[-1] + 1])
        for into, mean, all_tied in zip(found, means, tied, strict=True):
            into[span] = _sums(pairs, all_tied.between(strata[0], strata[-1]), rows, mean, span)
    return found


@dataclass(frozen=True)
class _Mean:
    """The mean's part of every unit's contribution: what a row adds to it, and the running sum, per row."""

    jump: Floats
    level: Floats

    @staticmethod
    def of(rows: RepairRows, total: Floats) -> _Mean:
        jump = total / rows.at_risk**2
        return _Mean(jump, running(jump, rows.first, np.add))

    def before(self, row: Codes, first: Codes) -> Floats:
        """Running sum just before a row; first: of the same stratum."""
        return np.where(row > first, np.append(self.level, 0.0)[row - 1], 0.0)


@dataclass(frozen=True)
class _Tied:
    """Repairs of a unit at one mileage taken together.

    place: which of the windows of the stratum's group holds them.   share: value / at risk.   earlier: shares in the
    same window before.
    """

    stratum: Codes
    row: Codes
    place: Codes
    share: Floats
    earlier: Floats

    def between(self, low: int, high: int) -> _Tied:
        """Those of the strata low to high."""
        some = slice(*np.searchsorted(self.stratum, [low, high + 1]))
        return _Tied(self.stratum[some], self.row[some], self.place[some], self.share[some], self.earlier[some])


@dataclass(frozen=True)
class _Pairs:
    """(stratum, window) pairs, ordered so.

    unit_first: place of the first pair of the same unit.   low, high: first row after the window's start and end.
    """

    stratum: Codes
    first: Codes
    unit_first: Codes
    low: Codes
    high: Codes


def _tied(history: RepairHistory, rows: RepairRows, value: Floats) -> _Tied:
    row = rows.row_at(history.stratum, history.at)
    at = np.flatnonzero(is_new(row, history.window))
    stratum, window = history.stratum[at], history.window[at]
    share = np.add.reduceat(value, at) / rows.at_risk[row[at]] if at.size else np.zeros(0)
    opening = np.flatnonzero(is_new(stratum, window))
    first = np.repeat(opening, np.diff(np.append(opening, at.size)))
    earlier = running(share, first, np.add) - share
    return _Tied(stratum, row[at], window - history.group_start[history.stratum_group[stratum]], share, earlier)


def _pairs(history: RepairHistory, rows: RepairRows, stratum: Codes, window: Codes, ranks: tuple[Codes, ...]) -> _Pairs:
    low, high = (rows.from_rank(stratum, rank[window]) for rank in ranks)
    unit_first = np.arange(window.size) - (window - history.unit_row[window])
    return _Pairs(stratum, rows.start[stratum], unit_first, low, high)


def _sums(pairs: _Pairs, tied: _Tied, rows: RepairRows, mean: _Mean, span: slice) -> Floats:
    """Sum of squares along the rows of the span, from what changes at each of them.

    At a row the U of a watched unit grows by d = its share - jump, so the sum of U^2 by that of 2 U d + d^2: over the
    units with a repair there, for which U is found, and over all watched ones, whose U are summed as they come and go.
    """
    first = rows.first[span] - span.start
    n = first.size
    stop = rows.start[pairs.stratum + 1]

    def at_rows(row: Codes, values: Floats) -> Floats:
        kept = row < stop
        return weighed(row[kept] - span.start, values[kept], n)

    def of_tied(values: Floats) -> Floats:
        return weighed(tied.row - span.start, values, n)

    entered = mean.before(pairs.low, pairs.first)
    passed = mean.before(pairs.high, pairs.first) - entered
    pair = np.searchsorted(pairs.stratum, tied.stratum) + tied.place
    ended = running(weighed(pair, tied.share, passed.size) - passed, pairs.unit_first, np.add)
    begun = np.where(np.arange(ended.size) == pairs.unit_first, 0.0, np.roll(ended, 1))
    one = np.ones(ended.size)
    watched = running(at_rows(pairs.low, one) - at_rows(pairs.high, one), first, np.add)
    jump, own = mean.jump[span], of_tied(tied.share)
    drift = own - jump * watched
    present = running(at_rows(pairs.low, begun) - at_rows(pairs.high, ended) + drift, first, np.add) - drift
    before = mean.before(tied.row, rows.first[tied.row]) - entered[pair]
    contribution = begun[pair] + tied.earlier - before
    growth = 2 * (of_tied(contribution * tied.share) - jump * present) + of_tied(tied.share**2)
    return running(growth - 2 * jump * own + jump**2 * watched, first, np.add)
