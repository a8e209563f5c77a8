"""Made-up vehicle identification numbers whose check digit holds.

They begin with A0, a maker's code given to nobody (ISO 3780 leaves AP to A0 unassigned; from memory). Weights
and letter values: 49 CFR 565.15 (from memory).
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.demo.vehicles import Ints

_SIGNS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
_VALUES = np.array([*range(10), 1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9])
_WEIGHTS = np.array([8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2])
_YEAR_SIGNS = "ABCDEFGHJKLMNPRSTVWXY123456789"
_FIRST_YEAR = 1980


def make_vins(rng: np.random.Generator, model_year: Ints) -> pl.Series:
    """One number per vehicle: maker, drawn description, check digit, model year sign, running number."""
    n = model_year.size
    signs = rng.integers(0, len(_SIGNS), (n, 17))
    signs[:, 0], signs[:, 1], signs[:, 2] = _SIGNS.index("A"), 0, _SIGNS.index("D")
    years = np.array([_SIGNS.index(sign) for sign in _YEAR_SIGNS])
    signs[:, 9] = years[(model_year - _FIRST_YEAR) % len(_YEAR_SIGNS)]
    running = 100_000 + np.arange(n)
    signs[:, 11:] = running[:, None] // 10 ** np.arange(5, -1, -1) % 10
    check = (_VALUES[signs] * _WEIGHTS).sum(axis=1) % 11
    signs[:, 8] = np.where(check == 10, _SIGNS.index("X"), check)
    letters = np.array(list(_SIGNS))[signs]
    return pl.Series(np.ascontiguousarray(letters).view("<U17").ravel())
