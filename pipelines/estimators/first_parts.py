"""Which first parts can be taken for the original ones. What belongs here: the rule, no lives.

A vehicle first seen at 90,000 miles may carry a part that somebody replaced at 70,000: its age is not the odometer.
Taking it for the original makes parts look long-lived. The remedy: a first part counts, in all that depends on age,
only where the vehicle was first seen at a mileage by which few of the originals have failed. Leaving lives out by
where they begin is harmless; that is what late entry means.
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.lives import Miles
from longmile.pipelines.estimators.quantities import life_by

SHARE_REPLACED = 0.05
"""Share of the originals that may have failed before first sight (our own choice; tests/simulation measures it)."""

ROUNDS = 3
"""How often the limit is found anew from the fit it leads to; it settles at once or at the second time."""

FROM_NEW_BELOW = 500.0
"""First seen below so many miles, the part is the original (a new vehicle's delivery miles; our own choice)."""

STEPS = np.array(
    [FROM_NEW_BELOW, *(1000.0 * np.array([2, 4, 6, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80])), 1e5, 1.5e5, 2e5]
)
"""Limits are rounded down to one of these, so that strata share their windows."""


def original_below(fits: Fits) -> Miles:
    """Odometer at first sight below which a first part is taken for the original, per stratum; NaN without a fit.

    The mileage by which `SHARE_REPLACED` have failed, rounded down to one of `STEPS` and never below the first.
    """
    by = life_by(SHARE_REPLACED)
    with np.errstate(over="ignore"):
        miles = by.shown(fits, by.value(fits))
    place = np.clip(np.searchsorted(STEPS, np.nan_to_num(miles, nan=0.0, posinf=1e12), side="right") - 1, 0, None)
    return np.where(np.isnan(miles), np.nan, STEPS[place])
