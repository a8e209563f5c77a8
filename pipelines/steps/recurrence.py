"""Repairs and their price per vehicle by odometer, for every component and engine family (`recurrence`).

A repair is a job that at least one failure called for: all failures of one component on one vehicle at one odometer
reading, however many of its sockets failed. It counts where the vehicle was being watched, after its first reading; a
failure on the first visit (a walk-in) does not, and neither does work for another reason than a failure.

Its price is what the customer was charged: every line of its orders that names the component (labour, parts, sublet
work, fees, credits), declined ones left out. The price is taken and not the cost because shops write it on every line,
while many keep no cost of their own labour. Lines that name no component belong to no repair.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import polars as pl

from longmile.pipelines.estimators.lives import Codes, Floats
from longmile.pipelines.estimators.mean_cumulative import Cumulative, RepairCurvesAt, curves_at, mean_cumulative
from longmile.pipelines.estimators.repair_history import RepairHistory, n_units, repair_history
from longmile.pipelines.steps.recur import THIN_REPAIRS
from longmile.schemas.results import ALL_FAMILIES

AT_MILES = (50_000.0, 100_000.0, 150_000.0)
"""Odometers by which repairs are counted."""

REPAIR_JOB_SQL = """
    WITH job AS (
      SELECT DISTINCT l.vehicle_id, l.engine_family, l.component_code, v.odometer_miles
      FROM life l JOIN visit v ON v.repair_order_id = l.end_order_id WHERE l.unit = 'socket' AND l.is_event)
    SELECT j.vehicle_id, j.engine_family, j.component_code, j.odometer_miles, sum(r.price_cents)::BIGINT AS price_cents,
      count(*) FILTER (r.price_cents IS NULL) AS n_lines_without_price
    FROM job j JOIN visit v ON v.vehicle_id = j.vehicle_id AND v.odometer_miles = j.odometer_miles
    JOIN settled_repair_line r ON r.repair_order_id = v.repair_order_id AND r.component_code = j.component_code
    WHERE r.action IS DISTINCT FROM 'declined'
    GROUP BY ALL ORDER BY ALL"""
"""SELECT for the repairs: one row per vehicle, component and odometer at which something failed. The price is null
where no line has one, and too low where some have none."""

_KEYS = ["component_code", "engine_family"]


def recurrence(
    fitted: pl.DataFrame,
    window: pl.DataFrame,
    repair: pl.DataFrame,
    at_miles: Sequence[float] = AT_MILES,
    confidence: float = 0.95,
) -> pl.DataFrame:
    """Mean cumulative repairs and price per vehicle, one row per component, family (and all together) and odometer.

    fitted: component_code, engine_family: what is looked at.   window: vehicle_id, engine_family, first_miles,
    last_miles, one row per vehicle.   repair: the rows of `REPAIR_JOB_SQL`.
    Columns: component_code, engine_family, at_miles, status, confidence, n_vehicles, n_repairs (up to at_miles),
    n_without_price (of these, repairs of which a line has no price), at_risk, repairs_per_vehicle and cost_per_vehicle
    (in the currency, not in cents) with robust log-scale limits _lower and _upper, is_extrapolated, unwatched_miles.
    is_extrapolated: no vehicle was watched so far; the mean is carried on flat, too low.   unwatched_miles: of the
    miles from 0 on over which no vehicle was watched; the mean counts no repair there. Limits are null before the
    first repair and where no two vehicles differ. The price is null where no repair has one.
    Raises LivesError where a repair lies outside its vehicle's window.
    """
    watched = window.filter(pl.col("last_miles") > pl.col("first_miles"))
    table, groups = _strata(fitted.select(_KEYS).unique(), watched)
    vehicles = watched.select("vehicle_id").unique().sort("vehicle_id").with_row_index("unit")
    counted = _in_strata(repair, table).join(vehicles, on="vehicle_id", how="left")
    windows = groups.join(watched, on="engine_family").join(vehicles, on="vehicle_id").sort("group", "unit")
    history = repair_history(
        counted["odometer_miles"].to_numpy(),
        counted["unit"].to_numpy(),
        windows["unit"].to_numpy(),
        windows["first_miles"].to_numpy(),
        windows["last_miles"].to_numpy(),
        cost=counted["price_cents"].fill_null(0).to_numpy() / 100,
        stratum=counted["stratum"].to_numpy(),
        group=windows["group"].to_numpy(),
        stratum_group=table["group"].to_numpy(),
    )
    return _laid_out(table, history, counted, np.unique(np.asarray(at_miles, np.float64)), confidence)


def _strata(looked_at: pl.DataFrame, watched: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Strata with their group of windows, and the families of each group.

    One group per family, and one per set of families on which some component is looked at, for all of them together.
    """
    families = looked_at.join(watched.select("engine_family").unique(), on="engine_family", how="semi").sort(_KEYS)
    sets = (
        families.group_by("component_code")
        .agg(families="engine_family")
        .with_columns(group=pl.col("families").rank("dense").cast(pl.Int64) - 1)
        .sort("component_code")
    )
    names = families["engine_family"].unique().sort()
    own = pl.DataFrame({"engine_family": names, "group": np.arange(names.len())})
    together = sets.select("component_code", pl.lit(ALL_FAMILIES).alias("engine_family"), pl.col("group") + names.len())
    table = pl.concat([families.join(own, on="engine_family").sort(_KEYS), together])
    of_sets = sets.unique("group").select(pl.col("group") + names.len(), engine_family="families")
    groups = pl.concat([own.select("group", "engine_family"), of_sets.explode("engine_family")])
    return table.with_row_index("stratum"), groups


def _in_strata(repair: pl.DataFrame, table: pl.DataFrame) -> pl.DataFrame:
    """The repairs that are looked at, twice: in the stratum of their family and in that of all families."""
    codes = table.select(*_KEYS, "stratum")
    own = repair.join(codes, on=_KEYS, how="inner")
    whole = codes.filter(pl.col("engine_family") == ALL_FAMILIES).select("component_code", whole="stratum")
    together = own.join(whole, on="component_code").with_columns(stratum="whole").select(own.columns)
    return pl.concat([own, together]).sort("stratum", "vehicle_id", "odometer_miles")


def _laid_out(
    table: pl.DataFrame, history: RepairHistory, counted: pl.DataFrame, at: Floats, confidence: float
) -> pl.DataFrame:
    """Curves read at the odometers asked for, as the rows of the result."""
    stratum, t = np.repeat(np.arange(table.height), at.size), np.tile(at, table.height)
    read = curves_at(mean_cumulative(history, confidence), stratum, t)
    vehicles = n_units(history)[stratum]
    unpriced = _up_to(history.n_strata, counted.filter(pl.col("n_lines_without_price") > 0), at)
    priced = _up_to(history.n_strata, counted.filter(pl.col("price_cents").is_not_null()), at)
    columns = {
        "at_miles": t,
        "status": _status(read, vehicles),
        "n_vehicles": vehicles.astype(np.int64),
        "n_repairs": read.repairs.astype(np.int64),
        "n_without_price": unpriced,
        "at_risk": read.at_risk.astype(np.int64),
        **_limited("repairs_per_vehicle", read.number),
        **_limited("cost_per_vehicle", read.cost),
        "is_extrapolated": read.is_beyond,
        "unwatched_miles": read.unwatched,
    }
    costs = [name for name in columns if name.startswith("cost_per_vehicle")]
    numbers = [*costs, *(name for name in columns if name.startswith("repairs_per_vehicle"))]
    return (
        table.select(_KEYS)[stratum]
        .with_columns(*(pl.Series(name, values) for name, values in columns.items()), confidence=pl.lit(confidence))
        .with_columns(pl.when(pl.Series((priced > 0) | (read.repairs == 0))).then(pl.col(costs)))
        .with_columns(pl.col(numbers).fill_nan(None))
    )


def _up_to(n_strata: int, counted: pl.DataFrame, at: Floats) -> Codes:
    """Repairs of each stratum up to each odometer, laid end to end by stratum."""
    place = np.searchsorted(at, counted["odometer_miles"].to_numpy())
    cell = counted["stratum"].to_numpy().astype(np.int64) * (at.size + 1) + place
    by_cell = np.bincount(cell, minlength=n_strata * (at.size + 1)).reshape(n_strata, at.size + 1)
    return np.cumsum(by_cell, axis=1)[:, :-1].ravel()


def _status(read: RepairCurvesAt, vehicles: Floats) -> np.ndarray:
    fewest = np.minimum(read.repairs, vehicles)
    return np.select([read.repairs == 0, fewest < THIN_REPAIRS], ["no_failures", "thin"], "ok")


def _limited(name: str, of: Cumulative | None) -> dict[str, Floats]:
    return {} if of is None else {name: of.mean, f"{name}_lower": of.lower, f"{name}_upper": of.upper}
