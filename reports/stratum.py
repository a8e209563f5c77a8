"""Facts about one component on one engine family (or on all): every number its part of the page states."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

import polars as pl

from longmile.reports.frames import ResultFrames
from longmile.schemas.results import ALL_FAMILIES

Row = Mapping[str, Any]
Hazard = Literal["wears_out", "early", "cannot_tell", "not_known"]
MAX_EVIDENCE_SHOWN = 25
MAX_TEXT_SHOWN = 200
MAX_CURVE_POINTS = 120
FEW_FAILURES = 5
"""Failures from which a stratum is not thin for their number."""
FAR_FROM_POINTS = 0.2
"""Share of the failures at which the fitted curve may leave the limits of the survival curve before the page says that
it does not follow (our own choice: neighbouring points move together, so 1 in 20 would be asked too much)."""
N_TICKS = 6


@dataclass(frozen=True)
class Limited:
    """A value with its limits. lower None: none could be found; upper None: without bound."""

    value: float
    lower: float | None
    upper: float | None
    is_extrapolated: bool = False


@dataclass(frozen=True)
class Others:
    """All other families taken together, for the same component."""

    n_failures: int
    miles_at_risk: float
    rate: float
    times: float | None


@dataclass(frozen=True)
class CurveRow:
    """One line of the table behind a survival curve. survival counts what runs beyond the age, of 1."""

    age_miles: float
    at_risk: int | None
    survival: float
    lower: float | None
    upper: float | None


@dataclass(frozen=True)
class Conditional:
    """Chance that a part of age from_miles runs further_miles more."""

    from_miles: float
    further_miles: float
    survival: Limited


@dataclass(frozen=True)
class EvidenceRow:
    """One repair order behind the failures; its sockets joined."""

    repair_order_id: str
    opened_on: date | None
    location: str
    vehicle_id: str
    odometer_miles: float | None
    age_miles: float | None
    positions: str
    reason: str
    concern: str
    cause: str
    correction: str
    part: str


@dataclass(frozen=True)
class StratumFacts:
    """Everything said about one stratum. curve: points drawn; curve_table: at round ages."""

    component_code: str
    component_name: str
    system: str
    is_safety_relevant: bool
    engine_family: str
    is_all_families: bool
    status: str
    confidence: float
    counts: Mapping[str, int]
    miles_at_risk: float
    largest_miles: float | None
    rate: Limited | None
    others: Others | None
    hazard: Hazard
    shape: Limited | None
    mean: Limited | None
    median: Limited | None
    b10: Limited | None
    restricted_mean: Limited | None
    horizon_miles: float | None
    plain_mean_miles: float | None
    weibull_status: str
    limits: str | None
    share_outside: float | None
    is_followed: bool
    curve_from_miles: float
    n_aged_failures: int
    original_below_miles: float | None
    is_age_doubtful: bool
    conditional: tuple[Conditional, ...]
    curve: tuple[CurveRow, ...]
    curve_table: tuple[CurveRow, ...]
    evidence: tuple[EvidenceRow, ...]


COUNTS = (
    "n_vehicles",
    "n_sockets",
    "n_lives",
    "n_failures",
    "n_removals",
    "n_walk_ins",
    "n_one_of_set",
    "n_interval",
    "n_unknown_reason",
    "n_orders",
)


def finite(value: float | None) -> float | None:
    """The value, or None where it is missing or not finite."""
    return float(value) if value is not None and math.isfinite(value) else None


def limited(row: Row, name: str, extrapolated: str = "") -> Limited | None:
    """The value of that name with its limits; None where there is no value."""
    value = finite(row[name])
    if value is None:
        return None
    lower, upper = finite(row[f"{name}_lower"]), finite(row[f"{name}_upper"])
    return Limited(value, lower, upper, bool(row[extrapolated]) if extrapolated else False)


def hazard_of(shape: Limited | None) -> Hazard:
    """What the limits of the Weibull shape allow to be said: both above 1, both below, or neither."""
    if shape is None or shape.lower is None or shape.upper is None:
        return "not_known" if shape is None else "cannot_tell"
    if shape.lower > 1:
        return "wears_out"
    return "early" if shape.upper < 1 else "cannot_tell"


def stratum_facts(frames: ResultFrames, row: Row) -> StratumFacts:
    """Facts of one row of `estimate` (named, and with the others' columns where it is one family)."""
    is_usable = row["model"] is not None
    shape = limited(row, "shape") if row["weibull_status"] == "ok" else None
    outside = finite(row["share_outside_limits"])
    points = _of_stratum(frames.survival_point, row).sort("age_miles")
    own = points.filter(~pl.col("is_tail"))
    curve = curve_points(own, told_until(points, finite(row["largest_miles"])), row["curve_from_miles"])
    is_all = row["engine_family"] == ALL_FAMILIES
    return StratumFacts(
        component_code=row["component_code"],
        component_name=row["component_name"],
        system=row["system"],
        is_safety_relevant=row["is_safety_relevant"],
        engine_family=row["engine_family"],
        is_all_families=is_all,
        status=row["status"],
        confidence=row["confidence"],
        counts={name: int(row[name]) for name in COUNTS},
        miles_at_risk=row["miles_at_risk"],
        largest_miles=finite(row["largest_miles"]),
        rate=limited(row, "rate_per_100k"),
        others=None if is_all else _others(row),
        hazard=hazard_of(shape),
        shape=shape,
        mean=limited(row, "mean_miles", "mean_extrapolated") if is_usable else None,
        median=limited(row, "median_miles", "median_extrapolated") if is_usable else None,
        b10=limited(row, "b10_miles", "b10_extrapolated") if is_usable else None,
        restricted_mean=limited(row, "restricted_mean_miles"),
        horizon_miles=finite(row["horizon_miles"]),
        plain_mean_miles=finite(row["plain_mean_miles"]),
        weibull_status=row["weibull_status"],
        limits=row["limits"],
        share_outside=outside,
        is_followed=outside is None or outside <= FAR_FROM_POINTS,
        curve_from_miles=row["curve_from_miles"],
        n_aged_failures=int(row["n_aged_failures"]),
        original_below_miles=finite(row["original_below_miles"]),
        is_age_doubtful=finite(row["original_below_miles"]) is None and int(row["n_failures"]) >= FEW_FAILURES,
        conditional=_conditional(frames, row) if is_usable else (),
        curve=curve,
        curve_table=curve_table(own, curve),
        evidence=evidence_rows(frames.evidence, row),
    )


def _of_stratum(frame: pl.DataFrame, row: Row) -> pl.DataFrame:
    """Rows of the same component, family and unit."""
    return frame.filter(
        (pl.col("component_code") == row["component_code"])
        & (pl.col("engine_family") == row["engine_family"])
        & (pl.col("unit") == row["unit"])
    )


def _others(row: Row) -> Others | None:
    """The other families, where they were watched."""
    rate, own = finite(row.get("others_rate")), finite(row["rate_per_100k"])
    if rate is None:
        return None
    times = own / rate if own is not None and rate > 0 else None
    return Others(int(row["others_failures"]), float(row["others_miles"]), rate, times)


def _conditional(frames: ResultFrames, row: Row) -> tuple[Conditional, ...]:
    """Conditional survival of the stratum, by age and distance."""
    rows = _of_stratum(frames.conditional_survival, row).sort("from_miles", "further_miles")
    found = (
        (r["from_miles"], r["further_miles"], limited(r, "survival", "is_extrapolated"))
        for r in rows.iter_rows(named=True)
    )
    return tuple(Conditional(age, further, chance) for age, further, chance in found if chance is not None)


def told_until(points: pl.DataFrame, largest: float | None) -> float | None:
    """The age to which a curve is told: the first failure among too few of many, or the largest age watched."""
    tail = points.filter(pl.col("is_tail"))["age_miles"]
    first: Any = tail.min()
    return largest if first is None else float(first)


def curve_points(points: pl.DataFrame, largest: float | None, start: float = 0.0) -> tuple[CurveRow, ...]:
    """Survival points to draw, from the age the curve speaks from to the largest watched, about MAX_CURVE_POINTS.

    Thinned by taking points evenly; first and last always stay. () where nothing failed.
    """
    if points.is_empty():
        return ()
    last = points.height - 1
    kept = (
        range(points.height)
        if points.height <= MAX_CURVE_POINTS
        else sorted({round(i * last / (MAX_CURVE_POINTS - 1)) for i in range(MAX_CURVE_POINTS)})
    )
    rows = [_curve_row(r) for r in points[list(kept)].iter_rows(named=True)]
    end = rows[-1]
    tail = (
        [CurveRow(largest, None, end.survival, end.lower, end.upper)]
        if largest is not None and largest > end.age_miles
        else []
    )
    return (CurveRow(start, None, 1.0, 1.0, 1.0), *rows, *tail)


def _curve_row(row: Row) -> CurveRow:
    """One survival point."""
    return CurveRow(
        row["age_miles"],
        row["at_risk"],
        row["survival"],
        finite(row["survival_lower"]),
        finite(row["survival_upper"]),
    )


def round_step(span: float, parts: int) -> float:
    """The smallest of 1, 2, 5 times a power of ten that cuts the span into at most so many parts."""
    magnitude: float = 10.0 ** math.floor(math.log10(span / parts))
    steps = [f * magnitude for f in (1, 2, 5, 10)]
    return next(step for step in steps if step * parts >= span * (1 - 1e-9))


def curve_table(points: pl.DataFrame, curve: tuple[CurveRow, ...]) -> tuple[CurveRow, ...]:
    """The curve at round ages; at_risk is that of the first failure at or after it (None beyond the last)."""
    if not curve or curve[-1].age_miles <= 0:
        return ()
    step = round_step(curve[-1].age_miles, N_TICKS)
    ages = pl.DataFrame({"age_miles": [step * i for i in range(int(curve[-1].age_miles / step + 1e-9) + 1)]})
    ages = ages.filter(pl.col("age_miles") >= curve[0].age_miles)
    own = points.select(
        "age_miles", pl.col("at_risk").cast(pl.Int64), "survival", "survival_lower", "survival_upper"
    ).unique("age_miles", keep="last", maintain_order=True)
    drawn = ages.join_asof(own.drop("at_risk"), on="age_miles", strategy="backward")
    ahead = ages.join_asof(own.select("age_miles", "at_risk"), on="age_miles", strategy="forward")
    rows = drawn.with_columns(ahead["at_risk"], *_one_before_the_first_failure())
    return tuple(_curve_row(r) for r in rows.iter_rows(named=True))


def _one_before_the_first_failure() -> list[pl.Expr]:
    """Before anything failed all still run: survival 1 with no limits to speak of."""
    before = pl.col("survival").is_null()
    return [
        pl.when(before).then(1.0).otherwise(pl.col(name)).alias(name)
        for name in ("survival", "survival_lower", "survival_upper")
    ]


def evidence_rows(evidence: pl.DataFrame, row: Row) -> tuple[EvidenceRow, ...]:
    """The newest MAX_EVIDENCE_SHOWN repair orders behind the stratum's failures, one row an order."""
    own = evidence.filter(pl.col("component_code") == row["component_code"])
    if row["engine_family"] != ALL_FAMILIES:
        own = own.filter(pl.col("engine_family") == row["engine_family"])
    newest = (
        own.group_by("repair_order_id", maintain_order=True)
        .agg(
            pl.col("position").drop_nulls().unique(maintain_order=True).str.join(", ").alias("positions"),
            pl.col("opened_on", "location", "vehicle_id", "odometer_miles", "reason").first(),
            pl.col("age_miles").max(),
            pl.col("concern", "cause", "correction").drop_nulls().first(),
            pl.col("part_origin", "supplier").drop_nulls().first(),
        )
        .sort("opened_on", "repair_order_id", descending=[True, False], nulls_last=True)
        .head(MAX_EVIDENCE_SHOWN)
    )
    return tuple(_evidence_row(r) for r in newest.iter_rows(named=True))


def _evidence_row(row: Row) -> EvidenceRow:
    """One order; what is empty stays empty text."""
    return EvidenceRow(
        repair_order_id=row["repair_order_id"] or "",
        opened_on=row["opened_on"],
        location=row["location"] or "",
        vehicle_id=row["vehicle_id"] or "",
        odometer_miles=finite(row["odometer_miles"]),
        age_miles=finite(row["age_miles"]),
        positions=row["positions"] or "",
        reason=(row["reason"] or "unknown").replace("_", " "),
        concern=shortened(row["concern"]),
        cause=shortened(row["cause"]),
        correction=shortened(row["correction"]),
        part=", ".join(part for part in (row["part_origin"], row["supplier"]) if part),
    )


def shortened(text: str | None) -> str:
    """The text up to MAX_TEXT_SHOWN characters, with a mark where it was cut."""
    whole = text or ""
    return whole if len(whole) <= MAX_TEXT_SHOWN else whole[:MAX_TEXT_SHOWN] + " [cut]"
