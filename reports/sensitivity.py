"""How far the headline numbers move when lives are counted in another way: facts of the table on the methods page."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from longmile.reports.frames import ResultFrames
from longmile.reports.selection import named
from longmile.reports.stratum import Row, finite
from longmile.schemas.results import VARIANTS

MAX_COMPONENTS = 12
"""Components shown, those with most failures."""


@dataclass(frozen=True)
class Moved:
    """One way of counting: its failures, and its numbers over those as set. None: not known there."""

    variant: str
    n_failures: int
    rate: float | None
    mean: float | None
    b10: float | None


@dataclass(frozen=True)
class Sensitivity:
    """One component: its failures as set, and how far each other way moves its numbers."""

    component_name: str
    is_safety_relevant: bool
    n_failures: int
    ways: tuple[Moved, ...]


@dataclass(frozen=True)
class Furthest:
    """Over all components with enough failures in both ways: the middle and the furthest change of the mean."""

    variant: str
    n_components: int
    middle: float
    least: float
    most: float


FEWEST_FAILURES = 20
"""Failures a component needs, both ways, to be summed up (our own choice)."""


def sensitivities(frames: ResultFrames) -> tuple[Sensitivity, ...]:
    """The components with most failures, as set, each with every other way of counting."""
    rows = named(frames.sensitivity, frames.component)
    as_set = rows.filter((pl.col("variant") == "as_set") & (pl.col("n_failures") > 0))
    first = as_set.sort("n_failures", "component_code", descending=[True, False]).head(MAX_COMPONENTS)
    return tuple(_of_component(row, rows) for row in first.iter_rows(named=True))


def furthest(frames: ResultFrames) -> tuple[Furthest, ...]:
    """How far each way moves the mean over all components, in the order of the ways."""
    rows = frames.sensitivity
    enough = rows.filter((pl.col("variant") == "as_set") & (pl.col("n_failures") >= FEWEST_FAILURES))
    told = rows.filter(
        (pl.col("variant") != "as_set") & (pl.col("n_failures") >= FEWEST_FAILURES) & pl.col("mean_ratio").is_not_null()
    ).join(enough.select("component_code"), on="component_code", how="semi")
    summed = told.group_by("variant").agg(
        n_components=pl.len(),
        middle=pl.col("mean_ratio").median(),
        least=pl.col("mean_ratio").min(),
        most=pl.col("mean_ratio").max(),
    )
    by_name = {row["variant"]: Furthest(**row) for row in summed.iter_rows(named=True)}
    return tuple(by_name[name] for name in VARIANTS if name in by_name)


def _of_component(row: Row, rows: pl.DataFrame) -> Sensitivity:
    own = rows.filter((pl.col("component_code") == row["component_code"]) & (pl.col("variant") != "as_set"))
    found = {moved["variant"]: moved for moved in own.iter_rows(named=True)}
    return Sensitivity(
        component_name=row["component_name"],
        is_safety_relevant=row["is_safety_relevant"],
        n_failures=int(row["n_failures"]),
        ways=tuple(_moved(found[name]) for name in VARIANTS if name in found),
    )


def _moved(row: Row) -> Moved:
    return Moved(
        variant=row["variant"],
        n_failures=int(row["n_failures"]),
        rate=finite(row["rate_ratio"]),
        mean=finite(row["mean_ratio"]),
        b10=finite(row["b10_ratio"]),
    )
