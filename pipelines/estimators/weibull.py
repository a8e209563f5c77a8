"""Weibull fits by maximum likelihood, one per stratum: where the search starts. The search is `fit_search`'s.

S(t) = exp(-(t / scale)^shape).
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.distributions import WEIBULL
from longmile.pipelines.estimators.fit_search import Fits, Search, climb, judged, nothing, replace
from longmile.pipelines.estimators.lives import Codes, Lives, SharedExposure, miles_at_risk
from longmile.pipelines.estimators.weibull_likelihood import WeibullLikelihood, weibull_likelihood

MIN_FAILURES = 2.0  # one failure fixes a rate, not a shape
_START_SHAPES = (0.4, 0.8, 1.5, 3.0, 6.0, 15.0)


def fit_weibull(data: Lives, shared: SharedExposure | None = None) -> Fits:
    """Maximum-likelihood shape and scale per stratum.

    Takes exact, right-, left- and interval-censored lives with late entry. The log-likelihood is on the
    scale of the miles given, conditional on surviving entry. Negative weights and shared windows are taken as
    in `SharedExposure`. Source: Meeker & Escobar 1998, chapters 7, 8 and 11.
    """
    likelihood = weibull_likelihood(data, shared)
    watched = miles_at_risk(data, shared) > 0
    rows = np.flatnonzero(watched & (likelihood.failures >= MIN_FAILURES))
    search = _started(likelihood, rows)
    climb(likelihood, search)
    return judged(likelihood, WEIBULL, watched, search)


def _started(likelihood: WeibullLikelihood, rows: Codes) -> Search:
    """The best of a few shapes, each with the scale that suits it were every failure found at its far end."""
    best = Search(rows, np.zeros(rows.size), np.zeros(rows.size), nothing(rows.size))
    zero = np.zeros(rows.size)
    for shape in _START_SHAPES:
        b = np.full(rows.size, np.log(shape))
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            hazard = likelihood.survived(rows, zero, b).h + likelihood.interval_hazard(rows, zero, b)
            c = np.log(likelihood.failures[rows] / hazard)
        c = np.where(np.isfinite(c), c, 0.0)
        values = likelihood.evaluate(rows, c, b)
        replace(best, np.flatnonzero(values.loglik > best.at.loglik), c, b, values)
    return best
