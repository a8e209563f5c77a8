"""Estimates, fits, survival points and conditional survival of every stratum, as the result tables declare them.

Nothing is estimated here: the counts come from the lives, the numbers from the estimators; this module names columns.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from longmile.pipelines.estimators.clustered_curves import thinned_limits
from longmile.pipelines.estimators.clustered_means import clustered_restricted_means
from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.clusters import n_clusters_failed
from longmile.pipelines.estimators.curve_start import started_curves
from longmile.pipelines.estimators.lives import miles_at_risk, n_failures, n_lives
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier
from longmile.pipelines.estimators.quantities import (
    Limits,
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    survival_to,
)
from longmile.pipelines.estimators.robust import clustered_limits
from longmile.pipelines.steps.models import (
    FittedModels,
    choice_columns,
    clustered,
    fitted_models,
    kept_limits,
    model_rows,
)
from longmile.pipelines.steps.strata import FEWEST_FAILURES, Strata
from longmile.schemas.lives import MILES_DECIMALS

ROUND_MILES = 100_000.0
"""Age to which the chance that a new part survives is given."""

FEWEST_IN_TAIL, TAIL_OF_MOST = 20, 0.1
"""At risk, and as a share of the most ever at risk: below both, pointwise 95 % limits of a survival curve held the
truth in 84 to 94 of 100 simulated shops (tests/simulation), elsewhere in about 95."""

FROM_MILES = (0.0, 25_000.0, 50_000.0, 100_000.0, 150_000.0)
"""Ages at which conditional survival is given."""


@dataclass(frozen=True)
class Estimates:
    """The result tables of one unit."""

    estimate: pl.DataFrame
    survival_point: pl.DataFrame
    conditional_survival: pl.DataFrame
    model_fit: pl.DataFrame


def estimates(
    made: Strata, counts: pl.DataFrame, confidence: float, horizon_miles: float, further_miles: float
) -> Estimates:
    """Result tables of the strata.

    counts: component_code, engine_family and the event counts of `estimate` (`event_counts`); strata without a row
    there have none.
    """
    curves = curves_of(made, confidence)
    models = fitted_models(made.aged, made.aged_shared, curves)
    table = _stratum_columns(made, counts)
    numbers = {
        "n_lives": np.rint(n_lives(made.lives, made.shared)).astype(np.int64),
        "n_vehicles_failed": np.rint(n_clusters_failed(made.lives)).astype(np.int64),
        "miles_at_risk": np.maximum(miles_at_risk(made.lives, made.shared), 0.0),
        "n_aged_failures": np.rint(n_failures(made.aged)).astype(np.int64),
        "original_below_miles": np.where(np.isfinite(made.original_below), made.original_below, np.nan),
        "largest_miles": curves.largest,
        "curve_from_miles": curves.from_age,
        **_fitted_columns(models, curves, confidence),
        **_restricted_columns(made, curves, horizon_miles),
        **_rate_columns(made, confidence),
    }
    wide = table.with_columns(pl.Series(name, values) for name, values in numbers.items())
    wide = _finished(wide.with_columns(choice_columns(models)), confidence)
    keys = table.select("component_code", "engine_family", "unit")
    conditional = _conditional(made, models, curves, confidence, further_miles)
    return Estimates(wide, _points(made, curves), conditional, model_rows(models, keys))


def curves_of(made: Strata, confidence: float) -> SurvivalCurves:
    """Survival curves, each from the age on at which enough parts were watched to speak of."""
    return started_curves(kaplan_meier(made.aged, made.aged_shared, confidence))


def event_counts(life: pl.DataFrame, walk_in: pl.DataFrame, all_families: str) -> pl.DataFrame:
    """Counts per component and family, and over all families, of what ended lives.

    life: of one unit.   walk_in: rows of failures on a first visit, already of that unit.
    """
    failed = pl.col("is_event")
    ended = life.group_by("component_code", "engine_family").agg(
        n_failures=failed.sum(),
        n_removals=(pl.col("outcome") == "removed").sum(),
        n_one_of_set=(failed & ~pl.col("is_position_known")).sum(),
        n_interval=(failed & pl.col("last_sound_miles").is_not_null()).sum(),
        n_unknown_reason=(failed & (pl.col("reason") == "unknown")).sum(),
        n_orders=pl.col("end_order_id").filter(failed).n_unique(),
        ages=pl.col("exit_miles").filter(failed).sum(),
    )
    first = walk_in.group_by("component_code", "engine_family").agg(n_walk_ins=pl.len())
    both = ended.join(first, on=["component_code", "engine_family"], how="full", coalesce=True)
    both = both.with_columns(pl.all().exclude("component_code", "engine_family").fill_null(0))
    whole = both.group_by("component_code").agg(pl.all().exclude("component_code", "engine_family").sum())
    counted = pl.concat([both, whole.with_columns(engine_family=pl.lit(all_families)).select(both.columns)])
    # Sums over groups are made in any order: without rounding the last digit would differ from run to run.
    plain = pl.when(pl.col("n_failures") > 0).then((pl.col("ages") / pl.col("n_failures")).round(MILES_DECIMALS))
    return counted.with_columns(plain_mean_miles=plain).drop("ages")


def _stratum_columns(made: Strata, counts: pl.DataFrame) -> pl.DataFrame:
    """The strata with their counts, in the order of their codes."""
    joined = made.table.join(counts, on=["component_code", "engine_family"], how="left").sort("stratum")
    counted = [name for name in counts.columns if name.startswith("n_")]
    return joined.with_columns(pl.col(counted).fill_null(0), unit=pl.lit(made.unit)).drop("stratum", "n_sockets_each")


def _fitted_columns(
    models: FittedModels, curves: SurvivalCurves, confidence: float
) -> dict[str, npt.NDArray[np.generic]]:
    """Weibull shape and scale; mean, median, B10 and survival of the distribution used; whether each is beyond."""
    weibull = models.errors[0]
    columns: dict[str, npt.NDArray[np.generic]] = {"weibull_status": models.fits[0].status}
    for name, quantity in {"shape": shape(), "scale_miles": scale()}.items():
        columns.update(_limited(name, clustered_limits(weibull, quantity, confidence)))
    find = clustered(confidence)
    for name, quantity in {"mean": mean_life(), "median": life_by(0.5), "b10": life_by(0.1)}.items():
        found = kept_limits(models, quantity, find)
        columns.update(_limited(f"{name}_miles", found))
        columns[f"{name}_extrapolated"] = found.estimate > curves.largest
    columns.update(_limited("survival_100k", kept_limits(models, survival_to(ROUND_MILES), find)))
    columns["survival_100k_extrapolated"] = ~(curves.largest >= ROUND_MILES)
    return columns


def _rate_columns(made: Strata, confidence: float) -> dict[str, npt.NDArray[np.generic]]:
    """Failures per 100,000 miles with limits by vehicle."""
    found = clustered_rates(made.lives, made.shared, confidence)
    rates = found.rates
    ends = {"rate_per_100k": rates.rate, "rate_per_100k_lower": rates.lower, "rate_per_100k_upper": rates.upper}
    return {**{name: values * 100_000 for name, values in ends.items()}, "rate_dispersion": found.dispersion}


def _limited(name: str, found: Limits) -> dict[str, npt.NDArray[np.generic]]:
    return {name: found.estimate, f"{name}_lower": found.lower, f"{name}_upper": found.upper}


def _restricted_columns(
    made: Strata, curves: SurvivalCurves, horizon_miles: float
) -> dict[str, npt.NDArray[np.generic]]:
    """Restricted mean to the horizon, or to the largest age watched where that is less."""
    horizon = np.fmin(horizon_miles, curves.largest)
    known = np.isfinite(horizon)
    to = np.where(known, horizon, 1.0)
    found = clustered_restricted_means(curves, made.aged, made.aged_shared, to)
    name = "restricted_mean_miles"
    values = {
        name: found.estimate,
        f"{name}_lower": found.lower,
        f"{name}_upper": found.upper,
        "horizon_miles": horizon,
    }
    return {key: np.where(known, value, np.nan) for key, value in values.items()}


def _finished(wide: pl.DataFrame, confidence: float) -> pl.DataFrame:
    """Statuses added; what is not a number, or without bound, left empty."""
    is_fitted = pl.col("model").is_not_null()
    wide = wide.with_columns(
        confidence=pl.lit(confidence), limits=pl.when(is_fitted).then(pl.lit("clustered profile")), status=_status()
    )
    numbers = [name for name, kind in wide.schema.items() if kind == pl.Float64]
    fitted = ("mean_extrapolated", "median_extrapolated", "b10_extrapolated", "survival_100k_extrapolated")
    return wide.with_columns(
        pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)),
        *(pl.when(is_fitted).then(pl.col(name)).alias(name) for name in fitted),
    )


def _status() -> pl.Expr:
    """How far a row can be trusted: nothing watched, nothing failed, a fit that failed, few failures, or ok.

    Few also where few would be left at an age that is likely known, so that all first parts had to count.
    """
    return (
        pl.when(pl.col("miles_at_risk") <= 0)
        .then(pl.lit("too_few_at_risk"))
        .when(pl.col("n_failures") == 0)
        .then(pl.lit("no_failures"))
        .when(pl.col("n_failures") < FEWEST_FAILURES)
        .then(pl.lit("thin"))
        .when(pl.col("original_below_miles").is_nan() & pl.col("model").is_not_null())
        .then(pl.lit("thin"))
        .when(pl.col("model").is_not_null())
        .then(pl.lit("ok"))
        .otherwise(pl.lit("did_not_converge"))
    )


def _points(made: Strata, curves: SurvivalCurves) -> pl.DataFrame:
    """Survival points: one row per stratum and age at which something failed."""
    names = made.table.select("component_code", "engine_family")[curves.stratum]
    lower, upper = thinned_limits(curves, made.aged, made.aged_shared)
    frame = names.with_columns(
        pl.Series("age_miles", curves.t),
        pl.Series("at_risk", np.rint(curves.at_risk).astype(np.int64)),
        pl.Series("n_events", np.rint(curves.events).astype(np.int64)),
        pl.Series("survival", curves.survival),
        pl.Series("survival_lower", lower),
        pl.Series("survival_upper", upper),
        pl.Series("cumulative_hazard", curves.cumulative_hazard),
        pl.Series("is_tail", _in_tail(curves)),
        unit=pl.lit(made.unit),
    )
    return frame.with_columns(pl.col("survival_lower", "survival_upper").fill_nan(None))


def _in_tail(curves: SurvivalCurves) -> npt.NDArray[np.bool_]:
    """True for points at which the limits of a survival curve are too narrow: few are left, of many."""
    most = np.zeros(curves.largest.size)
    np.maximum.at(most, curves.stratum, curves.at_risk)
    few = (curves.at_risk < FEWEST_IN_TAIL) & (curves.at_risk < TAIL_OF_MOST * most[curves.stratum])
    flags: npt.NDArray[np.bool_] = few
    return flags


def _conditional(
    made: Strata, models: FittedModels, curves: SurvivalCurves, confidence: float, further_miles: float
) -> pl.DataFrame:
    """Chance to run further from each age, of strata with a fit that were watched at that age."""
    names = made.table.select("component_code", "engine_family").with_columns(unit=pl.lit(made.unit))
    frames = []
    for age in FROM_MILES:
        found = kept_limits(models, survival_further(age, further_miles), clustered(confidence, "wald"))
        frames.append(
            names.with_columns(
                pl.Series("survival", found.estimate),
                pl.Series("survival_lower", found.lower),
                pl.Series("survival_upper", found.upper),
                pl.Series("is_extrapolated", age + further_miles > curves.largest),
                from_miles=pl.lit(age),
                further_miles=pl.lit(further_miles),
            ).filter(pl.Series((models.kept >= 0) & (curves.largest >= age)))
        )
    return pl.concat(frames)
