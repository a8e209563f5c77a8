"""From lives to result tables: frames read from the store, handed to the steps, written back."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.estimate import Estimates, estimates, event_counts
from longmile.pipelines.steps.strata import strata
from longmile.pipelines.store.store import Store
from longmile.schemas.lives import UNITS_OF_LIFE
from longmile.schemas.results import ALL_FAMILIES, CONDITIONAL_SURVIVAL, ESTIMATE, SURVIVAL_POINT

_FITTED_SQL = """
    SELECT DISTINCT k.component_code, k.engine_family, k.n_sockets
    FROM socket k SEMI JOIN (
      SELECT DISTINCT l.component_code FROM current_repair_line l JOIN visit v USING (repair_order_id)) seen
      USING (component_code)
    ANTI JOIN not_fitted n ON n.engine_family = k.engine_family AND n.component_code = k.component_code"""
"""Components of which the shop has ever had a line, on every family they are not said to be missing from."""

_WALK_IN_SQL = {
    "socket": "SELECT component_code, engine_family FROM walk_in",
    "vehicle": "SELECT DISTINCT vehicle_id, component_code, engine_family FROM walk_in",
}


def estimate_all(store: Store, settings: Settings) -> int:
    """Rebuild the result tables from the lives; returns the number of strata estimated.

    Needs the temporary tables of `cut_lives` on the same connection.
    """
    _set_not_fitted(store, settings)
    fitted = store.frame(_FITTED_SQL)
    window = store.frame("SELECT engine_family, first_miles, last_miles FROM vehicle_window ORDER BY ALL")
    made = [_of_unit(store, settings, unit, fitted, window) for unit in UNITS_OF_LIFE]
    n_strata = store.replace(ESTIMATE, pl.concat([m.estimate.select(ESTIMATE.column_names) for m in made]))
    store.replace(SURVIVAL_POINT, pl.concat([m.survival_point for m in made]))
    store.replace(CONDITIONAL_SURVIVAL, pl.concat([m.conditional_survival for m in made]))
    return n_strata


def _of_unit(store: Store, settings: Settings, unit: str, fitted: pl.DataFrame, window: pl.DataFrame) -> Estimates:
    life = store.frame("SELECT * FROM life WHERE unit = ? ORDER BY ALL", (unit,))
    touched = store.frame("SELECT * FROM touched WHERE unit = ? ORDER BY ALL", (unit,))
    made = strata(unit, fitted, window, life, touched)
    looked_at = fitted.select("component_code", "engine_family")
    keys = ["component_code", "engine_family"]
    counts = event_counts(
        life.join(looked_at, on=keys, how="semi"),
        store.frame(_WALK_IN_SQL[unit]).join(looked_at, on=keys, how="semi"),
        ALL_FAMILIES,
    )
    return estimates(made, counts, settings.confidence, settings.horizon_miles, settings.further_miles)


def _set_not_fitted(store: Store, settings: Settings) -> None:
    store.run("CREATE OR REPLACE TEMP TABLE not_fitted (engine_family VARCHAR, component_code VARCHAR)")
    for family, code in settings.not_fitted:
        store.run("INSERT INTO not_fitted VALUES (?, ?)", (family, code))
