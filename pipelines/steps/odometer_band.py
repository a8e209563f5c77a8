"""Where a doubted reading should lie, by the vehicle's own readings around it: the lowest and the highest miles.

The rule stands in `odometer_reading`.
"""

from __future__ import annotations

from typing import Literal

import polars as pl

from longmile.pipelines.steps.odometer_stretch import LEAST_DAYS

TEST_DRIVE_MILES = 50.0
"""A reading on leaving is at most so far above the one on arrival (common practice, no source)."""
TIMES_SCATTER = 6.0
"""Four standard deviations of a normal spread: its median distance from the middle is 0.6745 of one."""
FEWEST_LEGS = 3
SCATTER_UNKNOWN = 100.0
"""Miles per root of a day, for a vehicle with too few readings: wider than common (our own choice)."""

_VEHICLE = "vehicle_no"


def with_bands(frame: pl.DataFrame) -> pl.DataFrame:
    """The frame with prior_miles, next_miles (sure readings of days before and after), low and high; no band: empty.

    Columns used: vehicle_no, order_no, day, miles, is_out, is_sure; the frame is in order of vehicle and time.
    """
    partner = pl.when("is_sure").then("miles").max().over("order_no")
    found = _with_neighbours(frame).with_columns(partner_miles=partner).join(habits(frame), on=_VEHICLE, how="left")
    above, below = (pl.when(is_out).then(TEST_DRIVE_MILES).otherwise(0.0) for is_out in ("is_out", ~pl.col("is_out")))
    half = pl.when(pl.col("partner_miles").is_null()).then(_half_width())
    middle = pl.coalesce("partner_miles", _middle())
    return found.with_columns(
        low=pl.max_horizontal(middle - pl.coalesce(half, below), "prior_miles"),
        high=pl.min_horizontal(middle + pl.coalesce(half, above), "next_miles"),
    )


def _with_neighbours(frame: pl.DataFrame) -> pl.DataFrame:
    """With prior_miles, prior_day, next_miles, next_day: of the last sure day before, and of the first after."""
    daily = frame.filter("is_sure").group_by(_VEHICLE, "day", maintain_order=True)
    sides: tuple[tuple[str, Literal["backward", "forward"], pl.Expr], ...] = (
        ("prior", "backward", pl.col("miles").max()),
        ("next", "forward", pl.col("miles").min()),
    )
    found = frame
    for side, strategy, miles in sides:
        known = daily.agg(miles.alias(f"{side}_miles")).with_columns(pl.col("day").alias(f"{side}_day"))
        found = found.join_asof(
            known, on="day", by=_VEHICLE, strategy=strategy, allow_exact_matches=False, check_sortedness=False
        )
    return found


def habits(frame: pl.DataFrame) -> pl.DataFrame:
    """One row a vehicle: scatter, own_pace (miles a day; empty where too little is known) and drift, by sure readings.

    scatter: median distance from the straight line between the neighbours, by the root of the days. drift: median
    distance from what the usual miles a day would give, by the root of the days.
    """
    sure = frame.filter("is_sure").group_by(_VEHICLE, "day", maintain_order=True).agg(pl.col("miles").max())
    sure = sure.with_columns(
        before=pl.col("day") - pl.col("day").shift(1).over(_VEHICLE),
        after=pl.col("day").shift(-1).over(_VEHICLE) - pl.col("day"),
        gone=pl.col("miles") - pl.col("miles").shift(1).over(_VEHICLE),
        to_come=pl.col("miles").shift(-1).over(_VEHICLE) - pl.col("miles"),
    )
    whole = pl.col("before") + pl.col("after")
    off_line = pl.col("gone") - (pl.col("gone") + pl.col("to_come")) * pl.col("before") / whole
    root = (pl.col("before") * pl.col("after") / whole).sqrt()
    sure = sure.with_columns(
        off_line=off_line.abs() / root,
        pace=pl.when(pl.col("before") >= LEAST_DAYS).then(pl.col("gone") / pl.col("before")),
    )
    own_pace = pl.when(pl.col("pace").count() >= FEWEST_LEGS).then(pl.col("pace").median())
    sure = sure.with_columns(own_pace=own_pace.over(_VEHICLE))
    off_usual = pl.when(pl.col("pace").is_not_null()).then(
        (pl.col("gone") - pl.col("own_pace") * pl.col("before")).abs() / pl.col("before").sqrt()
    )
    scatter = (
        pl.when(pl.col("off_line").count() >= FEWEST_LEGS).then(pl.col("off_line").median()).otherwise(SCATTER_UNKNOWN)
    )
    return sure.group_by(_VEHICLE).agg(
        scatter.alias("scatter"), pl.col("own_pace").first(), off_usual.median().alias("drift")
    )


def _from_prior() -> pl.Expr:
    return pl.col("day") - pl.col("prior_day")


def _to_next() -> pl.Expr:
    return pl.col("next_day") - pl.col("day")


def _whole() -> pl.Expr:
    return pl.col("next_day") - pl.col("prior_day")


def _middle() -> pl.Expr:
    """On the straight line between the sure readings around it, or at its own pace from the only one."""
    between = pl.col("prior_miles") + (pl.col("next_miles") - pl.col("prior_miles")) * _from_prior() / _whole()
    from_one = pl.coalesce(
        pl.col("prior_miles") + pl.col("own_pace") * _from_prior(),
        pl.col("next_miles") - pl.col("own_pace") * _to_next(),
    )
    return pl.coalesce(between, from_one)


def _half_width() -> pl.Expr:
    """So many times the vehicle's own scatter over those days, and a test drive at the least."""
    between = (_from_prior() * _to_next() / _whole()).sqrt() * pl.col("scatter")
    beyond = pl.coalesce(_from_prior(), _to_next()).sqrt() * pl.col("drift")
    return pl.max_horizontal(TIMES_SCATTER * pl.coalesce(between, beyond), TEST_DRIVE_MILES)
