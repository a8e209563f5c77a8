"""Whether a fitted curve follows the points of its own probability plot."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.distributions import survival_at_z
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.lives import Codes, Floats, weighed
from longmile.pipelines.estimators.nonparametric import SurvivalCurves

FEWEST_POINTS = 3  # two points always lie on a line


@dataclass(frozen=True)
class PlotCheck:
    """Per stratum, NaN with fewer than three points or without a fit.

    correlation: of the plotted points with their straight line (1: all on it).   share_outside: share of the
    failures at which the fitted curve lies outside the pointwise limits of the Kaplan-Meier curve; about
    1 - confidence would be chance at each point, but neighbours move together.   n_points: points plotted.
    """

    correlation: Floats
    share_outside: Floats
    n_points: Floats


def plot_check(fits: Fits, curves: SurvivalCurves) -> PlotCheck:
    """Points of the probability plot against the fit.

    A point per failure mileage, at log t and the z of the share failed half-way up the step of the Kaplan-Meier
    curve. A curve that speaks only from an age on is hung onto the fitted curve there.
    Source: Meeker & Escobar 1998, chapter 6.
    """
    s = curves.stratum
    hung = _fitted(fits, np.arange(curves.from_age.size), curves.from_age)[s]
    before = np.where(np.arange(s.size) == curves.start[s], 1.0, np.roll(curves.survival, 1))
    middle = hung * (before + curves.survival) / 2
    plotted = fits.ok[s] & (middle > 0) & (middle < 1)
    at = s[plotted]
    x, y = np.log(curves.t[plotted]), fits.distribution.z_of_hazard(-np.log(middle[plotted]))
    n = fits.status.size
    points = weighed(at, np.ones(at.size), n)
    enough = points >= FEWEST_POINTS
    fitted, banded = _fitted(fits, s, curves.t), fits.ok[s] & ~np.isnan(curves.lower)
    outside = banded & ((fitted < hung * curves.lower) | (fitted > hung * curves.upper))
    counted = weighed(s, curves.events * banded, n)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = weighed(s, curves.events * outside, n) / counted
    correlation = _correlation(at, x, y, points)
    return PlotCheck(np.where(enough, correlation, np.nan), np.where(enough, share, np.nan), points)


def _fitted(fits: Fits, stratum: Codes, t: Floats) -> Floats:
    """Fitted survival; 1 at age 0."""
    late = t > 0
    x = np.log(np.where(late, t, 1.0)) - fits.likelihood.log_ref[stratum]
    z = np.where(late & fits.ok[stratum], np.exp(fits.b[stratum]) * x + fits.c[stratum], 0.0)
    with np.errstate(over="ignore"):
        return np.where(late, survival_at_z(fits.distribution, z), 1.0)


def _correlation(at: Codes, x: Floats, y: Floats, points: Floats) -> Floats:
    """Correlation within each stratum."""
    n = points.size
    size = np.maximum(points, 1.0)
    dx, dy = x - (weighed(at, x, n) / size)[at], y - (weighed(at, y, n) / size)[at]
    spread = weighed(at, dx * dx, n) * weighed(at, dy * dy, n)
    with np.errstate(invalid="ignore", divide="ignore"):
        found: Floats = weighed(at, dx * dy, n) / np.sqrt(spread)
    return found
