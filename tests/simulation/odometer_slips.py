"""Invented vehicle histories with one known slip on some of them, and what became of each reading: a table by kind.

Shares and spreads are invented, none is taken from anywhere; it knows nothing of the rule that it tests. Printed for
many vehicles by `python tests/simulation/odometer_slips.py` (about a minute); a small one is held in every test run.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

import polars as pl

from longmile.pipelines.flows.lives import place_readings
from longmile.pipelines.flows.settle import settle_orders, settle_vehicles
from longmile.pipelines.settings import Settings
from longmile.pipelines.store.store import Store

KM = 1.609344
FIRST_DAY = date(2012, 1, 1)
TYPED = ("digit_too_many", "digit_missing", "digits_swapped", "digit_wrong")
VISITS = ("unit", "rollback", "other_vehicle", "not_read")
STRETCHES = ("unit_stretch", "rollover", "cluster_replaced", "wound_back")
KINDS = (*TYPED, *VISITS, *STRETCHES)
OUTCOMES = ("right", "wrong", "excluded", "other side", "as written")
NEW_LEVEL = ("cluster_replaced", "wound_back")


@dataclass
class Reading:
    """One reading: the true number in the vehicle's unit, and the number written."""

    visit: int
    which: str
    day: int
    truth: int
    written: int
    is_planted: bool = False


@dataclass
class Vehicle:
    """A vehicle's readings in order of time, and the slip planted on it."""

    number: int
    per_mile: float
    readings: list[Reading] = field(default_factory=list)
    slip: str = "none"

    @property
    def n_visits(self) -> int:
        return self.readings[-1].visit + 1


def some_vehicle(chance: Random, number: int) -> Vehicle:
    """A vehicle driven in one of several ways, and seen from 3 to 45 times."""
    vehicle = Vehicle(number, KM if chance.random() < 0.15 else 1.0)
    way = chance.choices(("steady", "changes", "seasons", "idle", "trips", "heavy"), (65, 12, 8, 4, 6, 5))[0]
    pace = chance.uniform(150, 300) if way == "heavy" else 33 * chance.lognormvariate(0, 0.5)
    miles = chance.choice((chance.uniform(5, 400), *[chance.uniform(1_000, 180_000)] * 6))
    day, n = chance.randrange(2_000), chance.randint(3, 45)
    change, times = chance.randrange(1, n), chance.choice((1, -1)) * chance.uniform(2, 4)
    for visit in range(n):
        _seen(chance, vehicle, visit, day, miles)
        days = chance.randint(1, 7) if chance.random() < 0.05 else max(3, round(chance.lognormvariate(4.7, 0.6)))
        here = pace * chance.lognormvariate(0, 0.35)
        if way == "changes" and visit >= change:
            here *= times if times > 0 else -1 / times
        if way == "seasons":
            here *= 1.5 if (day + days / 2) % 365 < 182 else 0.5
        if way == "idle" and visit == change:
            days, here = chance.randint(200, 700), chance.uniform(0, 2)
        trip = chance.uniform(1_500, 4_000) if way == "trips" and days > 10 and chance.random() < 0.2 else 0
        miles, day = (
            max(miles + min(450, here) * days + trip, vehicle.readings[-1].truth / vehicle.per_mile),
            day + days,
        )
    return vehicle


def _seen(chance: Random, vehicle: Vehicle, visit: int, day: int, miles: float) -> None:
    came = round(miles * vehicle.per_mile)
    vehicle.readings.append(Reading(visit, "in", day, came, came))
    if chance.random() < 0.5:
        driven = chance.randint(0, 40) if chance.random() < 0.05 else chance.randint(0, 15)
        vehicle.readings.append(
            Reading(visit, "out", day + chance.choice((0, 0, 0, 1, 3)), came + driven, came + driven)
        )


def typed(chance: Random, number: int, kind: str) -> int:
    """The number with one slip of the pen; the same number where the slip cannot be made."""
    digits = str(number)
    at = chance.randrange(len(digits))
    if kind == "digit_too_many":
        at = chance.randrange(len(digits) + 1)
        more = digits[at - 1] if at and chance.random() < 0.5 else chance.choice("0123456789")
        return int(digits[:at] + more + digits[at:])
    if kind == "digit_missing":
        return int("0" + digits[:at] + digits[at + 1 :])
    if kind == "digit_wrong":
        return int(digits[:at] + chance.choice("0123456789") + digits[at + 1 :])
    at = chance.randrange(max(1, len(digits) - 1))
    return int(digits[:at] + digits[at + 1 : at + 2] + digits[at : at + 1] + digits[at + 2 :])


def plant(chance: Random, vehicle: Vehicle, kind: str, others: list[int]) -> None:
    """One slip of the kind on the vehicle; none where it would change nothing."""
    if kind in TYPED:
        chosen = [chance.choice(vehicle.readings)]
        change: Callable[[Reading], int] = lambda r: typed(chance, r.truth, kind)  # noqa: E731
    elif kind in VISITS:
        visit, factor, other = chance.randrange(vehicle.n_visits), chance.uniform(0.33, 0.67), chance.choice(others)
        chosen = [r for r in vehicle.readings if r.visit == visit]
        first = chosen[0].truth
        base = {"unit": 0, "rollback": round(first * factor), "other_vehicle": other, "not_read": 0}[kind]
        change = lambda r: _other_unit(vehicle, r) if kind == "unit" else base + (r.truth - first) * (base > 0)  # noqa: E731
    else:
        chosen, change = _stretch(chance, vehicle, kind)
    for reading in chosen:
        reading.written = change(reading)
        reading.is_planted = reading.written != reading.truth
    if any(r.is_planted for r in vehicle.readings):
        vehicle.slip = kind


def _other_unit(vehicle: Vehicle, reading: Reading) -> int:
    return round(reading.truth * KM if vehicle.per_mile == 1 else reading.truth / KM)


def _stretch(chance: Random, vehicle: Vehicle, kind: str) -> tuple[list[Reading], Callable[[Reading], int]]:
    n = vehicle.n_visits
    if kind == "rollover":
        return vehicle.readings, lambda r: r.truth % 100_000
    if kind == "unit_stretch":
        length, is_late = chance.randint(2, max(2, n // 3)), chance.random() < 0.5
        part = range(n - length, n) if is_late else range(length)
        return [r for r in vehicle.readings if r.visit in part], lambda r: _other_unit(vehicle, r)
    begin = chance.randrange(1, n)
    late = [r for r in vehicle.readings if r.visit >= begin]
    if kind == "cluster_replaced":
        level = chance.randint(0, 300) if chance.random() < 0.8 else chance.randint(0, 80_000)
        return late, lambda r: r.truth - late[0].truth + level
    back = chance.randint(10_000, 60_000)
    return late, lambda r: max(1, r.truth - back)


def fleet(seed: int, n: int, share: float) -> list[Vehicle]:
    """n vehicles, about this share of them with a slip, kinds in turn; rollover only where the odometer goes round."""
    chance = Random(seed)
    vehicles = [some_vehicle(chance, number) for number in range(n)]
    others = [chance.choice(v.readings).truth for v in vehicles]
    kinds = 0
    for vehicle in vehicles:
        if chance.random() >= share:
            continue
        first, last = vehicle.readings[0].truth, vehicle.readings[-1].truth
        goes_round = first < 100_000 <= last < 200_000
        kind = "rollover" if goes_round and chance.random() < 0.25 else KINDS[kinds % len(KINDS)]
        kinds += 1
        if kind != "rollover" or goes_round:
            plant(chance, vehicle, kind, others)
    return vehicles


def as_frame(vehicles: list[Vehicle]) -> pl.DataFrame:
    """One row a reading, with what is true and what was written, in miles."""
    rows = [
        (v.number, v.slip, v.per_mile, f"{v.number}-{r.visit}", r.which, r.day, r.truth, r.written, r.is_planted)
        for v in vehicles
        for r in v.readings
    ]
    names = ["vehicle", "slip", "per_mile", "repair_order_id", "which", "day", "truth", "written", "is_planted"]
    return pl.DataFrame(rows, schema=names, orient="row").with_columns(
        truth_miles=pl.col("truth") / pl.col("per_mile"), planted_miles=pl.col("written") / pl.col("per_mile")
    )


def load(store: Store, readings: pl.DataFrame) -> None:
    """The readings as vehicles and repair orders of the store."""
    store.connection.register("simulated", readings.with_columns(opened=pl.lit(FIRST_DAY) + pl.duration(days="day")))
    version = "'f' AS file_id, 'p' AS part_name, 1 AS row_number, TIMESTAMP '2025-01-01' AS landed_at"
    store.run(
        f"""INSERT INTO vehicle BY NAME SELECT DISTINCT vehicle::VARCHAR AS vehicle_id, 'Elm' AS engine_family,
          CASE WHEN per_mile > 1 THEN 'km' ELSE 'mi' END AS odometer_unit, {version} FROM simulated"""
    )
    store.run(
        f"""INSERT INTO repair_order BY NAME SELECT i.repair_order_id, i.vehicle::VARCHAR AS vehicle_id,
          i.opened AS opened_on, o.opened AS closed_on, i.written AS odometer_in, o.written AS odometer_out, {version}
        FROM simulated i LEFT JOIN simulated o ON o.repair_order_id = i.repair_order_id AND o.which = 'out'
        WHERE i.which = 'in'"""
    )
    store.connection.unregister("simulated")


def settled(readings: pl.DataFrame) -> pl.DataFrame:
    """The readings with what the rule made of them: is_used, odometer_miles, fault."""
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "slips.duckdb") as store:
        load(store, readings)
        store.ask(FIRST_DAY + timedelta(days=100_000), datetime(2026, 1, 1))
        settle_vehicles(store)
        settle_orders(store, Settings())
        place_readings(store, Settings())
        found = store.frame(
            "SELECT repair_order_id, which, is_used, odometer_miles, fault, treatment FROM odometer_reading"
        )
    return readings.join(found, on=("repair_order_id", "which"), how="inner", validate="1:1")


def with_outcomes(found: pl.DataFrame) -> pl.DataFrame:
    """The readings with whether a planted one matters, and what became of it.

    matters: off by more than 2,000 miles, and contradicting the true readings next to it (for a stretch: at its edge).
    """
    col = pl.col
    ordered = found.sort("vehicle", "day", "truth_miles", "which")
    gaps = []
    for step in (1, -1):
        true = pl.when(~col("is_planted").shift(step).over("vehicle")).then(
            col("truth_miles").shift(step).over("vehicle")
        )
        days = (col("day") - col("day").shift(step).over("vehicle")) * step
        gap = (col("planted_miles") - true) * step
        gaps.append(((gap < 0) | (gap > 1_000 + 500 * days)).fill_null(False))
    is_off = (col("planted_miles") - col("truth_miles")).abs() > 2_000
    is_near = (col("odometer_miles") - col("truth_miles")).abs() <= 1
    is_changed = col("treatment") == "corrected"
    outcome = (
        pl.when(~col("is_used")).then(pl.lit("excluded"))
        .when(is_changed & is_near).then(pl.lit("right"))
        .when(is_changed).then(pl.lit("wrong"))
        .otherwise(pl.lit("as written"))
    )  # fmt: skip
    edge = (col("is_planted") & (gaps[0] | gaps[1])).any().over("vehicle")
    is_other_side = (~col("is_planted") & ~col("is_used")).any().over("vehicle")
    return ordered.with_columns(outcome=outcome, matters=col("is_planted") & edge & is_off, is_other_side=is_other_side)


def table(told: pl.DataFrame) -> pl.DataFrame:
    """One row a kind: readings planted, those that matter and those of them found, and what became of all.

    Found: not used as written; for a new level also where the readings before it were left out instead (`other side`).
    slips_wrong: slips of which any reading was corrected to another value than the true one.
    """
    col = pl.col
    is_other = (col("outcome") == "as written") & col("slip").is_in(STRETCHES) & col("is_other_side")
    outcome = pl.when(is_other).then(pl.lit("other side")).otherwise("outcome")
    planted = told.filter("is_planted").with_columns(outcome=outcome)
    by_slip = planted.group_by("slip", "vehicle").agg((col("outcome") == "wrong").any().alias("is_wrong"))
    slips = by_slip.group_by("slip").agg(slips=pl.len(), slips_wrong=col("is_wrong").sum())
    found = (col("matters") & (col("outcome") != "as written")).sum()
    counts = {name: (col("outcome") == name).sum() for name in OUTCOMES}
    by_kind = planted.group_by("slip").agg(planted=pl.len(), matter=col("matters").sum(), found=found, **counts)
    order = col("slip").replace_strict({kind: i for i, kind in enumerate(KINDS)}, return_dtype=pl.Int64)
    return slips.join(by_kind, on="slip").sort(order)


def sound(told: pl.DataFrame) -> pl.DataFrame:
    """Sound readings, and how many were left out or changed, by what their vehicle has."""
    col = pl.col
    has = (
        pl.when(col("slip") == "none").then(pl.lit("none"))
        .when(col("slip").is_in(NEW_LEVEL)).then(pl.lit("a new level"))
        .when(col("slip").is_in(STRETCHES)).then(pl.lit("a stretch")).otherwise(pl.lit("a slip"))
    )  # fmt: skip
    counts = {"readings": pl.len(), "touched": (col("outcome") != "as written").sum()}
    return told.filter(~col("is_planted")).group_by(has.alias("vehicle has")).agg(**counts).sort("vehicle has")


def simulated(seed: int, n: int, share: float = 0.25) -> pl.DataFrame:
    """Readings of a fleet with their outcomes."""
    return with_outcomes(settled(as_frame(fleet(seed, n, share))))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--vehicles", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--share", type=float, default=0.25)
    asked = parser.parse_args()
    told = simulated(asked.seed, asked.vehicles, asked.share)
    with pl.Config(tbl_rows=50, tbl_cols=20, tbl_width_chars=160):
        sys.stdout.write(f"{table(told)}\n{sound(told)}\n")
