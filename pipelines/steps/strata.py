"""Lives of every component x engine family as arrays for the estimators, the shared part kept shared.

A stratum is one component on one engine family, or on all of them together. Every stratum of a family shares the
family's windows: one per vehicle, as often as the vehicle has sockets for the component. Sockets with lives of their
own are taken out of the shared windows by one life of negative weight per vehicle and component.

All that depends on the age of a part rests on `aged` lives: those whose age is known, and of the first parts only those
that are likely the original ones (see `estimators.first_parts`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from longmile.pipelines.estimators.first_parts import FROM_NEW_BELOW, ROUNDS, original_below
from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Lives,
    Miles,
    SharedExposure,
    lives,
    n_failures,
    shared_exposure,
)
from longmile.pipelines.estimators.weibull import fit_weibull
from longmile.schemas.results import ALL_FAMILIES


@dataclass(frozen=True)
class Strata:
    """Strata of one unit, and their lives.

    table: one row per stratum in the order of its code: component_code, engine_family, n_sockets_each (per vehicle;
    null for all families together), n_vehicles, n_sockets.   lives, shared: every life, for counts and rates;
    is_known_age: of these lives, True where the age is known: of vehicles seen from new, of parts the shop fitted.
    aged, aged_shared: the lives that age-dependent estimates rest on.   aged_cause: what ended each of them, 0 nothing,
    1 failure, 2 a removal for another reason.   original_below: odometer at first sight below
    which a first part is among them; infinite where all are, because too few failures would be left.
    """

    unit: str
    table: pl.DataFrame
    lives: Lives
    is_known_age: Flags
    shared: SharedExposure
    aged: Lives
    aged_shared: SharedExposure
    aged_cause: Codes
    original_below: Miles


FEWEST_FAILURES = 5
"""Below so many failures a stratum is called thin: its limits hold, but its shape says little (our own choice)."""


@dataclass(frozen=True)
class _Source:
    """Frames with vehicles coded, and the strata they are counted in."""

    table: pl.DataFrame
    each: pl.DataFrame
    watched: pl.DataFrame
    life: pl.DataFrame
    touched: pl.DataFrame


def strata(unit: str, fitted: pl.DataFrame, window: pl.DataFrame, life: pl.DataFrame, touched: pl.DataFrame) -> Strata:
    """Strata of the unit (`socket` or `vehicle`).

    fitted: component_code, engine_family, n_sockets: what is looked at.   window: vehicle_id, engine_family,
    first_miles, last_miles, one row per vehicle.   life: vehicle_id, component_code, engine_family, entry_miles,
    exit_miles, is_event, outcome, last_sound_miles, origin.   touched: vehicle_id, component_code, engine_family,
    n_touched, first_miles, last_miles. A vehicle is a cluster: its lives are not taken for independent.
    """
    vehicles = window.select("vehicle_id", "first_miles").sort("vehicle_id").with_row_index("cluster")
    vehicles = vehicles.with_columns(pl.col("cluster").cast(pl.Int64))
    codes = vehicles.select("vehicle_id", "cluster")
    watched = window.filter(pl.col("last_miles") > pl.col("first_miles")).join(codes, on="vehicle_id")
    each = fitted.with_columns(n_sockets_each=pl.col("n_sockets") if unit == "socket" else pl.lit(1, pl.Int64))
    source = _Source(
        table=_table(each.drop("n_sockets"), watched),
        each=each,
        watched=watched,
        life=life.join(vehicles, on="vehicle_id"),
        touched=touched.join(codes, on="vehicle_id"),
    )
    everything = np.full(source.table.height, np.inf)
    (data, _, is_known), shared = _lives(source, everything), _shared(source, everything)
    below = _original_below(source, data, shared)
    aged, cause, _ = _lives(source, below)
    return Strata(unit, source.table, data, is_known, shared, aged, _shared(source, below), cause, below)


def _original_below(source: _Source, data: Lives, shared: SharedExposure) -> Miles:
    """Odometers at first sight below which first parts count, found anew from the fit they lead to.

    A stratum without a fit of its own takes its component's limit over all families; one that would be left with too
    few failures, though it has enough, keeps all its lives.
    """
    whole = whole_of(source.table)
    aged, aged_shared, below = data, shared, np.full(data.n_strata, np.inf)
    for _ in range(ROUNDS):
        fits = fit_weibull(aged, aged_shared)
        own = np.where(n_failures(aged) >= FEWEST_FAILURES, original_below(fits), np.nan)
        found = np.where(np.isnan(own), own[whole], own)
        found = np.where(np.isnan(found), np.inf, found)
        if np.array_equal(found, below):
            break
        below = found
        aged, aged_shared = _lives(source, below)[0], _shared(source, below)
    starved = (n_failures(aged) < FEWEST_FAILURES) & (n_failures(data) >= FEWEST_FAILURES)
    return np.where(starved, np.inf, below)


def whole_of(table: pl.DataFrame) -> Codes:
    """Code of the stratum of all families for each stratum."""
    whole = table.filter(pl.col("engine_family") == ALL_FAMILIES).select("component_code", whole="stratum")
    joined = table.join(whole, on="component_code", how="left", maintain_order="left")
    codes: Codes = joined["whole"].to_numpy()
    return codes


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


def _lives(source: _Source, below: Miles) -> tuple[Lives, Codes, Flags]:
    """The touched sockets' own lives and those of negative weight that take them out of the shared windows.

    Beside them what ended each, and whether its age is known.
    below: per stratum; first parts of vehicles first seen at or above it are left out.
    """
    own = source.life.select(
        "component_code",
        "engine_family",
        "cluster",
        entry="entry_miles",
        exit_="exit_miles",
        event="is_event",
        left=pl.col("last_sound_miles"),
        weight=pl.lit(1.0),
        cause=pl.when("is_event").then(1).when(pl.col("outcome") == "removed").then(2).otherwise(0),
        seen=pl.when(pl.col("origin") == "assumed_original").then("first_miles").otherwise(0.0),
    )
    taken_out = source.touched.filter(pl.col("last_miles") > pl.col("first_miles")).select(
        "component_code",
        "engine_family",
        "cluster",
        entry="first_miles",
        exit_="last_miles",
        event=pl.lit(False),
        left=pl.lit(None, pl.Float64),
        weight=-pl.col("n_touched").cast(pl.Float64),
        cause=pl.lit(0),
        seen="first_miles",
    )
    limit = pl.DataFrame({"stratum": np.arange(below.size), "below": below})
    # Sums of floating-point numbers depend on their order: sorted, the same lives always give the same last digit.
    order = ("stratum", "entry", "exit_", "event", "weight", "left", "cluster", "cause")
    rows = _coded(pl.concat([own, taken_out]), source.table).join(limit, on="stratum")
    rows = rows.filter(pl.col("seen") < pl.col("below")).sort(order)
    data = lives(
        entry=rows["entry"].to_numpy(),
        exit_=rows["exit_"].to_numpy(),
        event=rows["event"].to_numpy(),
        stratum=rows["stratum"].to_numpy(),
        weight=rows["weight"].to_numpy(),
        left=rows["left"].fill_null(float("nan")).to_numpy(),
        n_strata=below.size,
        cluster=rows["cluster"].to_numpy(),
    )
    return data, rows["cause"].cast(pl.Int64).to_numpy(), (rows["seen"] < FROM_NEW_BELOW).to_numpy()


def _shared(source: _Source, below: Miles) -> SharedExposure:
    """One group of windows per family, and one per pattern of sockets over the families for all of them together.

    Components with the same number of sockets on each family share a pattern, so there are about as many groups as
    socket schemes. In a pattern's group a window weighs as much as its vehicle has sockets. Strata with the same limit
    on first sight share a group; there are few limits.
    """
    patterns = (
        source.each.sort("engine_family")
        .group_by("component_code")
        .agg(families=pl.col("engine_family"), counts=pl.col("n_sockets_each"))
        .with_columns(pattern=pl.struct("families", "counts").rank("dense").cast(pl.Int64) - 1)
    )
    names = source.watched["engine_family"].unique().sort()
    family_code = pl.DataFrame({"engine_family": names, "base": np.arange(names.len())})
    of_stratum = (
        source.table.join(family_code, on="engine_family", how="left")
        .join(patterns.select("component_code", "pattern"), on="component_code", how="left")
        .sort("stratum")
        .select(
            base=pl.coalesce("base", pl.col("pattern") + names.len()),
            multiplicity=pl.col("n_sockets_each").fill_null(1),
            below=pl.Series(below),
        )
        .with_columns(group=pl.struct("base", "below").rank("dense").cast(pl.Int64) - 1)
    )
    windows = (
        of_stratum.unique("group")
        .join(_base_windows(source, patterns, family_code), on="base")
        .filter(pl.col("first_miles") < pl.col("below"))
        .sort("group", "first_miles", "last_miles", "cluster")
    )
    return shared_exposure(
        group=windows["group"].to_numpy(),
        entry=windows["first_miles"].to_numpy(),
        exit_=windows["last_miles"].to_numpy(),
        stratum_group=of_stratum["group"].to_numpy(),
        multiplicity=of_stratum["multiplicity"].to_numpy(),
        weight=windows["weight"].to_numpy(),
        cluster=windows["cluster"].to_numpy(),
    )


def _base_windows(source: _Source, patterns: pl.DataFrame, family_code: pl.DataFrame) -> pl.DataFrame:
    """Windows of every family (weight 1), and of every pattern of sockets over families (weight: its sockets)."""
    columns = ("base", "first_miles", "last_miles", "weight", "cluster")
    by_family = source.watched.join(family_code, on="engine_family").with_columns(weight=pl.lit(1, pl.Int64))
    by_pattern = (
        patterns.unique("pattern")
        .explode("families", "counts")
        .select("pattern", engine_family="families", weight="counts")
        .join(source.watched, on="engine_family")
        .with_columns(base=pl.col("pattern") + family_code.height)
    )
    return pl.concat([by_family.select(columns), by_pattern.select(columns)])
