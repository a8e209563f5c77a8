"""The cases of the coverage tables: designs by name."""

from __future__ import annotations

from itertools import product

from shop_generator import Design

SIZES = {"large": 600, "small": 60}
SHAPES = (0.8, 1.5, 3.0)
VEHICLES = {
    "1 socket": {"sockets": 1},
    "4 sockets": {"sockets": 4},
    "4 alike": {"sockets": 4, "dependence": "siblings"},
}
ENDS = {
    "": {},
    "removals": {"removal_every": 200_000.0},
    "late": {"found_late": 0.5},
    "removals late": {"removal_every": 200_000.0, "found_late": 0.5},
}


def right_ages() -> dict[str, Design]:
    """Every size, shape, kind of vehicle and kind of end; every age is right."""
    made = {}
    for size, shape, vehicle, ends in product(SIZES, SHAPES, VEHICLES, ENDS):
        name = ", ".join(part for part in (size, f"shape {shape:g}", vehicle, ends) if part)
        made[name] = Design(vehicles=SIZES[size], shape=shape, **VEHICLES[vehicle], **ENDS[ends])
    return made


def wrong_ages() -> dict[str, Design]:
    """Parts replaced before first sight and cut as if they were the originals: short-lived parts to long-lived ones."""
    made = {}
    for size, scale, shape in product(SIZES, (40_000.0, 100_000.0, 250_000.0), (0.8, 1.5, 3.0)):
        made[f"{size}, scale {scale:,.0f}, shape {shape:g}"] = Design(
            vehicles=SIZES[size], shape=shape, scale=scale, earlier_repairs=True
        )
    for scale, shape in product((40_000.0, 100_000.0, 250_000.0), (1.5, 3.0)):
        alike = Design(vehicles=150, shape=shape, scale=scale, earlier_repairs=True, **VEHICLES["4 alike"])
        made[f"150 vehicles, 4 alike, scale {scale:,.0f}, shape {shape:g}"] = alike
    return made


BROKEN = {
    "removed elsewhere too": {"removal_every": 100_000.0},
    "vehicles alike": {"dependence": "vehicle", "correlation": 0.3},
    "walk-ins 30 %": {"walk_ins": 0.3},
    "originals only": {"earlier_repairs": False},
}


def broken_assumptions() -> dict[str, Design]:
    """What a fit that takes ages for unknown assumes, broken one at a time, in large shops.

    Parts removed before they failed, before first sight too; vehicles that are hard on one part after another; many
    vehicles that come first with a failure; no part replaced before first sight.
    """
    made = {}
    for scale, shape, name in product((40_000.0, 250_000.0), (1.5, 3.0), BROKEN):
        design = {"shape": shape, "scale": scale, "earlier_repairs": True, **BROKEN[name]}
        made[f"scale {scale:,.0f}, shape {shape:g}, {name}"] = Design(**design)
    return made
