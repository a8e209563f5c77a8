"""Repeated repairs of units, and the miles over which each unit was watched: arrays, their checks, plain sums.

A window is (start, end] on a unit's own odometer, open on the left and closed on the right. A unit may have
several windows that do not overlap (gaps in observation) and may be seen late (start above 0). Repairs are
counted, not lives ended: a unit goes on after each of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles, lives, shared_exposure, weighed
from longmile.pipelines.estimators.risk_set import RiskSets, largest_watched, risk_sets
from longmile.pipelines.estimators.stretch import Ragged


@dataclass(frozen=True)
class RepairHistory:
    """Repairs by stratum and windows by group; build with `repair_history()`, which checks them.

    Stratum s holds every window of group `stratum_group[s]`, so strata of one group (the components of one
    engine family) share its windows without a copy each.
    stratum, at, cost, window: one element a repair, ordered by stratum, window and at; window is its row among
    the windows; cost is None where none is known.   group, unit, start, end: one element a window, ordered by
    group, unit and start.
    """

    stratum: Codes
    at: Miles
    cost: Floats | None
    window: Codes
    group: Codes
    unit: Codes
    start: Miles
    end: Miles
    stratum_group: Codes

    @property
    def n_strata(self) -> int:
        """Number of strata."""
        return self.stratum_group.size

    @property
    def n_groups(self) -> int:
        """Number of groups of windows, those without a window counted."""
        return max(int(self.group.max(initial=-1)), int(self.stratum_group.max(initial=-1))) + 1

    @cached_property
    def group_start(self) -> Codes:
        """Windows of group g are group_start[g]:group_start[g + 1]."""
        return np.searchsorted(self.group, np.arange(self.n_groups + 1)).astype(np.int64)

    @cached_property
    def unit_row(self) -> Codes:
        """Row of the first window of each window's unit in its group."""
        new = np.flatnonzero(is_new(self.group, self.unit))
        return np.repeat(new, np.diff(np.append(new, self.unit.size)))

    @cached_property
    def sets(self) -> RiskSets:
        """How many units are watched at a mileage (start < t <= end)."""
        nobody = lives([], [], [], n_strata=self.n_strata)
        return risk_sets(
            nobody,
            shared_exposure(self.group, self.start, self.end, self.stratum_group, np.ones(self.n_strata)),
        )

    @cached_property
    def largest(self) -> Miles:
        """Largest mileage at which a unit of each stratum was watched; NaN where none ever was."""
        return largest_watched(lives([], [], [], n_strata=self.n_strata), self.sets)

    def windows(self, *columns: Floats) -> Ragged:
        """Columns of the windows by group: take(stratum_group[strata]) gives those of the strata."""
        return Ragged(columns, self.group_start)

    def by_stratum(self, of_windows: Floats) -> Floats:
        """Sum over the windows of each stratum."""
        total: Floats = weighed(self.group, of_windows, self.n_groups)[self.stratum_group]
        return total

    def by_repair(self, of_repairs: Floats) -> Floats:
        """Sum over the repairs of each stratum."""
        return weighed(self.stratum, of_repairs, self.n_strata)


def repair_history(
    at: npt.ArrayLike,
    unit: npt.ArrayLike,
    window_unit: npt.ArrayLike,
    start: npt.ArrayLike,
    end: npt.ArrayLike,
    *,
    cost: npt.ArrayLike | None = None,
    stratum: npt.ArrayLike | None = None,
    group: npt.ArrayLike | None = None,
    stratum_group: npt.ArrayLike | None = None,
) -> RepairHistory:
    """Checked `RepairHistory`; one stratum and one group where not given otherwise.

    at, unit, stratum, cost: one of each a repair.   window_unit, start, end, group: one of each a window.
    stratum_group: group of each stratum (default: stratum s holds group s). Units are codes from 0.
    Raises LivesError if lengths differ, a number is not finite or below 0, start >= end, two windows of a unit
    overlap within a group, or a repair lies in no window of its unit.
    """
    n = np.size(at)
    windows = _windows(window_unit, start, end, group)
    strata = _codes(np.zeros(n) if stratum is None else stratum, "stratum", n)
    groups = _stratum_group(stratum_group, windows.group, strata)
    miles, units = _floats(at, "at", n), _codes(unit, "unit", n)
    stride = max(int(units.max(initial=0)), int(windows.unit.max(initial=0))) + 1
    cell = windows.group * stride + windows.unit
    row = containing_window(groups[strata] * stride + units, cell, windows.start, windows.end, miles)
    _refuse(row < 0, miles, units, "repairs", "every repair in a window (start, end] of its unit")
    spent = None if cost is None else _floats(cost, "cost", n)
    order = np.lexsort((miles, row, strata))
    return RepairHistory(
        stratum=strata[order],
        at=miles[order],
        cost=None if spent is None else spent[order],
        window=row[order],
        group=windows.group,
        unit=windows.unit,
        start=windows.start,
        end=windows.end,
        stratum_group=groups,
    )


def containing_window(unit: Codes, window_unit: Codes, start: Miles, end: Miles, at: Miles) -> Codes:
    """Row of the window with start < at <= end of the same unit; -1 where there is none.

    The windows must be ordered by unit and start, and those of a unit must not overlap.
    """
    marks = np.unique(start)
    stride = marks.size + 1
    keys = window_unit * stride + np.searchsorted(marks, start)
    row = np.searchsorted(keys, unit * stride + np.searchsorted(marks, at)) - 1
    place = np.maximum(row, 0)
    if not keys.size:
        return np.full(at.size, -1, np.int64)
    inside = (row >= 0) & (window_unit[place] == unit) & (start[place] < at) & (at <= end[place])
    return np.where(inside, row, -1).astype(np.int64)


def n_repairs(history: RepairHistory) -> Floats:
    """Number of repairs per stratum."""
    return history.by_repair(np.ones(history.at.size))


def n_units(history: RepairHistory) -> Floats:
    """Number of units watched per stratum."""
    return history.by_stratum(is_new(history.group, history.unit).astype(np.float64))


def n_units_repaired(history: RepairHistory) -> Floats:
    """Number of units with a repair per stratum."""
    first_of_unit = is_new(history.stratum, history.unit_row[history.window])
    return history.by_repair(first_of_unit.astype(np.float64))


def miles_watched(history: RepairHistory) -> Miles:
    """Miles watched per stratum: sum of end - start."""
    return history.by_stratum(history.end - history.start)


def is_new(*columns: npt.NDArray[Any]) -> Flags:
    """True where a row differs from the one before it in any column, and for the first."""
    new = np.zeros(columns[0].size, np.bool_)
    new[:1] = True
    for column in columns:
        new[1:] |= column[1:] != column[:-1]
    return new


class _Windows(NamedTuple):
    group: Codes
    unit: Codes
    start: Miles
    end: Miles


def _windows(unit: npt.ArrayLike, start: npt.ArrayLike, end: npt.ArrayLike, group: npt.ArrayLike | None) -> _Windows:
    """Checked windows, ordered by group, unit and start. One may begin where another of its unit ends."""
    n = np.size(start)
    cell = _codes(np.zeros(n) if group is None else group, "group", n)
    units, low, high = _codes(unit, "unit of the windows", n), _floats(start, "start", n), _floats(end, "end", n)
    _refuse((low < 0) | (low >= high), low, high, "windows", "0 <= start < end")
    order = np.lexsort((low, units, cell))
    made = _Windows(cell[order], units[order], low[order], high[order])
    overlap = ~is_new(made.group, made.unit)
    overlap[1:] &= made.start[1:] < made.end[:-1]
    _refuse(overlap, made.start, made.end, "windows", "windows of a unit that do not overlap")
    return made


def _stratum_group(given: npt.ArrayLike | None, group: Codes, stratum: Codes) -> Codes:
    """Group of each stratum; stratum s holds group s where not said otherwise."""
    if given is None:
        return np.arange(max(int(group.max(initial=-1)), int(stratum.max(initial=-1))) + 1)
    groups = _codes(given, "stratum_group", np.size(given))
    largest = int(stratum.max(initial=-1))
    if largest >= groups.size:
        raise LivesError(f"repairs: stratum codes run to {largest}. Expected 0 to {groups.size - 1}.")
    return groups


def _floats(values: npt.ArrayLike, name: str, n: int) -> Floats:
    """The values as n finite numbers."""
    try:
        array = np.asarray(values, np.float64)
    except (TypeError, ValueError) as error:
        raise LivesError(f"repairs: {name} holds something that is not a number ({error}).") from error
    if array.shape != (n,):
        raise LivesError(f"repairs: {name} has shape {array.shape}. Expected one number for each of {n:,} rows.")
    _refuse(~np.isfinite(array), array, array, name, "finite numbers")
    return array


def _codes(values: npt.ArrayLike, name: str, n: int) -> Codes:
    """The values as n whole numbers from 0."""
    array = _floats(values, name, n)
    _refuse((array < 0) | (array != np.floor(array)), array, array, name, "whole numbers from 0")
    return array.astype(np.int64)


def _refuse(wrong: Flags, first: npt.NDArray[Any], second: npt.NDArray[Any], what: str, expected: str) -> None:
    if not wrong.any():
        return
    at = int(np.argmax(wrong))
    raise LivesError(
        f"repairs: {int(wrong.sum()):,} of {wrong.size:,} {what} cannot be "
        f"(first: {first[at]:,}, {second[at]:,}). Expected {expected}."
    )
