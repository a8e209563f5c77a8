"""The search for the maximum of a likelihood of several coefficients, all strata at once, and its verdict.

Coordinates are those of the likelihood. A coordinate that a stratum does not use has slope 0 and curvature -1,
so it never moves.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats

_MAX_STEPS = 100
_DECREMENT_GOAL = 1e-10  # distance to the maximum in standard errors from which one more step ends the search
_DECREMENT_OK, _SLOPE_OK = 1e-8, 1e-8  # what `ok` asks for; the slope is per failure
_DEFINITE = 1e-9  # smallest eigenvalue of the scaled information that counts as positive
VAGUE = 1e6  # variance of a coordinate (spread of a covariate 1) from which nothing is known of it


class Values(NamedTuple):
    """Log-likelihood (rows,), slope (rows, m) and curvature (rows, m, m)."""

    loglik: Floats
    slope: Floats
    curvature: Floats


Evaluate = Callable[[Codes, Floats], Values]
"""(strata, each at most once; coordinates (rows, m)) -> values; log-likelihood -inf where it cannot be computed."""


@dataclass(frozen=True)
class Bounds:
    """Lowest and highest value of each coordinate, and the most that one step may move it; shape (m,)."""

    low: Floats
    high: Floats
    reach: Floats


@dataclass
class Search:
    """Where each row of the search stands; rows are strata.   n_failures: per row, the unit of the slopes."""

    rows: Codes
    n_failures: Floats
    at: Floats
    values: Values


@dataclass(frozen=True)
class Verdict:
    """Per row whether it stands at a maximum.

    slope: largest |slope| per failure.   covariance: inverse information, NaN where not good.   variance: of each
    coordinate where the search ended, infinite where there is none.   vague: nothing is known of some coordinate.
    """

    good: Flags
    slope: Floats
    covariance: Floats
    variance: Floats
    vague: Flags


def unbounded(m: int) -> Bounds:
    """Bounds that bind nothing."""
    return Bounds(np.full(m, -np.inf), np.full(m, np.inf), np.full(m, np.inf))


def started(evaluate: Evaluate, rows: Codes, n_failures: Floats, at: Floats) -> Search:
    """A search that stands at the given coordinates."""
    return Search(rows, n_failures, at.copy(), evaluate(rows, at))


def climb(evaluate: Evaluate, search: Search, bounds: Bounds) -> None:
    """Newton steps with the curvature made negative where it is not, halved until they do not lose."""
    moving = np.flatnonzero(np.isfinite(search.values.loglik))
    for _ in range(_MAX_STEPS):
        if not moving.size:
            return
        step, decrement, _ = _newton_step(search, moving)
        shrink = np.minimum(1.0, (bounds.reach / np.maximum(np.abs(step), 1e-300)).min(axis=1, initial=1.0))
        moved = _step_with_halving(evaluate, search, moving, shrink[:, None] * step, bounds)
        at = search.at[moving]
        at_edge = ((at <= bounds.low) | (at >= bounds.high)).any(axis=1)
        # Level ground in some direction: a coefficient that grows without limit would be followed for ever.
        level = np.isinf(decrement) & (_slope_per_failure(search, moving) < _SLOPE_OK)
        moving = moving[moved & (decrement > _DECREMENT_GOAL) & ~at_edge & ~level]


def _newton_step(search: Search, at: Codes) -> tuple[Floats, Floats, Floats]:
    """Step, Newton decrement (infinite where the curvature had to be mended) and covariance of the places.

    Where the information is not definite the covariance is huge along what is not known.
    """
    slope, information = search.values.slope[at], -search.values.curvature[at]
    # In units of the curvatures themselves, so that no coordinate drowns another.
    unit = np.sqrt(np.maximum(np.abs(np.einsum("rjj->rj", information)), 1e-40))
    scaled = information / (unit[:, :, None] * unit[:, None, :])
    height, axes = np.linalg.eigh(scaled)
    smallest, largest = height[:, :1], height[:, -1:]
    definite = smallest > _DEFINITE
    mended = height + np.where(definite, 0.0, -smallest + 0.1 * np.abs(largest) + 1e-12)
    along = np.einsum("rji,rj->ri", axes, slope / unit)
    step = np.einsum("rji,ri->rj", axes, along / mended) / unit
    decrement = np.where(definite[:, 0], np.sqrt((along**2 / mended).sum(axis=1)), np.inf)
    spread = axes / unit[:, :, None]
    known = np.maximum(height, 1e-15)
    return step, decrement, (spread / known[:, None, :]) @ spread.transpose(0, 2, 1)


def _step_with_halving(evaluate: Evaluate, search: Search, moving: Codes, step: Floats, bounds: Bounds) -> Flags:
    """Moves every row that can be moved; True where it was."""
    moved = np.zeros(moving.size, np.bool_)
    waiting = np.arange(moving.size)
    factor = 1.0
    for _ in range(40):
        place = moving[waiting]
        at = np.clip(search.at[place] + factor * step[waiting], bounds.low, bounds.high)
        values = evaluate(search.rows[place], at)
        # At the top the log-likelihood cannot tell two points apart; rounding must not stop the search.
        before = search.values.loglik[place]
        good = values.loglik >= before - 1e-12 * (np.abs(before) + search.n_failures[place])
        search.at[place[good]] = at[good]
        for old, new in zip(search.values, values, strict=True):
            old[place[good]] = new[good]
        moved[waiting[good]] = True
        waiting = waiting[~good]
        if not waiting.size:
            break
        factor /= 2
    return moved


def _slope_per_failure(search: Search, at: Codes) -> Floats:
    """Largest |slope| per failure of the places."""
    largest: Floats = np.abs(search.values.slope[at]).max(axis=1, initial=0.0) / search.n_failures[at]
    return largest


def verdict(search: Search) -> Verdict:
    """Whether each row stands at a maximum: slope as good as 0, information positive definite and not vague."""
    found = np.isfinite(search.values.loglik)
    slope, decrement = np.full(found.size, np.inf), np.full(found.size, np.inf)
    covariance = np.full(search.values.curvature.shape, np.inf)
    rows = np.flatnonzero(found)
    slope[rows] = _slope_per_failure(search, rows)
    _, decrement[rows], covariance[rows] = _newton_step(search, rows)
    variance = np.einsum("rjj->rj", covariance).copy()
    vague = ~(variance.max(axis=1, initial=0.0) < VAGUE)
    good = (slope < _SLOPE_OK) & (decrement < _DECREMENT_OK) & ~vague
    covariance[~good] = np.nan
    return Verdict(good, slope, covariance, variance, vague)
