"""Likelihood-ratio limits: a quantity is walked outward until the best likelihood has fallen far enough.

All strata and both sides are walked at once; each round works only on the ends not yet found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.fit_search import B_HIGH, B_LOW, Fits
from longmile.pipelines.estimators.lives import Codes, Flags, Floats
from longmile.pipelines.estimators.profile_top import best_look, highest
from longmile.pipelines.estimators.quantities import Limits, Quantity, working_se

_FAR = 20.0  # working values further than this from the estimate (a factor of 5e8) count as without limit
_ROUNDS = 80
_JUMP = 1.0  # a free number this far from where it was expected has gone to another hill
_DEEP = 25.0  # times the fall looked for: a likelihood this low is looked at again
_HILLS = 3  # times a walk is taken up again
_VAGUE = 0.25  # standard error of log shape from which a second hill is looked for


@dataclass
class _Walk:
    """One end per element: rows are strata, side -1 or +1; it stands at q, n; near and far enclose it.

    fall: root of the fall in twice the log-likelihood that is looked for.
    """

    rows: Codes
    side: Floats
    fall: Floats
    best: Floats
    estimate: Floats
    tilt: Floats
    q: Floats
    n: Floats
    near: Floats
    n_near: Floats
    far: Floats


def profile_limits(fits: Fits, quantity: Quantity, confidence: float = 0.95, threshold: Floats | None = None) -> Limits:
    """Estimate and likelihood-ratio limits (chi-square, one degree of freedom).

    threshold: root of the fall in twice the log-likelihood, one per stratum (default: the normal quantile of the
    confidence, 1.96 at 95 %). See `Limits` for a side without a limit.
    Source: Meeker & Escobar 1998, sections 8.2 to 8.4.
    """
    if np.any(fits.se_log_shape[fits.ok] == 0):
        raise LivesError("profile: the shape of these fits was given. Expected fits that found it; see hazard_limits.")
    estimate = quantity.value(fits)
    se, tilt = working_se(fits, quantity)
    ok = np.flatnonzero(fits.ok & np.isfinite(estimate))
    fall = np.full(estimate.size, ndtri(0.5 + confidence / 2)) if threshold is None else threshold
    walk = _at_start(fits, quantity, np.tile(ok, 2), np.repeat([-1.0, 1.0], ok.size), fall, se, tilt)
    found = np.full(walk.rows.size, np.nan)
    _walk_out(fits, quantity, walk, found, np.arange(walk.rows.size))
    # A limit on one hill is none if another hill still stands high enough there: the walk goes on from it.
    for _ in range(0 if _shape_is_held(quantity, fits) else _HILLS):
        again = _second_hill(fits, quantity, walk, found)
        _walk_out(fits, quantity, walk, found, again)
    low, high = np.full(estimate.size, np.nan), np.full(estimate.size, np.nan)
    low[ok], high[ok] = found[: ok.size], found[ok.size :]
    ends = quantity.shown(fits, low), quantity.shown(fits, high)
    lower, upper = ends[::-1] if quantity.falls else ends
    return Limits(quantity.shown(fits, estimate), se, lower, upper, "profile", confidence)


def _at_start(
    fits: Fits, quantity: Quantity, rows: Codes, side: Floats, fall: Floats, se: Floats, tilt: Floats
) -> _Walk:
    """First guesses: the Wald limits, no further off than a factor of e^2."""
    estimate, free = quantity.value(fits)[rows], quantity.free(fits)[rows]
    start = np.clip(side * fall[rows] * se[rows], -2.0, 2.0)
    return _Walk(
        rows=rows,
        side=side,
        fall=fall[rows],
        best=fits.log_likelihood[rows],
        estimate=estimate,
        tilt=tilt[rows],
        q=estimate + start,
        n=quantity.held(fits, free + tilt[rows] * start),
        near=estimate.copy(),
        n_near=free.copy(),
        far=np.full(rows.size, np.nan),
    )


def _walk_out(fits: Fits, quantity: Quantity, walk: _Walk, found: Floats, active: Codes) -> None:
    """Fills found at active: working values, infinite without a limit, NaN where the search gave out."""
    found[active] = np.nan
    for _ in range(_ROUNDS):
        if not active.size:
            return
        z = walk.fall[active]
        top, slope, n = _top(fits, quantity, walk, active)
        short = np.sqrt(np.maximum(2 * (walk.best[active] - top), 0.0)) - z
        inside = short < 0
        _bracket(walk, active, n, inside)
        step, settled, collapsed = _next_step(walk, active, short, slope, z)
        endless = inside & (np.abs(walk.q[active] - walk.estimate[active]) >= _FAR * (1 - 1e-9))
        endless |= inside & _beyond_shape(fits, quantity, walk, active)
        _move(fits, quantity, walk, active, step, n)
        found[active] = np.where(settled, walk.q[active], found[active])
        found[active] = np.where(endless & ~settled, walk.side[active] * np.inf, found[active])
        active = active[~settled & ~endless & ~collapsed]


def _top(fits: Fits, quantity: Quantity, walk: _Walk, active: Codes) -> tuple[Floats, Floats, Floats]:
    """Highest log-likelihood where each end stands; looked for anew where the search lost its hill."""
    top, slope, n = highest(fits, quantity, walk.rows[active], walk.q[active], walk.n[active])
    if _shape_is_held(quantity, fits):
        return top, slope, n
    z = walk.fall[active]
    fall = 2 * (walk.best[active] - top)
    lost = (fall > z * z) & _jumped(walk, active, n) | (fall > _DEEP * z * z)
    at = active[lost]
    looked = best_look(fits, quantity, walk.rows[at], walk.q[at], walk.n_near[at])
    better = looked[0] > top[lost]
    for ours, theirs in zip((top, slope, n), looked, strict=True):
        ours[lost] = np.where(better, theirs, ours[lost])
    return top, slope, n


def _bracket(walk: _Walk, active: Codes, n: Floats, inside: Flags) -> None:
    """Moves the near or the far end here; the way n goes with q is taken anew from the last two near ends."""
    gone = walk.q[active] - walk.near[active]
    moved = inside & (np.abs(gone) > 1e-6)
    tilt = (n - walk.n_near[active]) / np.where(moved, gone, 1.0)
    walk.tilt[active] = np.where(moved, tilt, walk.tilt[active])
    walk.near[active] = np.where(inside, walk.q[active], walk.near[active])
    walk.n_near[active] = np.where(inside, n, walk.n_near[active])
    walk.far[active] = np.where(inside, walk.far[active], walk.q[active])


def _move(fits: Fits, quantity: Quantity, walk: _Walk, active: Codes, step: Floats, n: Floats) -> None:
    """Stands at the next q, with a free number followed from here, or from the near end if it jumped."""
    q, estimate = walk.q[active], walk.estimate[active]
    target = np.clip(q + step, estimate - _FAR, estimate + _FAR)
    jumped = _jumped(walk, active, n)
    here_q, here_n = np.where(jumped, walk.near[active], q), np.where(jumped, walk.n_near[active], n)
    walk.n[active] = quantity.held(fits, here_n + walk.tilt[active] * (target - here_q))
    walk.q[active] = target


def _jumped(walk: _Walk, active: Codes, n: Floats) -> Flags:
    expected = walk.n_near[active] + walk.tilt[active] * (walk.q[active] - walk.near[active])
    jumped: Flags = ~(np.abs(n - expected) < _JUMP)
    return jumped


def _next_step(walk: _Walk, active: Codes, short: Floats, slope: Floats, z: Floats) -> tuple[Floats, Flags, Flags]:
    """Step in q, whether it is the last, and whether the bracket closed on nothing.

    A Newton step on the root of the fall, which is nearly a straight line; halving or doubling where it errs.
    """
    q, side, near, far = walk.q[active], walk.side[active], walk.near[active], walk.far[active]
    away = q - walk.estimate[active]
    with np.errstate(divide="ignore", invalid="ignore"):
        newton = short * (short + z) / slope
        small = np.abs(newton) < 1e-9 * np.maximum(1.0, np.abs(away))
    target = q + newton
    bracketed = ~np.isnan(far)
    within = (side * (target - near) > 0) & (side * (far - target) > 0)
    onward = (side * newton > 0) & (np.abs(away + newton) <= 2.5 * np.abs(away))
    chosen = np.where(bracketed, np.where(within, newton, (near + far) / 2 - q), np.where(onward, newton, 1.5 * away))
    collapsed = bracketed & (np.abs(far - near) < 1e-11 * np.maximum(1.0, np.abs(q))) & ~small
    return np.where(small, np.where(within | ~bracketed, newton, 0.0), chosen), small, collapsed


def _second_hill(fits: Fits, quantity: Quantity, walk: _Walk, found: Floats) -> Codes:
    """Ends at which another hill stands above the line; each is set to go on walking from there.

    Looked for where the shape is vague, and where a bracket closed on a step: the far side had missed a hill.
    """
    where = np.where(np.isnan(found), walk.far, found)
    doubt = np.isnan(found) | (fits.se_log_shape[walk.rows] > _VAGUE)
    at = np.flatnonzero(doubt & np.isfinite(where))
    top, _, n = best_look(fits, quantity, walk.rows[at], where[at], walk.n_near[at])
    higher = 2 * (walk.best[at] - top) < walk.fall[at] ** 2 * (1 - 1e-6)
    again = at[higher]
    walk.near[again], walk.n_near[again], walk.far[again] = where[again], n[higher], np.nan
    walk.q[again], walk.n[again] = where[again] + walk.side[again] * 0.5, n[higher]
    return again


def _shape_is_held(quantity: Quantity, fits: Fits) -> bool:
    """True for the shape itself: with the shape fixed, the likelihood has one hill."""
    return quantity.free(fits) is fits.c


def _beyond_shape(fits: Fits, quantity: Quantity, walk: _Walk, active: Codes) -> Flags:
    """True where the quantity is the shape and has left the range in which a shape means anything."""
    if not _shape_is_held(quantity, fits):
        return np.zeros(active.size, np.bool_)
    return (walk.q[active] < B_LOW) | (walk.q[active] > B_HIGH)
