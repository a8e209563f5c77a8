"""The best log-likelihood with one quantity held fixed: the inner search of the likelihood-ratio limits."""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.lives import Codes, Floats
from longmile.pipelines.estimators.quantities import Path, Quantity
from longmile.pipelines.estimators.weibull_likelihood import Values

_ROUNDS = 80
_GAIN = 1e-9  # log-likelihood a further step would gain (and is credited with) at which the search stops


def highest(fits: Fits, quantity: Quantity, rows: Codes, q: Floats, n: Floats) -> tuple[Floats, Floats, Floats]:
    """Log-likelihood at its highest over the free number, its slope in q, and the free number there.

    Climbs from n; -inf and NaN where nothing can be computed at n. A Newton step is halved until it does not
    lose.
    """
    value, slope, at = np.full(rows.size, -np.inf), np.full(rows.size, np.nan), n.copy()
    top = value.copy()
    trial, step = n.copy(), np.zeros(rows.size)
    waiting = np.arange(rows.size)
    for _ in range(_ROUNDS):
        path = quantity.path(fits, rows[waiting], q[waiting], trial[waiting])
        here = fits.likelihood.evaluate(rows[waiting], path.c, path.b)
        g, bend, down = _along(here, path)
        slack = 1e-12 * (np.abs(top[waiting]) + 1.0)
        better = np.isfinite(here.loglik) & (here.loglik >= top[waiting] - slack)
        gain, move = _ascent(g, bend)
        move = quantity.held(fits, trial[waiting] + move) - trial[waiting]
        gain = np.where((move == 0) & (g != 0), 0.0, gain)
        moved = waiting[better]
        top[moved], at[moved], slope[moved] = here.loglik[better], trial[moved], down[better]
        value[moved] = (here.loglik + np.where(gain < _GAIN, gain, 0.0))[better]
        step[moved] = move[better]
        step[waiting[~better]] /= 2
        done = (better & (gain < _GAIN)) | (np.abs(step[waiting]) < 1e-12)
        waiting = waiting[~done]
        trial[waiting] = at[waiting] + step[waiting]
        if not waiting.size:
            break
    return value, slope, at


def best_look(fits: Fits, quantity: Quantity, rows: Codes, q: Floats, n: Floats) -> tuple[Floats, Floats, Floats]:
    """The same as `highest`, climbed from the best of a coarse row of looks; n where none can be computed.

    With few failures the likelihood can have a second hill, far flatter, that a search from n never meets.
    """
    value, best = np.full(rows.size, -np.inf), n.copy()
    for look in quantity.looks(fits):
        trial = np.full(rows.size, look)
        path = quantity.path(fits, rows, q, trial)
        loglik = fits.likelihood.evaluate(rows, path.c, path.b).loglik
        better = loglik > value
        value, best = np.where(better, loglik, value), np.where(better, trial, best)
    return highest(fits, quantity, rows, q, best)


def _along(at: Values, path: Path) -> tuple[Floats, Floats, Floats]:
    """Slope and curvature of the log-likelihood in the free number, and slope in q; NaN where unknown."""
    with np.errstate(invalid="ignore", over="ignore"):
        slope = at.g_c * path.c_n + at.g_b * path.b_n
        bend = at.h_cc * path.c_n**2 + 2 * at.h_cb * path.c_n * path.b_n + at.h_bb * path.b_n**2
        bend += at.g_c * path.c_nn + at.g_b * path.b_nn
        down = at.g_c * path.c_q + at.g_b * path.b_q
    return slope, bend, down


def _ascent(g: Floats, bend: Floats) -> tuple[Floats, Floats]:
    """What a Newton step in the free number would still gain, and the step, bounded."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        newton = np.where(bend < 0, -g / bend, np.sign(g))
        gain = np.where(bend < 0, g * newton / 2, np.inf)
    return gain, np.clip(np.where(np.isfinite(newton), newton, 0.0), -1.5, 1.5)
