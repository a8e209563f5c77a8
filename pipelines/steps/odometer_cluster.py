"""Vehicles whose instrument cluster was changed: two sides of their readings that agree each within itself.

The rule stands in `odometer_reading`.
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.steps.odometer_chain import Chains, Flags, Floats, Histories, Ints, chains
from longmile.schemas.lives import MILES_DECIMALS

FEWEST_EACH, FEWEST_GAINED = 2, 3
"""Visits that each side must have, and that both must have beyond the longest chain of all."""


def new_clusters(h: Histories, plain: Chains) -> list[tuple[int, Flags]]:
    """(row, readings on the side with fewer miles watched) where two sides agree within themselves, not together."""
    first = np.maximum.accumulate(plain.before, axis=1)[:, :-1]
    last = np.maximum.accumulate(plain.after[:, ::-1], axis=1)[:, ::-1][:, 1:]
    if not first.shape[1]:
        return []
    gained = np.where(np.minimum(first, last) >= FEWEST_EACH, first + last - plain.length[:, None], 0)
    rows = np.flatnonzero(gained.max(axis=1) >= FEWEST_GAINED)
    if not rows.size:
        return []
    is_early = np.arange(h.miles.shape[1]) <= gained[rows].argmax(axis=1)[:, None]
    early, late = (_watched(h.rows(rows), side) for side in (is_early, ~is_early))
    is_lost = np.where(
        ((early[0] < late[0]) | ((early[0] == late[0]) & (early[1] < late[1])))[:, None], is_early, ~is_early
    )
    return [(int(row), lost) for row, lost in zip(rows, is_lost, strict=True)]


def _watched(h: Histories, side: Flags) -> tuple[Floats, Ints]:
    """Miles from the first to the last sure reading of one side, and how many there are."""
    sure = chains(h.only(side)).is_sure & h.is_open
    highest, lowest = (np.where(sure, h.miles, edge) for edge in (-np.inf, np.inf))
    watched = np.round(highest.max(axis=1) - lowest.min(axis=1), MILES_DECIMALS)
    return np.maximum(watched, 0), sure.sum(axis=1)
