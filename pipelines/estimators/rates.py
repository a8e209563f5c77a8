"""Failures per mile with exact limits. What belongs here: rates from counts and miles, nothing about age."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import gammainccinv, gammaincinv

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Floats

Bound = Literal["two_sided", "upper", "lower"]


@dataclass(frozen=True)
class Rates:
    """One rate per stratum, failures per mile.

    status: `ok`, `no_failures` (rate 0, lower 0, upper still exact) or `too_few_at_risk` (no miles; numbers
    are NaN).
    bound says what lower and upper are: both tails, or one of them alone (the other is then 0 or infinite).
    """

    rate: Floats
    lower: Floats
    upper: Floats
    status: npt.NDArray[np.str_]
    bound: Bound
    confidence: float


def poisson_rates(
    failures: npt.ArrayLike, exposure: npt.ArrayLike, confidence: float = 0.95, bound: Bound = "two_sided"
) -> Rates:
    """Failures per unit of exposure with exact Poisson limits.

    failures, exposure: shape (n,). With no failure the lower limit is 0 and the upper is the exact two-sided
    one (3.69 / miles at 95 %), unless bound is "upper", which gives the one-sided 3.00 / miles. The exposure
    is taken as fixed.
    Raises LivesError on counts or miles below 0, or a confidence outside (0, 1).
    Source: Garwood 1936, Biometrika 28:437-442 (limits as chi-square, here gamma, quantiles).
    """
    count, miles = np.broadcast_arrays(np.asarray(failures, np.float64), np.asarray(exposure, np.float64))
    if not 0 < confidence < 1:
        raise LivesError(f"rates: confidence is {confidence}. Expected a number between 0 and 1, such as 0.95.")
    if not (np.all(count >= 0) and np.all(miles >= 0)):
        raise LivesError("rates: a count of failures or an exposure is below 0 or missing. Expected 0 or more.")
    tail = (1 - confidence) / (2 if bound == "two_sided" else 1)
    some = np.where(count > 0, count, 1.0)
    low = np.where(count > 0, gammaincinv(some, tail), 0.0) if bound != "upper" else np.zeros(count.shape)
    high = gammainccinv(count + 1, tail) if bound != "lower" else np.full(count.shape, np.inf)
    watched = miles > 0
    per_mile = 1 / np.where(watched, miles, np.nan)
    status = np.where(watched, np.where(count > 0, "ok", "no_failures"), "too_few_at_risk")
    return Rates(count * per_mile, low * per_mile, high * per_mile, status, bound, confidence)
