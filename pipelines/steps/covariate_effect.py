"""What makes a component last longer or shorter, over all engine families: one regression per component.

From lives to the estimators and back: columns are laid out here and coefficients named. Nothing is estimated here.

Whether there is an effect comes from proportional hazards, which take no shape of the lives for granted; how many times
longer a life is follows from the hazard ratio and the shape of a Weibull regression. A Weibull regression alone was
tried and dropped: a few early failures among replacement parts bend the lives away from a Weibull, and what goes with
how long a vehicle is watched (its usage, its model year) then looks like an effect; in the invented shop of the demo
for one component in five, where there is none.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.estimators.cox import CoxFits, cox
from longmile.pipelines.estimators.life_ratio import log_life_ratios
from longmile.pipelines.estimators.lives import Flags, Floats, Lives, lives
from longmile.pipelines.estimators.regression_columns import regression_columns
from longmile.pipelines.estimators.regression_limits import wald_limits
from longmile.pipelines.estimators.weibull_regression import WeibullRegressions, weibull_regression
from longmile.pipelines.steps.covariate_levels import (
    CATEGORICAL,
    COVARIATES,
    chosen_levels,
    level_counts,
    pooled_levels,
    recorded,
)
from longmile.pipelines.steps.covariate_lives import covariate_lives

METHOD = "proportional_hazards_by_weibull_shape"
FEWEST_VEHICLES = 10
"""Below so many failed vehicles a level is called thin (our own choice: with 5 to 12 failures at the level, and the
lives of a vehicle alike, 95 % limits covered 89 to 92 % of simulated shops)."""
_FURTHEST_RATE = 3.0  # log2: beyond eight times the median rate, or an eighth of it, a vehicle counts as just that
_YEARS = 5.0
_COLUMNS_TOGETHER = 8

SCHEMA = {
    "component_code": pl.String,
    "covariate": pl.String,
    "level": pl.String,
    "reference": pl.String,
    "covariate_status": pl.String,
    "n_failures": pl.Int64,
    "n_vehicles_failed": pl.Int64,
    "n_lives": pl.Int64,
    "miles_at_risk": pl.Float64,
    "life_ratio": pl.Float64,
    "life_ratio_lower": pl.Float64,
    "life_ratio_upper": pl.Float64,
    "hazard_ratio": pl.Float64,
    "hazard_ratio_lower": pl.Float64,
    "hazard_ratio_upper": pl.Float64,
    "p_value": pl.Float64,
    "weibull_life_ratio": pl.Float64,
    "limits": pl.String,
    "confidence": pl.Float64,
    "method": pl.String,
}
"""Columns of the answer, in order."""


def covariate_effect(
    life: pl.DataFrame,
    window: pl.DataFrame,
    touched: pl.DataFrame,
    fitted: pl.DataFrame,
    confidence: float,
    original_below: pl.DataFrame | None = None,
) -> pl.DataFrame:
    """How many times the life of the reference each level's parts live: one row per component, covariate and level.

    life, window, touched, fitted, original_below: as in `covariate_lives`.   Components with fewer than 30 failures
    have no rows.   Without original_below the age of a part that was there at first sight is its odometer; where
    earlier repairs are not known it is less, and that bends what is said of vehicles (usage, model year) and of
    original parts.
    hazard_ratio: how many times as often it fails at the same age.   life_ratio: hazard_ratio ** -sigma, how many times
    the life of the reference it lives; null where there is none. sigma = 1 / shape of the Weibull regression of the
    component, whose own answer is weibull_life_ratio.   The other covariates of the component that entered are held
    equal. Suppliers and locations are compared among replacement parts alone; an original part has neither. Of a number
    (usage rate, model year) the ratio is that of `level` against `reference`, its median.
    limits: what they come from, the wider of `clustered` (lives of one vehicle may depend on each other) and
    `information` (each life stands alone); the first alone is too narrow where few vehicles failed. An empty upper
    limit is one without bound.
    covariate_status: `ok`; `thin` (fewer than ten vehicles failed at the level or at its reference: limits may be too
    narrow); `did_not_converge` (a regression of the component has no answer); `collinear` (the level goes with others:
    they cannot be told apart); `reference`; and where the covariate did not enter `too_few_failures`, `one_level`,
    `no_part_origin`.
    p_value: of no effect. With many rows some are small by chance alone.
    Raises LivesError where lives cannot be.
    """
    rows = covariate_lives(life, window, touched, fitted, original_below)
    if not rows.height:
        return pl.DataFrame(schema=SCHEMA)
    medians = window.select("miles_a_month", "model_year").median().row(0, named=True)
    rows = _with_numbers(rows, medians)
    pooled = pooled_levels(rows)
    levels = chosen_levels(level_counts(rows, pooled))
    coefficients = pl.concat(
        [
            _coefficients(_of(rows, codes), _of(levels, codes), _of(pooled, codes), confidence)
            for codes in _size_classes(levels)
        ]
    )
    return (
        _named(_answered(levels, coefficients), medians)
        .with_columns(confidence=pl.lit(confidence), method=pl.lit(METHOD))
        .select(pl.col(name).cast(kind) for name, kind in SCHEMA.items())
    )


def _with_numbers(rows: pl.DataFrame, medians: dict[str, float | None]) -> pl.DataFrame:
    """Usage rate as a power of two times the median, model year in steps of five years from it."""
    rate = (pl.col("miles_a_month") / pl.lit(medians["miles_a_month"], pl.Float64)).log(2)
    years = (pl.col("model_year") - pl.lit(medians["model_year"], pl.Float64)) / _YEARS
    return rows.with_columns(usage_rate=rate.clip(-_FURTHEST_RATE, _FURTHEST_RATE), model_year=years)


def _lives(rows: pl.DataFrame) -> Lives:
    """The rows as lives: a stratum per component, a cluster per vehicle."""
    return lives(
        entry=rows["entry"].to_numpy(),
        exit_=rows["exit_"].to_numpy(),
        event=rows["event"].to_numpy(),
        stratum=_component(rows).to_numpy(),
        weight=rows["weight"].to_numpy(),
        left=rows["left"].fill_null(float("nan")).to_numpy(),
        cluster=(rows["vehicle_id"].rank("dense").cast(pl.Int64) - 1).to_numpy(),
    )


def _component(frame: pl.DataFrame) -> pl.Series:
    """Code of each row's component, in alphabetical order."""
    return frame["component_code"].rank("dense").cast(pl.Int64) - 1


def _columns(rows: pl.DataFrame, pooled: pl.DataFrame, levels: pl.DataFrame) -> tuple[Floats, Flags]:
    """Covariates of the rows, shape (rows, slots), and the slots that each component uses."""
    with_slot = levels.with_columns(component=_component(levels)).filter(pl.col("slot").is_not_null())
    slot = with_slot["slot"].to_numpy()
    active = np.zeros((levels["component_code"].n_unique(), slot.max(initial=0) + 1), np.bool_)
    active[with_slot["component"].to_numpy(), slot] = True
    columns = np.zeros((rows.height, active.shape[1]))
    where = pooled.join(with_slot, on=["component_code", "covariate", "level"])
    for name in COVARIATES:
        of = where.filter(pl.col("covariate") == name).select("component_code", "recorded", "slot")
        said = rows.select("component_code", recorded=recorded(name), number=_number(name))
        found = said.join(of, on=["component_code", "recorded"], how="left", maintain_order="left")
        at = np.flatnonzero(found["slot"].is_not_null().to_numpy())
        columns[at, found["slot"].drop_nulls().to_numpy()] = found["number"].to_numpy()[at]
    return columns, active


def _number(name: str) -> pl.Expr:
    """What stands in the column of a row's level: 1, or the number itself where there is one."""
    return pl.lit(1.0) if name in CATEGORICAL else pl.col(name).fill_null(1.0)


def _size_classes(levels: pl.DataFrame) -> list[pl.DataFrame]:
    """Components with about as many columns, together: columns are padded to the most of any component in a call."""
    n_slots = pl.col("slot").max().fill_null(-1) + 1
    sized = levels.group_by("component_code").agg(size=n_slots // _COLUMNS_TOGETHER)
    return sized.sort("component_code").partition_by("size", include_key=False)


def _of(frame: pl.DataFrame, codes: pl.DataFrame) -> pl.DataFrame:
    """The frame's rows of some components, in the order they had."""
    return frame.filter(pl.col("component_code").is_in(codes["component_code"].implode()))


def _coefficients(rows: pl.DataFrame, levels: pl.DataFrame, pooled: pl.DataFrame, confidence: float) -> pl.DataFrame:
    """The regressions of some components: one row per component and slot."""
    data = _lives(rows)
    columns, active = _columns(rows, pooled, levels)
    independent = regression_columns(data, columns, active).independent
    weibull = weibull_regression(data, columns, independent)
    hazards = cox(data, columns, independent, start=-weibull.coefficient / weibull.sigma[:, None])
    return _ratios(levels["component_code"].unique().sort(), hazards, weibull, active, confidence)


def _ratios(
    codes: pl.Series, hazards: CoxFits, weibull: WeibullRegressions, active: Flags, confidence: float
) -> pl.DataFrame:
    """One row per component and slot: the ratios with their limits, and why there is none; null numbers then."""
    at = component, slot = np.nonzero(active)
    lower, upper, p_value = (values[at] for values in wald_limits(hazards, confidence, "wider"))
    life, life_lower, life_upper = (v[at] for v in log_life_ratios(hazards, weibull, confidence, "wider"))
    logs = {
        "life_ratio": life,
        "life_ratio_lower": life_lower,
        "life_ratio_upper": life_upper,
        "hazard_ratio": hazards.coefficient[at],
        "hazard_ratio_lower": lower,
        "hazard_ratio_upper": upper,
        "weibull_life_ratio": weibull.coefficient[at],
    }
    with np.errstate(over="ignore"):
        numbers = {name: np.exp(values) for name, values in logs.items()} | {"p_value": p_value}
    is_ok = hazards.ok & weibull.ok
    trouble = np.select([~hazards.active[at], ~is_ok[component]], ["collinear", "did_not_converge"], "")
    errors = np.where(hazards.se_clustered[at] >= hazards.se[at], "clustered", "information")
    frame = pl.DataFrame(
        {
            "component_code": codes[component],
            "slot": slot,
            **numbers,
            "limits": errors,
            "trouble": trouble,
        }
    )
    return frame.with_columns(
        pl.when(pl.col(list(numbers)).is_finite()).then(pl.col(list(numbers))),
        limits=pl.when(pl.col("hazard_ratio").is_finite()).then(pl.col("limits")),
    )


def _answered(levels: pl.DataFrame, coefficients: pl.DataFrame) -> pl.DataFrame:
    """The levels with the ratio of their slot, its limits, and their status."""
    at_reference = levels.filter(pl.col("level") == pl.col("reference")).select(
        "component_code", "covariate", reference_vehicles="n_vehicles_failed"
    )
    fewest = pl.min_horizontal("n_vehicles_failed", "reference_vehicles")
    held = pl.when(fewest < FEWEST_VEHICLES).then(pl.lit("thin")).otherwise(pl.lit("ok"))
    trouble = pl.when(pl.col("trouble") != "").then(pl.col("trouble"))
    return (
        levels.join(coefficients, on=["component_code", "slot"], how="left", maintain_order="left")
        .join(at_reference, on=["component_code", "covariate"], how="left", maintain_order="left")
        .with_columns(covariate_status=pl.coalesce("status", trouble, held))
    )


def _named(answered: pl.DataFrame, medians: dict[str, float | None]) -> pl.DataFrame:
    """References of the covariates that are numbers, in words."""
    words = {
        "usage_rate": f"{medians['miles_a_month'] or 0:,.0f} miles a month",
        "model_year": f"model year {medians['model_year'] or 0:.0f}",
    }
    named = pl.col("covariate").replace_strict(words, default=None, return_dtype=pl.String)
    return answered.with_columns(reference=pl.coalesce("reference", named))
