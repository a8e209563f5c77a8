"""Miles a part of unknown age still runs: a table of the remaining life in a vehicle first seen at some mileage.

The socket was filled anew at mile 0 and at every failure since; the part found at m scales has what a Weibull
renewal process leaves at m (Cox 1962, Renewal Theory, section 5.1):
P(remaining > x) = S(m + x) + integral from 0 to m of S(a + x) h(m - a) da, h the renewal density. Scale 1 here.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np
from scipy.ndimage import spline_filter
from scipy.special import beta, betainc

from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.renewal_density import renewal_density

SHAPES = 0.4, 7.0
"""Shapes between which the table holds; outside it is read at its edge."""
_MILEAGES, _REMAINING = (1e-3, 60.0), (1e-4, 60.0)  # scales
_STEPS = 0.12, 0.2, 0.25  # of log shape, and of place(log mileage) and place(log remaining)
_PADDING = 3  # nodes beyond each edge, where the spline is not to be trusted
_NODES, _GRADING = 48, 4  # of the integral over ages, thickened towards both of its ends
_NEGLIGIBLE = 38.0  # cumulative hazard at which a part is as good as gone
_LINEAR = 6.0  # scales up to which the nodes are about evenly spaced in miles: replacements come in rhythm


class OfAge(NamedTuple):
    """A number with its derivatives in s (both mileages grow by e^s at fixed scale) and in b = log shape."""

    value: Floats
    s: Floats
    b: Floats
    ss: Floats
    sb: Floats
    bb: Floats


@dataclass(frozen=True)
class ResidualTable:
    """Cubic splines over (log shape, mileage at first sight, remaining miles); build with `residual_table()`.

    hazard: log of the cumulative hazard over the remaining miles; rate: log of its density at their end. Both less
    what they were if the part were the first one, and its age the mileage: the difference is smooth and dies out
    at small mileages.
    """

    hazard: Floats
    rate: Floats
    start: tuple[float, float, float]

    def read(self, spline: Floats, b: Floats, log_mileage: Floats, log_remaining: Floats) -> OfAge:
        """One of the two splines at any places, all of shape (n,)."""
        along = _weights(_held(b, SHAPES), self.start[0], _STEPS[0], spline.shape[0])
        mile = _scaled(log_mileage, _MILEAGES, self.start[1], _STEPS[1], spline.shape[1])
        rest = _scaled(log_remaining, _REMAINING, self.start[2], _STEPS[2], spline.shape[2])
        at = (along.first * spline.shape[1] + mile.first) * spline.shape[2] + rest.first
        four = np.arange(4)
        offset = (four[:, None, None] * spline.shape[1] + four[:, None]) * spline.shape[2] + four
        block = spline.ravel()[at[:, None] + offset.ravel()].reshape(-1, 4, 16)
        both = np.stack(
            [
                _product(mile.w, rest.w),
                _product(mile.slope, rest.w) + _product(mile.w, rest.slope),
                _product(mile.bend, rest.w) + 2 * _product(mile.slope, rest.slope) + _product(mile.w, rest.bend),
            ],
            axis=2,
        )
        found = np.stack([along.w, along.slope, along.bend], axis=1) @ block @ both
        return OfAge(found[:, 0, 0], found[:, 0, 1], found[:, 1, 0], found[:, 0, 2], found[:, 1, 1], found[:, 2, 0])


@cache
def residual_table() -> ResidualTable:
    """The table, computed once a process (one to two seconds).

    Errors against the integral itself, as measured: mostly below 1e-5; at worst, of the log hazard, 1e-4 up to a shape
    of 2.3, 2e-4 at 3, 1e-3 at 4.3 and 0.1 at 6, about five times as much of the log rate. They change sign from
    mileage to mileage.
    """
    start = (float(np.log(SHAPES[0])) - _PADDING * _STEPS[0], *_ends(_MILEAGES, 1)[:1], *_ends(_REMAINING, 2)[:1])
    b = np.arange(start[0], np.log(SHAPES[1]) + (_PADDING + 1) * _STEPS[0], _STEPS[0])
    mileage, remaining = (
        np.exp(_unplace(np.arange(*_ends(span, axis), _STEPS[axis])))
        for axis, span in ((1, _MILEAGES), (2, _REMAINING))
    )
    pairs = [residual(float(shape), mileage, remaining) for shape in np.exp(b)]
    naive = [naive_residual(float(shape), mileage, remaining) for shape in np.exp(b)]
    hazard, rate = (
        np.stack([np.log(pair[i]) - np.log(old[i]) for pair, old in zip(pairs, naive, strict=True)]) for i in (0, 1)
    )
    return ResidualTable(spline_filter(hazard, 3, mode="mirror"), spline_filter(rate, 3, mode="mirror"), start)


def residual(shape: float, mileage: Floats, remaining: Floats) -> tuple[Floats, Floats]:
    """Cumulative hazard over the remaining miles and hazard at their end; (mileages, remainings), scale 1."""
    k, m, x = shape, mileage[:, None], remaining[None, :]
    age, weight, density = _ages(shape, mileage)
    a, w = age[:, None, :], weight[:, None, :]
    # All of it over S(x), so that the far tail keeps its digits.
    ahead, first_ahead = np.exp(-_over(x[:, :, None], a, k)), np.exp(-_over(x, m, k))
    survived = first_ahead + (w * ahead).sum(axis=2)
    failing = k * (m + x) ** (k - 1) * first_ahead + (w * k * (a + x[:, :, None]) ** (k - 1) * ahead).sum(axis=2)
    # Where S falls within a hair of the smallest ages, the nodes miss it, and the integral is its leading term.
    thin = k * x ** (k - 1) * np.minimum(m, _NEGLIGIBLE ** (1 / k)) > 1e5
    survived = np.where(thin, density[:, None] / (k * x ** (k - 1)) + first_ahead, survived)
    failing = np.where(thin, density[:, None] + k * (m + x) ** (k - 1) * first_ahead, failing)
    gone = (w * np.exp(-(a**k)) * -np.expm1(-_over(a, x[:, :, None], k))).sum(axis=2)
    gone += np.exp(-(m**k)) * -np.expm1(-_over(m, x, k))
    hazard = np.where(gone < 0.5, -np.log1p(-np.minimum(gone, 0.9)), x**k - np.log(survived))
    return hazard, failing / survived


def naive_residual(shape: float, mileage: Floats, remaining: Floats) -> tuple[Floats, Floats]:
    """The same if the part were as old as the vehicle."""
    m, x = mileage[:, None], remaining[None, :]
    return _over(m, x, shape), shape * (m + x) ** (shape - 1)


def _ages(shape: float, mileage: Floats) -> tuple[Floats, Floats, Floats]:
    """Ages and their weights (renewal density included) for the integral at each mileage, and the density there."""
    density = renewal_density(shape)
    node, share = np.polynomial.legendre.leggauss(_NODES)
    v, p = (node + 1) / 2, _GRADING
    share = share / 2 * (v * (1 - v)) ** (p - 1) / beta(p, p)
    top = np.minimum(mileage, _NEGLIGIBLE ** (1 / shape))[:, None]
    age = top * betainc(p, p, v)
    since_new = np.where(v > 0.5, top * betainc(p, p, 1 - v) + (mileage[:, None] - top), mileage[:, None] - age)
    return age, top * share * density.at(since_new), density.at(mileage)


def _over(near: Floats, width: Floats, k: float) -> Floats:
    """(near + width)^k - near^k, with its digits kept."""
    ratio = np.log1p(width / near)
    with np.errstate(over="ignore"):
        return np.where(ratio < 1, near**k * np.expm1(k * np.minimum(ratio, 1.0)), (near + width) ** k - near**k)


class _Basis(NamedTuple):
    """First of four nodes, and the weights of the four with their slopes and bends; (n,) and (n, 4)."""

    first: np.ndarray
    w: Floats
    slope: Floats
    bend: Floats


def _weights(place: tuple[Floats, Floats], start: float, step: float, size: int) -> _Basis:
    """Cubic B-splines at place[0]; slopes are 0 where place[1] says the place is held at an edge."""
    p = (place[0] - start) / step
    first = np.clip(np.floor(p).astype(np.int64) - 1, 0, size - 4)
    f = p - first - 1
    g = 1 - f
    w = np.stack([g**3, 3 * f**3 - 6 * f**2 + 4, 3 * g**3 - 6 * g**2 + 4, f**3], axis=1) / 6
    slope = np.stack([-(g**2), 3 * f**2 - 4 * f, -3 * g**2 + 4 * g, f**2], axis=1) / 2
    bend = np.stack([g, 3 * f - 2, 3 * g - 2, f], axis=1)
    free = place[1][:, None] / step
    return _Basis(first, w, slope * free, bend * free**2)


def _held(log_value: Floats, span: tuple[float, float]) -> tuple[Floats, Floats]:
    """The log value, held within the span, and 1 where it did not have to be."""
    low, high = float(np.log(span[0])), float(np.log(span[1]))
    return np.clip(log_value, low, high), ((log_value > low) & (log_value < high)).astype(np.float64)


def _scaled(log_miles: Floats, span: tuple[float, float], start: float, step: float, size: int) -> _Basis:
    """Weights at a log mileage, with slopes in the log mileage itself."""
    t, free = _held(log_miles, span)
    made = _weights((_place(t), free), start, step, size)
    grown = np.exp(t)
    steep = grown / (1 + grown / _LINEAR)
    slope, bend = (1 + steep)[:, None], (steep / (1 + grown / _LINEAR))[:, None]
    return _Basis(made.first, made.w, made.slope * slope, made.bend * slope**2 + made.slope * bend)


def _place(log_miles: Floats) -> Floats:
    """Where a log mileage lies among the nodes: even in logs when small and large, in miles in between."""
    placed: Floats = log_miles + _LINEAR * np.log1p(np.exp(log_miles) / _LINEAR)
    return placed


def _unplace(place: Floats) -> Floats:
    t = np.where(place < 0, place, np.log1p(np.maximum(place, 0.0)))
    for _ in range(50):
        grown = np.exp(t)
        t = t - (_place(t) - place) / (1 + grown / (1 + grown / _LINEAR))
    return t


def _ends(span: tuple[float, float], axis: int) -> tuple[float, float]:
    low, high = (float(_place(np.log(end))) for end in span)
    return low - _PADDING * _STEPS[axis], high + (_PADDING + 1) * _STEPS[axis]


def _product(left: Floats, right: Floats) -> Floats:
    """Outer product of the four by four weights, laid flat."""
    return (left[:, :, None] * right[:, None, :]).reshape(-1, 16)
