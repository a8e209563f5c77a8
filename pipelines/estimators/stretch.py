"""Weibull hazard over a stretch of miles, and stretches of many strata laid end to end. Sums nothing."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats, Miles

# Log width of a stretch from 0 miles: beyond any real one, yet finite, so that 0 x infinity never arises.
_FROM_NEW = 1e15


class Stretch(NamedTuple):
    """Hazard over a stretch, H(far) - H(near), with its first and second derivative in b = log shape.

    The derivative in c is the hazard itself; so are the mixed ones, one order down.
    """

    h: Floats
    h_b: Floats
    h_bb: Floats


def log_width(near: Miles, far: Miles) -> Floats:
    """log(far / near), with its digits kept however close the two are."""
    late = near > 0
    safe = np.where(late, near, far)
    return np.where(late, np.log1p((far - safe) / safe), _FROM_NEW)


def stretch(k: Floats, c: Floats, far: Floats, width: Floats) -> Stretch:
    """Hazard over stretches that end at x = far and are width long, both in logs.

    The difference is formed as one number: two sums, one of far and one of near ends, lose it among late,
    short lives.
    """
    v, kw = k * far, k * width
    at_far = np.exp(v + c)
    h = -at_far * np.expm1(-kw)
    at_near = kw * (at_far - h)
    return Stretch(h, v * h + at_near, (v + v * v) * h + at_near * (1 + 2 * v - kw))


@dataclass(frozen=True)
class Ragged:
    """Values of many strata laid end to end; those of stratum s are start[s]:start[s + 1] of each column."""

    columns: tuple[Floats, ...]
    start: Codes

    def take(self, rows: Codes) -> tuple[Codes, tuple[Floats, ...]]:
        """Owner (place in rows) and columns of the values of each asked row."""
        size = self.start[rows + 1] - self.start[rows]
        owner = np.repeat(np.arange(rows.size), size)
        before = np.cumsum(size) - size
        index = np.arange(owner.size) + np.repeat(self.start[rows] - before, size)
        return owner, tuple(column[index] for column in self.columns)

    def chunks(self, rows: Codes, most: int) -> list[slice]:
        """Slices of rows that each hold about `most` values (more only where one row does)."""
        total = np.cumsum(self.start[rows + 1] - self.start[rows])
        cuts = np.flatnonzero(np.diff(total // most, prepend=0))
        edges = [0, *cuts[cuts > 0].tolist(), rows.size]
        return [slice(low, high) for low, high in pairwise(edges) if low < high]


def ragged(stratum: Codes, n_strata: int, *columns: Floats) -> Ragged:
    """Columns sorted by stratum."""
    order = np.argsort(stratum, kind="stable")
    start = np.searchsorted(stratum[order], np.arange(n_strata + 1))
    return Ragged(tuple(column[order] for column in columns), start)
