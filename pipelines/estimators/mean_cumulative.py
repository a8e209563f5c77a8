"""Mean cumulative number and cost of repairs per unit against mileage, and values read off it. No model.

A unit counts as at risk at t where start < t <= end of one of its windows, so units seen late, gaps and unequal ends
are all allowed; what a unit does while nobody watches is taken to be what the watched ones do at that mileage.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.repair_history import RepairHistory
from longmile.pipelines.estimators.repair_influence import (
    RepairRows,
    repair_rows,
    squared_contributions,
)
from longmile.pipelines.estimators.unwatched import unwatched_miles

_NOISE = 1e-12  # share of the independent-increments variance below which a robust variance is rounding alone


@dataclass(frozen=True)
class Cumulative:
    """A mean per unit with its robust error (Lawless-Nadeau, no n - 1 factor).

    lower, upper: limits on the log scale, never below 0.   lower_plain, upper_plain: mean -+ z se. All are NaN, not
    defined, where the robust error is 0: all units did the same, or only one was watched.
    """

    mean: Floats
    se: Floats
    lower: Floats
    upper: Floats
    lower_plain: Floats
    upper_plain: Floats


@dataclass(frozen=True)
class RepairCurves:
    """Curves of all strata: values just after each of the rows (distinct repair mileages).

    se_poisson: error of the number were repairs independent of each other (a Poisson process): the root of the sum
    of events / at_risk^2; too small where some units fail again and again.   cost: None where none is known.
    """

    history: RepairHistory
    rows: RepairRows
    number: Cumulative
    se_poisson: Floats
    cost: Cumulative | None
    confidence: float


@dataclass(frozen=True)
class RepairCurvesAt:
    """Curves read at asked mileages, all of the asked shape.

    at_risk: units watched at t.   repairs: up to and at t.   is_beyond: t lies past the largest mileage watched, where
    the curve is carried on flat (too low).   unwatched: miles of (0, t] over which no unit was watched (too low by
    what happened there). Errors and limits are NaN before the first repair.
    """

    at_risk: Floats
    repairs: Floats
    number: Cumulative
    se_poisson: Floats
    cost: Cumulative | None
    is_beyond: Flags
    unwatched: Miles


def mean_cumulative(history: RepairHistory, confidence: float = 0.95) -> RepairCurves:
    """Mean cumulative number of repairs per unit, and cost where known, per stratum with robust limits.

    Repairs tied at a mileage are counted together, those of one unit too. Raises LivesError on a confidence outside
    (0, 1).
    Sources: Nelson 1988, J. Qual. Technol. 20:24-35; Lawless & Nadeau 1995, Technometrics 37:158-168.
    """
    if not 0 < confidence < 1:
        raise LivesError(f"repairs: confidence is {confidence}. Expected a number between 0 and 1, such as 0.95.")
    rows = repair_rows(history)
    once = np.ones(history.at.size)
    followed = [(once, rows.events)]
    if history.cost is not None and rows.cost is not None:
        followed.append((history.cost, rows.cost))
    squares = squared_contributions(history, rows, *followed)
    made = [
        _cumulative(history, rows, value, total, variance, confidence)
        for (value, total), variance in zip(followed, squares, strict=True)
    ]
    return RepairCurves(
        history=history,
        rows=rows,
        number=made[0],
        se_poisson=np.sqrt(running(rows.events / rows.at_risk**2, rows.first, np.add)),
        cost=made[1] if len(made) > 1 else None,
        confidence=confidence,
    )


def curves_at(curves: RepairCurves, stratum: npt.ArrayLike, t: npt.ArrayLike) -> RepairCurvesAt:
    """Curves at any mileages; stratum and t are broadcast against each other."""
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    row = curves.rows.row_at(cell, asked)
    counted = running(curves.rows.events, curves.rows.first, np.add)
    return RepairCurvesAt(
        at_risk=curves.history.sets.at_risk(cell, asked),
        repairs=_read(counted, row, 0.0),
        number=_read_all(curves.number, row),
        se_poisson=_read(curves.se_poisson, row, np.nan),
        cost=None if curves.cost is None else _read_all(curves.cost, row),
        is_beyond=~(asked <= curves.history.largest[cell]),
        unwatched=unwatched_miles(curves.history, cell, asked),
    )


def _cumulative(
    history: RepairHistory, rows: RepairRows, value: Floats, total: Floats, variance: Floats, confidence: float
) -> Cumulative:
    mean = running(total / rows.at_risk, rows.first, np.add)
    squares = weighed(rows.row_at(history.stratum, history.at), value**2, rows.t.size)
    noise = _NOISE * running(squares / rows.at_risk**2, rows.first, np.add)
    return _with_limits(mean, np.sqrt(np.where(variance > noise, variance, 0.0)), confidence)


def _with_limits(mean: Floats, se: Floats, confidence: float) -> Cumulative:
    reach = float(ndtri(0.5 + confidence / 2)) * np.where(se > 0, se, np.nan)
    above = np.where(mean > 0, mean, np.nan)
    factor = np.exp(reach / above)
    return Cumulative(mean, se, above / factor, above * factor, mean - reach, mean + reach)


def _read(values: Floats, row: Codes, before: float) -> Floats:
    return np.append(values, before)[row]


def _read_all(of: Cumulative, row: Codes) -> Cumulative:
    missing = np.nan
    return Cumulative(
        _read(of.mean, row, 0.0),
        *(_read(v, row, missing) for v in (of.se, of.lower, of.upper, of.lower_plain, of.upper_plain)),
    )
