"""Repair orders of the invented shop: one per vehicle and odometer at which anything happened."""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.simulation import Simulation

KM_PER_MILE = 1.609344
OTHER_LOCATION_SHARE = 0.04
OUT_SHARE = 0.5
OPEN_DAYS = 4
_FIRST_NUMBER = 100_001


def make_orders(rng: np.random.Generator, sim: Simulation) -> pl.DataFrame:
    """Orders by vehicle and odometer, with order_id, location, day, closed_day, miles, miles_out, status.

    Odometers are in whole miles here; `written_in`, `written_out` are in the vehicle's own unit. A vehicle's
    order is closed before its next one opens, and leaves with no more miles than the next arrives with.
    """
    routine = pl.DataFrame({"vehicle": sim.routine.vehicle, "miles": sim.routine.miles, "is_routine": True})
    repairs = sim.ends.select("vehicle", "miles", pl.lit(False).alias("is_routine"))
    visits = pl.concat([routine, repairs]).group_by("vehicle", "miles").agg(pl.col("is_routine").any())
    visits = visits.sort("vehicle", "miles")
    vehicle, miles = visits["vehicle"].to_numpy(), visits["miles"].to_numpy()
    n = vehicle.size
    home = sim.vehicles.location[vehicle]
    is_elsewhere = rng.random(n) < OTHER_LOCATION_SHARE
    frame = visits.with_columns(
        location=pl.Series(np.where(is_elsewhere, 1 - home, home)),
        day=pl.Series(sim.vehicles.day_at(vehicle, miles)),
        is_km=pl.Series(sim.vehicles.is_km[vehicle]),
        family=pl.Series(sim.vehicles.family[vehicle]),
        lag=pl.Series(rng.choice([0, 0, 0, 1, 1, 2, 3], n)),
        driven=pl.Series(np.where(rng.random(n) < OUT_SHARE, rng.integers(0, 16, n), -1)),
    )
    return _numbered(_closed(frame))


def _closed(frame: pl.DataFrame) -> pl.DataFrame:
    """Closing day, odometer on leaving, status; orders of the last days are still open."""
    later = pl.col("day").shift(-1).over("vehicle")
    further = pl.col("miles").shift(-1).over("vehicle")
    is_open = pl.col("day") > sc.LAST_DAY_NO - OPEN_DAYS
    closing = pl.min_horizontal(pl.col("day") + pl.col("lag"), later)
    leaving = pl.min_horizontal(pl.col("miles") + pl.col("driven"), further)
    unit = pl.when("is_km").then(KM_PER_MILE).otherwise(1.0)
    return frame.with_columns(
        closed_day=pl.when(~is_open).then(closing),
        miles_out=pl.when((pl.col("driven") >= 0) & ~is_open).then(leaving),
        status=pl.when(is_open).then(pl.lit("open")).otherwise(pl.lit("closed")),
    ).with_columns(
        written_in=(pl.col("miles") * unit).round(0).cast(pl.Int64),
        written_out=(pl.col("miles_out") * unit).round(0).cast(pl.Int64),
    )


def _numbered(frame: pl.DataFrame) -> pl.DataFrame:
    """Order numbers, running by day within each location."""
    running = pl.int_range(pl.len()).over("location", order_by=["day", "vehicle", "miles"]) + _FIRST_NUMBER
    prefix = pl.col("location").replace_strict(dict(enumerate(sc.ORDER_PREFIXES)), return_dtype=pl.String)
    return frame.with_columns(
        order_id=prefix + "-" + running.cast(pl.String),
        year=(pl.lit(sc.FIRST_DAY) + pl.duration(days=pl.col("day"))).dt.year(),
    )
