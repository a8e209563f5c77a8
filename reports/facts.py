"""Briefing: every number that the briefing and the methods page state. Frames in, a dataclass out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

import polars as pl

from longmile.reports import selection
from longmile.reports.frames import ResultFrames
from longmile.reports.selection import named
from longmile.reports.stratum import Limited, StratumFacts, finite, limited, stratum_facts
from longmile.reports.trust import TrustFacts, trust_facts
from longmile.schemas.results import ALL_FAMILIES


@dataclass(frozen=True)
class Header:
    """What the page is about and when it was made. confidence: a share."""

    shop_name: str
    as_of: date
    known_at: datetime
    built_at: datetime
    version: str
    confidence: float
    is_empty: bool


@dataclass(frozen=True)
class Comparison:
    """How many comparisons were made and how many stand out, against what chance alone would give."""

    n_compared: int
    n_higher: int
    n_lower: int
    n_higher_shown: int
    n_by_chance: float
    is_more_than_chance: bool
    min_component_failures: int
    min_family_failures: int


@dataclass(frozen=True)
class RateRow:
    """One line of a table of rates."""

    component_name: str
    engine_family: str
    is_all_families: bool
    is_safety_relevant: bool
    status: str
    n_failures: int
    n_vehicles: int
    miles_at_risk: float
    rate: Limited | None
    mean: Limited | None
    others_rate: float | None


@dataclass(frozen=True)
class Briefing:
    """The facts of one page, in the order in which they are told."""

    header: Header
    trust: TrustFacts
    comparison: Comparison
    standing_out: tuple[StratumFacts, ...]
    higher: tuple[RateRow, ...]
    lower: tuple[RateRow, ...]
    leading: tuple[StratumFacts, ...]
    components: tuple[RateRow, ...]
    no_failures: tuple[RateRow, ...]
    n_no_failures: int
    few_failures: tuple[RateRow, ...]
    n_few_failures: int
    n_families: int
    wrong_answer: StratumFacts | None
    wrong_answer_times: float | None


def briefing(frames: ResultFrames) -> Briefing:
    """All facts of the briefing and the methods page, from one run's frames."""
    estimate = named(frames.estimate, frames.component)
    rows = selection.compared(estimate)
    higher = selection.standing_out(rows, "is_higher")
    bounds, few = selection.without_failures(estimate), selection.with_few_failures(estimate)
    safety = frames.component.filter(pl.col("is_safety_relevant"))["component_code"]
    wrong = next(iter(_strata(frames, selection.instructive(estimate, set(safety)))), None)
    shown = higher.head(selection.MAX_STANDING_OUT)
    return Briefing(
        header=header_of(frames),
        trust=trust_facts(frames),
        comparison=_comparison(rows, higher.height, shown.height, frames.confidence),
        standing_out=_strata(frames, shown),
        higher=_rate_rows(higher.head(selection.MAX_BOUNDS)),
        lower=_rate_rows(selection.standing_out(rows, "is_lower").head(selection.MAX_BOUNDS)),
        leading=_strata(frames, selection.leading(estimate)),
        components=_rate_rows(selection.components_by_failures(estimate)),
        no_failures=_rate_rows(bounds.head(selection.MAX_BOUNDS)),
        n_no_failures=bounds.height,
        few_failures=_rate_rows(few.head(selection.MAX_BOUNDS)),
        n_few_failures=few.height,
        n_families=estimate.filter(pl.col("engine_family") != ALL_FAMILIES)["engine_family"].n_unique(),
        wrong_answer=wrong,
        wrong_answer_times=_times_off(wrong),
    )


def header_of(frames: ResultFrames) -> Header:
    """Names and moments of the run."""
    return Header(
        shop_name=frames.shop_name,
        as_of=frames.as_of,
        known_at=frames.known_at,
        built_at=frames.built_at,
        version=frames.version,
        confidence=frames.confidence,
        is_empty=frames.estimate.is_empty(),
    )


def _comparison(rows: pl.DataFrame, n_higher: int, n_shown: int, confidence: float) -> Comparison:
    """Counts of comparisons; chance alone leaves (1 - confidence) / 2 of them above the upper side."""
    by_chance = rows.height * (1 - confidence) / 2
    return Comparison(
        n_compared=rows.height,
        n_higher=n_higher,
        n_lower=rows.filter(pl.col("is_lower")).height,
        n_higher_shown=n_shown,
        n_by_chance=by_chance,
        is_more_than_chance=n_higher > by_chance,
        min_component_failures=selection.MIN_COMPONENT_FAILURES,
        min_family_failures=selection.MIN_FAMILY_FAILURES,
    )


def _strata(frames: ResultFrames, rows: pl.DataFrame) -> tuple[StratumFacts, ...]:
    """Full facts of the few strata that get a section of their own."""
    return tuple(stratum_facts(frames, row) for row in rows.iter_rows(named=True))


def _rate_rows(rows: pl.DataFrame) -> tuple[RateRow, ...]:
    """Lines of a table; others_rate only where the rows carry it."""
    return tuple(
        RateRow(
            component_name=row["component_name"],
            engine_family=row["engine_family"],
            is_all_families=row["engine_family"] == ALL_FAMILIES,
            is_safety_relevant=row["is_safety_relevant"],
            status=row["status"],
            n_failures=int(row["n_failures"]),
            n_vehicles=int(row["n_vehicles"]),
            miles_at_risk=row["miles_at_risk"],
            rate=limited(row, "rate_per_100k"),
            mean=limited(row, "mean_miles", "mean_extrapolated") if row["model"] is not None else None,
            others_rate=finite(row.get("others_rate")),
        )
        for row in rows.iter_rows(named=True)
    )


def _times_off(wrong: StratumFacts | None) -> float | None:
    """How many times the mean miles to failure is the plain mean of the ages at failure."""
    if wrong is None or wrong.mean is None or not wrong.plain_mean_miles:
        return None
    return wrong.mean.value / wrong.plain_mean_miles
