"""A small shop, and its readings, visits and windows worked out with dictionaries and loops.

First of three modules that cut lives a second time, slowly: what the statements of the steps are held against. Written
from the rules in words, and from no code. Mileages are exact fractions, kept to a millionth of a mile. Only a few
components and spellings are known.
"""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from longmile_tests_plain_odometer import Reading, kept, settle

Row = dict[str, Any]
REASONS = ["failed", "worn", "found_at_inspection", "preventive", "access", "recall", "customer_request", "unknown"]
FAILURES = REASONS[:3]
# component -> (scheme, renewed by a repair, changed on schedule)
COMPONENTS = {
    "water_pump": ("one", False, False),
    "fuel_injector": ("per_cylinder", False, False),
    "spark_plug_thread": ("per_cylinder", True, False),
    "exhaust_valve": ("per_exhaust_valve", False, False),
    "brake_pads": ("per_axle", False, False),
    "wheel_bearing": ("per_wheel", False, False),
    "engine_oil": ("one", False, True),
}
WHOLE_SET = dict.fromkeys(("all", "set", "full set", "each"), "all")
CYLINDERS = {f"{word}{n}": str(n) for word in ("cyl ", "#", "cylinder ", "0") for n in range(1, 10)}
SPELLINGS: dict[str, dict[str, str]] = {
    "one": {},
    "per_cylinder": CYLINDERS,
    "per_exhaust_valve": CYLINDERS | {"1-a": "1a", "cyl 2b": "2b"},
    "per_axle": {"both": "all", "f": "front", "rear axle": "rear"},
    "per_wheel": {"left front": "lf", "right rear": "rr", "l/r": "lr", "front right": "rf"},
}


@dataclass
class Shop:
    """What the shop wrote down, and what is asked. families: name -> (cylinders, exhaust valves each)."""

    families: dict[str, tuple[int, int]]
    vehicles: list[Row]
    orders: list[Row]
    lines: list[Row]
    as_of: date
    unit: str = "mi"
    unknown_is_failure: bool = True
    to_date: bool = False
    cap_months: int = 12
    tables: dict[str, list[Row]] = field(default_factory=dict)
    decided: dict[str, Row] = field(default_factory=dict)

    @property
    def failing(self) -> list[str]:
        return [*FAILURES, "unknown"] if self.unknown_is_failure else FAILURES


def places(component: str, cylinders: int, exhaust_valves: int) -> list[str]:
    numbers = [str(n) for n in range(1, cylinders + 1)]
    lettered = [n + letter for n in numbers for letter in "abc"[:exhaust_valves]]
    return {
        "one": ["only"],
        "per_cylinder": numbers,
        "per_exhaust_valve": numbers if exhaust_valves == 1 else lettered,
        "per_axle": ["front", "rear"],
        "per_wheel": ["lf", "rf", "lr", "rr"],
    }[COMPONENTS[component][0]]


def read_position(written: str, component: str, sockets: list[str]) -> set[str] | None:
    """The sockets named, or None where any part of what is written cannot be read."""
    spellings = SPELLINGS[COMPONENTS[component][0]] | WHOLE_SET

    def known(text: str) -> bool:
        return text in sockets or text in spellings

    words = [written]
    if not known(written):
        pieces = [piece.strip() for piece in re.split("[,;/&+]", written)]
        words = [w for piece in pieces for w in ([piece] if known(piece) else piece.split())]
    named: set[str] = set()
    for word in words:
        code = word if word in sockets else spellings.get(word)
        if code != "all" and code not in sockets:
            return None
        named |= set(sockets) if code == "all" else {str(code)}
    return named or None


def readings(shop: Shop) -> list[Row]:
    vehicles = {v["vehicle_id"]: v for v in shop.vehicles}
    found: list[Reading] = []
    for order in counted_orders(shop):
        unit = order["odometer_unit"] or vehicles[order["vehicle_id"]]["odometer_unit"] or shop.unit
        came, left = order["odometer_in"], order["odometer_out"]
        base = (order["vehicle_id"], order["repair_order_id"])
        found.append(Reading(*base, "in", order["opened_on"], Fraction(came), unit))
        if left is not None and (left_on := day_left(shop, order)) <= shop.as_of:
            found.append(Reading(*base, "out", left_on, Fraction(left), unit))
            if left < came and came - left <= 1000 * found[-1].per:
                found[-1].used, found[-1].fault = False, "below_in"
                found[-1].treatment, found[-1].reason = "left_out", "below_in"
    for reading in found:
        decide(reading, shop.decided.get(f"{reading.order}|{reading.which}"))
    for vehicle in {r.vehicle for r in found}:
        settle([r for r in found if r.vehicle == vehicle])
    return [r.row() for r in found]


def day_left(shop: Shop, order: Row) -> date:
    """The day it was closed, or on which the vehicle next came in."""
    mine = sorted((o["opened_on"], o["repair_order_id"]) for o in same_vehicle(shop, order))
    later = mine[mine.index((order["opened_on"], order["repair_order_id"])) + 1 :]
    return min([order["closed_on"] or order["opened_on"], *(day for day, _ in later)])


def same_vehicle(shop: Shop, order: Row) -> list[Row]:
    return [o for o in counted_orders(shop) if o["vehicle_id"] == order["vehicle_id"]]


def decide(reading: Reading, answer: Row | None) -> None:
    """What a person said comes first."""
    if answer is None:
        return
    reading.fault, reading.treatment, reading.used = "none", "decided", answer.get("use") != "leave_out"
    reading.fixed, reading.reason = reading.used, None if reading.used else "decided"
    if "miles" in answer:
        reading.miles = reading.shown = Fraction(answer["miles"])


def counted_orders(shop: Shop) -> list[Row]:
    known = {v["vehicle_id"] for v in shop.vehicles}
    return [
        o for o in shop.orders if o["status"] != "void" and o["opened_on"] <= shop.as_of and o["vehicle_id"] in known
    ]


def visits(shop: Shop) -> list[Row]:
    found = []
    for order in counted_orders(shop):
        used = [r for r in shop.tables["odometer_reading"] if r["is_used"] and r["vehicle_id"] == order["vehicle_id"]]
        own = {r["which"]: r["odometer_miles"] for r in used if r["repair_order_id"] == order["repair_order_id"]}
        miles, basis = own.get("in", own.get("out")), "read"
        if miles is None:
            miles = by_date(used, order["opened_on"])
            basis = "unplaced" if miles is None else "by_date"
        base = {key: order[key] for key in ("repair_order_id", "vehicle_id", "location", "opened_on")}
        found.append({**base, "odometer_miles": miles, "basis": basis})
    return found


def by_date(used: list[Row], day: date) -> Fraction | None:
    """On the straight line between the used readings before and after; on a day with readings, the highest of it."""
    before = [(r["read_on"], r["odometer_miles"]) for r in used if r["read_on"] <= day]
    after = [(r["read_on"], r["odometer_miles"]) for r in used if r["read_on"] >= day]
    if not before or not after:
        return None
    (start, low), (end, high) = max(before), min(after)
    if start == end:
        return Fraction(low)
    return kept(low + (high - low) * Fraction((day - start).days, (end - start).days))


def months_later(day: date, months: int) -> date:
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def windows(shop: Shop) -> list[Row]:
    found = []
    for vehicle in shop.vehicles:
        used = [r for r in shop.tables["odometer_reading"] if r["is_used"] and r["vehicle_id"] == vehicle["vehicle_id"]]
        if not used or vehicle["engine_family"] not in shop.families:
            continue
        first, last = min(r["odometer_miles"] for r in used), max(r["odometer_miles"] for r in used)
        first_on, last_on = min(r["read_on"] for r in used), max(r["read_on"] for r in used)
        if shop.to_date and last_on > first_on:
            days_on = (min(shop.as_of, months_later(last_on, shop.cap_months)) - last_on) // timedelta(days=1)
            last = kept(last + (last - first) / (last_on - first_on).days * max(0, days_on))
        found.append(
            {
                "vehicle_id": vehicle["vehicle_id"],
                "engine_family": vehicle["engine_family"],
                "first_miles": first,
                "last_miles": last,
                "first_on": first_on,
                "last_on": last_on,
                "n_visits": sum(v["vehicle_id"] == vehicle["vehicle_id"] for v in shop.tables["visit"]),
                "origin": "from_new" if first < 500 else "assumed_original",
            }
        )
    return found
