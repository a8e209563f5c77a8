"""Lives with what is known of their part and their vehicle, one row each, for the components with enough failures.

A socket on which nothing was ever done has no life of its own: it ran through its vehicle's window with its original
part. Such sockets of one vehicle and component are alike, so they stand as one row that weighs as many as they are.
"""

from __future__ import annotations

import polars as pl

from longmile.pipelines.errors import LivesError

FEWEST_FAILURES = 30
"""Components with fewer failures are not looked at (our own choice)."""

NOT_RECORDED, ORIGINAL = "not recorded", "original"
FEWEST_DAYS = 90
"""Between its first and last reading, for a vehicle's miles a month to be taken from them (our own choice)."""
_DAYS_A_MONTH = 30.4375  # 365.25 / 12

COVARIATE_WINDOW_SQL = f"""
    WITH watched AS (
      SELECT vehicle_id, max(odometer_miles) - min(odometer_miles) AS miles,
        date_diff('day', min(read_on), max(read_on)) AS days
      FROM odometer_reading WHERE is_used GROUP BY vehicle_id)
    SELECT w.vehicle_id, w.engine_family, w.first_miles, w.last_miles, v.model_year,
      CASE WHEN r.days >= {FEWEST_DAYS} AND r.miles > 0 THEN r.miles / r.days * {_DAYS_A_MONTH} END AS miles_a_month
    FROM vehicle_window w JOIN watched r USING (vehicle_id) JOIN settled_vehicle v USING (vehicle_id)
    ORDER BY vehicle_id"""
"""SELECT for the `window` of `covariate_lives`. Miles a month come from readings, also where a window is carried on."""

_KEYS = ("component_code", "engine_family")


def covariate_lives(
    life: pl.DataFrame,
    window: pl.DataFrame,
    touched: pl.DataFrame,
    fitted: pl.DataFrame,
    original_below: pl.DataFrame | None = None,
) -> pl.DataFrame:
    """One row per life, or per vehicle and component with untouched sockets, sorted.

    Columns: component_code, vehicle_id, engine_family, part_origin (`original` for a first life), supplier, location
    (null for a first life), miles_a_month, model_year (null where not known), entry, exit_, event, left, weight.
    life: of unit `socket`, as in the table `life`.   window: as `COVARIATE_WINDOW_SQL` gives.   touched: vehicle_id,
    component_code, n_touched, of unit `socket`.   fitted: component_code, engine_family, n_sockets.
    original_below: component_code, engine_family, original_below: odometer at first sight below which a first part is
    taken for the original one; the others are left out. Where there is none, all count.
    Raises LivesError where a vehicle has lives but no window, or more sockets touched than there are.
    """
    looked_at = _with_limit(fitted, original_below)
    own = life.join(looked_at, on=_KEYS).join(window.select("vehicle_id", "first_miles"), on="vehicle_id", how="left")
    _check_windows(own)
    own = own.filter((pl.col("origin") == "replacement") | (pl.col("first_miles") < pl.col("original_below")))
    enough = own.filter(pl.col("is_event").sum().over("component_code") >= FEWEST_FAILURES)
    enough = enough.select("component_code").unique()
    rows = pl.concat(
        [
            _own(own.join(enough, on="component_code", how="semi")),
            _untouched(window, touched, looked_at.join(enough, on="component_code", how="semi")),
        ]
    )
    known = window.select("vehicle_id", pl.col("miles_a_month").cast(pl.Float64), pl.col("model_year").cast(pl.Float64))
    return rows.join(known, on="vehicle_id", how="left").sort(
        "component_code", "vehicle_id", "entry", "exit_", "event", "part_origin", "supplier", "location", "left"
    )


def _with_limit(fitted: pl.DataFrame, original_below: pl.DataFrame | None) -> pl.DataFrame:
    """The components on their families with the limit below which first parts count; infinite where there is none."""
    everything = pl.lit(float("inf"))
    if original_below is None:
        return fitted.with_columns(original_below=everything)
    limits = original_below.select(*_KEYS, "original_below")
    return fitted.join(limits, on=_KEYS, how="left").with_columns(pl.col("original_below").fill_null(everything))


def _own(life: pl.DataFrame) -> pl.DataFrame:
    """Lives of touched sockets; what a replacement part's line did not say is `not recorded`."""
    is_replacement = pl.col("origin") == "replacement"
    said = [
        pl.when(is_replacement).then(pl.col(name).fill_null(NOT_RECORDED)).alias(name)
        for name in ("supplier", "location")
    ]
    return life.select(
        "component_code",
        "vehicle_id",
        "engine_family",
        pl.when(is_replacement)
        .then(pl.col("part_origin").fill_null(NOT_RECORDED))
        .otherwise(pl.lit(ORIGINAL))
        .alias("part_origin"),
        *said,
        entry=pl.col("entry_miles").cast(pl.Float64),
        exit_=pl.col("exit_miles").cast(pl.Float64),
        event="is_event",
        left=pl.col("last_sound_miles").cast(pl.Float64),
        weight=pl.lit(1.0),
    )


def _untouched(window: pl.DataFrame, touched: pl.DataFrame, fitted: pl.DataFrame) -> pl.DataFrame:
    """One censored row per vehicle and component, weighing its sockets that were never touched.

    Vehicles first seen at or above the limit of `fitted` are left out.
    """
    watched = window.filter(pl.col("last_miles") > pl.col("first_miles"))
    at = ("vehicle_id", "component_code")
    rows = (
        fitted.join(watched, on="engine_family")
        .join(touched.select(*at, "n_touched"), on=at, how="left")
        .with_columns(weight=(pl.col("n_sockets") - pl.col("n_touched").fill_null(0)).cast(pl.Float64))
    )
    _check_touched(rows)
    nothing = pl.lit(None, pl.String)
    counted = (pl.col("weight") > 0) & (pl.col("first_miles") < pl.col("original_below"))
    return rows.filter(counted).select(
        "component_code",
        "vehicle_id",
        "engine_family",
        part_origin=pl.lit(ORIGINAL),
        supplier=nothing,
        location=nothing,
        entry=pl.col("first_miles").cast(pl.Float64),
        exit_=pl.col("last_miles").cast(pl.Float64),
        event=pl.lit(False),
        left=pl.lit(None, pl.Float64),
        weight="weight",
    )


def _check_windows(own: pl.DataFrame) -> None:
    lost = own.filter(pl.col("first_miles").is_null())
    if lost.height:
        raise LivesError(
            f"life: {lost.height:,} of {own.height:,} lives are of vehicles without a window (first: vehicle "
            f"{lost['vehicle_id'][0]}, {lost['component_code'][0]}). Expected one row of vehicle_window for each "
            "vehicle; this is a fault of the program."
        )


def _check_touched(rows: pl.DataFrame) -> None:
    wrong = rows.filter(pl.col("weight") < 0)
    if wrong.height:
        first = wrong.row(0, named=True)
        raise LivesError(
            f"touched: {wrong.height:,} vehicles and components have more sockets touched than there are (first: "
            f"vehicle {first['vehicle_id']}, {first['component_code']}, {first['n_touched']} of {first['n_sockets']}). "
            "This is a fault of the program, please report it with the repair orders of that vehicle."
        )
