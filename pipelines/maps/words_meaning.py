"""What a meaning of a header is, and the short ways to write one down. The meanings are in `words_meanings_*`.

A phrase is a set of notions (keys of the languages' HEADER_WORDS); `:0.7` after it says how surely it means this.
Notions in `free` may stand beside a phrase without changing what it means ("vehicle make", "order date in").
"""

from __future__ import annotations

from dataclasses import dataclass

PERSONAL = "personal data"
NOT_OURS = "not of the contract"
VEHICLE_FREE = "vehicle order"
_ORDER_FREE = "order repair work visit service job date time vehicle in"
_LINE_FREE = "line job item part labor work repair service record order"


@dataclass(frozen=True)
class Meaning:
    """name: its own.   level: whose property it is: order, line, vehicle or another table.   looks: how values look.

    fills: contract columns as table.column.   refused: why a header of this meaning is not taken; empty for others.
    """

    name: str
    level: str
    looks: str
    fills: tuple[str, ...]
    phrases: tuple[tuple[frozenset[str], float], ...]
    free: frozenset[str]
    refused: str = ""


def meaning(name: str, level: str, looks: str, fills: str, phrases: str, free: str = "", why: str = "") -> Meaning:
    """A meaning from texts: fills by space, phrases by comma, free notions by space; `id` is free everywhere."""
    beside = frozenset(free.split()) | {"id"}
    return Meaning(name, level, looks, tuple(fills.split()), _phrases(phrases), beside, why)


def of_order(name: str, looks: str, phrases: str, free: str = _ORDER_FREE) -> Meaning:
    """A column of the repair order alone."""
    return meaning(name, "order", looks, f"repair_order.{name}", phrases, free)


def of_line(name: str, looks: str, phrases: str, free: str = _LINE_FREE) -> Meaning:
    """A column of the repair line alone."""
    return meaning(name, "line", looks, f"repair_line.{name}", phrases, free)


def of_vehicle(name: str, looks: str, phrases: str, free: str = VEHICLE_FREE) -> Meaning:
    """A column of the vehicle alone."""
    return meaning(name, "vehicle", looks, f"vehicle.{name}", phrases, free)


def refused(why: str, name: str, looks: str, phrases: str, free: str = "") -> Meaning:
    """A meaning that is never taken."""
    return meaning(name, "", looks, "", phrases, free, why)


def _phrases(text: str) -> tuple[tuple[frozenset[str], float], ...]:
    """Phrases and their weights from a list by comma."""
    found = []
    for one in text.split(","):
        notions, _, weight = one.partition(":")
        found.append((frozenset(notions.split()), float(weight or 1)))
    return tuple(found)
