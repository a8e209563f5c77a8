"""The top of the likelihood along a held shape's hazard level, and where it has fallen by so much; all strata."""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.held_likelihood import HeldLikelihood
from longmile.pipelines.estimators.lives import Codes, Flags, Floats

_ROUNDS = 100
_FAR = 40.0  # a step beyond which the level has left anything that can be told from 0 or from certainty
_SMALL = 1e-12  # a Newton step as short as this is the last one


def highest(held: HeldLikelihood, rows: Codes, start: Floats) -> Floats:
    """Level y at which the likelihood of each asked stratum is highest, by Newton steps kept between its sides.

    The likelihood is concave, so its slope says on which side the top lies.
    """
    y, low, high = start.copy(), np.full(rows.size, -np.inf), np.full(rows.size, np.inf)
    active = np.arange(rows.size)
    for _ in range(_ROUNDS):
        at = held.along(rows[active], y[active])
        low[active] = np.where(at.slope > 0, y[active], low[active])
        high[active] = np.where(at.slope < 0, y[active], high[active])
        with np.errstate(divide="ignore", invalid="ignore"):
            newton = np.clip(-at.slope / at.bend, -1.0, 1.0)
        newton = np.where(np.isfinite(newton), newton, np.sign(at.slope))
        y[active], going = stepped(y[active], newton, low[active], high[active])
        active = active[going & (np.abs(y[active] - start[active]) < _FAR)]
        if not active.size:
            break
    return y


def fallen(held: HeldLikelihood, rows: Codes, top: Floats, side: float, fall: Floats) -> Floats:
    """Level on one side (-1 or +1) of the top where twice the log-likelihood has fallen by fall^2.

    Newton on the root of the fall, which is nearly a straight line; halved or doubled where it errs. Infinite where
    the likelihood never falls so far.
    """
    best = held.along(rows, top)
    reach = np.minimum(fall / np.sqrt(-best.bend), 2.0)
    y, near, far = top + side * reach, top.copy(), np.full(rows.size, side * np.inf)
    active = np.arange(rows.size)
    for _ in range(_ROUNDS):
        at = held.along(rows[active], y[active])
        short = np.sqrt(np.maximum(2 * (best.loglik[active] - at.loglik), 0.0))
        inside = short < fall[active]
        near[active] = np.where(inside, y[active], near[active])
        far[active] = np.where(inside, far[active], y[active])
        with np.errstate(divide="ignore", invalid="ignore"):
            newton = (short - fall[active]) * short / at.slope
        low, high = (near, far) if side > 0 else (far, near)
        outward = np.where(np.isfinite(newton), newton, side)
        y[active], going = stepped(y[active], np.clip(outward, -2.0, 2.0), low[active], high[active])
        endless = np.abs(y[active] - top[active]) >= _FAR
        y[active[endless]] = side * np.inf
        active = active[going & ~endless]
        if not active.size:
            break
    return y


def stepped(y: Floats, step: Floats, low: Floats, high: Floats) -> tuple[Floats, Flags]:
    """Y + step, or the middle of the two sides where that would lie outside them; and whether to go on."""
    target = y + step
    going = np.abs(step) > _SMALL * (1 + np.abs(y))
    bracketed = np.isfinite(low) & np.isfinite(high)
    middle = np.where(bracketed, (np.where(bracketed, low, 0.0) + np.where(bracketed, high, 0.0)) / 2, target)
    return np.where(going & ((target <= low) | (target >= high)), middle, target), going
