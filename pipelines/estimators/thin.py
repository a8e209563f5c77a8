"""Bounds for families with few failures or none, the shape taken from the component's fleet-wide fit.

A handful of failures fixes a rate, not a shape. With the fleet's shape taken for the family's, exact limits hold for
its mileages from the first mile watched on; how far they move with the shape is given beside them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.held_shape import (
    HazardLimits,
    HeldLimits,
    HeldMethod,
    fit_held_shape,
    hazard_limits,
    read_limits,
)
from longmile.pipelines.estimators.lives import Floats, Lives, SharedExposure
from longmile.pipelines.estimators.quantities import Quantity, life_by, mean_life, scale
from longmile.pipelines.estimators.rates import Bound
from longmile.pipelines.estimators.weibull_likelihood import weibull_likelihood

MILEAGES: Mapping[str, Quantity] = {"scale": scale(), "mean": mean_life(), "b10": life_by(0.1)}
ASSUMED_SHAPES = (0.5, 4.0)
"""Range of shapes looked at where the fleet has no fit: from early failures to wear-out (a choice, no source)."""
_NARROWEST, _WIDEST = 0.05, 50.0  # shapes beyond which a fleet's limits are not followed
_LOOKS = (-1.0, -0.5, 0.5, 1.0)  # shares of the way to the shape's limits at which bounds are made anew


@dataclass(frozen=True)
class FleetShapes:
    """The shape to hold for each stratum, with its own limits.

    shape_from: `fleet`, the component's fit over all families; `constant_rate`, shape 1 where there is no such fit,
    lower and upper then being an assumed range.
    """

    shape: Floats
    lower: Floats
    upper: Floats
    shape_from: npt.NDArray[np.str_]


@dataclass(frozen=True)
class ThinLimits(HeldLimits):
    """`HeldLimits` at the fleet's shape, and the lowest lower and highest upper limit over the shape's own limits."""

    widest_lower: Floats
    widest_upper: Floats


@dataclass(frozen=True)
class ThinBounds:
    """Bounds per stratum.

    status: `ok` (failures; few or many), `no_failures` (only the lower limit of a life), `too_few_at_risk` (no miles),
    `did_not_converge`.   limits: by name of the quantity.
    """

    status: npt.NDArray[np.str_]
    failures: Floats
    shapes: FleetShapes
    limits: dict[str, ThinLimits]


def fleet_shapes(fleet: Fits, fleet_of: npt.ArrayLike, confidence: float = 0.95) -> FleetShapes:
    """The fleet's shape for each stratum, and Wald limits of it on the log scale.

    fleet: fits of the fleets, with whatever errors they have (clustered ones are the better).   fleet_of: the fleet
    of each stratum, -1 for none. Raises LivesError on a code that the fits do not have.
    """
    code = np.asarray(fleet_of, np.int64)
    if code.size and not -1 <= code.min() <= code.max() < fleet.shape.size:
        raise LivesError(
            f"fleet shapes: fleet codes run from {code.min()} to {code.max()}. Expected -1 (none) to "
            f"{fleet.shape.size - 1}, one of the {fleet.shape.size:,} fleet fits."
        )
    known = np.append(fleet.ok & np.isfinite(fleet.se_log_shape), False)[code]
    log_shape = np.where(known, np.append(fleet.b, 0.0)[code], 0.0)
    reach = ndtri(0.5 + confidence / 2) * np.where(known, np.append(fleet.se_log_shape, 0.0)[code], 0.0)
    low, high = (np.clip(np.exp(log_shape + side * reach), _NARROWEST, _WIDEST) for side in (-1, 1))
    return FleetShapes(
        shape=np.clip(np.exp(log_shape), _NARROWEST, _WIDEST),
        lower=np.where(known, low, ASSUMED_SHAPES[0]),
        upper=np.where(known, high, ASSUMED_SHAPES[1]),
        shape_from=np.where(known, "fleet", "constant_rate"),
    )


def thin_bounds(
    data: Lives,
    shapes: FleetShapes,
    shared: SharedExposure | None = None,
    quantities: Mapping[str, Quantity] = MILEAGES,
    confidence: float = 0.95,
    method: HeldMethod = "exact",
    bound: Bound | None = None,
) -> ThinBounds:
    """Limits for every stratum with its fleet's shape held (see `hazard_limits` for when they are exact).

    quantities: what is asked, by name; add `survival_to(miles)` for a chance.   bound: None gives strata without a
    failure the one-sided lower limit at the full confidence, sum of miles^shape over -log(1 - confidence) to the
    power 1 / shape, and the others two-sided ones; each stratum's is in the limits.
    The widest limits cover the shape's uncertainty by looking at five shapes within its limits; they are cautious,
    not exact, and not a range of what the family's own shape might be.
    """
    likelihood = weibull_likelihood(data, shared)

    def bounded(k: Floats) -> HazardLimits:
        fits = fit_held_shape(data, shared, k, likelihood)
        asked = np.where(fits.status == "no_failures", "lower", "two_sided") if bound is None else bound
        return hazard_limits(fits, confidence, method, asked)

    middle = bounded(shapes.shape)
    made = {name: read_limits(middle, quantity) for name, quantity in quantities.items()}
    widest = {name: (limits.lower, limits.upper) for name, limits in made.items()}
    for look in _LOOKS:
        elsewhere = bounded(shape_at(shapes, look))
        for name, quantity in quantities.items():
            limits = read_limits(elsewhere, quantity)
            low, high = widest[name]
            widest[name] = np.fmin(low, limits.lower), np.fmax(high, limits.upper)
    found = {name: _with_widest(made[name], *widest[name]) for name in made}
    return ThinBounds(middle.fits.status, middle.fits.failures, shapes, found)


def shape_at(shapes: FleetShapes, look: float) -> Floats:
    """A shape so far of the way to its upper limit (look below 0: to its lower one), in logs."""
    end = shapes.lower if look < 0 else shapes.upper
    shape: Floats = shapes.shape * (end / shapes.shape) ** abs(look)
    return shape


def _with_widest(limits: HeldLimits, lower: Floats, upper: Floats) -> ThinLimits:
    return ThinLimits(**vars(limits), widest_lower=lower, widest_upper=upper)
