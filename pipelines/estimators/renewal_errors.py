"""Clustered errors of fits that take the age at first sight for unknown: scores of lives, summed by vehicle."""

from __future__ import annotations

import dataclasses

import numpy as np

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Floats,
    Lives,
    SharedExposure,
    lives,
    lives_at,
    no_shared_exposure,
)
from longmile.pipelines.estimators.renewal_mixture import renewal_likelihood
from longmile.pipelines.estimators.robust import RobustErrors, with_covariance

_FEWEST_CLUSTERS = 2.0  # as for other fits


def renewed_errors(
    fits: Fits, data: Lives, known_age: Flags, shared: SharedExposure | None = None, shared_known: Flags | None = None
) -> RobustErrors:
    """What `robust_errors` is to `fit_weibull`, for `fit_weibull_renewed`: for `clustered_limits` and `dispersion`.

    All but fits as given to `fit_weibull_renewed`. Same formula and sources as `robust_errors`.
    """
    windows_known = np.zeros(0, np.bool_) if shared_known is None else shared_known
    n_clusters = n_clusters_failed(data)
    rows = np.flatnonzero(fits.ok & (n_clusters >= _FEWEST_CLUSTERS))

    def of_windows(stratum: Codes, window: Codes) -> Floats:
        if shared is None:
            return np.zeros((stratum.size, 2))
        alone = lives(shared.entry[window], shared.exit_[window], np.zeros(window.size, np.bool_))
        return _scores(fits, stratum, alone, windows_known[window])

    own = _scores(fits, data.stratum, data, known_age)
    middle = cluster_products(data, shared, own, of_windows, rows)
    a = np.stack([fits.cov_cc, fits.cov_cb, fits.cov_cb, fits.cov_bb], axis=1).reshape(-1, 2, 2)
    covariance = np.full((data.n_strata, 2, 2), np.nan)
    covariance[rows] = a[rows] @ middle[rows] @ a[rows]
    return RobustErrors(with_covariance(fits, covariance), fits, n_clusters)


def _scores(fits: Fits, stratum: Codes, data: Lives, known_age: Flags) -> Floats:
    """Slope of each life's log-likelihood in (c, b), weights counted, shape (lives, 2); 0 without a fit.

    Each life is made a stratum of its own, with the reference and the fit of its real one.
    """
    with_fit = np.flatnonzero(fits.ok[stratum])
    n = with_fit.size
    alone = lives_at(data, with_fit, np.arange(n), n)
    likelihood = renewal_likelihood(alone, known_age[with_fit], no_shared_exposure(n), np.zeros(0, np.bool_))
    real = fits.likelihood.log_ref[stratum[with_fit]]
    known = dataclasses.replace(likelihood.known, log_ref=real)
    placed = dataclasses.replace(likelihood, log_ref=real, known=known)
    at = placed.evaluate(np.arange(n), fits.c[stratum[with_fit]], fits.b[stratum[with_fit]])
    scores = np.zeros((stratum.size, 2))
    scores[with_fit] = np.stack([at.g_c, at.g_b], axis=1)
    return scores
