"""Families drawn towards their component's fleet: the level of a family's hazard relative to the fleet's.

With the fleet's shape held, a family's d failures were to be expected A times at the fleet's level, A the sum over
its lives of H(exit) - H(entry) with H the fleet's hazard. theta = the family's hazard over the fleet's; raw it is
d / A. Families of one component differ by a gamma distribution, which the counts of all of them reveal.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.gamma_poisson import Posteriors, fit_gamma_priors
from longmile.pipelines.estimators.held_shape import fit_held_shape
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, Miles, SharedExposure, weighed
from longmile.pipelines.estimators.negative_binomial import counts
from longmile.pipelines.estimators.prior_average import averaged_posteriors
from longmile.pipelines.estimators.shrunk_levels import Level, ShrunkLevels
from longmile.pipelines.estimators.thin import FleetShapes, shape_at
from longmile.pipelines.estimators.weibull_likelihood import WeibullLikelihood, weibull_likelihood

_HALF = 0.5  # of the way to the shape's limits, where the slope with the shape is taken


class _Exposure(NamedTuple):
    """Families at a held shape: status, failures, log of the sum of miles^shape (-inf where nothing was watched)."""

    status: npt.NDArray[np.str_]
    failures: Floats
    log_sum: Floats
    shape: Floats

    def expected(self, scale: Miles) -> Floats:
        """Failures expected at the given scales, 0 where there is none."""
        known = np.isfinite(self.log_sum) & np.isfinite(scale)
        log_hazard = np.where(known, self.log_sum, 0.0) - self.shape * np.log(np.where(known, scale, 1.0))
        return np.where(known, np.exp(log_hazard), 0.0)


def shrink_to_fleet(
    data: Lives,
    fleet: Fits,
    fleet_of: npt.ArrayLike,
    shapes: FleetShapes,
    shared: SharedExposure | None = None,
    confidence: float = 0.95,
    threshold: float = 2.0,
    dispersion: npt.ArrayLike = 1.0,
) -> ShrunkLevels:
    """Level and mileages of every family, drawn towards its component's fleet the more, the less it was watched.

    data: lives of the families.   fleet, fleet_of: fits of the fleets and the fleet of each family.   shapes: from
    `fleet_shapes(fleet, fleet_of, confidence)`.   dispersion: variance of a family's count over that of a Poisson one,
    1 or more, where vehicles make failures come in clusters; failures and exposure are then worth so many times less.
    The limits allow for what the counts leave open of the families' spread and mean (`averaged_posteriors`), and to
    first order for the limits of the fleet's shape, but not for a family whose shape is not its fleet's.
    A failure found within an interval counts as one seen where it is to be expected.
    Raises LivesError on a stratum without a fleet, a dispersion below 1, or what cannot be asked.
    """
    code = np.asarray(fleet_of, np.int64)
    spread = np.broadcast_to(np.asarray(dispersion, np.float64), (data.n_strata,))
    _check(code, data.n_strata, fleet.shape.size, spread)
    likelihood = weibull_likelihood(data, shared)
    middle = _exposure(data, shared, likelihood, shapes.shape)
    pooled = _pooled_scale(middle, code, fleet.shape.size)
    scale = np.where(shapes.shape_from == "fleet", fleet.scale[code], pooled)
    expected = middle.expected(scale)
    made = counts(middle.failures / spread, expected / spread, code, fleet.shape.size)
    # A family that could not be read would be given the prior alone, and that is no answer about it.
    unread = (middle.status == "did_not_converge") | ~np.isfinite(scale)
    found = averaged_posteriors(made, confidence, threshold).only(~unread)
    level = Level(found.mean, shapes.shape, scale)

    def turned(look: float) -> Level:
        there = _exposure(data, shared, likelihood, shape_at(shapes, look))
        at = scale * _pooled_scale(there, code, fleet.shape.size) / pooled
        return Level(_moved(found, expected, there.expected(at)), there.shape, at)

    return ShrunkLevels(
        status=np.where(unread, "did_not_converge", middle.status),
        failures=middle.failures,
        expected=expected,
        theta_raw=np.where((expected > 0) & ~unread, middle.failures / np.where(expected > 0, expected, 1.0), np.nan),
        theta_lower=found.lower,
        theta_upper=found.upper,
        weight_on_own=found.weight_on_own,
        chance_above=found.chance_above,
        level=level,
        level_low=turned(-_HALF),
        level_high=turned(_HALF),
        shapes=shapes,
        priors=fit_gamma_priors(made),
        threshold=threshold,
        confidence=confidence,
    )


def _exposure(data: Lives, shared: SharedExposure | None, likelihood: WeibullLikelihood, shape: Floats) -> _Exposure:
    held = fit_held_shape(data, shared, shape, likelihood)
    watched = np.isin(held.status, ("ok", "no_failures"))
    log_sum = np.where(watched, held.log_exposure + shape * likelihood.log_ref, -np.inf)
    return _Exposure(held.status, np.where(watched, held.failures, 0.0), log_sum, shape)


def _pooled_scale(families: _Exposure, code: Codes, n: int) -> Miles:
    """The scale of each family's fleet at which as many failures were expected of it as there were; NaN without any."""
    largest = np.full(n, -np.inf)
    np.maximum.at(largest, code, families.log_sum)
    top = np.where(np.isfinite(largest), largest, 0.0)
    d = weighed(code, families.failures, n)
    exposure = weighed(code, np.exp(families.log_sum - top[code]), n)
    some = (d > 0) & (exposure > 0)
    per_failure = top + np.log(np.where(some, exposure, 1.0) / np.where(some, d, 1.0))
    return np.where(some[code], np.exp(per_failure[code] / families.shape), np.nan)


def _moved(found: Posteriors, expected: Floats, there: Floats) -> Floats:
    """Theta where the family's own count was to be expected `there` times: only its own share of the answer moves."""
    own = np.where((expected > 0) & (there > 0), expected / np.where(there > 0, there, 1.0), 1.0)
    theta: Floats = found.mean * (1 + found.weight_on_own * (own - 1))
    return theta


def _check(code: Codes, n_strata: int, n_fleets: int, spread: Floats) -> None:
    wrong = (code < 0) | (code >= n_fleets)
    if code.size != n_strata or wrong.any():
        raise LivesError(
            f"shrinkage: {code.size:,} fleet codes for {n_strata:,} strata, {int(wrong.sum()):,} of them not from 0 to "
            f"{n_fleets - 1}. Expected the fleet of every stratum."
        )
    if not np.all(np.isfinite(spread) & (spread >= 1)):
        raise LivesError("shrinkage: a dispersion is missing or below 1. Expected 1 or more.")
