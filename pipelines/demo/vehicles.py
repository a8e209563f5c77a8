"""The invented vehicles and their routine visits, as arrays. No failure is decided here."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.demo.scenario import FAMILIES, LAST_DAY_NO, N_VEHICLES

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

DAYS_A_MONTH = 30.44
MOST_VISITS = 70
WALK_IN_SHARE = 0.07
KM_SHARE = 0.12


@dataclass(frozen=True)
class Vehicles:
    """One entry per vehicle: family number, first odometer and day, miles a day, and how it is kept.

    last_miles: odometer of the last routine visit; nothing after it reaches the shop, so leaving tells
    nothing about failures.   is_walk_in: the first visit is a failure's.
    """

    family: Ints
    first_miles: Floats
    first_day: Ints
    miles_a_day: Floats
    last_miles: Floats
    is_km: Flags
    is_walk_in: Flags
    location: Ints

    def day_at(self, vehicle: Ints, miles: Floats) -> Ints:
        """Day numbers on which vehicles stood at those odometers."""
        gone = (miles - self.first_miles[vehicle]) / self.miles_a_day[vehicle]
        return (self.first_day[vehicle] + np.floor(gone)).astype(np.int64)


@dataclass(frozen=True)
class Routine:
    """Routine visits, in order of vehicle and odometer."""

    vehicle: Ints
    miles: Floats

    def next_at_or_after(self, vehicle: Ints, miles: Floats) -> Floats:
        """Odometer of each vehicle's next routine visit at or after the given one; infinite if none."""
        spread = 1e8
        known = self.vehicle * spread + self.miles
        at = np.searchsorted(known, vehicle * spread + np.minimum(miles, spread / 2))
        safe = np.minimum(at, known.size - 1)
        same = (at < known.size) & (self.vehicle[safe] == vehicle)
        return np.where(same, self.miles[safe], np.inf)


def make_vehicles(rng: np.random.Generator) -> tuple[Vehicles, Routine]:
    """The vehicles and their routine visits."""
    n = N_VEHICLES
    family = rng.choice(len(FAMILIES), n, p=[f.share for f in FAMILIES])
    typical = np.array([f.first_seen_miles for f in FAMILIES], dtype=float)[family]
    first = np.floor(np.clip(typical * rng.lognormal(0.0, 0.45, n), 900, 210_000))
    is_new = rng.random(n) < 0.08
    first[is_new] = np.floor(rng.uniform(5, 450, int(is_new.sum())))
    early = rng.random(n) < 0.38
    first_day = np.where(early, rng.integers(0, 240, n), rng.integers(0, int(LAST_DAY_NO * 0.95), n))
    miles_a_day = 1_000 / DAYS_A_MONTH * rng.lognormal(0.0, 0.45, n)
    leaves = np.where(rng.random(n) < 0.5, first_day + rng.exponential(3.0 * 365, n), LAST_DAY_NO)
    end_day = np.minimum(leaves, LAST_DAY_NO)
    end_day = np.where(rng.random(n) < 0.14, first_day, end_day)
    habit = rng.lognormal(np.log(5_000), 0.2, (n, 1))
    steps = np.clip(habit * rng.lognormal(0.0, 0.28, (n, MOST_VISITS)), 1_500, 18_000)
    miles = np.floor(first[:, None] + np.hstack([np.zeros((n, 1)), np.cumsum(steps, axis=1)]))
    days = first_day[:, None] + (miles - first[:, None]) / miles_a_day[:, None]
    kept = days <= end_day[:, None]
    last = np.where(kept, miles, 0.0).max(axis=1)
    vehicle, _ = np.nonzero(kept)
    vehicles = Vehicles(
        family, first, first_day, miles_a_day, last, rng.random(n) < KM_SHARE, rng.random(n) < WALK_IN_SHARE,
        rng.choice(2, n, p=[0.6, 0.4]),
    )  # fmt: skip
    return vehicles, Routine(vehicle, miles[kept])
