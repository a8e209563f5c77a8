"""Where a component can sit on a vehicle: socket schemes, their position codes, and other spellings of them.

Left and right are seen from the driver's seat, facing forward. "Driver side" and "passenger side" are not
translated anywhere here: which side that is depends on the country.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from string import ascii_lowercase

ONLY_POSITION = "only"
"""Position code of a component that a vehicle has one of."""

ALL_POSITIONS = "all"
"""Written in place of a position: every socket of the component was worked on. No socket bears this code."""

MAX_LISTED_CYLINDERS = 16
"""Cylinder numbers for which other spellings are listed; no light vehicle has more (from memory)."""


@dataclass(frozen=True)
class SocketScheme:
    """One way of counting the places for a component.

    code: the value of `Component.sockets`.   description: for the data dictionary.
    positions: the position codes where they are the same on every vehicle; () where the engine decides.
    """

    code: str
    description: str
    positions: tuple[str, ...] = ()


_WHEELS = ("lf", "rf", "lr", "rr")

SOCKET_SCHEMES: Mapping[str, SocketScheme] = {
    scheme.code: scheme
    for scheme in (
        SocketScheme("one", "one per vehicle, or several that are worked on as one", (ONLY_POSITION,)),
        SocketScheme("per_cylinder", "one per cylinder: 1, 2, ..."),
        SocketScheme("per_exhaust_valve", "one per exhaust valve: 1, 2, ... or, several a cylinder, 1a, 1b, 2a, ..."),
        SocketScheme("per_intake_valve", "one per intake valve: 1, 2, ... or, several a cylinder, 1a, 1b, 2a, ..."),
        SocketScheme("per_valve", "one per valve: in1, in2, ..., ex1, ex2, ... or in1a, in1b, ..., ex1a, ex1b, ..."),
        SocketScheme("per_bank", "one per cylinder bank: bank_1 up to 5 cylinders, bank_1 and bank_2 from 6"),
        SocketScheme("per_wheel", "one per wheel: left front, right front, left rear, right rear", _WHEELS),
        SocketScheme("per_front_wheel", "one per front wheel: left front, right front", ("lf", "rf")),
        SocketScheme("per_rear_wheel", "one per rear wheel: left rear, right rear", ("lr", "rr")),
        SocketScheme("per_axle", "one, or one set, per axle: front, rear", ("front", "rear")),
        SocketScheme("per_side", "one per side: left, right", ("left", "right")),
        SocketScheme("per_door", "one per side door: left front, right front, left rear, right rear", _WHEELS),
    )
}
"""Every socket scheme by its code."""


def socket_positions(
    scheme: str, cylinders: int, exhaust_valves_per_cylinder: int, intake_valves_per_cylinder: int
) -> tuple[str, ...]:
    """Position codes of a scheme on one engine family, in reading order; never empty.

    The valve counts are used by the valve schemes only. An engine family does not state its layout, so banks
    come from the cylinders (up to 5: one bank): an inline six counts one too many, a flat four one too few.
    Raises ValueError for an unknown scheme, fewer than 1 cylinder, a valve count outside 1 to 26 where used.
    """
    known = SOCKET_SCHEMES.get(scheme)
    if known is None:
        nearest = get_close_matches(scheme, SOCKET_SCHEMES, n=1, cutoff=0.0)[0]
        listed = ", ".join(SOCKET_SCHEMES)
        raise ValueError(f"unknown socket scheme {scheme!r}; nearest is {nearest!r}. Known: {listed}.")
    if cylinders < 1:
        raise ValueError(f"cylinders is {cylinders}; expected 1 or more.")
    if known.positions:
        return known.positions
    if scheme == "per_cylinder":
        return _numbered(cylinders)
    if scheme == "per_bank":
        return ("bank_1", "bank_2") if cylinders >= 6 else ("bank_1",)
    return _valve_positions(scheme, cylinders, exhaust_valves_per_cylinder, intake_valves_per_cylinder)


def _numbered(cylinders: int) -> tuple[str, ...]:
    """Codes 1 to n."""
    return tuple(str(number) for number in range(1, cylinders + 1))


def _valve_positions(scheme: str, cylinders: int, exhaust: int, intake: int) -> tuple[str, ...]:
    """Codes of a valve scheme; `per_valve` lists the intake valves first."""
    if scheme == "per_exhaust_valve":
        return _valves(cylinders, exhaust, "exhaust")
    if scheme == "per_intake_valve":
        return _valves(cylinders, intake, "intake")
    inlets = tuple(f"in{code}" for code in _valves(cylinders, intake, "intake"))
    return inlets + tuple(f"ex{code}" for code in _valves(cylinders, exhaust, "exhaust"))


def _valves(cylinders: int, per_cylinder: int, which: str) -> tuple[str, ...]:
    """Codes 1, 2, ... for one valve a cylinder, 1a, 1b, 2a, ... for more."""
    if not 1 <= per_cylinder <= len(ascii_lowercase):
        raise ValueError(f"{which}_valves_per_cylinder is {per_cylinder}; expected 1 to {len(ascii_lowercase)}.")
    if per_cylinder == 1:
        return _numbered(cylinders)
    return tuple(f"{number}{letter}" for number in _numbered(cylinders) for letter in ascii_lowercase[:per_cylinder])
