"""The trade's closed lists, and the functions that look things up in them.

Everything a caller needs of the vocabulary is imported from here. Component entries are in `components.py`,
sockets in `sockets.py`. No free text is matched here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from longmile.schemas.component import SAFETY_SYSTEMS, SYSTEMS, Component
from longmile.schemas.components import COMPONENTS
from longmile.schemas.position_synonyms import POSITION_SYNONYMS
from longmile.schemas.sockets import (
    ALL_POSITIONS,
    ONLY_POSITION,
    SOCKET_SCHEMES,
    SocketScheme,
    socket_positions,
)

__all__ = [
    "ACTIONS",
    "ALL_POSITIONS",
    "BY_CODE",
    "COMPONENTS",
    "FAILURE_REASONS",
    "LINE_KINDS",
    "MEASURES",
    "MEASURE_UNITS",
    "ODOMETER_UNITS",
    "ONLY_POSITION",
    "ORDER_STATUSES",
    "PART_ORIGINS",
    "POSITION_SYNONYMS",
    "REASONS",
    "REMOVAL_REASONS",
    "SAFETY_SYSTEMS",
    "SOCKET_SCHEMES",
    "SYSTEMS",
    "TROUBLE_CODE_STAGES",
    "VERIFICATION_CHECKS",
    "Component",
    "SocketScheme",
    "UnknownComponentError",
    "component",
    "socket_positions",
    "socket_rows",
]

LINE_KINDS: tuple[str, ...] = ("labor", "part", "sublet", "fee")
ACTIONS: tuple[str, ...] = ("replaced", "repaired", "adjusted", "cleaned", "inspected", "declined")

FAILURE_REASONS: tuple[str, ...] = ("failed", "worn", "found_at_inspection")
"""Reasons that make the work the end of a life by failure."""

REMOVAL_REASONS: tuple[str, ...] = ("preventive", "access", "recall", "customer_request")
"""Reasons that end a life without a failure: a competing end."""

REASONS: tuple[str, ...] = (*FAILURE_REASONS, *REMOVAL_REASONS, "unknown")
"""Every reason; what `unknown` counts as is a setting."""

PART_ORIGINS: tuple[str, ...] = ("new", "remanufactured", "rebuilt", "used")
ORDER_STATUSES: tuple[str, ...] = ("open", "closed", "void")
ODOMETER_UNITS: tuple[str, ...] = ("mi", "km")
TROUBLE_CODE_STAGES: tuple[str, ...] = ("arrival", "after_repair")

_PRESSURE = ("psi", "kpa", "bar")
_LENGTH = ("mm", "in")
_TEMPERATURE = ("fahrenheit", "celsius")

MEASURE_UNITS: Mapping[str, tuple[str, ...]] = {
    "compression": _PRESSURE,
    "relative_compression": ("percent",),
    "leak_down": ("percent",),
    "injector_balance": (*_PRESSURE, "percent"),
    "injector_return_flow": ("ml_per_min",),
    "injector_resistance": ("ohm",),
    "fuel_pressure": _PRESSURE,
    "fuel_rail_pressure": _PRESSURE,
    "fuel_trim_short": ("percent",),
    "fuel_trim_long": ("percent",),
    "oil_pressure": _PRESSURE,
    "crankcase_pressure": ("kpa", "psi", "inh2o"),
    "coolant_temperature": _TEMPERATURE,
    "cooling_system_pressure": _PRESSURE,
    "manifold_vacuum": ("inhg", "kpa"),
    "boost_pressure": _PRESSURE,
    "exhaust_back_pressure": _PRESSURE,
    "soot_load": ("percent", "gram"),
    "valve_clearance": _LENGTH,
    "cam_timing_error": ("degree",),
    "ignition_coil_resistance": ("ohm",),
    "plug_wire_resistance": ("ohm",),
    "glow_plug_current": ("ampere",),
    "glow_plug_resistance": ("ohm",),
    "battery_voltage": ("volt",),
    "battery_cold_cranking": ("ampere",),
    "cranking_voltage": ("volt",),
    "starter_current": ("ampere",),
    "charging_voltage": ("volt",),
    "charging_current": ("ampere",),
    "parasitic_draw": ("ampere",),
    "transmission_line_pressure": _PRESSURE,
    "brake_pad_thickness": _LENGTH,
    "brake_rotor_thickness": _LENGTH,
    "brake_rotor_runout": _LENGTH,
    "wheel_bearing_play": _LENGTH,
    "ball_joint_play": _LENGTH,
    "tire_tread_depth": _LENGTH,
    "ac_low_side_pressure": _PRESSURE,
    "ac_high_side_pressure": _PRESSURE,
    "vent_temperature": _TEMPERATURE,
}
"""Bench and on-car readings, each with the units it may be written in, the usual one first."""

MEASURES: tuple[str, ...] = tuple(MEASURE_UNITS)

VERIFICATION_CHECKS: tuple[str, ...] = (
    "misfire_count",
    "code_returned",
    "road_test_miles",
    "leak_check",
    "pressure_test",
    "compression_check",
    "idle_quality",
    "noise_check",
    "vibration_check",
    "fluid_level",
    "operating_temperature",
    "charging_voltage",
    "readiness_monitors",
    "brake_pedal",
    "wheel_torque",
    "alignment",
    "vent_temperature",
    "function_check",
)
"""What may be checked after a repair, before the vehicle is handed back."""

BY_CODE: Mapping[str, Component] = {entry.code: entry for entry in COMPONENTS}
"""Every component by its code."""


class UnknownComponentError(KeyError):
    """A component code that is not in the vocabulary; the message names the nearest."""

    def __str__(self) -> str:
        """Return the message as written; KeyError would show it in quotes."""
        return str(self.args[0])


def component(code: str) -> Component:
    """Return the component with this code.

    Raises UnknownComponentError naming the nearest code; names and shorthand are known to that hint only.
    """
    found = BY_CODE.get(code)
    if found is None:
        raise UnknownComponentError(
            f"unknown component {code!r}; nearest of the {len(BY_CODE)} known is {_nearest_code(code)!r}."
        )
    return found


def _nearest_code(asked: str) -> str:
    """Code whose own spelling, name or shorthand is most like what was asked."""
    spellings = {
        spelling: entry.code for entry in COMPONENTS for spelling in (*entry.shorthand, entry.name, entry.code)
    }
    return spellings[get_close_matches(asked.lower().strip(), spellings, n=1, cutoff=0.0)[0]]


def socket_rows(families: Iterable[tuple[str, int, int, int]]) -> list[tuple[str, str, str, int]]:
    """Rows (engine_family, component_code, position, n_sockets), one per family, component and position.

    families: (engine_family, cylinders, exhaust valves and intake valves per cylinder), each family once.
    n_sockets is the number of positions of that component on that family. Service items are left out.
    Raises ValueError naming the family whose numbers are refused, or that is listed twice.
    """
    rows: list[tuple[str, str, str, int]] = []
    seen: set[str] = set()
    for family, *numbers in families:
        if family in seen:
            raise ValueError(f"engine family {family!r} is listed twice; expected each once.")
        seen.add(family)
        rows.extend(_family_rows(family, *numbers))
    return rows


def _family_rows(family: str, cylinders: int, exhaust: int, intake: int) -> list[tuple[str, str, str, int]]:
    """Rows of one engine family; each scheme is worked out once."""
    try:
        places = {scheme: socket_positions(scheme, cylinders, exhaust, intake) for scheme in SOCKET_SCHEMES}
    except ValueError as refused:
        raise ValueError(f"engine family {family!r}: {refused}") from refused
    return [
        (family, entry.code, position, len(places[entry.sockets]))
        for entry in COMPONENTS
        if not entry.is_service_item
        for position in places[entry.sockets]
    ]
