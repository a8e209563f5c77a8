"""Estimates, survival points and conditional survival of every stratum, as the result tables declare them.

Nothing is estimated here: the counts come from the lives, the numbers from the estimators; this module names columns.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from longmile.pipelines.estimators.curve_reading import restricted_means
from longmile.pipelines.estimators.lives import miles_at_risk, n_lives
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.weibull import WeibullFits, fit_weibull
from longmile.pipelines.estimators.quantities import (
    Limits,
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    wald_limits,
)
from longmile.pipelines.steps.strata import Strata

FEWEST_FAILURES = 5
"""Below so many failures a stratum is called thin: its limits hold, but its shape says little (our own choice)."""

FROM_MILES = (0.0, 25_000.0, 50_000.0, 100_000.0, 150_000.0)
"""Ages at which conditional survival is given."""


@dataclass(frozen=True)
class Estimates:
    """The result tables of one unit."""

    estimate: pl.DataFrame
    survival_point: pl.DataFrame
    conditional_survival: pl.DataFrame


def estimates(
    made: Strata, counts: pl.DataFrame, confidence: float, horizon_miles: float, further_miles: float
) -> Estimates:
    """Result tables of the strata.

    counts: component_code, engine_family and the event counts of `estimate` (`event_counts`); strata without a row
    there have none.
    """
    curves = kaplan_meier(made.lives, made.shared, confidence)
    fits = fit_weibull(made.lives, made.shared)
    table = _stratum_columns(made, counts)
    numbers = {
        "n_lives": np.rint(n_lives(made.lives, made.shared)).astype(np.int64),
        "miles_at_risk": np.maximum(miles_at_risk(made.lives, made.shared), 0.0),
        "largest_miles": curves.largest,
        **_weibull_columns(fits, curves, confidence),
        **_restricted_columns(curves, horizon_miles),
    }
    wide = table.with_columns(pl.Series(name, values) for name, values in numbers.items())
    wide = _finished(wide, confidence, fits)
    return Estimates(wide, _points(made, curves), _conditional(made, fits, curves, confidence, further_miles))


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
    plain = pl.when(pl.col("n_failures") > 0).then(pl.col("ages") / pl.col("n_failures"))
    return counted.with_columns(plain_mean_miles=plain).drop("ages")


def _stratum_columns(made: Strata, counts: pl.DataFrame) -> pl.DataFrame:
    """The strata with their counts, in the order of their codes."""
    joined = made.table.join(counts, on=["component_code", "engine_family"], how="left").sort("stratum")
    counted = [name for name in counts.columns if name.startswith("n_")]
    return joined.with_columns(pl.col(counted).fill_null(0), unit=pl.lit(made.unit)).drop("stratum", "n_sockets_each")


def _weibull_columns(
    fits: WeibullFits, curves: SurvivalCurves, confidence: float
) -> dict[str, npt.NDArray[np.generic]]:
    """Shape, scale, mean, median and B10 with profile limits, and whether each lies beyond what was watched."""
    quantities = {
        "shape": shape(),
        "scale_miles": scale(),
        "mean_miles": mean_life(),
        "median_miles": life_by(0.5),
        "b10_miles": life_by(0.1),
    }
    columns: dict[str, npt.NDArray[np.generic]] = {"weibull_status": fits.status}
    for name, quantity in quantities.items():
        found = profile_limits(fits, quantity, confidence)
        columns.update(_limited(name, found))
        if name in ("mean_miles", "median_miles", "b10_miles"):
            columns[name.replace("_miles", "_extrapolated")] = found.estimate > curves.largest
    return columns


def _limited(name: str, found: Limits) -> dict[str, npt.NDArray[np.generic]]:
    return {name: found.estimate, f"{name}_lower": found.lower, f"{name}_upper": found.upper}


def _restricted_columns(curves: SurvivalCurves, horizon_miles: float) -> dict[str, npt.NDArray[np.generic]]:
    """Restricted mean to the horizon, or to the largest age watched where that is less."""
    horizon = np.fmin(horizon_miles, curves.largest)
    known = np.isfinite(horizon)
    found = restricted_means(curves, np.where(known, horizon, 1.0))
    name = "restricted_mean_miles"
    values = {
        name: found.estimate,
        f"{name}_lower": found.lower,
        f"{name}_upper": found.upper,
        "horizon_miles": horizon,
    }
    return {key: np.where(known, value, np.nan) for key, value in values.items()}


def _finished(wide: pl.DataFrame, confidence: float, fits: WeibullFits) -> pl.DataFrame:
    """Rates and statuses added; what is not a number, or without bound, left empty."""
    rates = poisson_rates(wide["n_failures"].to_numpy(), wide["miles_at_risk"].to_numpy(), confidence)
    per_100k = {
        "rate_per_100k": rates.rate,
        "rate_per_100k_lower": rates.lower,
        "rate_per_100k_upper": rates.upper,
    }
    with_rates = wide.with_columns(
        *(pl.Series(name, values * 100_000) for name, values in per_100k.items()),
        confidence=pl.lit(confidence),
        limits=pl.when(pl.Series(fits.ok)).then(pl.lit("profile")),
        status=_status(),
    )
    numbers = [name for name, kind in with_rates.schema.items() if kind == pl.Float64]
    fitted = ("mean_extrapolated", "median_extrapolated", "b10_extrapolated")
    return with_rates.with_columns(
        pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)),
        *(pl.when(pl.Series(fits.ok)).then(pl.col(name)).alias(name) for name in fitted),
    )


def _status() -> pl.Expr:
    """How far a row can be trusted: nothing watched, nothing failed, a fit that failed, few failures, or ok."""
    return (
        pl.when(pl.col("miles_at_risk") <= 0)
        .then(pl.lit("too_few_at_risk"))
        .when(pl.col("n_failures") == 0)
        .then(pl.lit("no_failures"))
        .when(pl.col("n_failures") < FEWEST_FAILURES)
        .then(pl.lit("thin"))
        .otherwise(pl.col("weibull_status"))
    )


def _points(made: Strata, curves: SurvivalCurves) -> pl.DataFrame:
    """Survival points: one row per stratum and age at which something failed."""
    names = made.table.select("component_code", "engine_family")[curves.stratum]
    frame = names.with_columns(
        pl.Series("age_miles", curves.t),
        pl.Series("at_risk", np.rint(curves.at_risk).astype(np.int64)),
        pl.Series("n_events", np.rint(curves.events).astype(np.int64)),
        pl.Series("survival", curves.survival),
        pl.Series("survival_lower", curves.lower),
        pl.Series("survival_upper", curves.upper),
        pl.Series("cumulative_hazard", curves.cumulative_hazard),
        unit=pl.lit(made.unit),
    )
    return frame.with_columns(pl.col("survival_lower", "survival_upper").fill_nan(None))


def _conditional(
    made: Strata, fits: WeibullFits, curves: SurvivalCurves, confidence: float, further_miles: float
) -> pl.DataFrame:
    """Chance to run further from each age, of strata with a fit that were watched at that age."""
    names = made.table.select("component_code", "engine_family").with_columns(unit=pl.lit(made.unit))
    frames = []
    for age in FROM_MILES:
        found = wald_limits(fits, survival_further(age, further_miles), confidence)
        frames.append(
            names.with_columns(
                pl.Series("survival", found.estimate),
                pl.Series("survival_lower", found.lower),
                pl.Series("survival_upper", found.upper),
                pl.Series("is_extrapolated", age + further_miles > curves.largest),
                from_miles=pl.lit(age),
                further_miles=pl.lit(further_miles),
            ).filter(pl.Series(fits.ok & (curves.largest >= age)))
        )
    return pl.concat(frames)
