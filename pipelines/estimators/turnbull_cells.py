"""Where the mass of a survival curve can lie, when failures are known to intervals and lives enter late.

A place is a mileage together with a side: 2 x rank just before it, 2 x rank + 1 just after it. A failure is an interval
between two places, an exact one from just before its mileage to just after it. Mass between two places moves to the
right without loss until a failure's interval ends or lives enter, and to the left until one begins or known survivors
become fewer: so it lies only between a place of the second kind and a next one of the first. Source: Turnbull 1976, J.
R. Stat. Soc. B 38:290-295; with late entry, ends at entries too: Frydman 1994, J. R. Stat. Soc. B 56:71-74.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, Miles, SharedExposure, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.stretch import ragged

_NOTHING = 1e-9  # of the weights that were added: what rounding leaves of lives put in and taken out


@dataclass(frozen=True)
class FailureCells:
    """Cells of some strata by rising mileage, and the failures that may lie in them.

    The cells of the i-th stratum are start[i]:start[i + 1].   left, right: a cell is (left, right], or the one mileage
    where the two are equal.   c: lives known to have run through the cell.   lo, hi, w: failures, w times in one of
    the cells lo..hi - 1.   first_entry, last_entry: smallest and largest mileage at which lives of the stratum
    entered.   last_sound: largest mileage to which one is known to have run.
    """

    start: Codes
    left: Miles
    right: Miles
    c: Floats
    lo: Codes
    hi: Codes
    w: Floats
    first_entry: Miles
    last_entry: Miles
    last_sound: Miles


@dataclass(frozen=True)
class _Changes:
    """Lives that begin or cease to be known to run on: owner (place in rows), place, change in their number."""

    owner: Codes
    place: Codes
    change: Floats


@dataclass(frozen=True)
class _Failures:
    """Failures: owner, the place entered at, the places it lies between, weight."""

    owner: Codes
    entry: Codes
    begin: Codes
    end: Codes
    weight: Floats


def failure_cells(data: Lives, shared: SharedExposure | None, rows: Codes) -> FailureCells:
    """The cells of the asked strata (rising codes), shared windows counted.

    Raises LivesError where censored lives of negative weight took out more than there is.
    """
    marks = _marks(data, shared)
    owner = np.searchsorted(rows, data.stratum)
    asked = (np.append(rows, -1)[owner] == data.stratum) & (data.weight != 0)
    entry, begin, end = _places(data, marks)
    failed = asked & data.event
    failures = _Failures(owner[failed], entry[failed], begin[failed], end[failed], data.weight[failed])
    changes = [
        _Changes(owner[asked], entry[asked], data.weight[asked]),
        _Changes(owner[asked], begin[asked], -data.weight[asked]),
        *_shared_changes(shared, rows, marks),
    ]
    return _cut(rows.size, marks, _net(changes, 2 * marks.size + 2), failures)


def _marks(data: Lives, shared: SharedExposure | None) -> Miles:
    columns = [data.entry, data.exit_, data.left[~np.isnan(data.left)]]
    columns += [] if shared is None else [shared.entry, shared.exit_]
    return np.unique(np.concatenate(columns))


def _places(data: Lives, marks: Miles) -> tuple[Codes, Codes, Codes]:
    """Place at which each life enters, up to which it is known to have run, and by which a failure had failed."""
    entry, exit_ = (2 * np.searchsorted(marks, end).astype(np.int64) for end in (data.entry, data.exit_))
    within = ~np.isnan(data.left)
    left = 2 * np.searchsorted(marks, np.where(within, data.left, data.exit_)) + 1
    return entry + 1, np.where(within, left, exit_ + ~data.event), exit_ + 1


def _shared_changes(shared: SharedExposure | None, rows: Codes, marks: Miles) -> list[_Changes]:
    """Entries and exits of the windows that each asked stratum holds."""
    if shared is None or not shared.group.size:
        return []
    n_groups = max(int(shared.group.max()), int(shared.stratum_group.max(initial=-1))) + 1
    group = np.where(shared.stratum_group[rows] >= 0, shared.stratum_group[rows], n_groups)
    windows = ragged(shared.group, n_groups + 1, shared.entry, shared.exit_, shared.weight)
    owner, (entry, exit_, weight) = windows.take(group)
    copies = weight * shared.multiplicity[rows][owner]
    return [
        _Changes(owner, 2 * np.searchsorted(marks, end) + 1, sign * copies)
        for end, sign in ((entry, 1.0), (exit_, -1.0))
    ]


def _net(changes: list[_Changes], stride: int) -> _Changes:
    """Changes in order, one per owner and place, without those that cancel."""
    owner = np.concatenate([part.owner for part in changes])
    place = np.concatenate([part.place for part in changes])
    change = np.concatenate([part.change for part in changes])
    keys, inverse = np.unique(owner * stride + place, return_inverse=True)
    net = weighed(inverse, change, keys.size)
    real = np.abs(net) > _NOTHING * weighed(inverse, np.abs(change), keys.size)
    return _Changes(*np.divmod(keys[real], stride), net[real])


def _cut(n: int, marks: Miles, changes: _Changes, failures: _Failures) -> FailureCells:
    stride = 2 * marks.size + 2
    begin, end = failures.owner * stride + failures.begin, failures.owner * stride + failures.end
    changed = changes.owner * stride + changes.place
    keys = np.sort(np.concatenate([changed, begin, end]))
    keys = keys[np.diff(keys, prepend=-1) > 0]
    owner, place = np.divmod(keys, stride)
    begin, end = np.searchsorted(keys, begin), np.searchsorted(keys, end)
    n_begin, n_end = np.bincount(begin, minlength=keys.size), np.bincount(end, minlength=keys.size)
    change = np.zeros(keys.size)
    change[np.searchsorted(keys, changed)] = changes.change
    after = np.append(np.arange(1, keys.size), 0)
    may_end = (change > 0) | (n_end > 0)
    is_cell = ((change < 0) | (n_begin > 0)) & may_end[after] & (np.cumsum(n_begin - n_end) > 0)
    before = np.append(0, np.cumsum(is_cell))
    at = np.flatnonzero(is_cell)
    lo, hi, w = _counted(before[begin], before[end], failures.weight, at.size)
    first_entry, last_entry, last_sound = _ends(n, marks, changes, failures)
    return FailureCells(
        start=np.searchsorted(owner[at], np.arange(n + 1)),
        left=marks[place[at] // 2],
        right=marks[place[after[at]] // 2],
        c=_known(n, owner, change)[at],
        lo=lo,
        hi=hi,
        w=w,
        first_entry=first_entry,
        last_entry=last_entry,
        last_sound=last_sound,
    )


def _known(n: int, owner: Codes, change: Floats) -> Floats:
    """Lives known to run on just after each place."""
    first = np.searchsorted(owner, np.arange(n))[owner]
    if (change == np.rint(change)).all():
        # Whole numbers lose no digits in one sum over all strata, which is several times faster.
        total = np.cumsum(change)
        known = total - (total - change)[first]
    else:
        known = running(change, first, np.add)
    most = np.zeros(n)
    np.maximum.at(most, owner, np.abs(known))
    known = np.where(np.abs(known) <= _NOTHING * most[owner], 0.0, known)
    if (known < 0).any():
        raise LivesError(
            f"lives: at {int((known < 0).sum()):,} mileages fewer than no lives are known to run on. Expected "
            "censored lives of negative weight to take out no more than is shared."
        )
    return known


def _counted(lo: Codes, hi: Codes, weight: Floats, n_cells: int) -> tuple[Codes, Codes, Floats]:
    """Failures with the same cells as one."""
    keys, inverse = np.unique(lo * (n_cells + 1) + hi, return_inverse=True)
    lo, hi = np.divmod(keys, n_cells + 1)
    return lo, hi, weighed(inverse, weight, keys.size)


def _ends(n: int, marks: Miles, changes: _Changes, failures: _Failures) -> tuple[Miles, Miles, Miles]:
    """First and last entry and the last mileage known to be run to; infinite where there is none."""
    more, fewer = changes.change > 0, changes.change < 0
    owner = np.concatenate([changes.owner[more], failures.owner])
    entry = marks[np.concatenate([changes.place[more], failures.entry]) // 2]
    first, last, sound = np.full(n, np.inf), np.full(n, -np.inf), np.full(n, -np.inf)
    np.minimum.at(first, owner, entry)
    np.maximum.at(last, owner, entry)
    np.maximum.at(sound, changes.owner[fewer], marks[changes.place[fewer] // 2])
    return first, last, sound
