"""What can be asked of a fit: shape, scale, mean, B-lives, survival. Formulas, no search.

Each quantity has a working value q, on the scale where its limits are made: the log of a mileage or of the
shape, the z of a chance of survival, or log(-log S) for a chance to run further. Holding q fixed leaves one
free number n, and the inside coordinates (c, b) of the likelihood follow a curve as n moves; profile limits
walk along it, Wald limits need only its slopes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.distributions import WEIBULL, survival_at_z
from longmile.pipelines.estimators.fit_search import B_HIGH, B_LOW, Fits
from longmile.pipelines.estimators.lives import Codes, Floats

_SHAPE_LOOKS = np.array([B_LOW, *np.log([0.01, 0.05, 0.15, 0.4, 1.0, 2.5, 6.0, 20.0, 200.0])])


class Path(NamedTuple):
    """Inside coordinates at (q, n) with their slopes and bends in n, each of shape (rows,)."""

    c: Floats
    b: Floats
    c_n: Floats
    b_n: Floats
    c_nn: Floats
    b_nn: Floats
    c_q: Floats
    b_q: Floats


class Quantity(Protocol):
    """A quantity of the fit. falls: the quantity as shown falls as q rises (a chance of survival)."""

    @property
    def falls(self) -> bool:
        """True for chances of survival."""

    def value(self, fits: Fits) -> Floats:
        """Working value at the fit, shape (n_strata,)."""

    def shown(self, fits: Fits, q: Floats) -> Floats:
        """The quantity as shown, from its working value."""

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        """Where (q, n) lies for the asked strata."""

    def free(self, fits: Fits) -> Floats:
        """The free number n at the fit, shape (n_strata,)."""

    def held(self, fits: Fits, n: Floats) -> Floats:
        """The free number kept to the range in which a fit is sought."""

    def looks(self, fits: Fits) -> Floats:
        """A coarse row of free numbers, from which a search that lost its way begins anew."""


@dataclass(frozen=True)
class Limits:
    """Estimate and limits per stratum, as shown (miles, shape or a chance); NaN where there is no fit.

    se: of the working value q.   method: `wald`, `profile`, or `clustered ...` of either. An infinite upper or
    zero lower profile limit means that the data set none on that side: the likelihood never falls far enough.
    A single limit that could not be found is NaN, and so is a mean that the distribution does not have.
    """

    estimate: Floats
    se: Floats
    lower: Floats
    upper: Floats
    method: str
    confidence: float


@dataclass(frozen=True)
class _Shape:
    """The shape; n is c."""

    falls: bool = False

    def value(self, fits: Fits) -> Floats:
        return fits.b

    def shown(self, fits: Fits, q: Floats) -> Floats:
        return _grown(q)

    def free(self, fits: Fits) -> Floats:
        return fits.c

    def held(self, fits: Fits, n: Floats) -> Floats:
        return n

    def looks(self, fits: Fits) -> Floats:
        return np.zeros(0)

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(n, q, one, nil, nil, nil, nil, one)


class _FreeShape:
    """What quantities have in common whose free number n is b."""

    def free(self, fits: Fits) -> Floats:
        return fits.b

    def held(self, fits: Fits, n: Floats) -> Floats:
        return np.clip(n, B_LOW, B_HIGH)

    def looks(self, fits: Fits) -> Floats:
        return _SHAPE_LOOKS


@dataclass(frozen=True)
class _Mileage(_FreeShape):
    """The mileage by which a share has failed, q its log."""

    p_failed: float
    falls: bool = False

    def value(self, fits: Fits) -> Floats:
        return fits.likelihood.log_ref + (self._z(fits) - fits.c) / np.exp(fits.b)

    def shown(self, fits: Fits, q: Floats) -> Floats:
        return _grown(q)

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        k = np.exp(n)
        ky = k * (q - fits.likelihood.log_ref[rows])
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(self._z(fits) - ky, n, -ky, one, -ky, nil, -k, nil)

    def _z(self, fits: Fits) -> float:
        return fits.distribution.z_by(self.p_failed) if self.p_failed else 0.0


@dataclass(frozen=True)
class _Mean:
    """The mean, q its log; n is b, or log b where there is a mean only for shapes above 1 (b above 0)."""

    falls: bool = False

    def value(self, fits: Fits) -> Floats:
        value = fits.likelihood.log_ref + (fits.distribution.mean_height(fits.b).value - fits.c) / np.exp(fits.b)
        return np.where(np.isfinite(value), value, np.nan)

    def shown(self, fits: Fits, q: Floats) -> Floats:
        return _grown(q)

    def free(self, fits: Fits) -> Floats:
        if not fits.distribution.needs_shape_above_1:
            return fits.b
        return np.log(np.where(fits.b > 0, fits.b, np.nan))

    def held(self, fits: Fits, n: Floats) -> Floats:
        low, high = (-40.0, float(np.log(B_HIGH))) if fits.distribution.needs_shape_above_1 else (B_LOW, B_HIGH)
        return np.clip(n, low, high)

    def looks(self, fits: Fits) -> Floats:
        return np.linspace(-30.0, 2.0, 11) if fits.distribution.needs_shape_above_1 else _SHAPE_LOOKS

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        b = np.exp(n) if fits.distribution.needs_shape_above_1 else n
        k = np.exp(b)
        ky = k * (q - fits.likelihood.log_ref[rows])
        height, slope, bend = fits.distribution.mean_height(b)
        one, nil = np.ones(q.size), np.zeros(q.size)
        b_n, b_nn = (b, b) if fits.distribution.needs_shape_above_1 else (one, nil)
        c_b, c_bb = slope - ky, bend - ky
        return Path(height - ky, b, c_b * b_n, b_n, c_bb * b_n**2 + c_b * b_nn, b_nn, -k, nil)


@dataclass(frozen=True)
class _Survival(_FreeShape):
    """Chance that a new part survives to t; q is z at t."""

    t: Floats
    falls: bool = True

    def value(self, fits: Fits) -> Floats:
        return fits.c + np.exp(fits.b) * self._x(fits, np.arange(fits.b.size))

    def shown(self, fits: Fits, q: Floats) -> Floats:
        with np.errstate(over="ignore", invalid="ignore"):  # z is NaN without a fit, infinite without a limit
            return survival_at_z(fits.distribution, q)

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        kx = np.exp(n) * self._x(fits, rows)
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(q - kx, n, -kx, one, -kx, nil, one, nil)

    def _x(self, fits: Fits, rows: Codes) -> Floats:
        return np.log(np.broadcast_to(self.t, fits.b.shape)[rows]) - fits.likelihood.log_ref[rows]


@dataclass(frozen=True)
class _Further:
    """Chance to run from age to age + miles; q = log(H(age + miles) - H(age)); n is z at age.

    z at the far end follows from q and n alone, and the shape from both, whatever the distribution.
    """

    age: Floats
    miles: Floats
    falls: bool = True

    def value(self, fits: Fits) -> Floats:
        width, x = self._ends(fits, np.arange(fits.b.size))
        near = fits.c + np.exp(fits.b) * x
        with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
            hazard = fits.distribution.hazard
            if fits.distribution is WEIBULL:
                return near + np.log(np.expm1(np.exp(fits.b) * width))
            return np.log(hazard(near + np.exp(fits.b) * width).value - hazard(near).value)

    def shown(self, fits: Fits, q: Floats) -> Floats:
        return np.exp(-_grown(q))

    def free(self, fits: Fits) -> Floats:
        return fits.c + np.exp(fits.b) * self._ends(fits, np.arange(fits.b.size))[1]

    def held(self, fits: Fits, n: Floats) -> Floats:
        return np.clip(n, -1e4, 700.0)

    def looks(self, fits: Fits) -> Floats:
        return np.array([-60.0, -25.0, -12.0, -7.0, -4.5, -3.0, -2.0, -1.0, 0.0, 1.5])

    def path(self, fits: Fits, rows: Codes, q: Floats, n: Floats) -> Path:
        width, x = self._ends(fits, rows)
        near = fits.distribution.hazard(n)
        with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
            grown = np.exp(q)
            if fits.distribution is WEIBULL:
                u = np.log1p(np.exp(q - n))
                far_z = n + u
                ratio, ratio_q = np.exp(-u), -np.expm1(-u)
                rise, rise_n, rise_nn = u, ratio - 1, ratio * (1 - ratio)
                z_q = ratio_q
            else:
                far_z = fits.distribution.z_of_hazard(near.value + grown)
                far = fits.distribution.hazard(far_z)
                slope = near.slope / far.slope
                rise, rise_n = far_z - n, slope - 1
                rise_nn = near.bend / far.slope - far.bend * slope**2 / far.slope
                z_q = grown / far.slope
            k = rise / width
            b_n, b_q = rise_n / rise, z_q / rise
            c_q = -x * k * b_q
            b_nn = rise_nn / rise - b_n**2
            return Path(n - k * x, np.log(k), 1 - x * k * b_n, b_n, -x * rise_nn / width, b_nn, c_q, b_q)

    def _ends(self, fits: Fits, rows: Codes) -> tuple[Floats, Floats]:
        """Log width, log(far / near), and log near end over the reference mileage."""
        age = np.broadcast_to(self.age, fits.b.shape)[rows]
        miles = np.broadcast_to(self.miles, fits.b.shape)[rows]
        return np.log1p(miles / age), np.log(age) - fits.likelihood.log_ref[rows]


def shape() -> Quantity:
    """The shape; of a Weibull below 1 early failures, 1 chance, above 1 wear-out."""
    return _Shape()


def scale() -> Quantity:
    """The scale: of a Weibull the mileage by which 63.2 % have failed, else the median."""
    return _Mileage(0.0)


def mean_life() -> Quantity:
    """Mean miles to failure."""
    return _Mean()


def life_by(p_failed: float) -> Quantity:
    """The mileage by which the share p_failed has failed: 0.5 the median, 0.1 B10, 0.01 B1.

    Raises LivesError outside (0, 1).
    """
    if not 0 < p_failed < 1:
        raise LivesError(f"share failed is {p_failed}. Expected a number between 0 and 1, such as 0.1.")
    return _Mileage(p_failed)


def survival_to(t: npt.ArrayLike) -> Quantity:
    """Chance that a new part survives to mileage t (one for all strata, or one each), t > 0."""
    at = np.asarray(t, np.float64)
    if not np.all(at > 0):
        raise LivesError("survival: expected a mileage above 0.")
    return _Survival(at)


def survival_further(age: npt.ArrayLike, miles: npt.ArrayLike) -> Quantity:
    """Chance that a part that has reached age runs so many miles more (for all strata, or one each).

    Raises LivesError unless miles > 0 and ages are all above 0, or all 0 (a new part).
    """
    old, further = np.asarray(age, np.float64), np.asarray(miles, np.float64)
    if not (np.all(old >= 0) and np.all(further > 0) and (np.all(old > 0) or np.all(old == 0))):
        raise LivesError("survival: expected more than 0 miles to go, and ages of 0 or more, not both kinds at once.")
    return _Further(old, further) if np.all(old > 0) else survival_to(further)


def _grown(q: Floats) -> Floats:
    with np.errstate(over="ignore"):
        return np.exp(q)


def working_se(fits: Fits, quantity: Quantity) -> tuple[Floats, Floats]:
    """Standard error of the working value, and how the free number moves with it, per stratum."""
    value = quantity.value(fits)
    rows = np.flatnonzero(fits.ok & np.isfinite(value))
    path = quantity.path(fits, rows, value[rows], quantity.free(fits)[rows])
    # q(c, b) has slopes that undo the path's: inverse of the 2 x 2 matrix [[c_q, c_n], [b_q, b_n]].
    det = path.c_q * path.b_n - path.c_n * path.b_q
    q_c, q_b = path.b_n / det, -path.c_n / det
    n_c, n_b = -path.b_q / det, path.c_q / det
    cc, cb, bb = fits.cov_cc[rows], fits.cov_cb[rows], fits.cov_bb[rows]
    variance = q_c**2 * cc + 2 * q_c * q_b * cb + q_b**2 * bb
    shared = q_c * n_c * cc + (q_c * n_b + q_b * n_c) * cb + q_b * n_b * bb
    se, tilt = np.full(fits.b.size, np.nan), np.full(fits.b.size, np.nan)
    se[rows], tilt[rows] = np.sqrt(variance), shared / variance
    return se, tilt


def wald_limits(fits: Fits, quantity: Quantity, confidence: float = 0.95, threshold: Floats | None = None) -> Limits:
    """Estimate and limits from the standard error of the working value (delta method).

    threshold: how many standard errors, one per stratum (default: the normal quantile of the confidence).
    """
    q = quantity.value(fits)
    se, _ = working_se(fits, quantity)
    reach = (ndtri(0.5 + confidence / 2) if threshold is None else threshold) * se
    ends = quantity.shown(fits, q - reach), quantity.shown(fits, q + reach)
    lower, upper = ends[::-1] if quantity.falls else ends
    return Limits(quantity.shown(fits, q), se, lower, upper, "wald", confidence)
