"""What can be asked of a Weibull fit: shape, scale, mean, B-lives, survival. Formulas, no search.

Each quantity has a working value q, on the scale where its limits are made: the log of a mileage or of the
shape, or log(-log S) for a chance of survival. Holding q fixed leaves one free number n, and the inside
coordinates (c, b) of `WeibullLikelihood` follow a curve as n moves; profile limits walk along it, Wald limits
need only its slopes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np
import numpy.typing as npt
from scipy.special import gammaln, ndtri, polygamma, psi

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Floats
from longmile.pipelines.estimators.weibull import B_HIGH, B_LOW, WeibullFits


class Path(NamedTuple):
    """Inside coordinates at (q, n) and their slopes, each of shape (rows,); only c bends in n (c_nn)."""

    c: Floats
    b: Floats
    c_n: Floats
    b_n: Floats
    c_nn: Floats
    c_q: Floats
    b_q: Floats


class Quantity(Protocol):
    """A quantity of the fit. falls: the quantity as shown falls as q rises (a chance of survival)."""

    @property
    def falls(self) -> bool:
        """True for chances of survival, shown as exp(-exp(q)); the others are shown as exp(q)."""

    def value(self, fits: WeibullFits) -> Floats:
        """Working value at the fit, shape (n_strata,)."""

    def path(self, fits: WeibullFits, rows: Codes, q: Floats, n: Floats) -> Path:
        """Where (q, n) lies for the asked strata."""

    def free(self, fits: WeibullFits) -> Floats:
        """The free number n at the fit, shape (n_strata,)."""

    def held(self, n: Floats) -> Floats:
        """The free number kept to the range in which a fit is sought."""


@dataclass(frozen=True)
class Limits:
    """Estimate and limits per stratum, as shown (miles, shape or a chance); NaN where there is no fit.

    se: of the working value q.   method: `wald` or `profile`. An infinite upper or zero lower profile limit
    means that the data set none on that side: the likelihood never falls far enough. A single limit that
    could not be found is NaN.
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

    def value(self, fits: WeibullFits) -> Floats:
        return fits.b

    def free(self, fits: WeibullFits) -> Floats:
        return fits.c

    def held(self, n: Floats) -> Floats:
        return n

    def path(self, fits: WeibullFits, rows: Codes, q: Floats, n: Floats) -> Path:
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(n, q, one, nil, nil, nil, one)


@dataclass(frozen=True)
class _Mileage:
    """A mileage T with H(T) = exp(height); for the mean, height = k log Gamma(1 + 1 / k); n is b."""

    height: float
    is_mean: bool = False
    falls: bool = False

    def free(self, fits: WeibullFits) -> Floats:
        return fits.b

    def held(self, n: Floats) -> Floats:
        return np.clip(n, B_LOW, B_HIGH)

    def value(self, fits: WeibullFits) -> Floats:
        return fits.likelihood.log_ref + (self._height(fits.b)[0] - fits.c) / np.exp(fits.b)

    def path(self, fits: WeibullFits, rows: Codes, q: Floats, n: Floats) -> Path:
        k = np.exp(n)
        ky = k * (q - fits.likelihood.log_ref[rows])
        height, slope, bend = self._height(n)
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(height - ky, n, slope - ky, one, bend - ky, -k, nil)

    def _height(self, b: Floats) -> tuple[Floats, Floats, Floats]:
        """Height with its first and second derivative in b."""
        if not self.is_mean:
            return np.full(b.size, self.height), np.zeros(b.size), np.zeros(b.size)
        k = np.exp(b)
        height = k * gammaln(1 + 1 / k)
        slope = height - psi(1 + 1 / k)
        return height, slope, slope + polygamma(1, 1 + 1 / k) / k


@dataclass(frozen=True)
class _Survival:
    """Chance to survive from age to age + miles; q = log(H(age + miles) - H(age)); n is b."""

    age: Floats
    miles: Floats
    falls: bool = True

    def free(self, fits: WeibullFits) -> Floats:
        return fits.b

    def held(self, n: Floats) -> Floats:
        return np.clip(n, B_LOW, B_HIGH)

    def value(self, fits: WeibullFits) -> Floats:
        return fits.c + self._height(fits, np.arange(fits.b.size), fits.b)[0]

    def path(self, fits: WeibullFits, rows: Codes, q: Floats, n: Floats) -> Path:
        height, slope, bend = self._height(fits, rows, n)
        one, nil = np.ones(q.size), np.zeros(q.size)
        return Path(q - height, n, -slope, one, -bend, one, nil)

    def _height(self, fits: WeibullFits, rows: Codes, b: Floats) -> tuple[Floats, Floats, Floats]:
        """log(far^k - near^k), ends in reference mileages, with its first and second derivative in b."""
        age, k = np.broadcast_to(self.age, fits.b.shape)[rows], np.exp(b)
        far = age + np.broadcast_to(self.miles, fits.b.shape)[rows]
        kx = k * (np.log(far) - fits.likelihood.log_ref[rows])
        late = age > 0
        v = np.where(late, k * np.log(far / np.where(late, age, far / 2)), 1.0)
        # v and v / (e^v - 1): the near end's part, as if it were at -infinity for a new part.
        grown = np.expm1(np.minimum(v, 700.0))
        part = np.where(late, v / grown, 0.0)
        bend = np.where(late, part - part * v * (1 + 1 / grown), 0.0)
        return kx + np.where(late, np.log(-np.expm1(-v)), 0.0), kx + part, kx + bend


def shape() -> Quantity:
    """The shape: below 1 early failures, 1 chance, above 1 wear-out."""
    return _Shape()


def scale() -> Quantity:
    """The scale: the mileage by which 63.2 % have failed."""
    return _Mileage(0.0)


def mean_life() -> Quantity:
    """Mean miles to failure, scale x Gamma(1 + 1 / shape)."""
    return _Mileage(0.0, is_mean=True)


def life_by(p_failed: float) -> Quantity:
    """The mileage by which the share p_failed has failed: 0.5 the median, 0.1 B10, 0.01 B1.

    Raises LivesError outside (0, 1).
    """
    if not 0 < p_failed < 1:
        raise LivesError(f"share failed is {p_failed}. Expected a number between 0 and 1, such as 0.1.")
    return _Mileage(float(np.log(-np.log1p(-p_failed))))


def survival_to(t: npt.ArrayLike) -> Quantity:
    """Chance that a new part survives to mileage t (one for all strata, or one each), t > 0."""
    return survival_further(0.0, t)


def survival_further(age: npt.ArrayLike, miles: npt.ArrayLike) -> Quantity:
    """Chance that a part that has reached age runs so many miles more (for all strata, or one each).

    Raises LivesError unless age >= 0 and miles > 0.
    """
    made = _Survival(np.asarray(age, np.float64), np.asarray(miles, np.float64))
    if not (np.all(made.age >= 0) and np.all(made.miles > 0)):
        raise LivesError("survival: expected an age of 0 or more and more than 0 miles to go.")
    return made


def shown(quantity: Quantity, q: Floats) -> Floats:
    """The quantity as shown, from its working value."""
    with np.errstate(over="ignore"):
        grown = np.exp(q)
    return np.exp(-grown) if quantity.falls else grown


def working_se(fits: WeibullFits, quantity: Quantity) -> tuple[Floats, Floats]:
    """Standard error of the working value, and how the free number moves with it, per stratum."""
    rows = np.flatnonzero(fits.ok)
    path = quantity.path(fits, rows, quantity.value(fits)[rows], quantity.free(fits)[rows])
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


def wald_limits(fits: WeibullFits, quantity: Quantity, confidence: float = 0.95) -> Limits:
    """Estimate and limits from the standard error of the working value (delta method)."""
    q = quantity.value(fits)
    se, _ = working_se(fits, quantity)
    reach = ndtri(0.5 + confidence / 2) * se
    ends = shown(quantity, q - reach), shown(quantity, q + reach)
    lower, upper = ends[::-1] if quantity.falls else ends
    return Limits(shown(quantity, q), se, lower, upper, "wald", confidence)
