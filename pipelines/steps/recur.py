"""Mean cumulative repairs, trend models and tests of a history, as one dict ready for JSON. No file is read."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import numpy as np

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.mean_cumulative import Cumulative, RepairCurvesAt, curves_at, mean_cumulative
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.repair_history import (
    RepairHistory,
    miles_watched,
    n_repairs,
    n_units,
    n_units_repaired,
)
from longmile.pipelines.estimators.trend_tests import trend_tests
from longmile.pipelines.steps.json_numbers import number
from longmile.pipelines.steps.recur_input import ReadRows, RecurInput
from longmile.pipelines.steps.recur_models import trend_models, trend_test_rows

THIN_REPAIRS = 5
"""Below so many repairs, or units watched, a stratum is called thin (a rule of this program, no source)."""

METHODS = {
    "rate": "repairs / miles watched, exact Poisson limits, both tails (Garwood 1936)",
    "number, cost": "mean cumulative function: sum over the repair mileages of repairs (cost) / units watched",
    "se_robust": "Lawless-Nadeau 1995, no n - 1 factor; lower and upper on the log scale, *_plain as they are",
    "se_poisson": "were repairs independent of each other: root of the sum of repairs / units watched squared",
    "unwatched_miles": "miles up to t over which no unit was watched; the mean counts no repair there",
    "power_law": "Poisson process, M(t) = lambda t^beta, maximum likelihood; Wald limits on the log scale",
    "log_linear": "Poisson process, intensity e^(a + slope t), maximum likelihood; plain Wald limits of the slope",
    "exact": "where all units were watched from 0 to one end: chi-square limits of beta, Crow's of the miles between",
    "modified": "bias-reduced beta, (n - 1) / n of the maximum-likelihood one; large-sample limits of the miles",
    "against_constant": "likelihood ratio against one constant rate of all units, chi-square with 1 degree of freedom",
    "laplace": "each unit against a constant rate of its own; above 0: repairs come faster as the miles go on",
    "laplace_by_unit": "the same with the error from how units differ, which allows for repairs in bunches",
    "mil_hdbk_189": "chi-square of the shares of the watched miles before each repair; below df: faster",
}


def recur_repairs(found: RecurInput, *, at: list[float], confidence: float = 0.95) -> dict[str, Any]:
    """Mean number and cost of repairs per unit against mileage, trend models and tests per stratum; None: no number.

    at: mileages to read the curves at (empty: at every repair). Rates are per mile of the files' own unit.
    Raises LivesError for at or confidence that cannot be.
    """
    _check_asked(at, confidence)
    history = found.history
    columns: list[list[Any]] = [
        _counts(found),
        _rates(history, confidence),
        _curves(history, sorted(set(at)), confidence),
        trend_models(history, sorted(set(at)), confidence),
        trend_test_rows(trend_tests(history)),
    ]
    keys = ("rate", "mean_cumulative", "models", "trend_tests")
    strata = [{**parts[0], **dict(zip(keys, parts[1:], strict=True))} for parts in zip(*columns, strict=True)]
    return {
        "strata": strata,
        "confidence": confidence,
        "repairs": _tally(found.repairs),
        "windows": {**_tally(found.windows), "n_merged": found.n_merged_windows},
        "methods": METHODS,
    }


def _check_asked(at: list[float], confidence: float) -> None:
    wrong = [t for t in at if not (math.isfinite(t) and t > 0)]
    if wrong:
        raise LivesError(f"--at holds {wrong[0]:g}. Expected mileages above 0, such as 50000,100000.")
    if not 0 < confidence < 1:
        raise LivesError(f"--confidence is {confidence:g}. Expected a number between 0 and 1, such as 0.95.")


def _tally(read: ReadRows) -> dict[str, Any]:
    return dataclasses.asdict(read)


def _counts(found: RecurInput) -> list[dict[str, Any]]:
    history = found.history
    repairs, units, miles = n_repairs(history), n_units(history), miles_watched(history)
    fewest = np.minimum(repairs, units)
    status = np.select(
        [miles <= 0, repairs == 0, fewest < THIN_REPAIRS], ["too_few_at_risk", "no_failures", "thin"], "ok"
    )
    columns = {
        "n_units": units,
        "n_units_repaired": n_units_repaired(history),
        "n_repairs": repairs,
        "n_windows": history.by_stratum(np.ones(history.start.size)),
    }
    spent = None if history.cost is None else history.by_repair(history.cost)
    return [
        {
            "by": group,
            "status": str(status[s]),
            **{name: int(column[s]) for name, column in columns.items()},
            "total_cost": None if spent is None else number(spent[s]),
            "miles_watched": number(miles[s]),
            "last_mileage": number(history.largest[s]),
        }
        for s, group in enumerate(found.by)
    ]


def _rates(history: RepairHistory, confidence: float) -> list[dict[str, Any]]:
    rates = poisson_rates(n_repairs(history), miles_watched(history), confidence)
    columns = {"estimate": rates.rate, "lower": rates.lower, "upper": rates.upper}
    return [{name: number(column[s]) for name, column in columns.items()} for s in range(history.n_strata)]


def _curves(history: RepairHistory, at: list[float], confidence: float) -> list[list[dict[str, Any]]]:
    """Curves read at the mileages asked for, or at every repair mileage."""
    curves = mean_cumulative(history, confidence)
    n = history.n_strata
    cell = np.repeat(np.arange(n), len(at)) if at else curves.rows.stratum
    t = np.tile(np.array(at), n) if at else curves.rows.t
    start = np.arange(n + 1) * len(at) if at else curves.rows.start
    points = _points(t, curves_at(curves, cell, t))
    return [points[start[s] : start[s + 1]] for s in range(n)]


def _points(t: Floats, read: RepairCurvesAt) -> list[dict[str, Any]]:
    return [
        {
            "t": number(t[i]),
            "at_risk": int(read.at_risk[i]),
            "n_repairs": int(read.repairs[i]),
            "number": {**_mean(read.number, i), "se_poisson": number(read.se_poisson[i])},
            "cost": None if read.cost is None else _mean(read.cost, i),
            "beyond_last_mileage": bool(read.is_beyond[i]),
            "unwatched_miles": number(read.unwatched[i]),
        }
        for i in range(t.size)
    ]


def _mean(of: Cumulative, i: int) -> dict[str, Any]:
    return {
        "estimate": number(of.mean[i]),
        "se_robust": number(of.se[i]),
        "lower": number(of.lower[i]),
        "upper": number(of.upper[i]),
        "lower_plain": number(of.lower_plain[i]),
        "upper_plain": number(of.upper_plain[i]),
    }
