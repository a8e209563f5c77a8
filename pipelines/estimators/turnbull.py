"""Survival of most likelihood without a model, where failures are known to intervals and lives enter late."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Floats,
    Lives,
    Miles,
    SharedExposure,
    miles_at_risk,
    n_failures,
    weighed,
)
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.turnbull_cells import FailureCells, failure_cells
from longmile.pipelines.estimators.turnbull_optimum import optimum

LARGEST_GAP = 1e-7
_CHUNK = 1 << 20  # lives and windows laid out at once: bounds memory, not results


@dataclass(frozen=True)
class IntervalCurves:
    """Where the mass of each stratum's curve lies: rows by stratum and mileage, none where nothing failed.

    left, right: the mass lies somewhere in (left, right], nobody can say where; at the mileage itself where the two
    are equal; right is infinite for the share that had not failed when the last life was seen.   mass: share of the
    lives that reached from_age.   survival: after right.   start: rows of stratum s are start[s]:start[s + 1].

    from_age: smallest entry; what failed before it nobody watched.   emptied_at: mileage by which all known to run
    had failed while others entered only later, so that the curve falls to 0 and says nothing of those; NaN where
    that did not happen.   log_likelihood: given survival to each entry.   gap: the steepest way up the likelihood
    still had, per failure.   All these are NaN where nothing failed.
    status: `ok`, `no_failures`, `too_few_at_risk` (reason `nothing_watched`, or `risk_set_empties` where the curve
    was emptied; the rows still stand) or `did_not_converge` (gap above 1e-7).
    """

    stratum: Codes
    left: Miles
    right: Miles
    mass: Floats
    survival: Floats
    start: Codes
    from_age: Miles
    emptied_at: Miles
    log_likelihood: Floats
    gap: Floats
    status: npt.NDArray[np.str_]
    reason: npt.NDArray[np.str_]


def turnbull(data: Lives, shared: SharedExposure | None = None) -> IntervalCurves:
    """The survival curves of most likelihood, per stratum, from exact, interval-, left- and right-censored lives.

    Late entry is allowed for: each life counts given that it was sound at its entry. Without interval failures the
    answer is that of Kaplan & Meier. Solved until the gap is below 1e-7, as a rule 1e-11.
    Raises LivesError where censored lives of negative weight took out more than there is.
    Sources: Turnbull 1976, J. R. Stat. Soc. B 38:290-295; late entry: Frydman 1994, J. R. Stat. Soc. B 56:71-74;
    Alioum & Commenges 1996, Biometrics 52:512-524.
    """
    failures = n_failures(data)
    per_stratum = np.full((4, data.n_strata), np.nan)
    parts = [_Rows.none()]
    for rows in _parts(data, shared, np.flatnonzero(failures > 0)):
        part, per_stratum[:, rows] = _solved(failure_cells(data, shared, rows), rows)
        parts.append(part)
    rows_of_all = _Rows.joined(parts)
    from_age, emptied_at, log_likelihood, gap = per_stratum
    status, reason = _verdict(failures, miles_at_risk(data, shared), gap, emptied_at)
    return IntervalCurves(
        stratum=rows_of_all.stratum,
        left=rows_of_all.left,
        right=rows_of_all.right,
        mass=rows_of_all.mass,
        survival=rows_of_all.survival,
        start=np.searchsorted(rows_of_all.stratum, np.arange(data.n_strata + 1)),
        from_age=from_age,
        emptied_at=emptied_at,
        log_likelihood=log_likelihood,
        gap=gap,
        status=status,
        reason=reason,
    )


def survival_between(curves: IntervalCurves, stratum: npt.ArrayLike, t: npt.ArrayLike) -> tuple[Floats, Floats]:
    """Least and most that survival just after t can be, as the mass within an interval may lie anywhere in it.

    stratum and t are broadcast against each other. NaN below the age from which a curve speaks and where there is
    none. Past the last mileage watched the least is 0.
    """
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    marks = np.unique(np.concatenate([curves.left, curves.right, asked.ravel()]))
    stride = marks.size + 1
    left, right = (curves.stratum * stride + np.searchsorted(marks, end) for end in (curves.left, curves.right))
    at = cell * stride + np.searchsorted(marks, asked)
    n_failed = np.searchsorted(right, at, side="right")
    n_begun = np.maximum(np.searchsorted(left, at, side="left"), n_failed)
    known = (np.diff(curves.start)[cell] > 0) & (asked >= curves.from_age[cell])

    def after(n: Codes) -> Floats:
        none = n <= curves.start[cell]
        survival = curves.survival[np.where(none, 0, n - 1)] if curves.survival.size else np.ones(cell.shape)
        return np.where(known, np.where(none, 1.0, survival), np.nan)

    return after(n_begun), after(n_failed)


@dataclass(frozen=True)
class _Rows:
    stratum: Codes
    left: Miles
    right: Miles
    mass: Floats
    survival: Floats

    @staticmethod
    def none() -> _Rows:
        nothing = np.zeros(0)
        return _Rows(np.zeros(0, np.int64), nothing, nothing, nothing, nothing)

    @staticmethod
    def joined(parts: list[_Rows]) -> _Rows:
        """All rows by stratum and mileage."""
        columns = [np.concatenate([getattr(part, name) for part in parts]) for name in _Rows.__dataclass_fields__]
        order = np.lexsort((columns[2], columns[0]))
        return _Rows(*(column[order] for column in columns))


def _solved(cells: FailureCells, rows: Codes) -> tuple[_Rows, Floats]:
    """Rows of the given strata; and from_age, emptied_at, log-likelihood and gap of each, shape (4, rows)."""
    best = optimum(cells.c, cells.lo, cells.hi, cells.w)
    owner = np.repeat(np.arange(rows.size), np.diff(cells.start))
    of_block = owner[best.start[:-1]]
    gap = np.zeros(rows.size)
    np.maximum.at(gap, of_block, best.gap)
    total = running(best.x, cells.start[owner], np.add)
    survival = np.exp(-total)
    is_first = np.arange(owner.size) == cells.start[owner]
    before = np.where(is_first, 1.0, np.append(1.0, survival)[: owner.size])
    mass = before * -np.expm1(-best.x)
    held = mass > 0
    found = _Rows(rows[owner[held]], cells.left[held], cells.right[held], mass[held], survival[held])
    last = survival[cells.start[1:] - 1]
    on = np.flatnonzero(last > 0)
    never = _Rows(rows[on], cells.last_sound[on], np.full(on.size, np.inf), last[on], np.zeros(on.size))
    log_likelihood = weighed(of_block, best.log_likelihood, rows.size)
    ends = np.stack([cells.first_entry, _emptied_at(cells, owner, survival), log_likelihood, gap])
    return _Rows.joined([found, never]), ends


def _emptied_at(cells: FailureCells, owner: Codes, survival: Floats) -> Miles:
    """Mileage at which survival falls to 0 in each stratum that lives still enter there or beyond, else NaN."""
    gone = np.full(cells.first_entry.size, np.inf)
    np.minimum.at(gone, owner[survival == 0], cells.right[survival == 0])
    return np.where(cells.last_entry >= gone, gone, np.nan)


def _verdict(failures: Floats, miles: Miles, gap: Floats, emptied_at: Miles) -> tuple[npt.NDArray[np.str_], ...]:
    emptied: Flags = ~np.isnan(emptied_at)
    far = np.nan_to_num(gap) > LARGEST_GAP
    conditions = [miles <= 0, failures <= 0, far, emptied]
    status = np.select(conditions, ["too_few_at_risk", "no_failures", "did_not_converge", "too_few_at_risk"], "ok")
    reason = np.select(conditions, ["nothing_watched", "", "", "risk_set_empties"], "")
    return status, reason


def _parts(data: Lives, shared: SharedExposure | None, rows: Codes) -> Iterator[Codes]:
    """Runs of strata that each hold about a chunk of lives and windows."""
    size = np.bincount(data.stratum, minlength=data.n_strata).astype(np.int64)
    if shared is not None:
        of_group = np.bincount(shared.group, minlength=int(shared.stratum_group.max(initial=-1)) + 2)
        size = size + np.where(shared.stratum_group >= 0, of_group[shared.stratum_group], 0)
    if rows.size:
        yield from np.split(rows, np.flatnonzero(np.diff(np.cumsum(size[rows]) // _CHUNK)) + 1)
