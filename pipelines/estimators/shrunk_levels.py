"""What the level of a family's hazard, drawn towards its fleet, says of its mileages. Formulas, no fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from scipy.special import gammaln

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.gamma_poisson import GammaPriors
from longmile.pipelines.estimators.lives import Floats, Miles
from longmile.pipelines.estimators.thin import FleetShapes


@dataclass(frozen=True)
class Shrunk:
    """A quantity per stratum: raw (the family's own failures alone) and drawn towards the fleet, with limits.

    raw: NaN where nothing was watched, infinite miles without a failure.   estimate: at the posterior mean of theta.
    """

    raw: Floats
    estimate: Floats
    lower: Floats
    upper: Floats


class Level(NamedTuple):
    """Relative hazard of each family, and the shape and scale of its fleet that it is relative to."""

    theta: Floats
    shape: Floats
    fleet_scale: Miles


_Working = Callable[[Level], Floats]


@dataclass(frozen=True)
class ShrunkLevels:
    """Hazard level of every stratum, relative to its fleet.

    status: `ok`, `no_failures` (none of its own: raw is 0, the rest holds), `too_few_at_risk` (no miles: what a family
    of this component may be before it is watched), `did_not_converge` (nothing of this fleet failed, or the exposure
    cannot be told from 0: NaN).
    expected: failures expected of the family at the fleet's level; they add up over parts of the data.
    theta_raw, theta_lower, theta_upper: the shape taken for known; `theta()` and what follows allow for its limits.
    weight_on_own: share of the answer that is the family's own count.   chance_above: chance that theta exceeds
    threshold x the mean of the component's families.
    level: the answer.   level_low, level_high: the same with the shape half-way to its lower and its upper limit.
    priors: plain empirical-Bayes fits per fleet, for their alpha, beta and whether families differ at all.
    """

    status: npt.NDArray[np.str_]
    failures: Floats
    expected: Floats
    theta_raw: Floats
    theta_lower: Floats
    theta_upper: Floats
    weight_on_own: Floats
    chance_above: Floats
    level: Level
    level_low: Level
    level_high: Level
    shapes: FleetShapes
    priors: GammaPriors
    threshold: float
    confidence: float

    def theta(self) -> Shrunk:
        """The family's hazard over the fleet's."""
        return self._read(lambda level: np.log(level.theta), np.exp, falls=False)

    def scale(self) -> Shrunk:
        """The mileage by which 63.2 % have failed."""
        return self._mileage(np.zeros_like)

    def mean(self) -> Shrunk:
        """Mean miles to failure."""
        return self._mileage(lambda shape: gammaln(1 + 1 / shape))

    def life_by(self, p_failed: float) -> Shrunk:
        """The mileage by which the share p_failed has failed. Raises LivesError outside (0, 1)."""
        if not 0 < p_failed < 1:
            raise LivesError(f"share failed is {p_failed}. Expected a number between 0 and 1, such as 0.1.")
        z = float(np.log(-np.log1p(-p_failed)))
        return self._mileage(lambda shape: z / shape)

    def survival_to(self, t: npt.ArrayLike) -> Shrunk:
        """Chance that a new part survives to t miles (one for all strata, or one each); raises LivesError at t <= 0."""
        at = np.asarray(t, np.float64)
        if not np.all(at > 0):
            raise LivesError("survival: expected a mileage above 0.")

        def log_hazard(level: Level) -> Floats:
            hazard: Floats = np.log(level.theta) + level.shape * np.log(at / level.fleet_scale)
            return hazard

        return self._read(log_hazard, lambda q: np.exp(-np.exp(q)), falls=True)

    def _mileage(self, height: Callable[[Floats], Floats]) -> Shrunk:
        def log_miles(level: Level) -> Floats:
            miles: Floats = np.log(level.fleet_scale) + height(level.shape) - np.log(level.theta) / level.shape
            return miles

        return self._read(log_miles, np.exp, falls=False)

    def _read(self, working: _Working, shown: Callable[[Floats], Floats], *, falls: bool) -> Shrunk:
        """A quantity from its working value, in which what the level and what the shape leave open add as squares."""
        with np.errstate(divide="ignore", over="ignore"):
            q, raw, low, high = (
                working(self.level._replace(theta=theta))
                for theta in (self.level.theta, self.theta_raw, self.theta_lower, self.theta_upper)
            )
            of_shape = working(self.level_high) - working(self.level_low)
            reaches = np.hypot(q - np.minimum(low, high), of_shape), np.hypot(np.maximum(low, high) - q, of_shape)
            ends = shown(q - reaches[0]), shown(q + reaches[1])
            return Shrunk(shown(raw), shown(q), *(ends[::-1] if falls else ends))
