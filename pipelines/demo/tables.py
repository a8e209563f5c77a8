"""The invented shop as tables of the neutral layout, every value already text, before any dirt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from longmile.pipelines.demo import bench
from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.lines import make_lines
from longmile.pipelines.demo.orders import make_orders
from longmile.pipelines.demo.simulation import Simulation, socket_places
from longmile.pipelines.demo.vins import make_vins
from longmile.pipelines.demo.wording import concerns

UNIT_SHARE = 0.3
"""Orders that repeat the vehicle's odometer unit; on the others it is empty."""


@dataclass
class Tables:
    """Frames of text by table; `order` and `line` also keep location, year and other columns for the dirt."""

    engine_family: pl.DataFrame
    vehicle: pl.DataFrame
    order: pl.DataFrame
    line: pl.DataFrame
    measurement: pl.DataFrame
    trouble_code: pl.DataFrame
    verification: pl.DataFrame
    warranty_promise: pl.DataFrame


def make_tables(rng: np.random.Generator, sim: Simulation) -> Tables:
    """Every table of the shop, clean."""
    orders = make_orders(rng, sim)
    lines = make_lines(rng, orders, sim.ends)
    failed = _failed_jobs(sim.ends, orders)
    promises = bench.make_promises(rng, lines)
    where = orders.select("order_id", "location", "year", "is_routine")
    return Tables(
        engine_family=_families(),
        vehicle=_vehicles(rng, sim),
        order=_order_table(rng, orders, lines, failed),
        line=_line_table(lines).join(where, left_on="repair_order_id", right_on="order_id", how="left",
                                     maintain_order="left"),
        measurement=bench.make_measurements(rng, failed),
        trouble_code=bench.make_trouble_codes(rng, failed),
        verification=bench.make_verifications(rng, failed),
        warranty_promise=promises,
    )  # fmt: skip


def vehicle_ids(numbers: pl.Expr) -> pl.Expr:
    """The shop's own numbers of vehicles."""
    return pl.lit("V") + (numbers + 1).cast(pl.String).str.zfill(5)


def _failed_jobs(ends: pl.DataFrame, orders: pl.DataFrame) -> pl.DataFrame:
    """Failures with order_id and position code, in the order of the orders."""
    rows = ends.filter("is_failure").join(socket_places(), on=["component", "family", "socket"])
    rows = rows.join(orders.select("vehicle", "miles", "order_id"), on=["vehicle", "miles"])
    return rows.sort("order_id", "component", "socket")


def _families() -> pl.DataFrame:
    """The engine families."""
    return pl.DataFrame(
        {
            "engine_family": sc.FAMILY_NAMES,
            "description": [f"{f.cylinders} cyl., {f.traits[0]}, timing {f.traits[1]}" for f in sc.FAMILIES],
            "cylinders": [f.cylinders for f in sc.FAMILIES],
            "exhaust_valves_per_cylinder": [f.exhaust_valves for f in sc.FAMILIES],
            "intake_valves_per_cylinder": [f.intake_valves for f in sc.FAMILIES],
        }
    )  # fmt: skip


def _vehicles(rng: np.random.Generator, sim: Simulation) -> pl.DataFrame:
    """The vehicles; put on the road as long before their first visit as their mileage and use say."""
    known = sim.vehicles
    n = known.family.size
    age_days = np.minimum(known.first_miles / known.miles_a_day, 22 * 365).astype(np.int64)
    start = np.datetime64(sc.FIRST_DAY, "D") + (known.first_day - age_days)
    year = start.astype("datetime64[Y]").astype(np.int64) + 1970
    maker = (known.family + rng.integers(0, 2, n)) % len(sc.MAKES)
    model = (known.family * 2 + rng.integers(0, 2, n)) % len(sc.MODELS)
    frame = pl.DataFrame({"number": np.arange(n), "location": known.location})
    return frame.select(
        vehicle_id=vehicle_ids(pl.col("number")),
        vin=make_vins(rng, year),
        engine_family=pl.Series(np.array(sc.FAMILY_NAMES)[known.family]),
        make=pl.Series(np.array(sc.MAKES)[maker]),
        model=pl.Series(np.array(sc.MODELS)[model]),
        model_year=pl.Series(year).cast(pl.String),
        in_service_on=pl.Series(start).cast(pl.Date).cast(pl.String),
        odometer_unit=pl.Series(np.where(known.is_km, "km", "mi")),
        home="location",
    )


def _order_table(
    rng: np.random.Generator, orders: pl.DataFrame, lines: pl.DataFrame, failed: pl.DataFrame
) -> pl.DataFrame:
    """Orders in the neutral layout, and the plain columns from `vehicle` on that the dirt needs."""
    totals = lines.group_by("order_id").agg(total=pl.col("price").sum().round(2))
    main = failed.group_by("order_id", maintain_order=True).agg(pl.col("component").first())
    rows = orders.join(totals, on="order_id", how="left").join(main, on="order_id", how="left")
    rows = rows.sort("location", "day", "order_id")
    unit = pl.when("is_km").then(pl.lit("km")).otherwise(pl.lit("mi"))
    day, names = pl.lit(sc.FIRST_DAY), dict(enumerate(sc.LOCATIONS))
    return rows.select(
        repair_order_id="order_id",
        location_name=pl.col("location").replace_strict(names, return_dtype=pl.String),
        vehicle_id=vehicle_ids(pl.col("vehicle")),
        opened_on=(day + pl.duration(days=pl.col("day"))).cast(pl.Date).cast(pl.String),
        closed_on=(day + pl.duration(days=pl.col("closed_day"))).cast(pl.Date).cast(pl.String),
        odometer_in=pl.col("written_in").cast(pl.String),
        odometer_out=pl.col("written_out").cast(pl.String),
        odometer_unit=pl.when(pl.Series(rng.random(len(rows)) < UNIT_SHARE)).then(unit),
        status="status",
        concern=concerns(rng, rows["component"]),
        total=pl.col("total").fill_null(0.0).cast(pl.String),
        vehicle="vehicle",
        family="family",
        component="component",
        location="location",
        year="year",
        is_routine="is_routine",
        visit=pl.int_range(pl.len()).over("vehicle", order_by="miles"),
        n_visits=pl.len().over("vehicle"),
    )  # fmt: skip


def _line_table(lines: pl.DataFrame) -> pl.DataFrame:
    """Lines in the neutral layout, as text."""
    names = (
        "kind", "component_code", "position", "action", "reason", "part_number", "part_origin", "supplier",
        "quantity", "hours", "cost", "price", "cause", "correction", "technician",
    )  # fmt: skip
    return lines.select(
        pl.col("order_id").alias("repair_order_id"),
        pl.col("line_no").cast(pl.String),
        *(pl.col(name).cast(pl.String).str.strip_suffix(".0") for name in names),
    )
