"""How far the headline numbers move when lives are counted in another way.

Frames of lives cut in several ways in, rows of `sensitivity` out: all families of a component together.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import polars as pl

from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.lives import miles_at_risk, n_failures
from longmile.pipelines.estimators.quantities import life_by, mean_life
from longmile.pipelines.estimators.robust import clustered_limits, robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull
from longmile.pipelines.steps.strata import Strata
from longmile.schemas.results import ALL_FAMILIES

_MILES = ("mean_miles", "b10_miles")


def sensitivity(ways: Mapping[str, Strata], confidence: float) -> pl.DataFrame:
    """Rows of `sensitivity`: one per component and way of counting.

    ways: strata by name of the way; `as_set` must be among them. Every way is fitted by a Weibull, `as_set` too, so
    that only the counting differs.
    """
    rows = pl.concat([_headline(name, made, confidence) for name, made in ways.items()])
    as_set = rows.filter(pl.col("variant") == "as_set").select(
        "component_code", rate="rate_per_100k", mean="mean_miles", b10="b10_miles"
    )
    joined = rows.join(as_set, on="component_code")
    ratios = {"rate_ratio": ("rate_per_100k", "rate"), "mean_ratio": ("mean_miles", "mean")}
    ratios["b10_ratio"] = ("b10_miles", "b10")
    found = joined.with_columns((pl.col(a) / pl.col(b)).alias(name) for name, (a, b) in ratios.items())
    found = found.drop("rate", "mean", "b10")
    numbers = [name for name, kind in found.schema.items() if kind == pl.Float64]
    return found.with_columns(pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)))


def from_new(window: pl.DataFrame, life: pl.DataFrame, touched: pl.DataFrame) -> tuple[pl.DataFrame, ...]:
    """The same frames of only those vehicles that were seen from new."""
    new = window.filter(pl.col("origin") == "from_new")
    kept = new.select("vehicle_id")
    return new, life.join(kept, on="vehicle_id", how="semi"), touched.join(kept, on="vehicle_id", how="semi")


def _headline(name: str, made: Strata, confidence: float) -> pl.DataFrame:
    """Counts, rate, mean and B10 of all families together, counted one way."""
    rates = clustered_rates(made.lives, made.shared, confidence).rates
    errors = robust_errors(fit_weibull(made.aged, made.aged_shared), made.aged, made.aged_shared)
    columns = {
        "n_failures": np.rint(n_failures(made.lives)).astype(np.int64),
        "miles_at_risk": np.maximum(miles_at_risk(made.lives, made.shared), 0.0),
        "rate_per_100k": rates.rate * 100_000,
        "rate_per_100k_lower": rates.lower * 100_000,
        "rate_per_100k_upper": rates.upper * 100_000,
    }
    for column, quantity in zip(_MILES, (mean_life(), life_by(0.1)), strict=True):
        limits = clustered_limits(errors, quantity, confidence, "wald")
        columns |= {column: limits.estimate, f"{column}_lower": limits.lower, f"{column}_upper": limits.upper}
    frame = made.table.select("component_code", "engine_family").with_columns(
        pl.Series(key, values) for key, values in columns.items()
    )
    whole = frame.filter(pl.col("engine_family") == ALL_FAMILIES).drop("engine_family")
    return whole.with_columns(variant=pl.lit(name))
