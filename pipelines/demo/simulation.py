"""The invented shop before anything is written down: vehicles, routine visits, every end of a part's life."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.ends import ComponentEnds, Removals
from longmile.pipelines.demo.laws import family_scales
from longmile.pipelines.demo.plans import PLAN_CODES, PLANS, Plan
from longmile.pipelines.demo.vehicles import Flags, Floats, Ints, Routine, Vehicles, make_vehicles
from longmile.schemas.vocabulary import BY_CODE, socket_positions

STREAM = 1
"""Each component draws from a stream of its own, so that a change to one leaves the others as they were."""
TYPICAL_MILES = 75_000.0
"""Where hazards are compared when it is drawn which component brings a walk-in."""


@dataclass(frozen=True)
class Simulation:
    """What really happened: `ends` ordered by vehicle, miles, component; `scales` (components, families)."""

    vehicles: Vehicles
    routine: Routine
    ends: pl.DataFrame
    scales: Floats
    n_earlier: int
    n_elsewhere: int


def position_codes(code: str) -> list[tuple[str, ...]]:
    """Position codes of a component on each family, in socket order; () where the family does not have it."""
    needs = {plan.code: plan.needs for plan in PLANS}[code]
    scheme = BY_CODE[code].sockets
    return [
        socket_positions(scheme, f.cylinders, f.exhaust_valves, f.intake_valves)
        if not needs or needs in f.traits
        else ()
        for f in sc.FAMILIES
    ]


def socket_places() -> pl.DataFrame:
    """Every socket of every family: component, family, socket number, position code."""
    rows = [
        (code, family, socket, position)
        for code in PLAN_CODES
        for family, positions in enumerate(position_codes(code))
        for socket, position in enumerate(positions)
    ]
    types = {"component": pl.String, "family": pl.Int64, "socket": pl.Int64, "code": pl.String}
    return pl.DataFrame(rows, schema=types, orient="row")


def simulate(seed: int) -> Simulation:
    """The shop of a seed."""
    rng = np.random.default_rng(seed)
    vehicles, routine = make_vehicles(rng)
    scales = family_scales(rng)
    counts = np.array([[len(p) for p in position_codes(code)] for code in PLAN_CODES], dtype=np.int64)
    brought = _walk_in_component(rng, vehicles, scales, counts)
    frames: list[pl.DataFrame] = []
    n_earlier = n_elsewhere = 0
    for at, plan in enumerate(PLANS):
        rng = np.random.default_rng([seed, STREAM, at])
        removals = _removals(rng, plan, vehicles, routine, frames[:1])
        one = ComponentEnds(rng, plan, scales[at], counts[at], vehicles, routine, np.asarray(brought == at), removals)
        frames.append(one.frame())
        n_earlier += one.n_earlier
        n_elsewhere += one.n_elsewhere
    ends = pl.concat(frames).sort("vehicle", "miles", "component", "socket")
    return Simulation(vehicles, routine, ends, scales, n_earlier, n_elsewhere)


def _walk_in_component(rng: np.random.Generator, vehicles: Vehicles, scales: Floats, counts: Ints) -> Ints:
    """Component that brought each walk-in to the shop, drawn by hazard x sockets; -1 for other vehicles."""
    shapes = np.array([plan.shape for plan in PLANS])[:, None]
    hazard = counts * shapes / scales * (TYPICAL_MILES / scales) ** (shapes - 1)
    steps = np.cumsum(hazard / hazard.sum(axis=0), axis=0)
    drawn = (rng.random(vehicles.family.size)[None, :] > steps[:, vehicles.family]).sum(axis=0)
    return np.where(vehicles.is_walk_in, np.minimum(drawn, len(PLANS) - 1), -1)


def _removals(
    rng: np.random.Generator, plan: Plan, vehicles: Vehicles, routine: Routine, belts: list[pl.DataFrame]
) -> Removals:
    """Removals that come from outside: with the timing belt, by recall, or because the customer asks."""
    n = vehicles.family.size
    found = [(np.zeros(0, dtype=np.int64), np.zeros(0), "access")]
    if plan.with_belt:
        chosen = belts[0].filter(pl.Series(rng.random(len(belts[0])) < plan.with_belt))
        found.append((chosen["vehicle"].to_numpy(), chosen["miles"].to_numpy(), "access"))
    if plan.code == sc.RECALL_COMPONENT:
        found.append((*_recalled(rng, vehicles, routine), "recall"))
    if plan.requested_share:
        asked = np.nonzero(rng.random(routine.miles.size) < plan.requested_share / 10)[0]
        found.append((routine.vehicle[asked], routine.miles[asked], "customer_request"))
    frame = pl.concat(
        pl.DataFrame({"vehicle": v, "miles": m}).with_columns(reason=pl.lit(r)) for v, m, r in found
    ).sort("vehicle", "miles")
    turn = frame.select(pl.int_range(pl.len()).over("vehicle")).to_series().to_numpy()
    width = int(turn.max() + 2) if turn.size else 1
    miles = np.full((n, width), np.inf)
    reasons = np.full((n, width), "access", dtype="<U24")
    miles[frame["vehicle"].to_numpy(), turn] = frame["miles"].to_numpy()
    reasons[frame["vehicle"].to_numpy(), turn] = frame["reason"].to_numpy()
    return Removals(miles, reasons)


def _recalled(rng: np.random.Generator, vehicles: Vehicles, routine: Routine) -> tuple[Ints, Floats]:
    """Vehicles of the recalled family and their first routine visit after the recall."""
    days = vehicles.day_at(routine.vehicle, routine.miles)
    is_due: Flags = days >= (sc.RECALL_FROM - sc.FIRST_DAY).days
    is_due &= vehicles.family[routine.vehicle] == sc.FAMILY_NAMES.index(sc.RECALL_FAMILY)
    vehicle, first = np.unique(routine.vehicle[is_due], return_index=True)
    came = rng.random(vehicle.size) < sc.RECALL_SHARE
    return vehicle[came], routine.miles[is_due][first][came]
