"""Failures per mile with limits that allow for vehicles: parts of one vehicle may fail together.

The rate stays as it is. What changes is how sure it is: failures and miles are added within a cluster before they are
squared, so a vehicle that eats injectors counts as one vehicle and not as eight parts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.special import chdtri, gammainccinv, gammaincinv, ndtri, stdtrit

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.lives import (
    Codes,
    Floats,
    Lives,
    Miles,
    SharedExposure,
    miles_at_risk,
    n_failures,
)
from longmile.pipelines.estimators.rates import Rates, poisson_rates

FEWEST_CLUSTERS = 5.0
"""Below so many equal clusters, how clusters differ is anybody's guess: `thin` (our own choice)."""


FEWEST_TO_NARROW = 30.0
"""Clusters that must have failed before limits may be narrower than Poisson ones (our own choice)."""
_LEAST_LOT = 0.1  # evener than this no shop's failures come; keeps the limits apart from rounding


@dataclass(frozen=True)
class ClusteredRates:
    """Failures per mile with limits that allow for clusters, one per stratum.

    rates: as `poisson_rates` gives them but for the limits; status is `thin` too, below `FEWEST_CLUSTERS`.
    dispersion: variance between clusters over that of Poisson counts, 1 where clusters differ by chance alone; NaN
    without a failure or with one cluster.   se_log: sandwich error of the log rate, no small-sample factor; NaN without
    a failure.   n_clusters: how many clusters of equal miles those watched are worth.   n_clusters_failed: those
    with a failure.
    """

    rates: Rates
    dispersion: Floats
    se_log: Floats
    n_clusters: Floats
    n_clusters_failed: Floats


def clustered_rates(data: Lives, shared: SharedExposure | None = None, confidence: float = 0.95) -> ClusteredRates:
    """Failures per mile with gamma limits from the variance between clusters.

    The limits are Garwood's for failures / k failures over miles / k miles: those of Fay & Feuer 1997, Stat. Med.
    16:791-801, for a rate whose failures come in lots that weigh k. k is the dispersion. Few clusters underrate it, so
    above 1 it is multiplied by (t / z)^2, t the quantile of Student's distribution with one degree of freedom less
    than there are equal clusters, as a Wald limit would be. Below 1, where parts that wear out and are renewed fail
    more evenly than by chance, k is the upper limit of the dispersion (chi-square, a degree of freedom for each
    cluster that failed), and 1, which leaves Garwood's own limits, where that is not below 1 or fewer than
    `FEWEST_TO_NARROW` clusters failed. The dispersion is the sum of squares of failures - rate x miles over clusters,
    divided by what Poisson counts would make it: failures x (1 - sum of squared shares of the miles).
    """
    failures, miles = n_failures(data), miles_at_risk(data, shared)
    naive = poisson_rates(failures, miles, confidence)
    squares, share_squares = _rate_squares(np.nan_to_num(naive.rate), miles, data, shared)
    known = naive.status == "ok"
    by_chance = np.where(known & (share_squares < 1 - 1e-9), failures * (1 - share_squares), np.nan)
    dispersion = squares / by_chance
    n_clusters = np.where(miles > 0, 1 / np.where(share_squares > 0, share_squares, np.nan), 0.0)
    n_failed = n_clusters_failed(data)
    lower, upper = _gamma_limits(failures, miles, _lot(dispersion, n_clusters, n_failed, confidence), confidence)
    thin = known & (n_clusters < FEWEST_CLUSTERS * (1 - 1e-9))
    return ClusteredRates(
        rates=replace(
            naive,
            lower=np.where(known, lower, naive.lower),
            upper=np.where(known, upper, naive.upper),
            status=np.where(thin, "thin", naive.status),
        ),
        dispersion=dispersion,
        se_log=np.where(known, np.sqrt(squares) / np.where(known, failures, 1.0), np.nan),
        n_clusters=n_clusters,
        n_clusters_failed=n_failed,
    )


def _rate_squares(rate: Floats, miles: Miles, data: Lives, shared: SharedExposure | None) -> tuple[Floats, Floats]:
    """Per stratum, sums over clusters of (failures - rate x miles)^2 and of (share of the miles)^2."""
    per_mile = 1 / np.where(miles > 0, miles, np.inf)

    def pair(stratum: Codes, failed: Floats, ran: Miles) -> Floats:
        return np.stack([failed - rate[stratum] * ran, per_mile[stratum] * ran], axis=1)

    def of_windows(stratum: Codes, window: Codes) -> Floats:
        if shared is None:
            return np.zeros((stratum.size, 2))
        return pair(stratum, np.zeros(stratum.size), shared.exit_[window] - shared.entry[window])

    own = data.weight[:, None] * pair(data.stratum, data.event.astype(np.float64), data.exit_ - data.entry)
    products = cluster_products(data, shared, own, of_windows)
    # A vehicle whose lives and window cancel leaves rounding behind, and that can lie below 0.
    return np.maximum(products[:, 0, 0], 0.0), products[:, 1, 1]


def _lot(dispersion: Floats, n_clusters: Floats, n_failed: Floats, confidence: float) -> Floats:
    """How many failures come at once, as far as limits go: the dispersion allowing for few clusters, or 1 in doubt."""
    tail = 0.5 + confidence / 2
    t = stdtrit(np.maximum(np.nan_to_num(n_clusters), FEWEST_CLUSTERS) - 1, tail)
    above = np.nan_to_num(dispersion) > 1 + 1e-9
    g = np.maximum(n_failed, FEWEST_TO_NARROW)
    most = np.where(n_failed >= FEWEST_TO_NARROW, np.nan_to_num(dispersion, nan=1.0) * g / chdtri(g, tail), 1.0)
    lot: Floats = np.where(above, dispersion * (t / ndtri(tail)) ** 2, np.clip(most, _LEAST_LOT, 1.0))
    return lot


def _gamma_limits(failures: Floats, miles: Miles, lot: Floats, confidence: float) -> tuple[Floats, Floats]:
    tail = (1 - confidence) / 2
    lots = np.where(failures > 0, failures, 1.0) / lot
    per_mile = lot / np.where(miles > 0, miles, np.nan)
    return gammaincinv(lots, tail) * per_mile, gammainccinv(lots + 1, tail) * per_mile
