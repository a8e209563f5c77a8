"""Which covariates of a component enter its regression, and at which levels. No statistics but counts.

Every rule here is about how much the failures can bear: a coefficient that rests on a handful of them says nothing.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.steps.covariate_lives import NOT_RECORDED, ORIGINAL
from longmile.schemas.lives import MILES_DECIMALS

FEWEST_OF_LEVEL = 5
"""Levels with fewer failures are pooled (our own choice)."""

FAILURES_PER_COEFFICIENT = 10
"""Fewest failures per coefficient. Source: Peduzzi, Concato, Feinstein & Holford 1995, J. Clin. Epidemiol.
48:1503-1510, a simulation with proportional hazards; a rule of thumb."""

OTHER = "other"
CATEGORICAL = ("engine_family", "part_origin", "supplier", "location")
LINEAR = {"usage_rate": "twice the miles a month", "model_year": "5 model years newer"}
"""Covariates in which log life is taken to be a straight line, and what their coefficient compares."""

COVARIATES = (*CATEGORICAL, *LINEAR)
"""In the order in which they are let in: the control, then what a shop can choose, then what it cannot."""

_OF_REPLACEMENTS = ("part_origin", "supplier", "location")
_WITHIN_ORIGIN = ("supplier", "location")
_COMPONENT, _AT = "component_code", ("component_code", "covariate")


def pooled_levels(rows: pl.DataFrame) -> pl.DataFrame:
    """The level under which each recorded level goes: component_code, covariate, recorded, level.

    rows: as `covariate_lives` gives, with the covariates of `LINEAR` as numbers, null where not known; known or not is
    what counts as recorded of them.
    Levels with too few failures become `other`; where even together they have too few, the next smallest joins them.
    Engine family, a control, gets at most half of the coefficients that the failures allow: the families with the most
    failures stay, the rest become `other`.
    """
    counts = pl.concat([_recorded_counts(rows, name) for name in CATEGORICAL]).sort(
        *_AT, "n_failures", "miles_at_risk", "recorded"
    )
    smaller = pl.col("n_failures").cum_sum().over(_AT) - pl.col("n_failures")
    has_few = pl.col("n_failures").min().over(_AT) < FEWEST_OF_LEVEL
    ranked = counts.with_columns(
        is_pooled=(pl.col("n_failures") < FEWEST_OF_LEVEL) | (has_few & (smaller < FEWEST_OF_LEVEL)),
        from_top=(pl.len() - pl.int_range(pl.len())).over(_AT),
        most=1 + (pl.col("n_failures").sum().over(_AT) // (2 * FAILURES_PER_COEFFICIENT)).clip(1),
    )
    n_levels = ((~pl.col("is_pooled")).sum() + pl.col("is_pooled").any()).over(_AT)
    too_many = (pl.col("covariate") == "engine_family") & (n_levels > pl.col("most"))
    is_other = pl.col("is_pooled") | (too_many & (pl.col("from_top") >= pl.col("most")))
    linear = pl.concat([_recorded_counts(rows, name) for name in LINEAR]).with_columns(level=pl.col("recorded"))
    named = ranked.with_columns(level=pl.when(is_other).then(pl.lit(OTHER)).otherwise(pl.col("recorded")))
    return pl.concat([frame.select(*_AT, "recorded", "level") for frame in (named, linear)])


def recorded(name: str) -> pl.Expr:
    """What a row says of a covariate: its level, or for one of `LINEAR` whether it is known; null: does not apply."""
    if name not in LINEAR:
        return pl.col(name)
    return pl.when(pl.col(name).is_null()).then(pl.lit(NOT_RECORDED)).otherwise(pl.lit(LINEAR[name]))


def level_counts(rows: pl.DataFrame, pooled: pl.DataFrame) -> pl.DataFrame:
    """Counts of each level: component_code, covariate, level, n_failures, n_lives, miles_at_risk, n_vehicles_failed.

    n_vehicles_failed: different vehicles among the failures, which is what limits rest on.
    """
    counts = pl.concat([_recorded_counts(rows, name) for name in COVARIATES])
    summed = (
        counts.join(pooled, on=[*_AT, "recorded"])
        .group_by(*_AT, "level")
        .agg(pl.col("n_failures", "n_lives").sum(), pl.col("miles_at_risk").sum().round(MILES_DECIMALS))
    )
    failed = rows.filter("event")
    vehicles = (
        pl.concat([_recorded(failed, name).select(*_AT, "recorded", "vehicle_id") for name in COVARIATES])
        .join(pooled, on=[*_AT, "recorded"])
        .group_by(*_AT, "level")
        .agg(n_vehicles_failed=pl.col("vehicle_id").n_unique().cast(pl.Int64))
    )
    return summed.join(vehicles, on=[*_AT, "level"], how="left").with_columns(pl.col("n_vehicles_failed").fill_null(0))


def chosen_levels(counts: pl.DataFrame) -> pl.DataFrame:
    """The counts with `reference`, `status` and `slot`, sorted.

    reference: the level that the others are compared with: original parts, else the most watched level with a name.
    status: `too_few_failures`, `one_level`, `no_part_origin` (suppliers and locations are compared among replacement
    parts, so they enter only with the part's origin) where the covariate does not enter; `reference` (also for what is
    not known of a number and taken as its median); else null.
    slot: number of the coefficient within the component from 0; null where there is none.
    """
    is_linear = pl.col("covariate").is_in(list(LINEAR))
    is_unknown = is_linear & (pl.col("level") == NOT_RECORDED)
    preferred = [pl.col("level") == ORIGINAL, ~pl.col("level").is_in([OTHER, NOT_RECORDED]), "miles_at_risk", "level"]
    reference = pl.col("level").sort_by(preferred).last().over(_AT)
    table = counts.with_columns(reference=pl.when(~is_linear).then(reference)).with_columns(
        # What is not known of a linear covariate gets a coefficient where it has failures enough, else the median.
        is_coefficient=pl.when(is_unknown)
        .then((pl.col("n_failures") >= FEWEST_OF_LEVEL) & (pl.len().over(_AT) > 1))
        .otherwise(is_linear | (pl.col("level") != pl.col("reference")))
    )
    order = pl.col("covariate").replace_strict({name: place for place, name in enumerate(COVARIATES)})
    judged = table.join(_let_in(table), on=_AT).with_columns(order=order).sort(_COMPONENT, "order", "level")
    has_slot = pl.col("refused").is_null() & pl.col("is_coefficient")
    is_reference = (pl.col("level") == pl.col("reference")) | (is_unknown & ~pl.col("is_coefficient"))
    return judged.with_columns(
        status=pl.coalesce("refused", pl.when(is_reference).then(pl.lit("reference"))),
        slot=pl.when(has_slot).then(has_slot.cum_sum().over(_COMPONENT).cast(pl.Int64) - 1),
    ).drop("refused", "is_coefficient", "order")


def _recorded(rows: pl.DataFrame, name: str) -> pl.DataFrame:
    """The rows to which a covariate applies, with its name and what they say of it."""
    said = rows.with_columns(covariate=pl.lit(name), recorded=recorded(name))
    return said.filter(pl.col("recorded").is_not_null())


def _recorded_counts(rows: pl.DataFrame, name: str) -> pl.DataFrame:
    return (
        _recorded(rows, name)
        .group_by(*_AT, "recorded")
        .agg(
            n_failures=pl.col("event").sum().cast(pl.Int64),
            n_lives=pl.col("weight").sum().cast(pl.Int64),
            miles_at_risk=(pl.col("weight") * (pl.col("exit_") - pl.col("entry"))).sum().round(MILES_DECIMALS),
        )
    )


def _let_in(table: pl.DataFrame) -> pl.DataFrame:
    """Per component and covariate why it is refused; null where it enters. In the order of `COVARIATES`."""
    of = table.group_by(_AT).agg(
        needs=pl.col("is_coefficient").sum().cast(pl.Int64),
        failures=pl.col("n_failures").sum(),
        known=pl.col("n_failures").filter(pl.col("level") != NOT_RECORDED).sum(),
        of_replacements=pl.col("n_failures").filter(pl.col("level") != ORIGINAL).sum(),
    )
    codes = table[_COMPONENT].unique().sort()
    needs = {name: _of_component(codes, of, name, "needs") for name in COVARIATES}
    left = _of_component(codes, of, "engine_family", "failures") // FAILURES_PER_COEFFICIENT
    left_of_parts = _of_component(codes, of, "part_origin", "of_replacements") // FAILURES_PER_COEFFICIENT
    entered: dict[str, np.ndarray] = {}
    frames = []
    for name in COVARIATES:
        fits = needs[name] <= left
        if name in _OF_REPLACEMENTS:
            fits &= needs[name] <= left_of_parts
        if name in LINEAR:
            fits &= _of_component(codes, of, name, "known") >= FAILURES_PER_COEFFICIENT
        without_origin = ~entered["part_origin"] if name in _WITHIN_ORIGIN else np.zeros(codes.len(), np.bool_)
        entered[name] = fits & (needs[name] > 0) & ~without_origin
        taken = np.where(entered[name], needs[name], 0)
        left = left - taken
        left_of_parts = left_of_parts - (taken if name in _OF_REPLACEMENTS else 0)
        why = np.select(
            [needs[name] == 0, without_origin, ~fits], ["one_level", "no_part_origin", "too_few_failures"], ""
        )
        frames.append(pl.DataFrame({_COMPONENT: codes, "covariate": name, "refused": why}))
    return pl.concat(frames).with_columns(refused=pl.when(pl.col("refused") != "").then(pl.col("refused")))


def _of_component(codes: pl.Series, of: pl.DataFrame, name: str, column: str) -> np.ndarray:
    """A number of one covariate for each component; 0 where the component does not have it."""
    found = of.filter(pl.col("covariate") == name).select(_COMPONENT, column)
    joined = pl.DataFrame({_COMPONENT: codes}).join(found, on=_COMPONENT, how="left", maintain_order="left")
    return joined[column].fill_null(0).to_numpy()
