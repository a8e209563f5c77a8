"""Result tables: estimates with their limits, survival points, conditional survival."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table
from longmile.schemas.lives import COMPONENT_REQUIRED, UNITS_OF_LIFE

STATUSES: tuple[str, ...] = ("ok", "thin", "no_failures", "too_few_at_risk", "did_not_converge")
ALL_FAMILIES = "all families"
"""Value of engine_family in rows that take every family together."""

FAMILY = Column("engine_family", "text", f"Engine family, or '{ALL_FAMILIES}'.", is_required=True)
UNIT = Column(
    "unit",
    "text",
    "Counted per socket, or per vehicle (first in the set).",
    is_required=True,
    allowed=UNITS_OF_LIFE,
)
_STRATUM = (COMPONENT_REQUIRED, FAMILY, UNIT)


def _limited(name: str, what: str, unit: str) -> tuple[Column, Column, Column]:
    """An estimate and its lower and upper limits, as three columns."""
    return (
        Column(name, "decimal", f"{what}.", unit=unit),
        Column(f"{name}_lower", "decimal", f"{what}: lower limit; empty: no limit could be found.", unit=unit),
        Column(f"{name}_upper", "decimal", f"{what}: upper limit; empty: without bound.", unit=unit),
    )


def _count(name: str, what: str) -> Column:
    return Column(name, "integer", what, is_required=True, minimum=0)


ESTIMATE = Table(
    "estimate",
    "result",
    "How often and at what mileage a component fails on an engine family.",
    (
        *_STRATUM,
        Column("status", "text", "How far the row can be trusted.", is_required=True, allowed=STATUSES),
        Column("confidence", "decimal", "Confidence of all limits.", unit="share", is_required=True),
        _count("n_vehicles", "Vehicles watched for at least one mile."),
        _count("n_sockets", "Sockets watched."),
        _count("n_lives", "Lives watched."),
        _count("n_failures", "Failures."),
        _count("n_removals", "Removals of another kind: a competing end, not a failure."),
        _count("n_walk_ins", "Failures on a first visit; in no rate."),
        _count("n_one_of_set", "Failures whose position is not known: one of the set."),
        _count("n_interval", "Failures found at inspection: known only to lie between two visits."),
        _count("n_unknown_reason", "Failures among them whose line gives no reason."),
        _count("n_orders", "Repair orders behind the failures."),
        Column("miles_at_risk", "decimal", "Miles watched, all sockets together.", unit="miles", is_required=True),
        Column("largest_miles", "decimal", "Greatest age watched.", unit="miles"),
        *_limited("rate_per_100k", "Failures per 100,000 miles, exact Poisson limits", "failures per 100,000 miles"),
        Column(
            "weibull_status",
            "text",
            "Whether the Weibull fit can be used.",
            is_required=True,
            allowed=STATUSES,
        ),
        Column(
            "limits",
            "text",
            "How the limits of the Weibull quantities were found.",
            allowed=("profile", "wald"),
        ),
        *_limited("shape", "Weibull shape: below 1 early failures, about 1 random, above 1 wear-out", ""),
        *_limited("scale_miles", "Weibull scale: age by which 63 in 100 have failed", "miles"),
        *_limited("mean_miles", "Mean miles to failure", "miles"),
        Column("mean_extrapolated", "boolean", "Whether the mean lies beyond the largest age watched."),
        *_limited("median_miles", "Median miles to failure", "miles"),
        Column("median_extrapolated", "boolean", "Whether the median lies beyond the largest age watched."),
        *_limited("b10_miles", "Age by which 1 in 10 has failed", "miles"),
        Column("b10_extrapolated", "boolean", "Whether it lies beyond the largest age watched."),
        *_limited("restricted_mean_miles", "Mean miles run up to the horizon (Kaplan-Meier)", "miles"),
        Column("horizon_miles", "decimal", "Horizon of the restricted mean.", unit="miles"),
        Column(
            "plain_mean_miles",
            "decimal",
            "Plain mean of the ages at failure: NOT a mean life; kept to show how far it is off.",
            unit="miles",
        ),
    ),
    key=("component_code", "engine_family", "unit"),
)

SURVIVAL_POINT = Table(
    "survival_point",
    "result",
    "Kaplan-Meier survival and Nelson-Aalen cumulative hazard at each age at which something failed.",
    (
        *_STRATUM,
        Column("age_miles", "decimal", "Age of the part.", unit="miles", is_required=True),
        _count("at_risk", "Sockets at risk just before."),
        _count("n_events", "Failures at this age."),
        *_limited("survival", "Share still running (Kaplan-Meier, log-log limits)", "share"),
        Column("cumulative_hazard", "decimal", "Cumulative hazard (Nelson-Aalen).", is_required=True),
    ),
)

CONDITIONAL_SURVIVAL = Table(
    "conditional_survival",
    "result",
    "Chance that a part that has run so far runs so much further (Weibull).",
    (
        *_STRATUM,
        Column("from_miles", "decimal", "Age now.", unit="miles", is_required=True),
        Column("further_miles", "decimal", "Miles to go.", unit="miles", is_required=True),
        *_limited("survival", "Chance to run that much further", "share"),
        Column(
            "is_extrapolated",
            "boolean",
            "Whether it reaches beyond the largest age watched.",
            is_required=True,
        ),
    ),
)

RESULT_TABLES: tuple[Table, ...] = (ESTIMATE, SURVIVAL_POINT, CONDITIONAL_SURVIVAL)
