"""What stands beside the estimates of a stratum: removals for another reason, and one family against all others.

Strata in, rows of `removal_incidence` and `family_comparison` out.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.estimators.against_whole import against_whole
from longmile.pipelines.estimators.competing import cumulative_incidence
from longmile.pipelines.estimators.incidence_reading import clustered_incidence
from longmile.pipelines.steps.strata import Strata, whole_of
from longmile.schemas.results import ALL_FAMILIES

INCIDENCE_AT = (25_000.0, 50_000.0, 75_000.0, 100_000.0, 150_000.0, 200_000.0)
"""Ages at which the shares failed and removed are given."""


def family_comparison(made: Strata) -> pl.DataFrame:
    """Rows of `family_comparison`: each family against all others at the same age, every first part at its odometer."""
    single = np.flatnonzero((made.table["engine_family"] != ALL_FAMILIES).to_numpy())
    found = against_whole(made.lives, made.shared, single, whole_of(made.table)[single])
    rows = (
        made.table[single]
        .select("component_code", "engine_family")
        .with_columns(
            pl.lit(made.unit).alias("unit"),
            pl.Series("n_failures", np.rint(found.observed).astype(np.int64)),
            pl.Series("expected_failures", found.expected),
            pl.Series("chi_square", found.chi_square),
            pl.Series("p_value", found.p),
            pl.Series("comparison_status", found.status),
        )
    )
    return rows.with_columns(pl.col("chi_square", "p_value").fill_nan(None))


def removal_incidence(made: Strata, confidence: float) -> pl.DataFrame:
    """Rows of `removal_incidence`: strata with a removal, at round ages that were watched."""
    incidence = cumulative_incidence(made.aged, made.aged_cause, 2, made.aged_shared, confidence)
    removed = np.zeros(made.aged.n_strata, np.bool_)
    removed[made.aged.stratum[made.aged_cause == 2]] = True
    cell = np.repeat(np.flatnonzero(removed), len(INCIDENCE_AT))
    age = np.tile(np.array(INCIDENCE_AT), int(removed.sum()))
    watched = age <= incidence.curves.largest[cell]
    cell, age = cell[watched], age[watched]
    read = clustered_incidence(incidence, made.aged, made.aged_cause, made.aged_shared, cell, age)
    columns = {
        f"{name}_share{end}": values[:, k]
        for k, name in enumerate(("failed", "removed"))
        for end, values in (("", read.incidence), ("_lower", read.lower), ("_upper", read.upper))
    }
    names = made.table[cell].select("component_code", "engine_family")
    rows = names.with_columns(
        pl.lit(made.unit).alias("unit"),
        pl.Series("age_miles", age),
        *(pl.Series(name, values) for name, values in columns.items()),
    )
    return rows.with_columns(pl.col(list(columns)).fill_nan(None))
