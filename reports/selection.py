"""Which strata a page speaks of: frames in, frames out, by rules whose numbers stand here and on the page.

A stratum is one component on one engine family, counted by socket. No HTML, no sentence.
"""

from __future__ import annotations

from collections.abc import Collection

import polars as pl

from longmile.schemas.results import ALL_FAMILIES

MIN_COMPONENT_FAILURES = 10
"""Failures a component must have on all families together before its families are compared."""
MIN_FAMILY_FAILURES = 5
"""Failures a family must have before it is said to stand out."""
FAR_OFF = 0.75
"""Share of the mean's lower limit below which a plain mean is far off (our own choice)."""

MAX_STANDING_OUT = 7
MAX_LEADING = 3
MAX_BOUNDS = 20
MAX_COMPONENTS_CHARTED = 15
MILES_PER_RATE = 100_000.0
KEY = ("component_code", "engine_family")
_SPOKEN_OF = ("ok", "thin")


def named(frame: pl.DataFrame, component: pl.DataFrame) -> pl.DataFrame:
    """The frame with component_name, system, is_safety_relevant; a code without an entry is its own name."""
    names = component.select(
        "component_code", "component_name", "system", pl.col("is_safety_relevant").fill_null(False)
    ).unique("component_code", keep="first")
    return frame.join(names, on="component_code", how="left", maintain_order="left").with_columns(
        pl.col("component_name").fill_null(pl.col("component_code").str.replace_all("_", " ")),
        pl.col("system").fill_null("not in the vocabulary"),
        # A part nobody has classed is treated as one that can hurt someone.
        pl.col("is_safety_relevant").fill_null(True),
    )


def against_others(estimate: pl.DataFrame, unit: str) -> pl.DataFrame:
    """One row per component and family of that unit, with the failures, miles and rate of all other families.

    Adds others_failures, others_miles, others_rate (None where the others have no miles).
    """
    rows = estimate.filter(pl.col("unit") == unit)
    whole = rows.filter(pl.col("engine_family") == ALL_FAMILIES).select(
        "component_code",
        pl.col("n_failures").cast(pl.Int64).alias("all_failures"),
        pl.col("miles_at_risk").alias("all_miles"),
    )
    single = rows.filter(pl.col("engine_family") != ALL_FAMILIES).join(whole, on="component_code", how="inner")
    failures = pl.col("all_failures") - pl.col("n_failures")
    miles = pl.col("all_miles") - pl.col("miles_at_risk")
    return single.with_columns(
        failures.alias("others_failures"),
        miles.alias("others_miles"),
        # Half a mile: what is left when equal sums of miles are subtracted is rounding, not exposure.
        pl.when(miles > 0.5).then(failures / miles * MILES_PER_RATE).alias("others_rate"),
    )


def compared(estimate: pl.DataFrame) -> pl.DataFrame:
    """The strata that are compared with all other families, with `is_higher`, `is_lower` and `strength`.

    Compared: component with at least MIN_COMPONENT_FAILURES failures in all, family and others both watched.
    Higher: at least MIN_FAMILY_FAILURES failures and both lower limits, by socket and by vehicle, above the
    others' rate. Lower: both upper limits below it. strength: lower limit over the others' rate.
    """
    by_vehicle = against_others(estimate, "vehicle").select(
        *KEY,
        pl.col("rate_per_100k_lower").alias("vehicle_lower"),
        pl.col("rate_per_100k_upper").alias("vehicle_upper"),
        pl.col("others_rate").alias("vehicle_others_rate"),
    )
    rows = against_others(estimate, "socket").filter(
        (pl.col("all_failures") >= MIN_COMPONENT_FAILURES)
        & (pl.col("miles_at_risk") > 0)
        & pl.col("others_rate").is_not_null()
    )
    others = pl.col("others_rate")
    higher = (
        (pl.col("n_failures") >= MIN_FAMILY_FAILURES)
        & pl.col("status").is_in(_SPOKEN_OF)
        & (pl.col("rate_per_100k_lower") > others)
        & (pl.col("vehicle_lower") > pl.col("vehicle_others_rate")).fill_null(True)
    )
    lower = (pl.col("rate_per_100k_upper") < others) & (
        pl.col("vehicle_upper") < pl.col("vehicle_others_rate")
    ).fill_null(True)
    return rows.join(by_vehicle, on=KEY, how="left").with_columns(
        higher.fill_null(False).alias("is_higher"),
        lower.fill_null(False).alias("is_lower"),
        (pl.col("rate_per_100k_lower") / others).alias("strength"),
    )


def standing_out(rows: pl.DataFrame, side: str) -> pl.DataFrame:
    """Those of `compared` on one side (`is_higher`, `is_lower`), the furthest from the others first."""
    furthest_first = side == "is_higher"
    order = pl.col("strength") if furthest_first else pl.col("rate_per_100k_upper") / pl.col("others_rate")
    return rows.filter(pl.col(side)).sort(
        order, pl.col("n_failures"), *KEY, descending=[furthest_first, True, False, False]
    )


def components_by_failures(estimate: pl.DataFrame) -> pl.DataFrame:
    """One row per component that failed at all, over all families, by socket, most failures first."""
    return estimate.filter(
        (pl.col("unit") == "socket") & (pl.col("engine_family") == ALL_FAMILIES) & (pl.col("n_failures") > 0)
    ).sort("n_failures", "component_code", descending=[True, False])


def leading(estimate: pl.DataFrame) -> pl.DataFrame:
    """The components with most failures over all families that have enough to say more than a count."""
    return (
        components_by_failures(estimate)
        .filter(pl.col("status").is_in(_SPOKEN_OF) & (pl.col("n_failures") >= MIN_FAMILY_FAILURES))
        .head(MAX_LEADING)
    )


def without_failures(estimate: pl.DataFrame) -> pl.DataFrame:
    """Strata of one family without a failure, of components that failed somewhere; most miles first.

    A component that never failed anywhere is left out: many vehicles may not have it.
    """
    rows = against_others(estimate, "socket")
    return rows.filter((pl.col("n_failures") == 0) & (pl.col("all_failures") > 0) & (pl.col("miles_at_risk") > 0)).sort(
        "miles_at_risk", *KEY, descending=[True, False, False]
    )


def with_few_failures(estimate: pl.DataFrame) -> pl.DataFrame:
    """Strata of one family whose status is short of `ok` though something failed; most failures first."""
    rows = against_others(estimate, "socket")
    return rows.filter((pl.col("n_failures") > 0) & (pl.col("status") != "ok")).sort(
        "n_failures", "miles_at_risk", *KEY, descending=[True, True, False, False]
    )


def instructive(estimate: pl.DataFrame, safety_relevant: Collection[str]) -> pl.DataFrame:
    """At most one row: of the strata whose plain mean lies far below the mean's limits, the one with most failures.

    Below is where leaving out the survivors puts it; above is possible too, where vehicles are first seen at high
    mileage, and teaches less. Only where the mean's limits lie within the miles watched, and not for components in
    safety_relevant: of those the pages give no mean.
    """
    is_told = (
        (pl.col("unit") == "socket")
        & (pl.col("status") == "ok")
        & (pl.col("weibull_status") == "ok")
        & ~pl.col("component_code").is_in(list(safety_relevant))
        & (pl.col("plain_mean_miles") < FAR_OFF * pl.col("mean_miles_lower"))
        & (pl.col("mean_miles_upper") <= pl.col("largest_miles"))
    )
    return estimate.filter(is_told).sort("n_failures", *KEY, descending=[True, False, False]).head(1)
