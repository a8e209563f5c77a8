"""Result tables: estimates with their limits, survival points, and what stands beside them."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table
from longmile.schemas.lives import COMPONENT_REQUIRED, UNITS_OF_LIFE

STATUSES: tuple[str, ...] = ("ok", "thin", "no_failures", "too_few_at_risk", "did_not_converge")
ALL_FAMILIES = "all families"
"""Value of engine_family in rows that take every family together."""

MODELS: tuple[str, ...] = ("weibull", "lognormal", "loglogistic", "exponential")
"""Distributions fitted, the habitual one first."""

LIMIT_METHODS: tuple[str, ...] = ("profile", "wald", "clustered profile", "clustered wald")
VARIANTS: tuple[str, ...] = (
    "as_set",
    "per_vehicle",
    "from_new",
    "every_first_part",
    "unknown_as_removal",
    "unknown_as_failure",
    "follow_up_to_date",
    "follow_up_last_reading",
)
"""Ways of counting that the table of sensitivity compares; `as_set` is what all other tables hold."""

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
        _count("n_aged_failures", "Failures among the lives that the age-dependent numbers rest on."),
        Column(
            "original_below_miles",
            "decimal",
            "A first part is among these lives only where the vehicle was first seen below this odometer and so likely "
            "carried the original; empty: all are, because too few failures would be left.",
            unit="miles",
        ),
        Column("largest_miles", "decimal", "Greatest age watched among them.", unit="miles"),
        _count("n_vehicles_failed", "Vehicles with a failure: what errors by vehicle rest on."),
        *_limited("rate_per_100k", "Failures per 100,000 miles", "failures per 100,000 miles"),
        Column(
            "rate_dispersion",
            "decimal",
            "Variance of the rate by vehicle over that of independent failures: above 1 its limits are wider than the "
            "exact Poisson ones by about its root; below 1 narrower, where many vehicles leave no doubt of it.",
        ),
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
            "How the limits of the fitted quantities were found.",
            allowed=LIMIT_METHODS,
        ),
        Column(
            "model",
            "text",
            "Distribution from which mean, median, 1 in 10 and the chances to survive are read; empty: none fits.",
            allowed=MODELS,
        ),
        Column("runner_up", "text", "The distribution that comes next.", allowed=MODELS),
        Column("aic_ahead", "decimal", "AIC of the next less that of the one used; below 0: the next is closer."),
        Column(
            "plot_correlation",
            "decimal",
            "Correlation of the points of the probability plot with the line of the one used; 1 is a straight line.",
        ),
        Column(
            "share_outside_limits",
            "decimal",
            "Share of the failures at which the fitted curve lies outside the limits of the Kaplan-Meier curve.",
            unit="share",
        ),
        *_limited("shape", "Weibull shape: below 1 early failures, about 1 random, above 1 wear-out", ""),
        *_limited("scale_miles", "Weibull scale: age by which 63 in 100 have failed", "miles"),
        *_limited("mean_miles", "Mean miles to failure", "miles"),
        Column("mean_extrapolated", "boolean", "Whether the mean lies beyond the largest age watched."),
        *_limited("median_miles", "Median miles to failure", "miles"),
        Column("median_extrapolated", "boolean", "Whether the median lies beyond the largest age watched."),
        *_limited("b10_miles", "Age by which 1 in 10 has failed", "miles"),
        Column("b10_extrapolated", "boolean", "Whether it lies beyond the largest age watched."),
        *_limited("survival_100k", "Share of new parts that reach 100,000 miles, by the fitted curve", "share"),
        Column("survival_100k_extrapolated", "boolean", "Whether that lies beyond the largest age watched."),
        Column(
            "curve_from_miles",
            "decimal",
            "Age from which the Kaplan-Meier curve speaks, of parts that reach it; 0: from new.",
            unit="miles",
            is_required=True,
        ),
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
        *_limited("survival", "Share still running (Kaplan-Meier, log-log limits by vehicle)", "share"),
        Column("cumulative_hazard", "decimal", "Cumulative hazard (Nelson-Aalen).", is_required=True),
        Column(
            "is_tail",
            "boolean",
            "Whether fewer than 20 are at risk, and fewer than a tenth of the most ever: limits there are too narrow.",
            is_required=True,
        ),
    ),
)

CONDITIONAL_SURVIVAL = Table(
    "conditional_survival",
    "result",
    "Chance that a part that has run so far runs so much further, by the fitted curve.",
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

MODEL_FIT = Table(
    "model_fit",
    "result",
    "Every distribution fitted to every stratum: log T = mu + sigma Z, scale = exp(mu), shape = 1 / sigma.",
    (
        *_STRATUM,
        Column("model", "text", "Distribution.", is_required=True, allowed=MODELS),
        Column("model_status", "text", "Whether the fit can be used.", is_required=True, allowed=STATUSES),
        Column("reason", "text", "Why not."),
        Column("model_shape", "decimal", "Shape; 1 by definition for the exponential."),
        Column(
            "model_scale_miles",
            "decimal",
            "Scale: of Weibull and exponential the age by which 63 in 100 have failed, else the median.",
            unit="miles",
        ),
        Column("log_likelihood", "decimal", "Log-likelihood, given survival to entry."),
        Column("aic", "decimal", "Akaike's criterion; the lower, the closer."),
        Column("plot_correlation", "decimal", "Correlation of the points of the probability plot with its line."),
        Column(
            "share_outside_limits",
            "decimal",
            "Share of the failures at which the fitted curve lies outside the limits of the Kaplan-Meier curve.",
            unit="share",
        ),
        Column("is_used", "boolean", "Whether mean, median and 1 in 10 are read from it.", is_required=True),
        Column("is_closest", "boolean", "Whether it has the lowest AIC.", is_required=True),
    ),
    key=("component_code", "engine_family", "unit", "model"),
)

FAMILY_VALUE = Table(
    "family_value",
    "result",
    "One family's own value beside values that lean on the component's fleet of all families.",
    (
        *_STRATUM,
        _count("n_failures", "Failures."),
        _count("n_aged_failures", "Failures among the lives that these values rest on."),
        Column("shape_held", "decimal", "Shape taken over from the fleet."),
        Column(
            "shape_from",
            "text",
            "fleet: the fleet's fitted shape; constant_rate: the fleet has none, so 1 is taken.",
            allowed=("fleet", "constant_rate"),
        ),
        *_limited("mean_held_miles", "Mean miles to failure at the held shape, widest over its limits", "miles"),
        *_limited("b10_held_miles", "Age by which 1 in 10 has failed, likewise", "miles"),
        *_limited("relative_hazard", "Hazard relative to the fleet, the family's own failures alone", ""),
        *_limited("shrunk_hazard", "The same, drawn towards the fleet (empirical Bayes)", ""),
        *_limited("mean_shrunk_miles", "Mean miles to failure at the shrunk hazard", "miles"),
        *_limited("b10_shrunk_miles", "Age by which 1 in 10 has failed at the shrunk hazard", "miles"),
        *(
            Column(
                f"{name}_extrapolated",
                "boolean",
                "Whether the value lies beyond the greatest age watched in the family.",
            )
            for name in ("mean_held", "b10_held", "mean_shrunk", "b10_shrunk")
        ),
        Column("shrinkage_status", "text", "Whether families differ enough for a value of their own."),
    ),
    key=("component_code", "engine_family", "unit"),
)

UNKNOWN_AGE_VALUE = Table(
    "unknown_age_value",
    "result",
    "Values that take the age of a part at first sight for unknown: replaced at every failure before, by its like.",
    (
        *_STRATUM,
        _count("n_failures", "Failures, of every life."),
        Column("unknown_age_status", "text", "How far the row can be trusted.", is_required=True, allowed=STATUSES),
        Column("shape_unknown_age", "decimal", "Weibull shape."),
        *_limited("mean_unknown_age_miles", "Mean miles to failure", "miles"),
        *_limited("b10_unknown_age_miles", "Age by which 1 in 10 has failed", "miles"),
        *_limited("survival_100k_unknown_age", "Share of new parts that reach 100,000 miles", "share"),
        *(
            Column(f"{name}_extrapolated", "boolean", "Whether it lies beyond the greatest odometer or age watched.")
            for name in ("mean_unknown_age", "b10_unknown_age", "survival_100k_unknown_age")
        ),
    ),
    key=("component_code", "engine_family", "unit"),
)

FAMILY_COMPARISON = Table(
    "family_comparison",
    "result",
    "One family against all others, age by age (log-rank with late entry).",
    (
        *_STRATUM,
        _count("n_failures", "Failures."),
        Column("expected_failures", "decimal", "Failures had the family the others' hazard at each age.", unit=""),
        Column("chi_square", "decimal", "Log-rank statistic, one degree of freedom."),
        Column("p_value", "decimal", "Chance of a statistic as large where families do not differ.", unit="share"),
        Column("comparison_status", "text", "ok, or why there is no test.", is_required=True),
    ),
    key=("component_code", "engine_family", "unit"),
)

REMOVAL_INCIDENCE = Table(
    "removal_incidence",
    "result",
    "Share of parts that have failed, and that were removed for another reason, by age (Aalen-Johansen).",
    (
        *_STRATUM,
        Column("age_miles", "decimal", "Age of the part.", unit="miles", is_required=True),
        *_limited("failed_share", "Share that has failed while the other removals were at work too", "share"),
        *_limited("removed_share", "Share removed for another reason before it failed", "share"),
    ),
)

RECURRENCE = Table(
    "recurrence",
    "result",
    "Repairs and their cost per vehicle by odometer (mean cumulative function, limits by vehicle).",
    (
        COMPONENT_REQUIRED,
        FAMILY,
        Column("at_miles", "decimal", "Odometer.", unit="miles", is_required=True),
        Column("status", "text", "How far the row can be trusted.", is_required=True, allowed=STATUSES),
        Column("confidence", "decimal", "Confidence of all limits.", unit="share", is_required=True),
        _count("n_vehicles", "Vehicles watched for at least one mile."),
        _count("n_repairs", "Repairs up to there, while watched: jobs that at least one failure called for."),
        _count("n_without_price", "Repairs among them of which a line has no price."),
        Column("at_risk", "integer", "Vehicles watched at that mileage.", is_required=True, minimum=0),
        *_limited("repairs_per_vehicle", "Repairs per vehicle from new", ""),
        *_limited("cost_per_vehicle", "What was charged for them, in the shop's currency", ""),
        Column("is_extrapolated", "boolean", "Whether no vehicle was watched so far.", is_required=True),
        Column(
            "unwatched_miles",
            "decimal",
            "Miles from new on over which no vehicle was watched, so that no repair of them is counted.",
            unit="miles",
            is_required=True,
        ),
    ),
    key=("component_code", "engine_family", "at_miles"),
)

COVARIATE_EFFECT = Table(
    "covariate_effect",
    "result",
    "What goes with a longer or shorter life of a component (proportional hazards, errors by vehicle).",
    (
        COMPONENT_REQUIRED,
        Column("covariate", "text", "What is compared.", is_required=True),
        Column("level", "text", "Its value.", is_required=True),
        Column("reference", "text", "The value it is compared with.", is_required=True),
        _count("n_failures", "Failures."),
        _count("n_lives", "Lives watched."),
        Column("miles_at_risk", "decimal", "Miles watched, all sockets together.", unit="miles", is_required=True),
        Column("n_vehicles_failed", "integer", "Vehicles with a failure: what errors by vehicle rest on.", minimum=0),
        *_limited("life_ratio", "How many times as long parts last as those of the reference, all else equal", ""),
        *_limited("hazard_ratio", "How many times as often they fail at the same age", ""),
        Column(
            "weibull_life_ratio", "decimal", "The life ratio of a Weibull regression, which bends with early failures."
        ),
        Column("p_value", "decimal", "Chance of a ratio as far from 1 where there is no difference.", unit="share"),
        Column("covariate_status", "text", "ok, or why there is no ratio.", is_required=True),
        Column("confidence", "decimal", "Confidence of all limits.", unit="share", is_required=True),
    ),
    key=("component_code", "covariate", "level"),
)

SENSITIVITY = Table(
    "sensitivity",
    "result",
    "How far the headline numbers of a component move when lives are counted in another way.",
    (
        COMPONENT_REQUIRED,
        Column("variant", "text", "Way of counting.", is_required=True, allowed=VARIANTS),
        _count("n_failures", "Failures."),
        Column("miles_at_risk", "decimal", "Miles watched, all sockets together.", unit="miles", is_required=True),
        *_limited("rate_per_100k", "Failures per 100,000 miles", "failures per 100,000 miles"),
        *_limited("mean_miles", "Mean miles to failure", "miles"),
        *_limited("b10_miles", "Age by which 1 in 10 has failed", "miles"),
        Column("rate_ratio", "decimal", "Rate over that of `as_set`."),
        Column("mean_ratio", "decimal", "Mean over that of `as_set`."),
        Column("b10_ratio", "decimal", "1 in 10 over that of `as_set`."),
    ),
    key=("component_code", "variant"),
)

RESULT_TABLES: tuple[Table, ...] = (
    ESTIMATE,
    SURVIVAL_POINT,
    CONDITIONAL_SURVIVAL,
    MODEL_FIT,
    FAMILY_VALUE,
    UNKNOWN_AGE_VALUE,
    FAMILY_COMPARISON,
    REMOVAL_INCIDENCE,
    RECURRENCE,
    COVARIATE_EFFECT,
    SENSITIVITY,
)
