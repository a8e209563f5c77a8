"""Each family's own value beside those that lean on its component's fleet: bounds at the fleet's shape, and shrinkage.

Strata in, rows of `family_value` out.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.lives import (
    Flags,
    Floats,
    Lives,
    SharedExposure,
    lives_at,
    n_failures,
    shared_exposure,
)
from longmile.pipelines.estimators.quantities import life_by, mean_life
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.risk_set import largest_watched, risk_sets
from longmile.pipelines.estimators.shrinkage import shrink_to_fleet
from longmile.pipelines.estimators.shrunk_levels import Shrunk, ShrunkLevels
from longmile.pipelines.estimators.thin import ThinLimits, fleet_shapes, thin_bounds
from longmile.pipelines.estimators.weibull import fit_weibull
from longmile.pipelines.steps.strata import Strata, whole_of
from longmile.schemas.results import ALL_FAMILIES

_P10 = 0.1


def family_value(made: Strata, confidence: float) -> pl.DataFrame:
    """Rows of `family_value`: one per component and single family."""
    is_family = (made.table["engine_family"] != ALL_FAMILIES).to_numpy()
    fleet = fit_weibull(made.aged, made.aged_shared)
    data, shared = _families(made, is_family)
    fleet_of = whole_of(made.table)[is_family]
    shapes = fleet_shapes(fleet, fleet_of, confidence)
    asked = {"mean": mean_life(), "b10": life_by(_P10)}
    bounds = thin_bounds(data, shapes, shared, asked, confidence, bound="two_sided")
    spread = np.fmax(clustered_rates(made.aged, made.aged_shared, confidence).dispersion, 1.0)[fleet_of]
    drawn = shrink_to_fleet(data, fleet, fleet_of, shapes, shared, confidence, dispersion=spread)
    columns = {
        "n_failures": np.rint(n_failures(made.lives)[is_family]).astype(np.int64),
        "n_aged_failures": np.rint(n_failures(data)).astype(np.int64),
        "shape_held": shapes.shape,
        "shape_from": shapes.shape_from,
        **_held("mean_held_miles", bounds.limits["mean"]),
        **_held("b10_held_miles", bounds.limits["b10"]),
        **_raw(drawn, confidence),
        **_shrunk("shrunk_hazard", drawn.theta()),
        **_shrunk("mean_shrunk_miles", drawn.mean()),
        **_shrunk("b10_shrunk_miles", drawn.life_by(_P10)),
        "shrinkage_status": np.where(drawn.status == "ok", drawn.priors.status[fleet_of], drawn.status),
    }
    largest = largest_watched(data, risk_sets(data, shared))
    for name in ("mean_held", "b10_held", "mean_shrunk", "b10_shrunk"):
        columns[f"{name}_extrapolated"] = columns[f"{name}_miles"] > largest
    keys = made.table.filter(pl.Series(is_family)).select("component_code", "engine_family")
    rows = keys.with_columns(
        pl.lit(made.unit).alias("unit"), *(pl.Series(name, values) for name, values in columns.items())
    )
    numbers = [name for name, kind in rows.schema.items() if kind == pl.Float64]
    return rows.with_columns(pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)))


def _families(made: Strata, is_family: Flags) -> tuple[Lives, SharedExposure]:
    """The aged lives of single families alone; their codes stay, as families come first in the table."""
    n = int(is_family.sum())
    own = np.flatnonzero(is_family[made.aged.stratum])
    data = lives_at(made.aged, own, made.aged.stratum[own], n)
    windows = {name: getattr(made.aged_shared, name) for name in ("group", "entry", "exit_", "weight", "cluster")}
    return data, shared_exposure(
        stratum_group=made.aged_shared.stratum_group[:n], multiplicity=made.aged_shared.multiplicity[:n], **windows
    )


def _held(name: str, found: ThinLimits) -> dict[str, Floats]:
    return {name: found.estimate, f"{name}_lower": found.widest_lower, f"{name}_upper": found.widest_upper}


def _raw(drawn: ShrunkLevels, confidence: float) -> dict[str, Floats]:
    """The family's own hazard relative to the fleet, exact Poisson limits."""
    own = poisson_rates(drawn.failures, np.nan_to_num(drawn.expected), confidence)
    return {"relative_hazard": own.rate, "relative_hazard_lower": own.lower, "relative_hazard_upper": own.upper}


def _shrunk(name: str, found: Shrunk) -> dict[str, Floats]:
    return {name: found.estimate, f"{name}_lower": found.lower, f"{name}_upper": found.upper}
