"""Draws the invented records of a shape from a seed: the same for the same arguments."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta

from records import Line, Order, Shop, Vehicle
from texts import MAKES, Job, jobs_of

_SIGNS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
_VALUES = (*range(10), 1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9)
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""Letter values and weights of the check digit: 49 CFR 565.15 (from memory)."""
_YEAR_SIGNS = "ABCDEFGHJKLMNPRSTVWXY123456789"


def vin_of(rng: random.Random, model_year: int, running: int) -> str:
    """A number whose check digit holds; A0 is a maker's code given to nobody (from memory)."""
    signs = list("A0K" + "".join(rng.choice(_SIGNS) for _ in range(5)) + "0")
    signs += [_YEAR_SIGNS[(model_year - 1980) % 30], rng.choice("BCDE"), f"{running:06d}"]
    text = "".join(signs)
    check = sum(_VALUES[_SIGNS.index(sign)] * weight for sign, weight in zip(text, _WEIGHTS, strict=True)) % 11
    return text[:8] + ("X" if check == 10 else str(check)) + text[9:]


def make_shop(
    seed: int,
    *,
    language: str = "en",
    n_orders: int = 14,
    n_vehicles: int = 8,
    lines: tuple[int, int] = (1, 4),
    units: tuple[str, ...] = ("mi",),
    order_form: str = "R{:05d}",
    vehicle_form: str = "V{:03d}",
    makes: tuple[tuple[str, str, str, str], ...] = MAKES,
) -> Shop:
    """The records of one shape, the same for the same arguments."""
    rng = random.Random(seed)
    vehicles = tuple(_vehicle(rng, number, vehicle_form, units, makes) for number in range(1, n_vehicles + 1))
    odometers = {v.vehicle_id: rng.randrange(18_000, 140_000) for v in vehicles}
    orders = []
    day = date(2022, 1, 10) + timedelta(days=rng.randrange(40))
    for index in range(n_orders):
        day += timedelta(days=rng.randrange(9, 75))
        vehicle = vehicles[index % n_vehicles] if index < n_vehicles else rng.choice(vehicles)
        odometers[vehicle.vehicle_id] += rng.randrange(900, 9_000)
        orders.append(_order(rng, index, order_form, vehicle, day, odometers[vehicle.vehicle_id], language, lines))
    return Shop(vehicles, tuple(orders))


def _vehicle(
    rng: random.Random, number: int, form: str, units: tuple[str, ...], makes: tuple[tuple[str, str, str, str], ...]
) -> Vehicle:
    make, model, engine, code = rng.choice(makes)
    year = rng.randrange(2008, 2022)
    person = rng.randrange(1, 9_000)
    return Vehicle(
        form.format(number * 7 + 100),
        vin_of(rng, year, number * 31 + person),
        make,
        model,
        engine,
        code,
        year,
        date(year, rng.randrange(1, 13), rng.randrange(1, 29)),
        units[number % len(units)],
        f"Customer {person:04d}",
        f"555-01{person % 100:02d}",
        f"customer{person}@example.org",
        f"{person % 90 + 1} Example Road",
        f"ZZ-{person:04d}",
    )


def _order(
    rng: random.Random,
    index: int,
    form: str,
    vehicle: Vehicle,
    day: date,
    odometer: int,
    language: str,
    n_lines: tuple[int, int],
) -> Order:
    made: list[Line] = []
    wanted = rng.randrange(n_lines[0], n_lines[1] + 1)
    catalogue = jobs_of(language)
    picked = rng.sample(catalogue, len(catalogue))
    for job in picked:
        made += _lines(rng, job, len(made))
    return Order(
        index,
        form.format(4_000 + index * 3 + rng.randrange(3)),
        f"{90_000 + index * 11}",
        rng.choice(("North", "South")),
        vehicle,
        day,
        day + timedelta(days=rng.randrange(0, 6)),
        rng.randrange(7 * 60, 17 * 60),
        odometer,
        odometer + rng.randrange(0, 30),
        vehicle.odometer_unit,
        "closed",
        picked[0].concern,
        f"A{rng.randrange(1, 5)}",
        f"{rng.randrange(1, 7)}",
        tuple(made[:wanted]),
    )


def _lines(rng: random.Random, job: Job, before: int) -> list[Line]:
    """The lines of one job: labour, and mostly a part; now and then work sent out or a fee."""
    position = rng.choice(job.positions) if job.positions else ""
    action = rng.choice(("replaced", "replaced", "replaced", "repaired", "inspected", "adjusted"))
    reason = rng.choice(("failed", "worn", "found_at_inspection", "preventive"))
    technician = f"T{rng.randrange(1, 9):02d}"
    hours = rng.choice(("0.3", "0.5", "0.8", "1.2", "1.5", "2.4", "3.5", "6.0"))
    wage = rng.randrange(2_000, 61_000)
    kind = rng.choice(("labor", "labor", "labor", "labor", "sublet", "fee"))
    head = Line(
        before + 1, kind, job.code, position, action, reason, job.description, "", "", "", "1",
        hours if kind == "labor" else "", wage // 2, wage, job.cause, job.correction, technician,
    )  # fmt: skip
    if action != "replaced":
        return [head]
    cost = rng.randrange(400, 180_000)
    quantity = rng.choice(("1", "1", "1", "2", "4", "0.5"))
    number = f"{rng.choice('KQX')}{rng.randrange(10, 99)}-{rng.randrange(1000, 9999)}"
    part = Line(
        before + 2, "part", job.code, position, action, reason, job.description, number,
        rng.choice(("new", "new", "remanufactured", "used")), rng.choice(("Supply House 1", "Supply House 2")),
        quantity, "", cost, cost * 3 // 2, "", "", technician,
    )  # fmt: skip
    return [head, part]


def credited(shop: Shop, *orders: int) -> Shop:
    """The shop with the last line of these orders given back: its cost and price are below zero."""
    changed = [_credited(order) if order.index in orders else order for order in shop.orders]
    return Shop(shop.vehicles, tuple(changed))


def _credited(order: Order) -> Order:
    last = order.lines[-1]
    given_back = replace(last, cost=-abs(last.cost), price=-abs(last.price))
    return replace(order, lines=(*order.lines[:-1], given_back))
