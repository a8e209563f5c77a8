"""The readings of a vehicle that agree with one another: the longest sequence in time, and which readings are in it.

Many vehicles at once, one to a row, padded to the longest. What agreeing means stands in `odometer_reading`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import polars as pl

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

MILES_AT_ONCE, MILES_A_DAY = 1_000, 500
"""No customer's vehicle does more: a long trip at once, and day after day (common practice, no source)."""
OWN_AT_ONCE, OWN_TIMES, OWN_AT_LEAST = 5_000, 5, 150
"""Nor, over weeks, a vehicle whose usual miles a day are known: so many times the usual, and 150 a day at the least
(our own choice; see the simulated slips in the tests)."""
_HAIR = 5e-7
"""Half of what odometers are kept to: what is equal on paper is equal here."""
_CELLS_AT_ONCE = 300_000
_NO_BOUND = 1e9
_VISIT = 1_000
"""What a visit counts in a chain where its second reading counts 1."""


@dataclass(frozen=True)
class Histories:
    """Readings in order of time, a row a vehicle: shape (vehicles, readings); own: shape (vehicles,).

    at: row of the frame, -1 where a row is padded.   own: the most miles a day over weeks.
    is_real: there is a reading.   is_fixed: a person said what it is.   is_free: it may be doubted.
    is_open: free, and agreeing with all that is fixed.
    """

    at: Ints
    day: Ints
    miles: Floats
    order: Ints
    is_out: Flags
    written: Floats
    per_mile: Floats
    is_real: Flags
    is_fixed: Flags
    is_free: Flags
    is_open: Flags
    own: Floats

    def rows(self, which: Ints | Flags) -> Histories:
        """Some of the vehicles, or one several times."""
        return Histories(**{name: values[which] for name, values in vars(self).items()})

    def with_miles(self, miles: Floats) -> Histories:
        """The same readings at other miles."""
        moved = replace(self, miles=miles)
        return replace(moved, is_open=self.is_free & ~_against_fixed(moved))

    def only(self, which: Flags) -> Histories:
        """The same readings, the others neither free nor open."""
        return replace(self, is_free=self.is_free & which, is_open=self.is_open & which)


@dataclass(frozen=True)
class Chains:
    """The longest chains of agreeing readings, counted in visits: a visit's second reading is no second witness.

    length: visits in a longest chain.   before, after: visits of the longest chain that ends, begins with this one.
    is_on: it is on a longest chain.   is_sure: nothing else could stand in its place on one, or it is fixed.
    """

    length: Ints
    before: Ints
    after: Ints
    is_on: Flags
    is_sure: Flags


def histories(frame: pl.DataFrame) -> Iterator[Histories]:
    """Vehicles of about equal length together; the frame is in order of vehicle and time.

    Columns used: vehicle_no, order_no, day, odometer_miles, is_out, odometer_written, per_mile, is_fixed, usual.
    """
    vehicle = frame["vehicle_no"].to_numpy()
    first = np.flatnonzero(np.r_[True, vehicle[1:] != vehicle[:-1]]) if len(vehicle) else np.empty(0, dtype=np.int64)
    length = np.diff(np.r_[first, len(vehicle)])
    turn = np.argsort(length, kind="stable")
    while turn.size:
        fitting = np.flatnonzero(length[turn] * np.arange(1, turn.size + 1) <= _CELLS_AT_ONCE)
        taken, turn = np.split(turn, [max(1, fitting.size)])
        yield _padded(frame, first[taken], length[taken])


def _padded(frame: pl.DataFrame, first: Ints, length: Ints) -> Histories:
    place = np.arange(length.max())
    is_real = place < length[:, None]
    at = np.where(is_real, first[:, None] + place, -1)
    found = {
        name: frame[column].to_numpy()[at]
        for name, column in (
            ("day", "day"),
            ("miles", "odometer_miles"),
            ("order", "order_no"),
            ("is_out", "is_out"),
            ("written", "odometer_written"),
            ("per_mile", "per_mile"),
            ("is_fixed", "is_fixed"),
        )
    }
    found["is_fixed"] &= is_real
    is_free = is_real & ~found["is_fixed"]
    own = own_most(frame["usual"].to_numpy()[first])
    h = Histories(at=at, is_real=is_real, is_free=is_free, is_open=is_free, own=own, **found)
    return h.with_miles(h.miles)


def own_most(usual: Floats) -> Floats:
    """The most miles a day, over weeks, of vehicles with so many usual ones; beyond all bounds where it is NaN."""
    return np.where(np.isnan(usual), _NO_BOUND, np.fmax(OWN_AT_LEAST, OWN_TIMES * usual))


def most_miles(days: Ints, own: Floats) -> Floats:
    """The most miles that two readings so many days apart may differ by."""
    return np.minimum(MILES_AT_ONCE + MILES_A_DAY * days, OWN_AT_ONCE + own * days) + _HAIR


def agrees(gap: Floats, days: Ints, own: Floats, is_left_first: Flags) -> Flags:
    """Whether a later reading agrees with an earlier one, gap miles below it and so many days before.

    is_left_first: the earlier one was read on leaving, the later one on arriving for the same order.
    """
    return (gap >= 0) & (gap <= most_miles(days, own)) & ~(is_left_first & (gap > 0))


def agreeing(h: Histories, i: slice, j: slice) -> Flags:
    """Whether readings at places i agree with later ones at places j."""
    is_left_first = (h.order[:, i] == h.order[:, j]) & h.is_out[:, i]
    return agrees(h.miles[:, j] - h.miles[:, i], h.day[:, j] - h.day[:, i], h.own[:, None], is_left_first)


def _against_fixed(h: Histories) -> Flags:
    """Whether a reading contradicts one that a person fixed."""
    found = np.zeros(h.miles.shape, dtype=bool)
    for place in np.flatnonzero(h.is_fixed.any(axis=0)):
        one = slice(place, place + 1)
        found[:, :place] |= h.is_fixed[:, one] & ~agreeing(h, slice(0, place), one)
        found[:, place + 1 :] |= h.is_fixed[:, one] & ~agreeing(h, one, slice(place + 1, None))
    return found


def chains(h: Histories) -> Chains:
    """The longest chains of the open readings: each agrees with the one before it in the chain."""
    before = _before(h)
    after = np.where(h.is_open, _VISIT, 0)
    for i in range(after.shape[1] - 2, -1, -1):
        at, later = slice(i, i + 1), slice(i + 1, None)
        after[:, i] = np.where(h.is_open[:, i], _longest(after[:, later], h, at, later), 0)
    whole = before.max(axis=1) // _VISIT
    is_on = h.is_open & ((before + after - _VISIT) // _VISIT == whole[:, None])
    before, after = before // _VISIT, after // _VISIT
    return Chains(whole, before, after, is_on, _alone_at_their_place(h, before, is_on) | h.is_fixed)


def lengths(h: Histories) -> Ints:
    """The visits of each vehicle's longest chain alone."""
    found: Ints = _before(h).max(axis=1) // _VISIT
    return found


def _before(h: Histories) -> Ints:
    found = np.where(h.is_open, _VISIT, 0)
    for j in range(1, found.shape[1]):
        at, earlier = slice(j, j + 1), slice(0, j)
        found[:, j] = np.where(h.is_open[:, j], _longest(found[:, earlier], h, earlier, at), 0)
    return found


def _longest(known: Ints, h: Histories, earlier: slice, later: slice) -> Ints:
    """The longest chain that goes on with the one reading, which is earlier or later than those known."""
    step = np.where(h.order[:, earlier] == h.order[:, later], 1, _VISIT)
    found: Ints = np.where(agreeing(h, earlier, later) & (known > 0), known + step, _VISIT).max(axis=1)
    return found


def _alone_at_their_place(h: Histories, before: Ints, is_on: Flags) -> Flags:
    """Readings of longest chains without another visit's, or one they contradict, that could stand in their place."""
    row, column = np.nonzero(is_on)
    place = row * (before.shape[1] + 1) + before[is_on]
    turn = np.lexsort((column, place))
    row, column = row[turn], column[turn]
    _, place = np.unique(place[turn], return_inverse=True)
    a, b = (row[:-1], column[:-1]), (row[1:], column[1:])
    is_same_order = h.order[a] == h.order[b]
    agree = agrees(h.miles[b] - h.miles[a], h.day[b] - h.day[a], h.own[row[1:]], is_same_order & h.is_out[a])
    is_rival = (place[1:] == place[:-1]) & ~(is_same_order & agree)
    found = np.zeros(is_on.shape, dtype=bool)
    found[row, column] = ~np.isin(place, place[1:][is_rival])
    return found
