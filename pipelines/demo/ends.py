"""Every end of a part's life in the invented shop, one component at a time, from the laws of `laws.py`.

All vehicles of a component go forward together: each wave settles the next thing that happens to each
vehicle's set of sockets, until nothing more happens before the vehicle's last routine visit.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.laws import draw_age, is_control_family, protected_rows
from longmile.pipelines.demo.plans import Plan
from longmile.pipelines.demo.vehicles import Flags, Floats, Ints, Routine, Vehicles

ELSEWHERE_SHARE = 0.03
"""Failures put right by somebody else between two visits: the part is younger than the records say."""
EARLIER_SHARE = 0.12
"""Vehicles on which the part had been replaced before they were first seen."""
ORIGINS = ("new", "remanufactured", "rebuilt", "used")
_BATCH_DAYS = ((sc.BATCH_FIRST - sc.FIRST_DAY).days, (sc.BATCH_LAST - sc.FIRST_DAY).days)


@dataclass(frozen=True)
class Removals:
    """Removals from outside a component's laws: odometers per vehicle (sorted, infinity-padded), reasons."""

    miles: Floats
    reasons: np.ndarray


@dataclass
class Sets:
    """The running state of one component on the vehicles that still run, one row each."""

    vehicle: Ints
    scale: Floats
    is_protected: Flags
    installed: Floats
    fails: Floats
    is_found: Flags
    scheduled: Floats
    turn: Ints
    is_batch: Flags
    has_comeback: Flags
    exists: Flags

    def take(self, rows: Ints | Flags) -> Sets:
        """The chosen rows."""
        return Sets(**{name: value[rows] for name, value in vars(self).items()})


@dataclass
class ComponentEnds:
    """Simulates one component: `frame()` its recorded ends; `n_earlier`, `n_elsewhere` the unrecorded."""

    rng: np.random.Generator
    plan: Plan
    scales: Floats
    n_sockets: Ints
    vehicles: Vehicles
    routine: Routine
    walk_in: Flags
    removals: Removals
    n_earlier: int = 0
    n_elsewhere: int = 0
    waves: list[pl.DataFrame] = field(default_factory=list)

    def frame(self) -> pl.DataFrame:
        """Recorded ends, one row each: vehicle, socket, miles, day, age, reason, and the part fitted."""
        sets = self._start()
        while sets.vehicle.size:
            sets = self._wave(sets)
        return pl.concat(self.waves) if self.waves else pl.DataFrame()

    def _start(self) -> Sets:
        """State at each vehicle's first visit: parts that have lasted so far, walk-ins failing at once."""
        family = self.vehicles.family
        rows = np.nonzero(self.n_sockets[family] > 0)[0]
        first, scale = self.vehicles.first_miles[rows], self.scales[family[rows]]
        is_protected = protected_rows(self.plan.code, family[rows])
        installed, scheduled = self._first_ages(first, is_protected)
        width = int(self.n_sockets.max())
        shape = (rows.size, width)
        ages = draw_age(
            self.rng,
            self.plan.shape,
            np.broadcast_to(scale[:, None], shape),
            np.broadcast_to((first - installed)[:, None], shape),
        )
        fails = np.ceil(installed[:, None] + ages)
        fails = np.maximum(fails, first[:, None] + 1)
        is_found = (self.rng.random(shape) < self.plan.found_share) & ~is_protected[:, None]
        fails = self._seen_at(rows, fails, is_found)
        exists = np.arange(width)[None, :] < self.n_sockets[family[rows]][:, None]
        fails[~exists] = np.inf
        walks = np.nonzero(self.walk_in[rows])[0]
        at = np.floor(self.rng.random(walks.size) * self.n_sockets[family[rows[walks]]]).astype(np.int64)
        fails[walks, at] = first[walks]
        is_found[walks, at] = False
        no = np.zeros(shape, dtype=bool)
        return Sets(
            rows, scale, is_protected, np.tile(installed[:, None], width), fails, is_found, scheduled,
            np.zeros(rows.size, dtype=np.int64), no, no.copy(), exists,
        )  # fmt: skip

    def _first_ages(self, first: Floats, is_protected: Flags) -> tuple[Floats, Floats]:
        """Odometer at which each first part was installed, and of the next scheduled replacement."""
        installed = np.zeros(first.size)
        if self.plan.preventive_k:
            every = self.plan.preventive_k * 1_000 * self.rng.normal(1.0, 0.08, first.size)
            installed = np.floor(first / every) * np.floor(every)
            return installed, np.ceil(installed + every)
        earlier = (self.rng.random(first.size) < EARLIER_SHARE) & ~is_protected & (first > 20_000)
        self.n_earlier = int(earlier.sum())
        installed[earlier] = np.floor(self.rng.uniform(0.2, 0.95, self.n_earlier) * first[earlier])
        return installed, np.full(first.size, np.inf)

    def _seen_at(self, vehicle: Ints, fails: Floats, is_found: Flags) -> Floats:
        """When each failure is dealt with: at once, or at the next routine visit if it waits to be found."""
        owner = np.broadcast_to(vehicle[:, None], fails.shape)
        seen = fails.copy()
        seen[is_found] = self.routine.next_at_or_after(owner[is_found], fails[is_found])
        return seen

    def _wave(self, sets: Sets) -> Sets:
        """The next end of every vehicle, recorded; the vehicles to which something more may happen."""
        every = np.arange(sets.vehicle.size)
        socket = np.argmin(sets.fails, axis=1)
        failing = sets.fails[every, socket]
        outside = self.removals.miles[sets.vehicle, sets.turn]
        miles = np.minimum(failing, np.minimum(outside, sets.scheduled))
        live = miles <= self.vehicles.last_miles[sets.vehicle]
        sets, socket, miles, failing = sets.take(live), socket[live], miles[live], failing[live]
        if not sets.vehicle.size:
            return sets
        outside = self.removals.miles[sets.vehicle, sets.turn]
        is_failure = failing <= miles
        ends = self._kinds(sets, socket, miles, is_failure, outside)
        self._record(sets, ends)
        self._renew(sets, ends)
        return sets

    def _kinds(self, sets: Sets, socket: Ints, miles: Floats, is_failure: Flags, outside: Floats) -> pl.DataFrame:
        """What each end was: reason, whether the whole set was done or the part repaired, the new part."""
        n, rng, plan = miles.size, self.rng, self.plan
        every = np.arange(n)
        reason = np.where(outside <= miles, self.removals.reasons[sets.vehicle, sets.turn], "preventive")
        failed = "worn" if plan.is_wear else "failed"
        found = np.where(sets.is_found[every, socket], "found_at_inspection", failed)
        is_set = np.where(is_failure, rng.random(n) < plan.set_share, True)
        is_repaired = is_failure & (rng.random(n) < plan.repaired_share) & ~is_set
        elsewhere = rng.random(n) < ELSEWHERE_SHARE
        elsewhere &= is_failure & ~sets.is_protected & (miles > self.vehicles.first_miles[sets.vehicle])
        days = self.vehicles.day_at(sets.vehicle, miles)
        return pl.DataFrame(
            {
                "component": np.full(n, plan.code),
                "vehicle": sets.vehicle,
                "family": self.vehicles.family[sets.vehicle],
                "socket": socket,
                "n_sockets": self.n_sockets[self.vehicles.family[sets.vehicle]],
                "miles": miles,
                "day": days,
                "age": miles - sets.installed[every, socket],
                "reason": np.where(is_failure, found, reason),
                "is_failure": is_failure,
                "is_set": is_set,
                "is_repaired": is_repaired,
                "is_elsewhere": elsewhere,
                "was_batch": sets.is_batch[every, socket],
                "is_comeback": sets.has_comeback[every, socket] & is_failure,
                "supplier": self._suppliers(sets.vehicle, days),
                "origin": rng.choice(len(ORIGINS), n, p=[0.78, 0.14, 0.05, 0.03]),
                "sublet": rng.choice(len(sc.SUBLET_SHOPS), n, p=sc.SUBLET_SHARES),
            }
        )

    def _suppliers(self, vehicle: Ints, days: Ints) -> Ints:
        """Supplier of each new part; while the bad batch was sold, its supplier sold more of that part."""
        chosen = self.rng.choice(len(sc.SUPPLIERS), vehicle.size, p=sc.SUPPLIER_SHARES).astype(np.int64)
        if self.plan.code == sc.BATCH_COMPONENT:
            at = sc.SUPPLIERS.index(sc.BATCH_SUPPLIER)
            fits = ~is_control_family(self.vehicles.family[vehicle])
            offered = fits & (days >= _BATCH_DAYS[0]) & (days <= _BATCH_DAYS[1])
            chosen[offered & (self.rng.random(vehicle.size) < sc.BATCH_SUPPLIER_SHARE)] = at
            chosen[~fits & (chosen == at)] = 0
        return chosen

    def _record(self, sets: Sets, ends: pl.DataFrame) -> None:
        """Keep what the shop saw; count what somebody else put right."""
        self.n_elsewhere += int(ends["is_elsewhere"].sum())
        self.waves.append(ends.filter(~pl.col("is_elsewhere")))

    def _renew(self, sets: Sets, ends: pl.DataFrame) -> None:
        """New parts where parts were replaced, the old one going on where it was repaired; in place."""
        miles, socket = ends["miles"].to_numpy(), ends["socket"].to_numpy()
        width = sets.fails.shape[1]
        one = np.arange(width)[None, :] == socket[:, None]
        touched = (one | ends["is_set"].to_numpy()[:, None]) & sets.exists
        repaired = ends["is_repaired"].to_numpy()
        renewed = touched & ~repaired[:, None]
        sets.installed = np.where(renewed, miles[:, None], sets.installed)
        reached = np.maximum(miles[:, None] - sets.installed, 0.0)
        scale = np.broadcast_to(sets.scale[:, None], touched.shape)
        ages = draw_age(self.rng, self.plan.shape, scale, reached)
        is_batch = self._is_batch(sets, ends)
        batch_ages = sc.BATCH_SCALE * self.rng.weibull(sc.BATCH_SHAPE, touched.shape)
        ages = np.where(is_batch[:, None], batch_ages, ages)
        comes_back = self._comes_back(sets, ends) & ~is_batch
        soon = self.rng.uniform(*sc.COMEBACK_MILES, touched.shape)
        ages = np.where(comes_back[:, None] & one, soon, ages)
        fails = np.maximum(np.ceil(sets.installed + ages), miles[:, None] + 1)
        is_found = (self.rng.random(touched.shape) < self.plan.found_share) & ~sets.is_protected[:, None]
        is_found &= ~comes_back[:, None]
        fails = self._seen_at(sets.vehicle, fails, is_found)
        sets.fails = np.where(touched, fails, sets.fails)
        sets.is_found = np.where(touched, is_found, sets.is_found)
        sets.is_batch = np.where(touched, is_batch[:, None], sets.is_batch)
        sets.has_comeback = np.where(touched, comes_back[:, None] & one, sets.has_comeback)
        self._next_turns(sets, miles)

    def _is_batch(self, sets: Sets, ends: pl.DataFrame) -> Flags:
        """Whether the new part is of the bad batch."""
        if self.plan.code != sc.BATCH_COMPONENT:
            return np.zeros(len(ends), dtype=bool)
        days, at = ends["day"].to_numpy(), sc.SUPPLIERS.index(sc.BATCH_SUPPLIER)
        in_time = (days >= _BATCH_DAYS[0]) & (days <= _BATCH_DAYS[1])
        from_supplier = ends["supplier"].to_numpy() == at
        return np.asarray(in_time & from_supplier & ~ends["is_elsewhere"].to_numpy())

    def _comes_back(self, sets: Sets, ends: pl.DataFrame) -> Flags:
        """Whether the repair fails again within a few thousand miles."""
        chance = np.full(len(ends), sc.PLAIN_COMEBACK)
        if self.plan.is_sublet:
            is_bad = ends["sublet"].to_numpy() == sc.SUBLET_SHOPS.index(sc.BAD_SUBLET)
            chance = np.where(is_bad, sc.BAD_SUBLET_COMEBACK, sc.OTHER_SUBLET_COMEBACK)
        never = sets.is_protected | ~ends["is_failure"].to_numpy() | ends["is_elsewhere"].to_numpy()
        chance = np.where(never, 0.0, chance)
        return np.asarray(self.rng.random(len(ends)) < chance)

    def _next_turns(self, sets: Sets, miles: Floats) -> None:
        """Move past the removals that are over, and set the next scheduled replacement."""
        passed = self.removals.miles[sets.vehicle] <= miles[:, None]
        sets.turn = passed.sum(axis=1).astype(np.int64)
        if self.plan.preventive_k:
            every = self.plan.preventive_k * 1_000 * self.rng.normal(1.0, 0.08, miles.size)
            sets.scheduled = np.ceil(miles + every)
