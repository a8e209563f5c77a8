"""Lives of every component x engine family as arrays for the estimators, the shared part kept shared.

A stratum is one component on one engine family, or on all of them together. Every stratum of a family shares the
family's windows: one per vehicle, as often as the vehicle has sockets for the component. Sockets with lives of their
own are taken out of the shared windows by one life of negative weight per vehicle and component.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from longmile.pipelines.estimators.lives import Lives, SharedExposure, lives, shared_exposure
from longmile.schemas.results import ALL_FAMILIES


@dataclass(frozen=True)
class Strata:
    """Strata of one unit, and their lives.

    table: one row per stratum in the order of its code: component_code, engine_family, n_sockets_each (per vehicle;
    null for all families together), n_vehicles, n_sockets.
    """

    unit: str
    table: pl.DataFrame
    lives: Lives
    shared: SharedExposure


def strata(unit: str, fitted: pl.DataFrame, window: pl.DataFrame, life: pl.DataFrame, touched: pl.DataFrame) -> Strata:
    """Strata of the unit (`socket` or `vehicle`).

    fitted: component_code, engine_family, n_sockets: what is looked at.   window: engine_family, first_miles,
    last_miles, one row per vehicle.   life: component_code, engine_family, entry_miles, exit_miles, is_event,
    last_sound_miles.   touched: component_code, engine_family, n_touched, first_miles, last_miles.
    """
    watched = window.filter(pl.col("last_miles") > pl.col("first_miles"))
    each = fitted.with_columns(n_sockets_each=pl.col("n_sockets") if unit == "socket" else pl.lit(1, pl.Int64))
    table = _table(each.drop("n_sockets"), watched)
    return Strata(unit, table, _lives(table, life, touched), _shared(table, each, watched))


def _table(each: pl.DataFrame, watched: pl.DataFrame) -> pl.DataFrame:
    """One row per stratum, families first, then all of them together, with a code."""
    vehicles = watched.group_by("engine_family").len("n_vehicles")
    families = (
        each.join(vehicles, on="engine_family", how="inner")
        .with_columns(pl.col("n_vehicles").cast(pl.Int64))
        .with_columns(n_sockets=pl.col("n_sockets_each") * pl.col("n_vehicles"))
        .sort("component_code", "engine_family")
    )
    together = (
        families.group_by("component_code")
        .agg(pl.col("n_vehicles").sum(), pl.col("n_sockets").sum())
        .with_columns(engine_family=pl.lit(ALL_FAMILIES), n_sockets_each=pl.lit(None, pl.Int64))
        .select(families.columns)
        .sort("component_code")
    )
    return pl.concat([families, together]).with_row_index("stratum").with_columns(pl.col("stratum").cast(pl.Int64))


def _coded(frame: pl.DataFrame, table: pl.DataFrame) -> pl.DataFrame:
    """The frame's rows twice: under their family's stratum and under that of all families."""
    codes = table.select("component_code", "engine_family", "stratum")
    looked_at = frame.join(codes, on=["component_code", "engine_family"], how="inner")
    together = codes.filter(pl.col("engine_family") == ALL_FAMILIES).select(
        "component_code", pl.col("stratum").alias("whole")
    )
    whole = looked_at.join(together, on="component_code").with_columns(stratum=pl.col("whole")).drop("whole")
    return pl.concat([looked_at, whole])


def _lives(table: pl.DataFrame, life: pl.DataFrame, touched: pl.DataFrame) -> Lives:
    """The touched sockets' own lives, and the lives of negative weight that take them out of the shared windows."""
    own = life.select(
        "component_code",
        "engine_family",
        entry="entry_miles",
        exit_="exit_miles",
        event="is_event",
        left=pl.col("last_sound_miles"),
        weight=pl.lit(1.0),
    )
    taken_out = touched.filter(pl.col("last_miles") > pl.col("first_miles")).select(
        "component_code",
        "engine_family",
        entry="first_miles",
        exit_="last_miles",
        event=pl.lit(False),
        left=pl.lit(None, pl.Float64),
        weight=-pl.col("n_touched").cast(pl.Float64),
    )
    # Sums of floating-point numbers depend on their order: sorted, the same lives always give the same last digit.
    rows = _coded(pl.concat([own, taken_out]), table).sort("stratum", "entry", "exit_", "event", "weight", "left")
    return lives(
        entry=rows["entry"].to_numpy(),
        exit_=rows["exit_"].to_numpy(),
        event=rows["event"].to_numpy(),
        stratum=rows["stratum"].to_numpy(),
        weight=rows["weight"].to_numpy(),
        left=rows["left"].fill_null(float("nan")).to_numpy(),
        n_strata=table.height,
    )


def _shared(table: pl.DataFrame, each: pl.DataFrame, watched: pl.DataFrame) -> SharedExposure:
    """One group of windows per family, and one per pattern of sockets over the families for all of them together.

    Components with the same number of sockets on each family share a pattern, so there are about as many groups as
    socket schemes. In a pattern's group a window stands once for each socket of its vehicle.
    """
    patterns = (
        each.sort("engine_family")
        .group_by("component_code")
        .agg(families=pl.col("engine_family"), counts=pl.col("n_sockets_each"))
        .with_columns(pattern=pl.struct("families", "counts").rank("dense").cast(pl.Int64) - 1)
    )
    names = watched["engine_family"].unique().sort()
    family_code = pl.DataFrame({"engine_family": names, "group": np.arange(names.len())})
    by_family = watched.join(family_code, on="engine_family").select("group", "first_miles", "last_miles")
    by_pattern = (
        patterns.unique("pattern")
        .explode("families", "counts")
        .select("pattern", engine_family="families", counts="counts")
        .join(watched, on="engine_family")
        .select(pl.col("first_miles", "last_miles"), group=pl.col("pattern") + names.len(), counts="counts")
    )
    repeated = by_pattern.select(pl.all().exclude("counts").repeat_by("counts").explode()).select(by_family.columns)
    windows = pl.concat([by_family, repeated]).sort("group", "first_miles", "last_miles")
    of_stratum = (
        table.join(family_code, on="engine_family", how="left")
        .join(patterns.select("component_code", "pattern"), on="component_code", how="left")
        .sort("stratum")
        .select(
            group=pl.coalesce("group", pl.col("pattern") + names.len()),
            multiplicity=pl.col("n_sockets_each").fill_null(1),
        )
    )
    return shared_exposure(
        group=windows["group"].to_numpy(),
        entry=windows["first_miles"].to_numpy(),
        exit_=windows["last_miles"].to_numpy(),
        stratum_group=of_stratum["group"].to_numpy(),
        multiplicity=of_stratum["multiplicity"].to_numpy(),
    )
