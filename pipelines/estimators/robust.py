"""Sandwich errors of parametric fits by cluster, and limits that allow for them.

Sockets and repairs of one vehicle share its driver, load and climate; taking them for independent makes limits
too narrow. The estimates stay; their errors come from how the scores of whole clusters vary.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri, stdtrit

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.distributions import Distribution
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.general_likelihood import hazard_over, log_or_never
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, Miles, SharedExposure
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import Limits, Quantity, wald_limits, working_se

_FEWEST_CLUSTERS = 2.0  # one cluster with failures says nothing about how clusters differ


@dataclass(frozen=True)
class RobustErrors:
    """Clustered covariance of a fit per stratum, NaN where there is no fit.

    fits: the fits with cov_* and se_* clustered; c, b and the rest unchanged.   naive: the fits as given.
    n_clusters: clusters with a failure; below 2 the clustered errors are NaN.
    """

    fits: Fits
    naive: Fits
    n_clusters: Floats


def robust_errors(fits: Fits, data: Lives, shared: SharedExposure | None = None) -> RobustErrors:
    """Errors from the scores of clusters: A^-1 B A^-1, A the observed information, B the sum of squared scores.

    No small-sample factor. Source: Huber 1967; White 1982, Econometrica 50:1-25; by cluster Lin & Wei 1989, J. Am.
    Stat. Assoc. 84:1074-1078.
    """
    n_clusters = n_clusters_failed(data)
    rows = np.flatnonzero(fits.ok & (n_clusters >= _FEWEST_CLUSTERS))
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        own = _life_scores(fits, data)

        def of_windows(stratum: Codes, window: Codes) -> Floats:
            if shared is None:
                return np.zeros((stratum.size, 2))
            over = _hazard(fits, stratum, shared.entry[window], shared.exit_[window])
            return -np.stack(over[1:3], axis=1)

        middle = cluster_products(data, shared, own, of_windows, rows)
    a = np.stack([fits.cov_cc, fits.cov_cb, fits.cov_cb, fits.cov_bb], axis=1).reshape(-1, 2, 2)
    covariance = np.full((data.n_strata, 2, 2), np.nan)
    covariance[rows] = a[rows] @ middle[rows] @ a[rows]
    return RobustErrors(with_covariance(fits, covariance), fits, n_clusters)


def dispersion(errors: RobustErrors, quantity: Quantity) -> Floats:
    """Clustered over naive variance of the quantity's working value, per stratum; NaN without a fit."""
    return (working_se(errors.fits, quantity)[0] / working_se(errors.naive, quantity)[0]) ** 2


def clustered_limits(
    errors: RobustErrors, quantity: Quantity, confidence: float = 0.95, method: str = "profile"
) -> Limits:
    """Limits that allow for clusters, never narrower than those that take lives for independent.

    The dispersion of few clusters is underrated, so where it is above 1 it is multiplied by (t / z)^2 G / (G - 1), t
    the quantile of Student's distribution with one degree of freedom less than the G clusters that failed; below 1 it
    counts as 1.
    profile: likelihood-ratio limits with the drop in likelihood multiplied by the dispersion of the quantity,
    so that it has its chi-square again (Rotnitzky & Jewell 1990, Biometrika 77:485-497); wald: from the
    clustered error. Where fewer than two clusters failed the limits are the naive ones.
    """
    z = float(ndtri(0.5 + confidence / 2))
    few = _for_few_clusters(errors.n_clusters, confidence, z)
    found_spread = np.nan_to_num(dispersion(errors, quantity), nan=1.0)
    # Where clusters seem more alike than chance, few of them are no reason for doubt.
    spread = np.where(found_spread > 1, found_spread * few, 1.0)
    make = profile_limits if method == "profile" else wald_limits
    found = make(errors.naive, quantity, confidence, z * np.sqrt(spread))
    return dataclasses.replace(found, se=found.se * np.sqrt(spread), method=f"clustered {method}")


def _for_few_clusters(n_clusters: Floats, confidence: float, z: float) -> Floats:
    """Factor of the dispersion; 1 for many clusters, and where there are too few to tell."""
    enough = n_clusters >= _FEWEST_CLUSTERS
    g = np.where(enough, n_clusters, _FEWEST_CLUSTERS)
    return np.where(enough, (stdtrit(g - 1, 0.5 + confidence / 2) / z) ** 2 * g / (g - 1), 1.0)


def _life_scores(fits: Fits, data: Lives) -> Floats:
    """Slope of each life's log-likelihood in (c, b), weights counted, shape (lives, 2); 0 without a fit."""
    s = data.stratum
    failed = data.event & (data.weight > 0)
    within = failed & ~np.isnan(data.left)
    sound_to = np.where(within, data.left, data.exit_)
    over = _hazard(fits, s, data.entry, np.maximum(sound_to, data.entry))
    c, b = -over[1], -over[2]
    k = np.exp(fits.b[s])
    kx = k * (np.log(data.exit_) - fits.likelihood.log_ref[s])
    rate = fits.distribution.log_rate(kx + fits.c[s]).slope
    exact = failed & ~within
    c += np.where(exact, rate, 0.0)
    b += np.where(exact, 1 + rate * kx, 0.0)
    between = _hazard(fits, s, np.where(within, data.left, 0.0), data.exit_)
    odds = np.where(within, 1 / np.expm1(np.where(within, between[0], 1.0)), 0.0)
    c += odds * between[1]
    b += odds * between[2]
    # A life after its last sound look weighs as often as it counts; a stratum without a fit counts for nothing.
    scores = data.weight[:, None] * np.stack([c, b], axis=1)
    return np.where(fits.ok[s][:, None], scores, 0.0)


def _hazard(fits: Fits, stratum: Codes, near: Miles, far: Miles) -> tuple[Floats, ...]:
    """Hazard over (near, far] with its slopes; 0 where the two are one."""
    k, c = np.exp(fits.b[stratum]), fits.c[stratum]
    distribution: Distribution = fits.distribution
    x_far, x_near = (log_or_never(end) - fits.likelihood.log_ref[stratum] for end in (far, near))
    over = hazard_over(distribution, c, k * x_far, k * x_near, near > 0)
    some = far > near
    return tuple(np.where(some, part, 0.0) for part in over)


def with_covariance(fits: Fits, covariance: Floats) -> Fits:
    """The fits with another covariance of (c, b), and the errors that follow from it."""
    cc, cb, bb = covariance[:, 0, 0], covariance[:, 0, 1], covariance[:, 1, 1]
    k = np.exp(fits.b)
    return dataclasses.replace(
        fits,
        cov_cc=cc,
        cov_cb=cb,
        cov_bb=bb,
        se_log_shape=np.sqrt(bb),
        se_log_scale=np.sqrt(cc - 2 * fits.c * cb + fits.c**2 * bb) / k,
        cov_log=(fits.c * bb - cb) / k,
    )
