"""What a fitted intensity of repairs says, with Wald limits: trend, miles between repairs, repairs expected."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.quantities import Limits
from longmile.pipelines.estimators.repair_intensity import IntensityFits, coordinate, stretch_in_x
from longmile.pipelines.estimators.tilted_exposure import tilted


def trend_limits(fits: IntensityFits, confidence: float = 0.95) -> Limits:
    """The power law's beta (Wald on the log scale), or the log-linear slope b per mile (plain: it may be 0)."""
    z = float(ndtri(0.5 + confidence / 2))
    if fits.model == "power_law":
        with np.errstate(invalid="ignore"):
            return _on_log_scale(np.log(fits.theta), np.sqrt(fits.var_theta) / fits.theta, confidence)
    slope, se = fits.theta / fits.unit_miles, np.sqrt(fits.var_theta) / fits.unit_miles
    return Limits(slope, se, slope - z * se, slope + z * se, "wald", confidence)


def intensity_at(fits: IntensityFits, t: npt.ArrayLike, confidence: float = 0.95) -> Limits:
    """Repairs per mile of a unit at mileage t, one for all strata or one each; t must be above 0 for a power law."""
    return _on_log_scale(*_log_intensity(fits, t), confidence)


def miles_between(fits: IntensityFits, t: npt.ArrayLike, confidence: float = 0.95) -> Limits:
    """Mean miles between repairs were the intensity to stay what it is at mileage t: its reciprocal."""
    log_value, se = _log_intensity(fits, t)
    return _on_log_scale(-log_value, se, confidence)


def expected_repairs(fits: IntensityFits, start: npt.ArrayLike, end: npt.ArrayLike, confidence: float = 0.95) -> Limits:
    """Repairs expected of a unit over (start, end], one stretch for all strata or one each."""
    low, high = (np.broadcast_to(np.asarray(side, np.float64), fits.theta.shape) for side in (start, end))
    far, width = stretch_in_x(fits.model, low, high, fits.from_miles, fits.unit_miles)
    with np.errstate(invalid="ignore", divide="ignore"):
        over = tilted(fits.theta, far, width)
    log_value = fits.log_rate - fits.theta * fits.mean + over.log_total
    se = np.sqrt(1 / fits.repairs + (over.mean - fits.mean) ** 2 * fits.var_theta)
    return _on_log_scale(log_value, se, confidence)


def scale_limits(fits: IntensityFits, confidence: float = 0.95) -> tuple[Limits, Limits]:
    """The lambda, and eta = lambda^(-1 / beta) of a power law M(t) = lambda t^beta = (t / eta)^beta."""
    beta, log_unit = fits.theta, np.log(fits.unit_miles)
    with np.errstate(invalid="ignore"):
        centre = fits.log_rate - np.log(beta)
        se = np.sqrt(1 / fits.repairs + (fits.mean + log_unit + 1 / beta) ** 2 * fits.var_theta)
        lam = _on_log_scale(centre - beta * (fits.mean + log_unit), se, confidence)
        pull = (centre + 1) / beta**2
        se_eta = np.sqrt(1 / (fits.repairs * beta**2) + pull**2 * fits.var_theta)
        return lam, _on_log_scale(fits.mean + log_unit - centre / beta, se_eta, confidence)


def _log_intensity(fits: IntensityFits, t: npt.ArrayLike) -> tuple[Floats, Floats]:
    """Log of the intensity at t, and its error."""
    miles = np.broadcast_to(np.asarray(t, np.float64), fits.theta.shape)
    x, log_x_per_mile = coordinate(fits.model, miles, fits.from_miles, fits.unit_miles)
    away = x - fits.mean
    se = np.sqrt(1 / fits.repairs + away**2 * fits.var_theta)
    return fits.log_rate + fits.theta * away + log_x_per_mile, se


def _on_log_scale(log_value: Floats, se: Floats, confidence: float) -> Limits:
    reach = float(ndtri(0.5 + confidence / 2)) * se
    with np.errstate(over="ignore", under="ignore"):
        low, high = np.exp(log_value - reach), np.exp(log_value + reach)
        return Limits(np.exp(log_value), se, low, high, "wald", confidence)
