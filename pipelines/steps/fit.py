"""Estimates from a plain table of lives, as one dict ready for JSON. Frame in, dict out; no file is read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.clustered_curves import clustered_survival
from longmile.pipelines.estimators.clustered_means import clustered_restricted_means
from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.curve_reading import (
    RestrictedMeans,
    restricted_means,
    survival_at,
    survival_quantiles,
)
from longmile.pipelines.estimators.curve_start import curve_start
from longmile.pipelines.estimators.lives import Miles, miles_at_risk, n_failures, n_lives
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.steps.fit_bootstrap import bootstrap_parts
from longmile.pipelines.steps.fit_causes import comparison_parts, incidence_parts, interval_parts
from longmile.pipelines.steps.fit_input import FitInput, read_fit_input
from longmile.pipelines.steps.fit_models import LimitsKind, choice_parts, model_parts
from longmile.pipelines.steps.json_numbers import count, number
from longmile.pipelines.steps.models import fitted_models

if TYPE_CHECKING:
    import polars as pl

THIN_FAILURES = 5  # a rule of this program, no source: below it, read the limits and not the estimate
METHODS = {
    "rate": "failures / miles at risk, exact Poisson limits, both tails (Garwood 1936)",
    "survival": "Kaplan-Meier with late entry, Greenwood error, log-log limits",
    "cumulative_hazard": "Nelson-Aalen, variance d / n^2",
    "weibull": "maximum likelihood given survival to entry; S(t) = exp(-(t / scale)^shape)",
    "lognormal, loglogistic": "the same; log t = mu + sigma z, scale = exp(mu), shape = 1 / sigma",
    "exponential": "the same with the shape held at 1",
    "clusters": "where a column says cluster, errors and limits are by cluster: sandwich, never narrower than without",
    "bootstrap": "percentile limits over samples of whole clusters, seeded; quantiles of the survival curve",
    "incidence": "Aalen-Johansen with late entry, error by the infinitesimal jackknife",
    "comparison": "log-rank with late entry; with other removals Gray's test of each cause",
    "npmle": "Turnbull, given survival to entry, to a gap of 1e-7",
    "survival_from": "age from which the curve speaks, of lives that reach it; advised: where enough are at risk",
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
    compare: str | None = None,
    within: str | None = None,
    from_age: float = 0.0,
    bootstrap: int = 0,
) -> dict[str, Any]:
    """Rates, survival, fitted distributions, restricted mean and more per stratum, None where there is no number.

    frame: all columns text; see `fit_input`.   by: columns that make strata.   at: mileages to read the
    curves at (empty: at every failure).   horizon: of the restricted mean; None takes each stratum's largest
    mileage watched.   compare, within: columns of groups to test against each other, and of blocks to do so
    within.   from_age: the survival curve is of lives that reach it.   bootstrap: so many samples of whole clusters for
    limits of what has no formula by cluster; 0: none. Rates are per mile of the file's own unit.
    Raises UnreadableFileError for missing columns, LivesError for at, horizon, from_age or confidence that cannot be.
    """
    _check_asked(at, horizon, confidence, from_age)
    found = read_fit_input(frame, by, compare, within)
    asked = sorted(set(at))
    whole = kaplan_meier(found.data, confidence=confidence)
    curves = kaplan_meier(found.data, confidence=confidence, start=from_age) if from_age else whole
    to = curves.largest if horizon is None else np.full(found.data.n_strata, horizon)
    models = fitted_models(found.data, None, curves)
    columns: dict[str, list[Any]] = {
        "rate": _rates(found, confidence),
        "survival": _survival(found, curves, asked),
        "survival_from": _starts(curves, curve_start(whole)),
        "quantiles": _quantiles(curves),
        "models": model_parts(models, curves.largest, asked, limits, confidence, found.clusters is not None),
        "choice": choice_parts(models),
        "restricted_mean": _restricted(_means(found, curves, to)),
        "bootstrap": bootstrap_parts(found, from_age, bootstrap, confidence),
        "incidence": incidence_parts(found, asked, confidence),
        "comparison": comparison_parts(found),
        "npmle": interval_parts(found),
    }
    counts = _counts(found, curves)
    strata = [{**head, **{name: part[s] for name, part in columns.items()}} for s, head in enumerate(counts)]
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


def _check_asked(at: list[float], horizon: float | None, confidence: float, from_age: float) -> None:
    wrong = [t for t in at if not (math.isfinite(t) and t > 0)]
    if wrong:
        raise LivesError(f"--at holds {wrong[0]:g}. Expected mileages above 0, such as 50000,100000.")
    if horizon is not None and not (math.isfinite(horizon) and horizon > 0):
        raise LivesError(f"--horizon is {horizon:g}. Expected a mileage above 0.")
    if not (math.isfinite(from_age) and from_age >= 0):
        raise LivesError(f"--from is {from_age:g}. Expected an age of 0 or more.")
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
            "n_lives": count(total[s]),
            "n_failures": count(failures[s]),
            "n_removals": count(found.removals[s]),
            "n_clusters": None if found.clusters is None else int(found.clusters[s]),
            "at_risk_total": number(at_risk[s]),
            "largest_exit": number(curves.largest[s]),
        }
        for s, group in enumerate(found.by)
    ]


def _rates(found: FitInput, confidence: float) -> list[dict[str, Any]]:
    """Rates with exact Poisson limits, or with limits by cluster where lives name theirs."""
    if found.clusters is None:
        rates = poisson_rates(n_failures(found.data), miles_at_risk(found.data), confidence)
        spread = np.full(rates.rate.size, np.nan)
    else:
        by_cluster = clustered_rates(found.data, None, confidence)
        rates, spread = by_cluster.rates, by_cluster.dispersion
    method = "exact Poisson" if found.clusters is None else "gamma by cluster"
    return [
        {
            "estimate": number(rates.rate[s]),
            "lower": number(rates.lower[s]),
            "upper": number(rates.upper[s]),
            "status": str(rates.status[s]),
            "limits": method,
            "dispersion": number(spread[s]),
        }
        for s in range(rates.rate.size)
    ]


def _starts(curves: SurvivalCurves, advised: Miles) -> list[dict[str, Any]]:
    """From what age each curve speaks, and from what age it should, where too few were at risk early on."""
    return [{"from": number(curves.from_age[s]), "advised": number(advised[s])} for s in range(advised.size)]


def _survival(found: FitInput, curves: SurvivalCurves, at: list[float]) -> list[list[dict[str, Any]]]:
    """Rows of each stratum's curve: at the asked mileages, or at every failure."""
    n_strata = curves.start.size - 1
    cell = np.repeat(np.arange(n_strata), len(at)) if at else curves.stratum
    t = np.tile(np.asarray(at, np.float64), n_strata) if at else curves.t
    read = survival_at(curves, cell, t)
    rows: list[dict[str, Any]] = [
        {
            "t": number(t[i]),
            "at_risk": count(read.at_risk_next[i]),
            "at_risk_at_t": count(read.at_risk[i]),
            "events": None if np.isnan(read.events[i]) else count(read.events[i]),
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
    if found.clusters is not None:
        by_cluster = clustered_survival(curves, found.data, None, cell, t)
        for i, row in enumerate(rows):
            row["clustered_se"] = number(by_cluster.se[i])
            row["lower"], row["upper"] = number(by_cluster.lower[i]), number(by_cluster.upper[i])
    start = np.arange(n_strata + 1) * len(at) if at else curves.start
    return [rows[start[s] : start[s + 1]] for s in range(n_strata)]


def _means(found: FitInput, curves: SurvivalCurves, to: Miles) -> RestrictedMeans:
    if found.clusters is None:
        return restricted_means(curves, to)
    return clustered_restricted_means(curves, found.data, None, to)


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
