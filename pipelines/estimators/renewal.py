"""Expected replacements of a Weibull part that is renewed at every failure. Known curves in, numbers out."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from scipy.special import gammaln

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Floats, Miles

_SERIES_TO = 12.0  # (t / scale)^shape up to which the power series keeps ten digits
_TERMS = 80
_STEPS = 64  # of the coarsest grid, for ten scales at shape 10; longer and steeper curves get four times as many
_FINEST = 3  # times the steps may be made four times as many
_CHUNK = 1 << 20  # grid values held at once: bounds memory, not results


def expected_replacements(shape: npt.ArrayLike, scale: npt.ArrayLike, t: npt.ArrayLike) -> Floats:
    """Expected number of replacements by mileage t of a socket that held a new part at 0, a new one each time.

    shape, scale, t: broadcast against each other; t may be 0. Better than 1e-7 of the number for shapes from 0.1 to
    10, however long. It is what a promise that renews the part costs on average, in parts; the chance of at least
    one replacement is 1 - S(t), which is less.
    Raises LivesError unless shape and scale are above 0, t is 0 or more, and all are finite.
    Source: power series Smith & Leadbetter 1963, Technometrics 5:393-396; further out the renewal equation on a
    grid of midpoints, Xie 1989, Commun. Stat. Simul. 18:281-293, extrapolated to steps of 0.
    """
    k, eta, to = np.broadcast_arrays(*(np.asarray(value, np.float64) for value in (shape, scale, t)))
    _check(k, eta, to)
    rows = k.ravel(), (to / eta).ravel()
    with np.errstate(over="ignore"):
        near = rows[1] ** rows[0] <= _SERIES_TO
    found = np.zeros(rows[0].size)
    found[near] = _chunked(_by_series, _TERMS, rows[0][near], rows[1][near])
    found[~near] = _further_out(rows[0][~near], rows[1][~near])
    return found.reshape(k.shape)


def _chunked(replacements: Callable[[Floats, Floats], Floats], width: int, k: Floats, t: Floats) -> Floats:
    """Replacements of all curves, a chunk of them at a time, each taking so many numbers."""
    most = max(_CHUNK // width, 1)
    parts = [replacements(k[low : low + most], t[low : low + most]) for low in range(0, k.size, most)]
    return np.concatenate(parts) if parts else np.zeros(0)


def _check(k: Floats, eta: Miles, to: Miles) -> None:
    wrong = ~(np.isfinite(k) & np.isfinite(eta) & np.isfinite(to) & (k > 0) & (eta > 0) & (to >= 0))
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"replacements: {int(wrong.sum()):,} of {wrong.size:,} curves cannot be (first: shape "
            f"{k.flat[at]:g}, scale {eta.flat[at]:g}, to {to.flat[at]:g}). Expected "
            "shape and scale above 0, t 0 or more."
        )


def _by_series(k: Floats, t: Floats) -> Floats:
    """Sum of (-1)^(n-1) a_n t^(k n), a_n = A_n / Gamma(1 + n k).

    The recursion for a_n itself, each term a ratio of gamma functions, stays in range where A_n would not.
    """
    n = np.arange(_TERMS + 1)
    log_gamma, log_factorial = gammaln(1 + np.multiply.outer(n, k)), gammaln(1.0 + n)
    a = np.zeros((_TERMS + 1, k.size))
    for m in range(1, _TERMS + 1):
        j = n[1:m]
        ratio = np.exp(log_gamma[j] - log_factorial[j, None] + log_gamma[m - j] - log_gamma[m])
        a[m] = np.exp(-log_factorial[m]) - np.einsum("jr,jr->r", ratio, a[m - j])
    powers = -((-(t**k)) ** n[:, None])
    total: Floats = np.einsum("nr,nr->r", powers[1:], a[1:])
    return total


def _further_out(k: Floats, t: Floats) -> Floats:
    """Beyond the series: grids as fine as the curve asks for; where none would do, the straight line it nears."""
    found = np.zeros(k.size)
    asked = np.ceil(np.log(np.maximum(t / 10 * np.maximum(k / 10, 1.0), 1.0)) / np.log(4))
    for finer in range(_FINEST + 1):
        at = np.flatnonzero(asked == finer)
        found[at] = _extrapolated(k[at], t[at], _STEPS * 4**finer)
    far = asked > _FINEST
    found[far] = _line(k[far], t[far])
    return found


def _extrapolated(k: Floats, t: Floats, steps: int) -> Floats:
    """Grids of 1, 2, 4 and 8 times the steps; the errors go with the steps to the powers 2, 1 + k and 4."""
    made = [_chunked(partial(_on_grid, steps=n), n, k, t) for n in (steps, 2 * steps, 4 * steps, 8 * steps)]
    for power in (np.full(k.size, 2.0), 1 + k, np.full(k.size, 4.0)):
        made = [fine + (fine - coarse) / np.expm1(power * np.log(2)) for coarse, fine in pairwise(made)]
    return made[0]


def _on_grid(k: Floats, t: Floats, steps: int) -> Floats:
    """Sum of the D_i with sum over j <= i of S((i - j + 1/2) h) D_j = F(i h): replacements per step, midpoints."""
    step = (t / steps)[:, None]
    i = np.arange(steps)
    with np.errstate(over="ignore", under="ignore"):
        survival = np.exp(-(((i + 0.5) * step) ** k[:, None]))
        failed = -np.expm1(-(((i + 1) * step) ** k[:, None]))
    for m in range(steps):
        before = np.einsum("rj,rj->r", failed[:, :m], survival[:, m:0:-1])
        failed[:, m] = (failed[:, m] - before) / survival[:, 0]
    total: Floats = failed.sum(axis=1)
    return total


def _line(k: Floats, t: Floats) -> Floats:
    """The elementary renewal line t / mean + (spread^2 - 1) / 2, spread = standard deviation / mean."""
    log_mean = gammaln(1 + 1 / k)
    second = np.exp(gammaln(1 + 2 / k) - 2 * log_mean)
    replaced: Floats = t / np.exp(log_mean) + second / 2 - 1
    return replaced
