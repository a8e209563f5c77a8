"""Estimates from a plain table of lives, as one dict ready for JSON. Frame in, dict out; no file is read."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.curve_reading import (
    RestrictedMeans,
    restricted_means,
    survival_at,
    survival_quantiles,
)
from longmile.pipelines.estimators.lives import Floats, miles_at_risk, n_failures, n_lives
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.weibull import WeibullFits, fit_weibull
from longmile.pipelines.estimators.quantities import (
    Limits,
    Quantity,
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    survival_to,
    wald_limits,
)
from longmile.pipelines.steps.fit_input import FitInput, read_fit_input

if TYPE_CHECKING:
    import polars as pl

LimitsKind = Literal["profile", "wald"]
THIN_FAILURES = 5  # a rule of this program, no source: below it, read the limits and not the estimate
_MILEAGES: dict[str, Quantity] = {
    "mean": mean_life(),
    "median": life_by(0.5),
    "b10": life_by(0.1),
    "b1": life_by(0.01),
}
METHODS = {
    "rate": "failures / miles at risk, exact Poisson limits, both tails (Garwood 1936)",
    "survival": "Kaplan-Meier with late entry, Greenwood error, log-log limits",
    "cumulative_hazard": "Nelson-Aalen, variance d / n^2",
    "weibull": "maximum likelihood given survival to entry; S(t) = exp(-(t / scale)^shape)",
    "restricted_mean": "area under the Kaplan-Meier curve to the horizon, plain limits",
    "at_risk": "lives at risk just before the first mileage >= t at which a life ended",
    "at_risk_at_t": "lives with entry < t <= exit",
    "interval_failures": "survival and rate take them as found at the end of the interval; weibull does not",
    "other_removals": "event 2 and up ends a life without failure: censored here, counted in n_removals",
}


def fit_lives(
    frame: pl.DataFrame,
    *,
    by: list[str],
    at: list[float],
    horizon: float | None,
    limits: LimitsKind = "profile",
    confidence: float = 0.95,
) -> dict[str, Any]:
    """Rates, survival, Weibull fit and restricted mean per stratum, None where there is no number.

    frame: all columns text; see `fit_input`.   by: columns that make strata.   at: mileages to read the
    curves at (empty: at every failure).   horizon: of the restricted mean; None takes each stratum's largest
    mileage watched. Rates are per mile of the file's own unit. Raises UnreadableFileError for missing
    columns, LivesError for at, horizon or confidence that cannot be.
    """
    _check_asked(at, horizon, confidence)
    found = read_fit_input(frame, by)
    curves = kaplan_meier(found.data, confidence=confidence)
    to = curves.largest if horizon is None else np.full(found.data.n_strata, horizon)
    fits = fit_weibull(found.data)
    columns: list[list[Any]] = [
        _counts(found, curves),
        _rates(found, confidence),
        _survival(curves, sorted(set(at))),
        _quantiles(curves),
        _weibull(fits, curves, sorted(set(at)), limits, confidence),
        _restricted(restricted_means(curves, to)),
    ]
    keys = ("rate", "survival", "quantiles", "models", "restricted_mean")
    strata = [{**parts[0], **dict(zip(keys, parts[1:], strict=True))} for parts in zip(*columns, strict=True)]
    return {
        "strata": strata,
        "layout": found.layout,
        "confidence": confidence,
        "limits": limits,
        "n_rows": found.n_rows,
        "n_set_aside": found.n_set_aside,
        "set_aside": found.set_aside,
        "ignored_columns": found.ignored_columns,
        "methods": METHODS,
    }


def number(value: float) -> float | None:
    """The value for JSON: None where it is not finite."""
    return float(value) if math.isfinite(value) else None


def _count(value: float) -> float | int:
    return int(value) if float(value).is_integer() else float(value)


def _check_asked(at: list[float], horizon: float | None, confidence: float) -> None:
    wrong = [t for t in at if not (math.isfinite(t) and t > 0)]
    if wrong:
        raise LivesError(f"--at holds {wrong[0]:g}. Expected mileages above 0, such as 50000,100000.")
    if horizon is not None and not (math.isfinite(horizon) and horizon > 0):
        raise LivesError(f"--horizon is {horizon:g}. Expected a mileage above 0.")
    if not 0 < confidence < 1:
        raise LivesError(f"--confidence is {confidence:g}. Expected a number between 0 and 1, such as 0.95.")


def _counts(found: FitInput, curves: SurvivalCurves) -> list[dict[str, Any]]:
    data = found.data
    failures, at_risk = n_failures(data), miles_at_risk(data)
    status = np.where(failures >= THIN_FAILURES, "ok", np.where(failures > 0, "thin", "no_failures"))
    status = np.where(at_risk > 0, status, "too_few_at_risk")
    total = n_lives(data)
    return [
        {
            "by": group,
            "status": str(status[s]),
            "n_lives": _count(total[s]),
            "n_failures": _count(failures[s]),
            "n_removals": _count(found.removals[s]),
            "n_clusters": None if found.clusters is None else int(found.clusters[s]),
            "at_risk_total": number(at_risk[s]),
            "largest_exit": number(curves.largest[s]),
        }
        for s, group in enumerate(found.by)
    ]


def _rates(found: FitInput, confidence: float) -> list[dict[str, Any]]:
    rates = poisson_rates(n_failures(found.data), miles_at_risk(found.data), confidence)
    ends = zip(rates.rate, rates.lower, rates.upper, rates.status, strict=True)
    return [
        {"estimate": number(rate), "lower": number(low), "upper": number(high), "status": str(status)}
        for rate, low, high, status in ends
    ]


def _survival(curves: SurvivalCurves, at: list[float]) -> list[list[dict[str, Any]]]:
    """Rows of each stratum's curve: at the asked mileages, or at every failure."""
    n_strata = curves.start.size - 1
    cell = np.repeat(np.arange(n_strata), len(at)) if at else curves.stratum
    t = np.tile(np.asarray(at, np.float64), n_strata) if at else curves.t
    read = survival_at(curves, cell, t)
    rows = [
        {
            "t": number(t[i]),
            "at_risk": _count(read.at_risk_next[i]),
            "at_risk_at_t": _count(read.at_risk[i]),
            "events": _count(read.events[i]),
            "survival": number(read.survival[i]),
            "se": number(read.se[i]),
            "lower": number(read.lower[i]),
            "upper": number(read.upper[i]),
            "cumulative_hazard": number(read.cumulative_hazard[i]),
            "se_cumulative_hazard": number(read.se_cumulative_hazard[i]),
            "beyond_last_mileage": not t[i] <= curves.largest[cell[i]],
        }
        for i in range(t.size)
    ]
    start = np.arange(n_strata + 1) * len(at) if at else curves.start
    return [rows[start[s] : start[s + 1]] for s in range(n_strata)]


def _quantiles(curves: SurvivalCurves) -> list[list[dict[str, Any]]]:
    read = {p: survival_quantiles(curves, p) for p in (0.1, 0.25, 0.5)}
    return [
        [
            {
                "p_failed": p,
                "estimate": number(q.estimate[s]),
                "lower": number(q.lower[s]),
                "upper": number(q.upper[s]),
            }
            for p, q in read.items()
        ]
        for s in range(curves.start.size - 1)
    ]


def _weibull(
    fits: WeibullFits, curves: SurvivalCurves, at: list[float], limits: LimitsKind, confidence: float
) -> list[dict[str, Any]]:
    asked = dict(_MILEAGES) | {"shape_limits": shape(), "scale_limits": scale()}
    asked |= {f"survival {t!r}": survival_to(t) for t in at}
    steps = [(low, high - low) for low, high in pairwise(at)]
    asked |= {f"further {t!r}": survival_further(t, w) for t, w in steps}
    make = profile_limits if limits == "profile" else wald_limits
    made = {name: make(fits, quantity, confidence) for name, quantity in asked.items()}
    return [
        {
            "weibull": {
                "status": str(fits.status[s]),
                "reason": str(fits.reason[s]) or None,
                "shape": number(fits.shape[s]),
                "scale": number(fits.scale[s]),
                "se_log_shape": number(fits.se_log_shape[s]),
                "se_log_scale": number(fits.se_log_scale[s]),
                "cov_log_scale_log_shape": number(fits.cov_log[s]),
                "log_likelihood": number(fits.log_likelihood[s]),
                "shape_limits": _limits(made["shape_limits"], s),
                "scale_limits": _limits(made["scale_limits"], s),
                **{name: _mileage(made[name], s, curves.largest) for name in _MILEAGES},
                "survival": [{"t": t, **_limits(made[f"survival {t!r}"], s)} for t in at],
                "conditional": [{"t": t, "w": w, **_limits(made[f"further {t!r}"], s)} for t, w in steps],
            }
        }
        for s in range(fits.status.size)
    ]


def _limits(made: Limits, s: int) -> dict[str, Any]:
    """Estimate and limits of one stratum; unbounded names the sides on which the data set no limit."""
    low, high = float(made.lower[s]), float(made.upper[s])
    sides = [side for side, open_ in (("lower", low == 0.0), ("upper", math.isinf(high))) if open_]
    return {
        "estimate": number(made.estimate[s]),
        "lower": number(low),
        "upper": number(high),
        "se_working": number(made.se[s]),
        "limits": made.method,
        "unbounded": sides,
    }


def _mileage(made: Limits, s: int, largest: Floats) -> dict[str, Any]:
    estimate = made.estimate[s]
    beyond = bool(estimate > largest[s]) if math.isfinite(estimate) else None
    return {**_limits(made, s), "extrapolated": beyond}


def _restricted(means: RestrictedMeans) -> list[dict[str, Any]]:
    return [
        {
            "estimate": number(means.estimate[s]),
            "se": number(means.se[s]),
            "lower": number(means.lower[s]),
            "upper": number(means.upper[s]),
            "horizon": number(means.horizon[s]),
            "beyond_last_mileage": bool(means.beyond_last[s]),
        }
        for s in range(means.estimate.size)
    ]
