"""Restricted means with errors by cluster: what a life adds to the area under a survival curve, added by vehicle."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.curve_reading import RestrictedMeans, restricted_means, row_finder, step_areas
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, Miles, SharedExposure
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, running


def clustered_restricted_means(
    curves: SurvivalCurves, data: Lives, shared: SharedExposure | None, horizon: npt.ArrayLike
) -> RestrictedMeans:
    """`restricted_means` with errors and limits by cluster, never narrower than for independent lives.

    data, shared: what the curves were made from.   se: the larger of the two errors; the independent one where fewer
    than two clusters failed.

    A life adds minus A / (Y - d) at its own failure, plus the sum of A d / (Y (Y - d)) over the failures it was at risk
    at, A the area from there to the horizon: the derivative of the mean in the weight of the life, so without late
    entry and clusters the error is the usual one. Source: as `clustered_curves`.
    """
    found = restricted_means(curves, horizon)
    influence = _Influence(curves, found.horizon)
    counted = data.event & (data.weight > 0)
    own = data.weight * influence.of(data.stratum, data.entry, data.exit_, counted)

    def of_windows(stratum: Codes, window: Codes) -> Floats:
        if shared is None:
            return np.zeros((stratum.size, 1))
        sound = np.zeros(stratum.size, np.bool_)
        return influence.of(stratum, shared.entry[window], shared.exit_[window], sound)[:, None]

    # A vehicle whose lives and window cancel leaves rounding behind, and that can lie below 0.
    squares = np.maximum(cluster_products(data, shared, own[:, None], of_windows)[:, 0, 0], 0.0)
    enough = n_clusters_failed(data) >= 2
    se = np.where(enough, np.fmax(np.sqrt(squares), found.se), found.se)
    reach = ndtri(0.5 + curves.confidence / 2) * se
    most = found.horizon - curves.from_age
    lower, upper = np.maximum(found.estimate - reach, 0.0), np.minimum(found.estimate + reach, most)
    return replace(found, se=se, lower=lower, upper=upper)


class _Influence:
    """What lives add to the restricted mean of their stratum."""

    def __init__(self, curves: SurvivalCurves, horizon: Miles) -> None:
        self._curves, self._finder = curves, row_finder(curves)
        self._horizon = horizon
        _, right = step_areas(curves, horizon)
        survivors = curves.at_risk - curves.events
        some = (survivors > 0) & (curves.t <= horizon[curves.stratum])
        # Where nobody is left there is no area right of it.
        self._jump = np.where(some, right / np.where(some, survivors, 1.0), 0.0)
        self._total = running(self._jump * curves.events / curves.at_risk, curves.start[curves.stratum], np.add)

    def of(self, stratum: Codes, entry: Miles, exit_: Miles, failed: Flags) -> Floats:
        """Contributions of lives, weight not counted, shape (lives,)."""
        made = self._summed(stratum, exit_) - self._summed(stratum, entry)
        at = np.flatnonzero(failed & (exit_ > self._curves.from_age[stratum]))
        made[at] -= self._jump[self._finder.last(stratum[at], exit_[at])]
        return made

    def _summed(self, stratum: Codes, t: Miles) -> Floats:
        row = self._finder.last(stratum, t)
        none = row < self._curves.start[stratum]
        if not self._total.size:
            return np.zeros(t.size)
        return np.where(none, 0.0, self._total[np.where(none, 0, row)])
