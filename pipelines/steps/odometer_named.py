"""What was found about each doubted reading, named: the fault, what was done, and why a reading is left out.

The rule stands in `odometer_reading`.
"""

from __future__ import annotations

import polars as pl

from longmile.pipelines.steps.odometer_chain import (
    MILES_A_DAY,
    MILES_AT_ONCE,
    OWN_AT_LEAST,
    OWN_AT_ONCE,
    OWN_TIMES,
)

CHANGED_COLUMNS = (
    "repair_order_id",
    "which",
    "odometer_miles",
    "is_used",
    "fault",
    "treatment",
    "reason",
    "prior_miles",
    "next_miles",
)
_DOUBTED = ~pl.col("is_sure") & ~pl.col("is_corrected")


def with_names(frame: pl.DataFrame) -> pl.DataFrame:
    """The frame with is_used, fault, treatment, reason, and odometer_miles as used.

    Columns used: is_sure, is_corrected, stretch and slip (what explains a reading, or `none`), miles, prior_miles,
    next_miles, and those of the reading itself.
    """
    arrived = pl.when(~_DOUBTED & ~pl.col("is_out")).then("miles").max().over("order_no")
    named = frame.with_columns(is_used=~_DOUBTED, is_below=pl.col("is_out") & (pl.col("odometer_miles") < arrived))
    named = named.with_columns(fault=_fault(), is_below=pl.col("is_below").fill_null(False))
    reason = pl.when("is_below").then(pl.lit("below_in")).otherwise(pl.lit("contradicts"))
    return named.with_columns(
        odometer_miles=pl.when("is_used").then("miles").otherwise("odometer_miles"),
        treatment=pl.when("is_used").then(pl.lit("corrected")).otherwise(pl.lit("left_out")),
        reason=pl.when(~pl.col("is_used")).then(reason),
    )


def _fault() -> pl.Expr:
    """The stretch or the slip that explains it; else what can be seen beside the readings around it."""
    is_slip = pl.col("slip") != "none"
    return (
        pl.when("is_corrected")
        .then("slip")
        .when(pl.col("is_sure") | (pl.col("stretch") == "cluster_replaced"))
        .then("stretch")
        .when(_is_new_cluster())
        .then(pl.lit("cluster_replaced"))
        .when(is_slip)
        .then("slip")
        .otherwise(_as_seen())
    )


def _as_seen() -> pl.Expr:
    days, usual = pl.col("day") - pl.col("prior_day"), pl.col("usual").fill_nan(None)
    own = pl.when(usual.is_not_null()).then(pl.max_horizontal(OWN_TIMES * usual, OWN_AT_LEAST))
    most = pl.min_horizontal(MILES_AT_ONCE + MILES_A_DAY * days, OWN_AT_ONCE + own * days)
    return (
        pl.when("is_below")
        .then(pl.lit("below_in"))
        .when(pl.col("odometer_miles") < pl.col("prior_miles"))
        .then(pl.lit("rollback"))
        .when(pl.col("odometer_miles") > pl.col("prior_miles") + most)
        .then(pl.lit("too_many_miles_a_day"))
        .otherwise(pl.lit("contradicts"))
    )


def _is_new_cluster() -> pl.Expr:
    """All readings after the last sure day, or before the first: of two days at least, and never falling."""
    found = pl.lit(False)
    for outer, inner in (("prior_miles", "next_miles"), ("next_miles", "prior_miles")):
        is_end = _DOUBTED & pl.col(outer).is_null() & pl.col(inner).is_not_null()
        of_end = pl.when(is_end)
        n_days = of_end.then("day").drop_nulls().n_unique().over("vehicle_no")
        n_falls = (of_end.then("odometer_miles").drop_nulls().diff() < 0).sum().over("vehicle_no")
        found = found | (is_end & (n_days >= 2) & (n_falls == 0))
    return found
