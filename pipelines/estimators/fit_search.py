"""The search for the maximum of a two-parameter likelihood, all strata at once, and its verdict.

A fit says `ok` only where the slope is as good as 0 and the information is positive definite; a likelihood
with no maximum is recognised and named, never forced.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.distributions import Distribution
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles
from longmile.pipelines.estimators.weibull_likelihood import Values

B_LOW, B_HIGH = float(np.log(1e-3)), float(np.log(1e4))  # log shape beyond these counts as without limit
_STEEP = float(np.log(100))  # a search that ends without a maximum beyond this shape was climbing a step
_MAX_STEPS = 100
_DECREMENT_GOAL = 1e-10  # distance to the maximum in standard errors at which the search stops
_DECREMENT_OK, _SLOPE_OK = 1e-8, 1e-8  # what `ok` asks for; the slope is per failure
_DEFINITE = 1e-9  # smallest eigenvalue of the scaled information that counts as positive
_VAGUE = 1e6  # variance of log shape (a factor e^1000) from which there is no information on the shape


class Likelihood(Protocol):
    """What the search needs of a likelihood in the inside coordinates (c, b)."""

    @property
    def log_ref(self) -> Floats:
        """Log reference mileage per stratum."""

    @property
    def failures(self) -> Floats:
        """Failures per stratum."""

    def evaluate(self, rows: Codes, c: Floats, b: Floats) -> Values:
        """Log-likelihood with slopes and curvatures; -inf where it cannot be computed."""


@dataclass(frozen=True)
class Fits:
    """One fit per stratum, shape (n_strata,) throughout; numbers are NaN where status is not `ok`.

    shape = 1 / sigma and scale = exp(mu) of log T = mu + sigma Z: for a Weibull its own shape and scale, for a
    lognormal or a log-logistic the scale is the median.

    status: `ok`, `no_failures`, `too_few_at_risk` (no miles), `thin` (fewer than two failures),
    `did_not_converge`.
    reason: "" or, for the last two, `one_failure`, `shape_rises_without_limit` (all failures at one mileage,
    or a perfect split between sound and failed), `shape_falls_to_zero`, `search_ended`.
    se_*: standard errors from the observed information.   cov_log: covariance of log scale and log shape.
    c, b, cov_*: the same fit in the inside coordinates of the likelihood.   slope: largest |slope| per
    failure.
    """

    status: npt.NDArray[np.str_]
    reason: npt.NDArray[np.str_]
    shape: Floats
    scale: Miles
    log_likelihood: Floats
    se_log_shape: Floats
    se_log_scale: Floats
    cov_log: Floats
    slope: Floats
    failures: Floats
    c: Floats
    b: Floats
    cov_cc: Floats
    cov_cb: Floats
    cov_bb: Floats
    likelihood: Likelihood
    distribution: Distribution

    @property
    def aic(self) -> Floats:
        """Akaike's criterion, 2 x parameters - 2 x log-likelihood; NaN where there is no fit."""
        return 4 - 2 * self.log_likelihood

    @property
    def ok(self) -> Flags:
        """True where the fit can be used."""
        flags: Flags = self.status == "ok"
        return flags


@dataclass
class Search:
    """Where each row of the search stands; rows are strata."""

    rows: Codes
    c: Floats
    b: Floats
    at: Values


def climb(likelihood: Likelihood, search: Search) -> None:
    """Newton steps with the curvature made negative where it is not, halved until they do not lose."""
    active = np.flatnonzero(np.isfinite(search.at.loglik))
    for _ in range(_MAX_STEPS):
        here = Values(*(value[active] for value in search.at))
        step_c, step_b, decrement = _newton_step(here)
        at_edge = np.clip(search.b[active] + step_b, B_LOW, B_HIGH) == search.b[active]
        at_edge &= (search.b[active] <= B_LOW) | (search.b[active] >= B_HIGH)
        going = (decrement > _DECREMENT_GOAL) & ~at_edge
        # c follows a rising shape in proportion, so it may move by as much as it measures.
        reach = np.maximum(np.abs(step_b), np.abs(step_c) / (2 + np.abs(search.c[active])))
        shrink = np.minimum(1.0, 1.5 / np.maximum(reach, 1e-300))
        active, step_c, step_b = active[going], (shrink * step_c)[going], (shrink * step_b)[going]
        if not active.size:
            return
        moved = _step_with_halving(likelihood, search, active, step_c, step_b)
        active = active[moved]


def _newton_step(at: Values) -> tuple[Floats, Floats, Floats]:
    """Step in c and b, and the Newton decrement (infinite where the curvature had to be mended)."""
    # In units of the curvatures themselves, so that neither number drowns the other.
    unit_c, unit_b = np.sqrt(np.maximum(np.abs(at.h_cc), 1e-12)), np.sqrt(np.maximum(np.abs(at.h_bb), 1e-12))
    cc, cb, bb = -at.h_cc / unit_c**2, -at.h_cb / (unit_c * unit_b), -at.h_bb / unit_b**2
    g_c, g_b = at.g_c / unit_c, at.g_b / unit_b
    smallest, largest = _eigenvalues(cc, cb, bb)
    definite = smallest > _DEFINITE
    lift = np.where(definite, 0.0, -smallest + 0.1 * np.abs(largest) + 1e-12)
    cc, bb = cc + lift, bb + lift
    det = cc * bb - cb * cb
    step_c, step_b = (bb * g_c - cb * g_b) / det, (cc * g_b - cb * g_c) / det
    gain = np.maximum(step_c * g_c + step_b * g_b, 0.0)
    return step_c / unit_c, step_b / unit_b, np.where(definite, np.sqrt(gain), np.inf)


def _eigenvalues(cc: Floats, cb: Floats, bb: Floats) -> tuple[Floats, Floats]:
    middle = (cc + bb) / 2
    reach = np.hypot((cc - bb) / 2, cb)
    largest = middle + reach
    # The smaller one from the determinant: the difference would lose its digits.
    positive = largest > 0
    smallest = np.where(positive, (cc * bb - cb * cb) / np.where(positive, largest, 1.0), middle - reach)
    return smallest, largest


def _step_with_halving(likelihood: Likelihood, search: Search, active: Codes, step_c: Floats, step_b: Floats) -> Flags:
    """Moves every active row that can be moved; True where it was."""
    moved = np.zeros(active.size, np.bool_)
    waiting = np.arange(active.size)
    factor = 1.0
    for _ in range(40):
        place = active[waiting]
        c = search.c[place] + factor * step_c[waiting]
        b = np.clip(search.b[place] + factor * step_b[waiting], B_LOW, B_HIGH)
        values = likelihood.evaluate(search.rows[place], c, b)
        # At the top the log-likelihood cannot tell two points apart; rounding must not stop the search.
        slack = 1e-12 * (np.abs(search.at.loglik[place]) + likelihood.failures[search.rows[place]])
        good = values.loglik >= search.at.loglik[place] - slack
        replace(search, place[good], c[good], b[good], Values(*(value[good] for value in values)), scattered=True)
        moved[waiting[good]] = True
        waiting = waiting[~good]
        if not waiting.size:
            break
        factor /= 2
    return moved


def replace(search: Search, at: Codes, c: Floats, b: Floats, values: Values, *, scattered: bool = False) -> None:
    """Writes new positions into the search; scattered: the given arrays hold only the elements at `at`."""
    pick: Codes | slice = slice(None) if scattered else at
    search.c[at], search.b[at] = c[pick], b[pick]
    for old, new in zip(search.at, values, strict=True):
        old[at] = new[pick]


def nothing(n: int) -> Values:
    """Values before anything was evaluated."""
    return Values(np.full(n, -np.inf), *(np.zeros(n) for _ in range(5)))


def judged(likelihood: Likelihood, distribution: Distribution, watched: Flags, search: Search) -> Fits:
    """The fits with their status, from where the search ended."""
    n = likelihood.failures.size
    slope, decrement = _distance_to_top(likelihood, search)
    edge_up, edge_down = search.b >= B_HIGH, search.b <= B_LOW
    vague = ~(_covariance(search.at, np.isfinite(decrement))[2] < _VAGUE)
    good = (slope < _SLOPE_OK) & (decrement < _DECREMENT_OK) & ~vague & ~edge_up & ~edge_down
    rising = edge_up | (vague & (search.b > 0)) | (search.b > _STEEP)
    why = np.where(rising, "shape_rises_without_limit", np.where(edge_down, "shape_falls_to_zero", "search_ended"))
    status = np.where(likelihood.failures > 0, "thin", "no_failures").astype("<U32")
    status[~watched] = "too_few_at_risk"
    reason = np.where(status == "thin", "one_failure", "").astype("<U32")
    status[search.rows] = np.where(good, "ok", "did_not_converge")
    reason[search.rows] = np.where(good, "", why)
    cov = _covariance(search.at, good)
    b, c = np.where(good, search.b, np.nan), np.where(good, search.c, np.nan)
    k = np.exp(b)
    # log scale = log ref - c / k, so its slopes in c and b are -1 / k and c / k.
    scale_var = (cov[0] - 2 * c * cov[1] + c**2 * cov[2]) / k**2
    numbers = {
        "shape": k,
        "scale": np.exp(likelihood.log_ref[search.rows] - c / k),
        "log_likelihood": np.where(good, search.at.loglik, np.nan),
        "se_log_shape": np.sqrt(cov[2]),
        "se_log_scale": np.sqrt(scale_var),
        "cov_log": (c * cov[2] - cov[1]) / k,
        "slope": slope,
        "c": c,
        "b": b,
        "cov_cc": cov[0],
        "cov_cb": cov[1],
        "cov_bb": cov[2],
    }
    spread = {name: _spread(n, search.rows, values) for name, values in numbers.items()}
    return Fits(
        status, reason, failures=likelihood.failures, likelihood=likelihood, distribution=distribution, **spread
    )


def _distance_to_top(likelihood: Likelihood, search: Search) -> tuple[Floats, Floats]:
    """Slope per failure and Newton decrement per row searched; infinite where there is no likelihood."""
    at = search.at
    slope = np.maximum(np.abs(at.g_c), np.abs(at.g_b)) / likelihood.failures[search.rows]
    found = np.isfinite(at.loglik)
    decrement = _newton_step(Values(*(np.where(found, value, 1.0) for value in at)))[2]
    return np.where(found, slope, np.inf), np.where(found, decrement, np.inf)


def _covariance(at: Values, good: Flags) -> Floats:
    """Inverse of the observed information as (cc, cb, bb), NaN where the fit is not good."""
    det = np.where(good, at.h_cc * at.h_bb - at.h_cb**2, np.nan)
    return np.stack([-at.h_bb / det, at.h_cb / det, -at.h_cc / det])


def _spread(n: int, rows: Codes, values: Floats) -> Floats:
    out = np.full(n, np.nan)
    out[rows] = values
    return out
