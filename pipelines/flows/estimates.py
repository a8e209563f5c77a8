"""From lives to result tables: frames read from the store, handed to the steps, written back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import polars as pl

from longmile.pipelines.flows.lives import LifeFrames, life_frames
from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.beside import family_comparison, removal_incidence
from longmile.pipelines.steps.covariate_effect import covariate_effect
from longmile.pipelines.steps.covariate_lives import COVARIATE_WINDOW_SQL
from longmile.pipelines.steps.estimate import Estimates, estimates, event_counts
from longmile.pipelines.steps.family_value import family_value
from longmile.pipelines.steps.recurrence import REPAIR_JOB_SQL, recurrence
from longmile.pipelines.steps.sensitivity import from_new, sensitivity
from longmile.pipelines.steps.strata import Strata, strata
from longmile.pipelines.steps.unknown_age import unknown_age_value
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.lives import UNITS_OF_LIFE
from longmile.schemas.results import (
    ALL_FAMILIES,
    CONDITIONAL_SURVIVAL,
    COVARIATE_EFFECT,
    ESTIMATE,
    FAMILY_COMPARISON,
    FAMILY_VALUE,
    MODEL_FIT,
    RECURRENCE,
    REMOVAL_INCIDENCE,
    SENSITIVITY,
    SURVIVAL_POINT,
    UNKNOWN_AGE_VALUE,
)

_FITTED_SQL = """
    SELECT DISTINCT k.component_code, k.engine_family, k.n_sockets
    FROM socket k SEMI JOIN (
      SELECT DISTINCT l.component_code FROM settled_repair_line l JOIN visit v USING (repair_order_id)) seen
      USING (component_code)
    ANTI JOIN not_fitted n ON n.engine_family = k.engine_family AND n.component_code = k.component_code"""
"""Components of which the shop has ever had a line, on every family they are not said to be missing from."""

_WALK_IN_SQL = {
    "socket": "SELECT component_code, engine_family FROM walk_in",
    "vehicle": "SELECT DISTINCT vehicle_id, component_code, engine_family FROM walk_in",
}


def estimate_all(store: Store, settings: Settings, other_ways: Mapping[str, LifeFrames] | None = None) -> int:
    """Rebuild the result tables from the lives; returns the number of strata estimated.

    other_ways: lives by socket cut in other ways, for the table of sensitivity.
    Needs the temporary tables of `cut_lives` on the same connection.
    """
    _set_not_fitted(store, settings)
    fitted = store.frame(_FITTED_SQL)
    cut = {unit: life_frames(store, unit) for unit in UNITS_OF_LIFE}
    made = {unit: _strata(unit, fitted, frames) for unit, frames in cut.items()}
    found = [_of_unit(store, settings, fitted, cut[unit], made[unit]) for unit in UNITS_OF_LIFE]
    n_strata = _replace(store, ESTIMATE, [f.estimate for f in found])
    _replace(store, SURVIVAL_POINT, [f.survival_point for f in found])
    _replace(store, CONDITIONAL_SURVIVAL, [f.conditional_survival for f in found])
    _replace(store, MODEL_FIT, [f.model_fit for f in found])
    _replace(store, FAMILY_VALUE, [family_value(m, settings.confidence) for m in made.values()])
    _replace(store, UNKNOWN_AGE_VALUE, [unknown_age_value(made["socket"], settings.confidence)])
    _replace(store, FAMILY_COMPARISON, [family_comparison(m) for m in made.values()])
    _replace(store, REMOVAL_INCIDENCE, [removal_incidence(m, settings.confidence) for m in made.values()])
    repairs = store.frame(REPAIR_JOB_SQL)
    _replace(store, RECURRENCE, [recurrence(fitted, cut["socket"].window, repairs, confidence=settings.confidence)])
    _replace(store, COVARIATE_EFFECT, [_effects(store, settings, fitted, cut["socket"], made["socket"])])
    ways = _ways(made, fitted, cut["socket"], other_ways or {})
    _replace(store, SENSITIVITY, [sensitivity(ways, settings.confidence)])
    return n_strata


def _replace(store: Store, table: Table, frames: list[pl.DataFrame]) -> int:
    return store.replace(table, pl.concat([frame.select(table.column_names) for frame in frames]))


def _strata(unit: str, fitted: pl.DataFrame, cut: LifeFrames) -> Strata:
    return strata(unit, fitted, cut.window, cut.life, cut.touched)


def _of_unit(store: Store, settings: Settings, fitted: pl.DataFrame, cut: LifeFrames, made: Strata) -> Estimates:
    looked_at = fitted.select("component_code", "engine_family")
    keys = ["component_code", "engine_family"]
    counts = event_counts(
        cut.life.join(looked_at, on=keys, how="semi"),
        store.frame(_WALK_IN_SQL[made.unit]).join(looked_at, on=keys, how="semi"),
        ALL_FAMILIES,
    )
    return estimates(made, counts, settings.confidence, settings.horizon_miles, settings.further_miles)


def _effects(store: Store, settings: Settings, fitted: pl.DataFrame, cut: LifeFrames, made: Strata) -> pl.DataFrame:
    limit = made.table.select("component_code", "engine_family").with_columns(
        original_below=pl.Series(made.original_below)
    )
    window = store.frame(COVARIATE_WINDOW_SQL)
    return covariate_effect(cut.life, window, cut.touched, fitted, settings.confidence, limit)


def _ways(
    made: Mapping[str, Strata], fitted: pl.DataFrame, cut: LifeFrames, other_ways: Mapping[str, LifeFrames]
) -> dict[str, Strata]:
    """Strata by name of the way of counting."""
    as_set = made["socket"]
    new = LifeFrames(*from_new(cut.window, cut.life, cut.touched))
    return {
        "as_set": as_set,
        "per_vehicle": made["vehicle"],
        "from_new": _strata("socket", fitted, new),
        "every_first_part": replace(as_set, aged=as_set.lives, aged_shared=as_set.shared),
        **{name: _strata("socket", fitted, frames) for name, frames in other_ways.items()},
    }


def _set_not_fitted(store: Store, settings: Settings) -> None:
    store.run("CREATE OR REPLACE TEMP TABLE not_fitted (engine_family VARCHAR, component_code VARCHAR)")
    for family, code in settings.not_fitted:
        store.run("INSERT INTO not_fitted VALUES (?, ?)", (family, code))
