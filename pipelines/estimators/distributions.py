"""Log-location-scale distributions: formulas of the standard variable z = shape x log(t / scale). No search.

log T = mu + sigma Z, with scale = exp(mu) and shape = 1 / sigma. H is the cumulative hazard -log S as a
function of z. Weibull: Z smallest extreme value; lognormal: normal; log-logistic: logistic.
Source: Meeker & Escobar 1998, chapter 4; Lawless 2003, section 1.3.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol

import numpy as np
from scipy.special import erfcx, expit, gammaln, log_ndtr, logit, ndtr, ndtri, polygamma, psi

from longmile.pipelines.estimators.lives import Floats

_LOG_ROOT_TWO_PI = 0.5 * float(np.log(2 * np.pi))
_ROOT_TWO_OVER_PI, _ROOT_HALF = float(np.sqrt(2 / np.pi)), float(np.sqrt(0.5))


class OfZ(NamedTuple):
    """A function of z with its first and second derivative, each of the shape of z."""

    value: Floats
    slope: Floats
    bend: Floats


class Distribution(Protocol):
    """One distribution; every function is elementwise."""

    @property
    def name(self) -> str:
        """As it is called in results."""

    @property
    def needs_shape_above_1(self) -> bool:
        """True where there is a mean only for shapes above 1."""

    def hazard(self, z: Floats) -> OfZ:
        """H(z) = -log S(z)."""

    def log_rate(self, z: Floats) -> OfZ:
        """Log of dH/dz."""

    def z_by(self, p_failed: float) -> float:
        """Z by which the share p_failed has failed."""

    def z_of_hazard(self, hazard: Floats) -> Floats:
        """Z at which H has the value; the inverse of `hazard`."""

    def mean_height(self, b: Floats) -> OfZ:
        """Shape x log(mean / scale) and derivatives in b = log shape; infinite where there is no mean."""


class _Weibull:
    name = "weibull"
    needs_shape_above_1 = False

    def hazard(self, z: Floats) -> OfZ:
        h = np.exp(z)
        return OfZ(h, h, h)

    def log_rate(self, z: Floats) -> OfZ:
        return OfZ(z, np.ones_like(z), np.zeros_like(z))

    def z_by(self, p_failed: float) -> float:
        return float(np.log(-np.log1p(-p_failed)))

    def z_of_hazard(self, hazard: Floats) -> Floats:
        z: Floats = np.log(hazard)
        return z

    def mean_height(self, b: Floats) -> OfZ:
        k = np.exp(b)
        height = k * gammaln(1 + 1 / k)
        slope = height - psi(1 + 1 / k)
        return OfZ(height, slope, slope + polygamma(1, 1 + 1 / k) / k)


class _Lognormal:
    name = "lognormal"
    needs_shape_above_1 = False

    def hazard(self, z: Floats) -> OfZ:
        value = -log_ndtr(-z)
        rate = _mills(z)
        return OfZ(value, rate, rate * (rate - z))

    def log_rate(self, z: Floats) -> OfZ:
        rate = _mills(z)
        early = z < 0
        low = np.where(early, z, 0.0)
        # Early on the rate itself can underflow; late, its logarithm keeps the digits that the squares lose.
        value = np.where(
            early, -0.5 * low * low - _LOG_ROOT_TWO_PI - log_ndtr(-low), np.log(np.where(early, 1.0, rate))
        )
        return OfZ(value, rate - z, rate * (rate - z) - 1)

    def z_by(self, p_failed: float) -> float:
        return float(ndtri(p_failed))

    def z_of_hazard(self, hazard: Floats) -> Floats:
        # Above a hazard of log 2 from the survivors, below it from the failed: each keeps its digits there.
        high = hazard > np.log(2)
        z: Floats = np.where(high, -ndtri(np.exp(-hazard)), ndtri(-np.expm1(-hazard)))
        for _ in range(3):
            h = self.hazard(z)
            ok = np.isfinite(z) & (h.slope > 0) & (hazard > 1)
            z = np.where(ok, z - (h.value - hazard) / np.where(ok, h.slope, 1.0), z)
        return z

    def mean_height(self, b: Floats) -> OfZ:
        half = np.exp(-b) / 2
        return OfZ(half, -half, half)


class _Loglogistic:
    name = "loglogistic"
    needs_shape_above_1 = True

    def hazard(self, z: Floats) -> OfZ:
        rate = expit(z)
        return OfZ(np.logaddexp(0.0, z), rate, rate * expit(-z))

    def log_rate(self, z: Floats) -> OfZ:
        rest = expit(-z)
        return OfZ(-np.logaddexp(0.0, -z), rest, -rest * expit(z))

    def z_by(self, p_failed: float) -> float:
        return float(logit(p_failed))

    def z_of_hazard(self, hazard: Floats) -> Floats:
        z: Floats = hazard + np.log(-np.expm1(-hazard))
        return z

    def mean_height(self, b: Floats) -> OfZ:
        has_mean = b > 0
        safe = np.where(has_mean, b, 1.0)
        k = np.exp(safe)
        u, rest = np.pi / k, np.pi * np.expm1(safe) / k  # rest = pi - u, with its digits where the mean is vast
        log_mean, cot = np.log(u / np.sin(rest)), -1 / np.tan(rest)
        height, slope = k * log_mean, k * log_mean - k + np.pi * cot
        bend = slope - k + np.pi * u / np.sin(rest) ** 2  # du / db = -u
        parts = (height, slope, bend)
        return OfZ(*(np.where(has_mean, part, np.inf) for part in parts))


def _mills(z: Floats) -> Floats:
    """Normal density over survival."""
    rate: Floats = _ROOT_TWO_OVER_PI / erfcx(z * _ROOT_HALF)
    return rate


WEIBULL: Distribution = _Weibull()
LOGNORMAL: Distribution = _Lognormal()
LOGLOGISTIC: Distribution = _Loglogistic()
DISTRIBUTIONS: tuple[Distribution, ...] = (WEIBULL, LOGNORMAL, LOGLOGISTIC)


def survival_at_z(distribution: Distribution, z: Floats) -> Floats:
    """S(z), with its digits kept in both tails."""
    if distribution is LOGNORMAL:
        normal: Floats = ndtr(-z)
        return normal
    survival: Floats = np.exp(-distribution.hazard(z).value)
    return survival
