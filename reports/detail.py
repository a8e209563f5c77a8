"""Detail: every number that the page of estimates in detail states. Frames in, a dataclass out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import polars as pl

from longmile.reports import selection
from longmile.reports.facts import Header, header_of
from longmile.reports.frames import ResultFrames
from longmile.reports.selection import named
from longmile.reports.stratum import Limited, Row, finite, limited
from longmile.schemas.results import ALL_FAMILIES

MAX_COMPONENTS = 30
MAX_FAMILIES = 40
MAX_EFFECTS = 60
MAX_RECURRENCE_COMPONENTS = 20
NOTABLE = 0.01
"""Chance of a difference as large by chance alone below which one is listed (our own choice)."""

_T = TypeVar("_T")


@dataclass(frozen=True)
class ModelRow:
    """Which curve a component's ages at failure follow, all families together."""

    component_name: str
    n_failures: int
    n_aged_failures: int
    original_below_miles: float | None
    model: str | None
    runner_up: str | None
    aic_apart: float | None
    is_ahead: bool
    plot_correlation: float | None
    share_outside: float | None


@dataclass(frozen=True)
class FamilyRow:
    """One family's hazard and B10 beside those that lean on the fleet. b10_*: None for safety-relevant parts.

    b10_at_least: what holds where nothing failed, so that b10_held has no value.
    """

    component_name: str
    engine_family: str
    is_safety_relevant: bool
    n_failures: int
    raw: Limited | None
    shrunk: Limited | None
    b10_held: Limited | None
    b10_at_least: float | None
    b10_shrunk: Limited | None
    is_constant_rate: bool


@dataclass(frozen=True)
class AgeRow:
    """Mean and B10 as shown elsewhere, and with the age at first sight taken for unknown."""

    component_name: str
    engine_family: str
    is_all_families: bool
    is_in_doubt: bool
    n_failures: int
    mean: Limited | None
    mean_unknown: Limited | None
    b10: Limited | None
    b10_unknown: Limited | None


@dataclass(frozen=True)
class AgainstRow:
    """One family against all others, age by age."""

    component_name: str
    engine_family: str
    n_failures: int
    expected: float
    p_value: float


@dataclass(frozen=True)
class IncidenceRow:
    """Shares failed and removed for another reason by an age."""

    component_name: str
    age_miles: float
    failed: Limited | None
    removed: Limited | None


@dataclass(frozen=True)
class RecurrenceRow:
    """Repairs and their price per vehicle up to an odometer."""

    component_name: str
    at_miles: float
    n_repairs: int
    at_risk: int
    is_extrapolated: bool
    repairs: Limited | None
    cost: Limited | None


@dataclass(frozen=True)
class EffectRow:
    """How many times as long parts of a level last as those of the reference."""

    component_name: str
    covariate: str
    level: str
    reference: str
    n_failures: int
    ratio: Limited
    p_value: float | None


@dataclass(frozen=True)
class Detail:
    """The facts of the page, in the order in which they are told. n_*: how many there are in all."""

    header: Header
    currency: str
    models: tuple[ModelRow, ...]
    families: tuple[FamilyRow, ...]
    n_families: int
    ages: tuple[AgeRow, ...]
    against: tuple[AgainstRow, ...]
    n_against: int
    n_tests: int
    n_by_chance: float
    notable: float
    incidences: tuple[IncidenceRow, ...]
    recurrences: tuple[RecurrenceRow, ...]
    effects: tuple[EffectRow, ...]
    n_differing: int
    n_effects: int
    n_effects_by_chance: float


def detail(frames: ResultFrames) -> Detail:
    """All facts of the page, from one run's frames."""
    whole = selection.components_by_failures(named(frames.estimate, frames.component))
    order = whole.select("component_code", all_failures="n_failures")
    families = _by_failures(_single(frames, "family_value", "socket"), order).filter(pl.col("n_failures") < _FEW)
    tests = _by_failures(_single(frames, "family_comparison", "vehicle"), order).filter(
        pl.col("p_value").is_not_null() & (pl.col("n_failures") > 0)
    )
    notable = tests.filter(pl.col("p_value") < NOTABLE).sort("p_value", "component_code", "engine_family")
    effects = named(frames.covariate_effect, frames.component).filter(
        pl.col("p_value").is_not_null() & pl.col("life_ratio").is_not_null() & ~pl.col("level").is_in(_NO_FINDING)
    )
    effects = effects.filter(pl.col("covariate") != "engine_family")
    differing = effects.filter(pl.col("p_value") < NOTABLE).sort("p_value", *_EFFECT)
    return Detail(
        header=header_of(frames),
        currency=frames.currency,
        models=_told(whole.head(MAX_COMPONENTS), _model_row),
        families=_told(families.head(MAX_FAMILIES), _family_row),
        n_families=families.height,
        ages=_told(_ages(frames, order), _age_row),
        against=_told(notable.head(MAX_FAMILIES), _against_row),
        n_against=notable.height,
        n_tests=tests.height,
        n_by_chance=tests.height * NOTABLE,
        notable=NOTABLE,
        incidences=_told(_incidences(frames, order), _incidence_row),
        recurrences=_told(_recurrences(frames, order), _recurrence_row),
        effects=_told(differing.head(MAX_EFFECTS), _effect_row),
        n_differing=differing.height,
        n_effects=effects.height,
        n_effects_by_chance=effects.height * NOTABLE,
    )


_FEW = 20
"""Failures from which a family's own value is shown without leaning on the fleet (our own choice)."""
_EFFECT = ("component_code", "covariate", "level")
_NO_FINDING = ("other", "not recorded")
"""Levels that gather what is left: their ratio says nothing that anyone could act on."""


def _told(rows: pl.DataFrame, make: Callable[[dict[str, Any]], _T]) -> tuple[_T, ...]:
    return tuple(make(row) for row in rows.iter_rows(named=True))


def _single(frames: ResultFrames, name: str, unit: str) -> pl.DataFrame:
    """Rows of single families of one unit, named."""
    frame: pl.DataFrame = getattr(frames, name)
    single = frame.filter((pl.col("unit") == unit) & (pl.col("engine_family") != ALL_FAMILIES))
    return named(single, frames.component)


def _by_failures(rows: pl.DataFrame, order: pl.DataFrame) -> pl.DataFrame:
    """Rows of components that failed at all, those with most failures first."""
    joined = rows.join(order, on="component_code", how="inner")
    return joined.sort("all_failures", "component_code", "engine_family", descending=[True, False, False])


def _model_row(row: Row) -> ModelRow:
    ahead = finite(row["aic_ahead"])
    return ModelRow(
        component_name=row["component_name"],
        n_failures=int(row["n_failures"]),
        n_aged_failures=int(row["n_aged_failures"]),
        original_below_miles=finite(row["original_below_miles"]),
        model=row["model"],
        runner_up=row["runner_up"],
        aic_apart=abs(ahead) if ahead is not None else None,
        is_ahead=ahead is not None and ahead >= 0,
        plot_correlation=finite(row["plot_correlation"]),
        share_outside=finite(row["share_outside_limits"]),
    )


def _family_row(row: Row) -> FamilyRow:
    is_told = not row["is_safety_relevant"]
    return FamilyRow(
        component_name=row["component_name"],
        engine_family=row["engine_family"],
        is_safety_relevant=row["is_safety_relevant"],
        n_failures=int(row["n_failures"]),
        raw=limited(row, "relative_hazard"),
        shrunk=limited(row, "shrunk_hazard"),
        b10_held=limited(row, "b10_held_miles", "b10_held_extrapolated") if is_told else None,
        b10_at_least=finite(row["b10_held_miles_lower"]) if is_told else None,
        b10_shrunk=limited(row, "b10_shrunk_miles", "b10_shrunk_extrapolated") if is_told else None,
        is_constant_rate=row["shape_from"] == "constant_rate",
    )


def _ages(frames: ResultFrames, order: pl.DataFrame) -> pl.DataFrame:
    """Components with most failures over all families, and single families whose ages are in doubt; no safety parts."""
    keys = ["component_code", "engine_family", "unit"]
    shown = ("mean_miles", "b10_miles")
    ends = [f"{name}{end}" for name in shown for end in ("", "_lower", "_upper")]
    told = frames.unknown_age_value.filter(pl.col("unknown_age_status") == "ok").join(
        frames.estimate.select(*keys, *ends, "mean_extrapolated", "b10_extrapolated", "original_below_miles"),
        on=keys,
        how="left",
    )
    rows = named(told, frames.component).filter(~pl.col("is_safety_relevant")).join(order, on="component_code")
    whole = pl.col("engine_family") == ALL_FAMILIES
    first = order.head(MAX_COMPONENTS)["component_code"].implode()
    kept = rows.filter(~whole | pl.col("component_code").is_in(first))
    return kept.sort("all_failures", "component_code", "engine_family", descending=[True, False, False]).head(
        MAX_FAMILIES
    )


def _age_row(row: Row) -> AgeRow:
    return AgeRow(
        component_name=row["component_name"],
        engine_family=row["engine_family"],
        is_all_families=row["engine_family"] == ALL_FAMILIES,
        is_in_doubt=finite(row["original_below_miles"]) is None,
        n_failures=int(row["n_failures"]),
        mean=limited(row, "mean_miles", "mean_extrapolated"),
        mean_unknown=limited(row, "mean_unknown_age_miles", "mean_unknown_age_extrapolated"),
        b10=limited(row, "b10_miles", "b10_extrapolated"),
        b10_unknown=limited(row, "b10_unknown_age_miles", "b10_unknown_age_extrapolated"),
    )


def _against_row(row: Row) -> AgainstRow:
    return AgainstRow(
        component_name=row["component_name"],
        engine_family=row["engine_family"],
        n_failures=int(row["n_failures"]),
        expected=row["expected_failures"],
        p_value=row["p_value"],
    )


def _incidences(frames: ResultFrames, order: pl.DataFrame) -> pl.DataFrame:
    """Incidences over all families of the components with most failures that were ever removed for another reason."""
    rows = frames.removal_incidence.filter(
        (pl.col("unit") == "socket") & (pl.col("engine_family") == ALL_FAMILIES)
    ).filter((pl.col("removed_share") > 0).any().over("component_code"))
    named_rows = named(rows, frames.component).join(order.head(MAX_COMPONENTS), on="component_code", how="inner")
    return named_rows.sort("all_failures", "component_code", "age_miles", descending=[True, False, False])


def _incidence_row(row: Row) -> IncidenceRow:
    return IncidenceRow(
        component_name=row["component_name"],
        age_miles=row["age_miles"],
        failed=limited(row, "failed_share"),
        removed=limited(row, "removed_share"),
    )


def _recurrences(frames: ResultFrames, order: pl.DataFrame) -> pl.DataFrame:
    rows = named(frames.recurrence.filter(pl.col("engine_family") == ALL_FAMILIES), frames.component)
    joined = rows.join(order.head(MAX_RECURRENCE_COMPONENTS), on="component_code", how="inner")
    return joined.sort("all_failures", "component_code", "at_miles", descending=[True, False, False])


def _recurrence_row(row: Row) -> RecurrenceRow:
    return RecurrenceRow(
        component_name=row["component_name"],
        at_miles=row["at_miles"],
        n_repairs=int(row["n_repairs"]),
        at_risk=int(row["at_risk"]),
        is_extrapolated=bool(row["is_extrapolated"]),
        repairs=limited(row, "repairs_per_vehicle"),
        cost=limited(row, "cost_per_vehicle"),
    )


def _effect_row(row: Row) -> EffectRow:
    ratio = limited(row, "life_ratio")
    return EffectRow(
        component_name=row["component_name"],
        covariate=row["covariate"].replace("_", " "),
        level=str(row["level"]),
        reference=str(row["reference"]),
        n_failures=int(row["n_failures"]),
        ratio=ratio if ratio is not None else Limited(1.0, None, None),
        p_value=finite(row["p_value"]),
    )
