"""Shares with limits: how many of n. What belongs here: counts of cases, nothing about miles or age."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import betaincinv, ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.rates import Bound

ShareMethod = Literal["exact", "wilson"]


@dataclass(frozen=True)
class Shares:
    """One share per element.

    status: `ok`, `no_failures` (none of n; the upper limit still holds) or `too_few_at_risk` (n is 0; numbers are
    NaN).   bound: both tails, or the one that lower or upper leaves alone (the other end is then 0 or 1).
    method: `exact` leaves at most the stated share outside, whatever the truth; `wilson` about that share.
    """

    share: Floats
    lower: Floats
    upper: Floats
    status: npt.NDArray[np.str_]
    bound: Bound
    method: ShareMethod
    confidence: float


def binomial_shares(
    cases: npt.ArrayLike,
    n: npt.ArrayLike,
    confidence: float = 0.95,
    bound: Bound = "two_sided",
    method: ShareMethod = "exact",
) -> Shares:
    """Cases / n with limits, elementwise.

    Raises LivesError unless 0 <= cases <= n and 0 < confidence < 1.
    Source: Clopper & Pearson 1934, Biometrika 26:404-413 (exact, here as beta quantiles); Wilson 1927, J. Am.
    Stat. Assoc. 22:209-212, without continuity correction.
    """
    x, of = np.broadcast_arrays(np.asarray(cases, np.float64), np.asarray(n, np.float64))
    if not 0 < confidence < 1:
        raise LivesError(f"shares: confidence is {confidence}. Expected a number between 0 and 1, such as 0.95.")
    wrong = ~((x >= 0) & (x <= of) & np.isfinite(of))
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"shares: {int(wrong.sum()):,} of {wrong.size:,} cannot be (first: {x.flat[at]:g} of {of.flat[at]:g}). "
            "Expected from 0 to n cases."
        )
    tail = (1 - confidence) / (2 if bound == "two_sided" else 1)
    looked = of > 0
    size = np.where(looked, of, 1.0)
    lower, upper = _exact(x, size, tail) if method == "exact" else _wilson(x, size, tail)
    lower = np.zeros(x.shape) if bound == "upper" else lower
    upper = np.ones(x.shape) if bound == "lower" else upper
    status = np.where(looked, np.where(x > 0, "ok", "no_failures"), "too_few_at_risk")
    share, low, high = (np.where(looked, value, np.nan) for value in (x / size, lower, upper))
    return Shares(share, low, high, status, bound, method, confidence)


def _exact(x: Floats, n: Floats, tail: float) -> tuple[Floats, Floats]:
    some, rest = x > 0, x < n
    low = betaincinv(np.where(some, x, 1.0), n - np.where(some, x, 1.0) + 1, tail)
    high = betaincinv(np.where(rest, x, 0.0) + 1, n - np.where(rest, x, 0.0), 1 - tail)
    return np.where(some, low, 0.0), np.where(rest, high, 1.0)


def _wilson(x: Floats, n: Floats, tail: float) -> tuple[Floats, Floats]:
    z2 = float(ndtri(tail)) ** 2
    middle = x + z2 / 2
    reach = np.sqrt(z2 * (x * (n - x) / n + z2 / 4))
    # With no case, or nothing but cases, the limit on that side is the share itself; rounding must not hide it.
    low = np.where(x > 0, (middle - reach) / (n + z2), 0.0)
    return low, np.where(x < n, (middle + reach) / (n + z2), 1.0)
