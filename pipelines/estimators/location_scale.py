"""Lognormal and log-logistic fits by maximum likelihood, one per stratum: where the search starts."""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.distributions import WEIBULL, Distribution
from longmile.pipelines.estimators.fit_search import B_HIGH, B_LOW, Fits, Search, climb, judged, nothing, replace
from longmile.pipelines.estimators.general_likelihood import GeneralLikelihood, general_likelihood
from longmile.pipelines.estimators.lives import Floats, Lives, SharedExposure, miles_at_risk
from longmile.pipelines.estimators.weibull import MIN_FAILURES, fit_weibull

_SHARES = (0.01, 0.1, 0.5)  # share failed by the reference mileage, where nothing better is known
_SHAPES = (0.5, 1.5, 5.0)


def fit_distribution(
    distribution: Distribution,
    data: Lives,
    shared: SharedExposure | None = None,
    weibull: Fits | None = None,
) -> Fits:
    """Maximum-likelihood shape and scale per stratum, as `fit_weibull` gives them (which answers for a Weibull).

    weibull: fits of the same lives, if they are there: the search starts where it has the same share failed
    and the same hazard at the failures. Source: Meeker & Escobar 1998, chapters 7, 8 and 11.
    """
    near = fit_weibull(data, shared) if weibull is None else weibull
    if distribution is WEIBULL:
        return near
    likelihood = general_likelihood(distribution, data, shared)
    watched = miles_at_risk(data, shared) > 0
    rows = np.flatnonzero(watched & (likelihood.failures >= MIN_FAILURES))
    search = Search(rows, np.zeros(rows.size), np.zeros(rows.size), nothing(rows.size))
    _try_all(likelihood, search, np.flatnonzero(near.ok[rows]), *_beside(distribution, near.c[rows], near.b[rows]))
    _search_on_a_grid(likelihood, search)
    climb(likelihood, search)
    return judged(likelihood, distribution, watched, search)


def _beside(distribution: Distribution, c: Floats, b: Floats) -> tuple[Floats, Floats]:
    """C and b with the hazard and the cumulative hazard that a Weibull has at the reference mileage."""
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        hazard = np.exp(c)
        z = distribution.z_of_hazard(hazard)
        slope = b + c - np.log(distribution.hazard(z).slope)
    fine = np.isfinite(z) & np.isfinite(slope)
    return np.where(fine, z, 0.0), np.clip(np.where(fine, slope, 0.0), B_LOW, B_HIGH)


def _search_on_a_grid(likelihood: GeneralLikelihood, search: Search) -> None:
    """A coarse look for rows that have no start yet."""
    lacking = np.flatnonzero(~np.isfinite(search.at.loglik))
    for share in _SHARES:
        for shape in _SHAPES:
            c = np.full(search.rows.size, likelihood.distribution.z_by(share))
            _try_all(likelihood, search, lacking, c, np.full(search.rows.size, np.log(shape)))


def _try_all(likelihood: GeneralLikelihood, search: Search, places: np.ndarray, c: Floats, b: Floats) -> None:
    """Keeps (c, b) at the places where it is higher than what was found so far."""
    values = likelihood.evaluate(search.rows[places], c[places], b[places])
    better = values.loglik > search.at.loglik[places]
    kept = type(values)(*(value[better] for value in values))
    at = places[better]
    replace(search, at, c[at], b[at], kept, scattered=True)
