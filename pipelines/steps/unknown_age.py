"""Values that take the age of a part at first sight for unknown, beside those of parts that are likely the original.

Strata in, rows of `unknown_age_value` out: every component over all families, and the strata whose ages are in doubt.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.estimators.first_parts import FROM_NEW_BELOW
from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Lives,
    SharedExposure,
    lives_at,
    n_failures,
    shared_exposure,
)
from longmile.pipelines.estimators.quantities import life_by, mean_life, survival_to
from longmile.pipelines.estimators.renewal_errors import renewed_errors
from longmile.pipelines.estimators.renewal_mixture import fit_weibull_renewed
from longmile.pipelines.estimators.risk_set import largest_watched, risk_sets
from longmile.pipelines.estimators.robust import clustered_limits
from longmile.pipelines.steps.strata import FEWEST_FAILURES, Strata
from longmile.schemas.results import ALL_FAMILIES

_ROUND_MILES = 100_000.0
_WINDOWS = ("group", "entry", "exit_", "weight", "cluster")


def unknown_age_value(made: Strata, confidence: float) -> pl.DataFrame:
    """Rows of `unknown_age_value`; limits by vehicle, from the curvature of the likelihood."""
    rows = _asked(made)
    data, known, shared = _only(made, rows)
    windows_known = shared.entry < FROM_NEW_BELOW
    fits = fit_weibull_renewed(data, known, shared, windows_known)
    errors = renewed_errors(fits, data, known, shared, windows_known)
    columns = {
        "n_failures": np.rint(n_failures(data)).astype(np.int64),
        "unknown_age_status": np.where(
            (fits.status == "ok") & (n_failures(data) < FEWEST_FAILURES), "thin", fits.status
        ),
        "shape_unknown_age": fits.shape,
    }
    asked = {
        "mean_unknown_age_miles": mean_life(),
        "b10_unknown_age_miles": life_by(0.1),
        "survival_100k_unknown_age": survival_to(_ROUND_MILES),
    }
    for name, quantity in asked.items():
        found = clustered_limits(errors, quantity, confidence, "wald")
        columns |= {name: found.estimate, f"{name}_lower": found.lower, f"{name}_upper": found.upper}
    largest = largest_watched(data, risk_sets(data, shared))
    for name in ("mean_unknown_age", "b10_unknown_age"):
        columns[f"{name}_extrapolated"] = columns[f"{name}_miles"] > largest
    columns["survival_100k_unknown_age_extrapolated"] = ~(largest >= _ROUND_MILES)
    named = made.table[rows].select("component_code", "engine_family").with_columns(pl.lit(made.unit).alias("unit"))
    frame = named.with_columns(pl.Series(name, values) for name, values in columns.items())
    numbers = [name for name, kind in frame.schema.items() if kind == pl.Float64]
    return frame.with_columns(pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)))


def _asked(made: Strata) -> Codes:
    """Strata of all families together, and those for which all first parts had to count."""
    whole = (made.table["engine_family"] == ALL_FAMILIES).to_numpy()
    doubtful = np.isinf(made.original_below) & (n_failures(made.lives) >= FEWEST_FAILURES)
    return np.flatnonzero(whole | doubtful)


def _only(made: Strata, rows: Codes) -> tuple[Lives, Flags, SharedExposure]:
    """Lives, whether their age is known, and windows of the asked strata, coded anew."""
    code = np.full(made.lives.n_strata, -1, np.int64)
    code[rows] = np.arange(rows.size)
    own = np.flatnonzero(code[made.lives.stratum] >= 0)
    data = lives_at(made.lives, own, code[made.lives.stratum[own]], rows.size)
    windows = {name: getattr(made.shared, name) for name in _WINDOWS}
    shared = shared_exposure(
        stratum_group=made.shared.stratum_group[rows], multiplicity=made.shared.multiplicity[rows], **windows
    )
    return data, made.is_known_age[own], shared
