"""Cumulative incidences read at asked mileages, with errors that allow for vehicles where asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.competing import CumulativeIncidence, incidence_limits
from longmile.pipelines.estimators.incidence_influence import IncidenceSteps, incidence_steps
from longmile.pipelines.estimators.life_codes import causes_of
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, Miles, SharedExposure, lives_at
from longmile.pipelines.estimators.stretch import ragged

_CHUNK = 1 << 18  # (asked point, life) pairs evaluated at once: bounds memory, not results


@dataclass(frozen=True)
class IncidenceAt:
    """Incidences at asked mileages, shape (*asked, n_causes).

    lower, upper: NaN where the incidence is 0 or 1. Below the age from which the curves speak all are NaN.
    """

    incidence: Floats
    se: Floats
    lower: Floats
    upper: Floats


@dataclass(frozen=True)
class ClusteredIncidence:
    """Incidences at asked mileages with errors by cluster, shape (*asked, n_causes).

    se: by cluster, no small-sample factor; NaN where fewer than two clusters were struck by then.   se_independent:
    as if lives were independent.   lower, upper: from the larger of the two.   n_clusters_struck: shape of asked.
    """

    incidence: Floats
    se: Floats
    lower: Floats
    upper: Floats
    se_independent: Floats
    n_clusters_struck: Floats


def incidence_at(made: CumulativeIncidence, stratum: npt.ArrayLike, t: npt.ArrayLike) -> IncidenceAt:
    """Incidence just after each asked mileage; stratum and t are broadcast against each other."""
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    row = _steps(made).last_row(cell, asked)
    below = (asked < made.curves.from_age[cell])[..., None]

    def read(values: Floats, before: float) -> Floats:
        padded = np.concatenate([values, np.full((1, values.shape[1]), before)])
        return np.where(below, np.nan, padded[row])

    return IncidenceAt(
        incidence=read(made.incidence, 0.0),
        se=read(made.se, 0.0),
        lower=read(made.lower, np.nan),
        upper=read(made.upper, np.nan),
    )


def clustered_incidence(
    made: CumulativeIncidence,
    data: Lives,
    cause: npt.ArrayLike,
    shared: SharedExposure | None,
    stratum: npt.ArrayLike,
    t: npt.ArrayLike,
) -> ClusteredIncidence:
    """Incidence at asked mileages with errors and limits by cluster.

    data, cause, shared: what the incidences were made from.   stratum, t: broadcast against each other.
    Contributions of lives (`incidence_influence`) are added within a cluster before they are squared.
    Source: Jaeckel 1972 (infinitesimal jackknife); by cluster Lin & Wei 1989, J. Am. Stat. Assoc. 84:1074-1078.
    """
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    code, _ = causes_of(data, cause, made.n_causes)
    squares, n_struck = _squares(made, (data, code), shared, cell.ravel(), asked.ravel())
    read = incidence_at(made, cell, asked)
    n_struck = n_struck.reshape(cell.shape)
    known = (n_struck >= 2)[..., None] & ~np.isnan(read.incidence)
    se = np.where(known, np.sqrt(squares).reshape(read.incidence.shape), np.nan)
    lower, upper = incidence_limits(read.incidence, np.fmax(se, read.se), made.curves.confidence)
    return ClusteredIncidence(read.incidence, se, lower, upper, read.se, n_struck)


def _steps(made: CumulativeIncidence) -> IncidenceSteps:
    return incidence_steps(made.curves, made.events, made.incidence)


def _squares(
    made: CumulativeIncidence,
    lives_and_causes: tuple[Lives, Codes],
    shared: SharedExposure | None,
    cell: Codes,
    t: Miles,
) -> tuple[Floats, Floats]:
    """Sums over clusters of squared contributions, shape (asked, n_causes), and the clusters struck by t."""
    data, code = lives_and_causes
    steps = _steps(made)
    squares, n_struck = np.zeros((t.size, made.n_causes)), np.zeros(t.size)
    by_stratum = ragged(data.stratum, data.n_strata, np.arange(data.entry.size, dtype=np.float64))
    each = np.arange(made.n_causes)
    for part in by_stratum.chunks(cell, _CHUNK):
        owner, (index,) = by_stratum.take(cell[part])
        row, point, at = index.astype(np.int64), cell[part], t[part]
        asked = _asked_lives(made, data, code, row, owner, point, at)
        u = steps.at(point[owner], asked.entry, asked.exit_, code[row], at[owner])
        held, of_windows = _asked_windows(steps, shared, point, at)
        squares[part] = cluster_products(asked, held, asked.weight[:, None] * u, of_windows)[:, each, each]
        n_struck[part] = n_clusters_failed(asked)
    return squares, n_struck


def _asked_lives(
    made: CumulativeIncidence, data: Lives, code: Codes, row: Codes, owner: Codes, cell: Codes, t: Miles
) -> Lives:
    """The lives of each asked point as a stratum of its own; an event is one that the curves count by then."""
    exit_ = data.exit_[row]
    counted = (code[row] > 0) & (exit_ <= t[owner]) & (exit_ > made.curves.from_age[cell[owner]])
    return lives_at(data, row, owner, cell.size, counted)


def _asked_windows(
    steps: IncidenceSteps, shared: SharedExposure | None, cell: Codes, t: Miles
) -> tuple[SharedExposure | None, Callable[[Codes, Codes], Floats]]:
    """The shared windows held by each asked point, and what one contributes there."""

    def of_windows(point: Codes, window: Codes) -> Floats:
        if shared is None:
            return np.zeros((point.size, steps.incidence.shape[1]))
        sound = np.zeros(point.size, np.int64)
        return steps.at(cell[point], shared.entry[window], shared.exit_[window], sound, t[point])

    if shared is None:
        return None, of_windows
    held = replace(shared, stratum_group=shared.stratum_group[cell], multiplicity=shared.multiplicity[cell])
    return held, of_windows
