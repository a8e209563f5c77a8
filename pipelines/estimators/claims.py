"""Claims under a promise of miles and months, and failures to come, from a known Weibull life.

What belongs here: parts that fail once, known curves in, numbers out. For parts renewed again and again see
`renewal`; prices and terms are decided elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from scipy.special import gammainc, gammaln, ndtr

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Flags, Floats, weighed
from longmile.pipelines.estimators.stretch import log_width, stretch

_POINTS, _POINT_WEIGHTS = np.polynomial.legendre.leggauss(16)
_PANELS = 6  # in each of the three pieces of the range of usage rates
_REACH = 9.0  # standard deviations of the log usage rate looked at; beyond lie 1e-19 of the vehicles
_EARLY, _LATE = 12.0, 4.0  # the curve bends where the log hazard is between -12 and 4
_FIXED = 1e-9  # standard deviation of the log usage rate up to which the rate counts as one for all
_CHUNK = 1 << 12  # promises evaluated at once: bounds memory, not results


@dataclass(frozen=True)
class Forecast:
    """Failures expected over the coming miles, each part failing at most once.

    expected, sd: per stratum, mean number and its standard deviation, parts failing independently; the
    uncertainty of the curve itself is not in it.   p_each: chance per part, shape of the ages.
    """

    expected: Floats
    sd: Floats
    p_each: Floats


def refund_share(shape: npt.ArrayLike, scale: npt.ArrayLike, term: npt.ArrayLike) -> Floats:
    """Mean share of the price refunded when the refund falls in a straight line from all at 0 to none at term.

    Broadcast against each other; scale and term in miles. It is the mean of F over the term, F the chance to have
    failed. Raises LivesError unless all are above 0 and finite.
    """
    k, eta, to = np.broadcast_arrays(*(np.asarray(value, np.float64) for value in (shape, scale, term)))
    _refuse(~((k > 0) & (eta > 0) & (to > 0) & np.isfinite(k + eta + to)), "refunds", "shape, scale and term above 0")
    with np.errstate(over="ignore"):
        hazard = (to / eta) ** k
    # By parts, so that for early terms two numbers of the size of F are subtracted, not two near 1.
    by_mileage = gammainc(1 + 1 / k, hazard) * np.exp(gammaln(1 + 1 / k)) * eta / to
    share: Floats = -np.expm1(-hazard) - by_mileage
    return share


def claim_probability(
    shape: npt.ArrayLike,
    scale: npt.ArrayLike,
    usage_log_mean: npt.ArrayLike,
    usage_log_sd: npt.ArrayLike,
    limit_miles: npt.ArrayLike,
    limit_months: npt.ArrayLike,
) -> Floats:
    """Chance that a new part fails within the miles and the months of a promise, whichever ends first.

    Broadcast against each other. Life is Weibull in miles; a vehicle runs at a constant rate, lognormal over
    vehicles: usage_log_mean and usage_log_sd (0 or more) are of the log of miles per month. One of the two limits
    may be infinite. Accurate to 1e-10 of the chance. Raises LivesError where a number cannot be.
    """
    given = (shape, scale, usage_log_mean, usage_log_sd, limit_miles, limit_months)
    rows = np.broadcast_arrays(*(np.asarray(value, np.float64) for value in given))
    k, eta, mean, sd, miles, months = rows
    wrong = ~((k > 0) & (eta > 0) & (sd >= 0) & (miles > 0) & (months > 0) & np.isfinite(k + eta + mean + sd))
    wrong |= ~(np.isfinite(miles) | np.isfinite(months))
    _refuse(wrong, "claims", "shape, scale and limits above 0, usage_log_sd 0 or more, at most one infinite limit")
    flat = np.stack([row.ravel() for row in rows])
    parts = [_claimed(flat[:, low : low + _CHUNK]) for low in range(0, flat.shape[1], _CHUNK)]
    return np.concatenate(parts).reshape(k.shape) if parts else np.zeros(k.shape)


def failure_forecast(
    age: npt.ArrayLike,
    miles: npt.ArrayLike,
    shape: npt.ArrayLike,
    scale: npt.ArrayLike,
    stratum: npt.ArrayLike | None = None,
    n_strata: int = 1,
    weight: npt.ArrayLike | None = None,
) -> Forecast:
    """Number of parts now running that fail within so many more miles each.

    age, miles, shape, scale: one per part or one for all; age 0 or more, the part is running at that age.
    stratum: codes 0..n_strata-1.   weight: how many identical parts.
    Raises LivesError where a number cannot be.
    """
    given = (age, miles, shape, scale, 1.0 if weight is None else weight)
    columns = np.broadcast_arrays(*(np.atleast_1d(np.asarray(value, np.float64)) for value in given))
    old, further, k, eta, count = columns
    wrong = ~((old >= 0) & (further > 0) & (k > 0) & (eta > 0) & (count >= 0) & np.isfinite(np.sum(columns, axis=0)))
    _refuse(wrong, "forecasts", "age and weight of 0 or more, miles, shape and scale above 0")
    code = np.zeros(old.size, np.int64) if stratum is None else np.asarray(stratum, np.int64)
    if code.size != old.size or (code.size and not 0 <= code.min() <= code.max() < n_strata):
        raise LivesError(f"forecasts: expected a stratum from 0 to {n_strata - 1} for each of {old.size:,} parts.")
    with np.errstate(over="ignore", invalid="ignore"):
        far = np.log((old + further) / eta)
        p = -np.expm1(-stretch(k, np.zeros(old.size), far, log_width(old, old + further)).h)
    expected = weighed(code, count * p, n_strata)
    return Forecast(expected, np.sqrt(weighed(code, count * p * (1 - p), n_strata)), p)


def _claimed(rows: Floats) -> Floats:
    """Chance of a claim for rows of (shape, scale, usage log mean, usage log sd, miles, months)."""
    k, eta, mean, sd, miles, months = rows
    log_miles, log_months = np.log(miles / eta), np.log(months)
    varies = sd > _FIXED
    spread = np.where(varies, sd, 1.0)
    # Vehicles faster than this standard deviation run out of miles, the others out of months.
    split = (log_miles + np.log(eta) - log_months - mean) / spread
    with np.errstate(over="ignore"):
        fast = _failed_by(k * log_miles) * ndtr(-split)
        slow = _of_slow(k, k * spread, (mean + log_months - np.log(eta)) / spread, split)
        at_one_rate = _failed_by(k * np.minimum(log_miles, mean + log_months - np.log(eta)))
    return np.where(varies, fast + slow, at_one_rate)


def _of_slow(k: Floats, tilt: Floats, middle: Floats, split: Floats) -> Floats:
    """Integral of F times the normal density over usage rates up to the split.

    With z the usage rate in standard deviations the log hazard at the last month is tilt (z + middle). The range is
    cut where the curve begins and ends to bend, so that each piece is smooth.
    """
    high = np.clip(split, -_REACH, _REACH + tilt)
    bends = (-middle - _EARLY / tilt, -middle + _LATE / tilt)
    cuts = [np.full(k.size, -_REACH), *(np.clip(bend, -_REACH, high) for bend in bends), high]
    total = np.zeros(k.size)
    for low, up in pairwise(cuts):
        half = ((up - low) / _PANELS / 2)[:, None, None]
        centre = low[:, None, None] + half * (2 * np.arange(_PANELS)[None, :, None] + 1)
        z = centre + half * _POINTS
        chance = _failed_by(tilt[:, None, None] * (z + middle[:, None, None]))
        density = np.exp(-z * z / 2) / np.sqrt(2 * np.pi)
        total += np.einsum("rpq,q->r", chance * density * half, _POINT_WEIGHTS)
    return total


def _failed_by(log_hazard: Floats) -> Floats:
    failed: Floats = -np.expm1(-np.exp(log_hazard))
    return failed


def _refuse(wrong: Flags, what: str, expected: str) -> None:
    if wrong.any():
        raise LivesError(f"{what}: {int(wrong.sum()):,} of {wrong.size:,} cannot be. Expected {expected}.")
