"""Limits by resampling whole vehicles, for what has no formula of its own. Seeded: the same call, the same numbers."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure

Statistic: TypeAlias = Callable[[Lives, SharedExposure | None], Floats]
"""Lives and windows -> one number per stratum, NaN where there is none."""

_MOST_UNDEFINED = 0.1  # share of the samples without a number from which no limits are given


@dataclass(frozen=True)
class BootstrapLimits:
    """A statistic per stratum with percentile limits over samples of whole clusters.

    se: standard deviation over the samples.   n_defined: samples in which the stratum had a number; where more than
    a tenth had none, lower, upper and se are NaN.
    """

    estimate: Floats
    se: Floats
    lower: Floats
    upper: Floats
    n_defined: Codes
    n_samples: int
    seed: int
    confidence: float


def cluster_bootstrap(
    data: Lives,
    shared: SharedExposure | None,
    statistic: Statistic,
    n_samples: int = 500,
    seed: int = 1,
    confidence: float = 0.95,
) -> BootstrapLimits:
    """The statistic of the data, and its limits from n_samples samples.

    A sample draws as many clusters as there are, with replacement; a cluster drawn twice weighs twice, its lives and
    its windows alike, so that what belongs together stays together. Clusters are drawn over all strata at once.
    Raises LivesError on fewer than 20 samples or a confidence outside (0, 1).
    Source: Efron 1979, Ann. Stat. 7:1-26; of clusters Davison & Hinkley 1997, Bootstrap Methods, section 3.8.
    """
    if n_samples < 20 or not 0 < confidence < 1:
        raise LivesError(
            f"bootstrap: {n_samples} samples, confidence {confidence}. Expected at least 20, and a share from 0 to 1."
        )
    of_life, of_window, n_clusters = _codes(data, shared)
    draw = np.random.default_rng(seed)
    samples = np.full((n_samples, data.n_strata), np.nan)
    for row in samples:
        times = np.bincount(draw.integers(0, n_clusters, n_clusters), minlength=n_clusters).astype(np.float64)
        lives = dataclasses.replace(data, weight=data.weight * times[of_life])
        windows = None if shared is None else dataclasses.replace(shared, weight=shared.weight * times[of_window])
        row[:] = statistic(lives, windows)
    return _summed(statistic(data, shared), samples, seed, confidence)


def _codes(data: Lives, shared: SharedExposure | None) -> tuple[Codes, Codes, int]:
    """Cluster of each life and each window, coded 0..n-1; a window without one is a cluster of its own."""
    windows = np.zeros(0, np.int64) if shared is None else shared.cluster.copy()
    alone = np.flatnonzero(windows < 0)
    first = max(int(data.cluster.max(initial=-1)), int(windows.max(initial=-1))) + 1
    windows[alone] = first + np.arange(alone.size)
    known, codes = np.unique(np.concatenate([data.cluster, windows]), return_inverse=True)
    return codes[: data.cluster.size], codes[data.cluster.size :], known.size


def _summed(estimate: Floats, samples: Floats, seed: int, confidence: float) -> BootstrapLimits:
    found = np.isfinite(samples)
    n_defined = found.sum(axis=0)
    enough = n_defined >= (1 - _MOST_UNDEFINED) * samples.shape[0]
    # Strata without enough are summed over zeros, and their numbers left out.
    kept = np.where(enough, np.where(found, samples, np.nan), 0.0)
    tail = (1 - confidence) / 2
    lower, upper = np.nanquantile(kept, [tail, 1 - tail], axis=0)
    numbers = (np.nanstd(kept, axis=0, ddof=1), lower, upper)
    se, low, high = (np.where(enough, values, np.nan) for values in numbers)
    return BootstrapLimits(estimate, se, low, high, n_defined, samples.shape[0], seed, confidence)
