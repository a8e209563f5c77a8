"""What a component entry is, and the systems it may belong to. The entries are in `components.py`."""

from __future__ import annotations

from dataclasses import dataclass

SYSTEMS: tuple[str, ...] = (
    "engine mechanical",
    "valve train",
    "lubrication",
    "cooling",
    "fuel",
    "ignition",
    "engine controls",
    "intake and boost",
    "exhaust and emissions",
    "charging and starting",
    "electrical",
    "transmission",
    "driveline",
    "brakes",
    "steering",
    "suspension",
    "wheels and hubs",
    "restraints",
    "heating and air conditioning",
    "body and doors",
)
"""Every system a component may belong to, in the order in which they are listed to a reader."""

SAFETY_SYSTEMS: tuple[str, ...] = (
    "fuel",
    "brakes",
    "steering",
    "suspension",
    "wheels and hubs",
    "restraints",
)
"""Systems in which every component is safety-relevant; components elsewhere are flagged one by one."""


@dataclass(frozen=True)
class Component:
    """One kind of part, as a technician would name it.

    code: lower snake case, the value of every `component_code` column.   name: for people.
    system: one of `SYSTEMS`.   sockets: a key of `SOCKET_SCHEMES`; how many places a vehicle has for it.
    is_renewed_by_repair: True where action `repaired` leaves the part as new, so that its age starts again.
    is_service_item: True for what is changed on a schedule, or moved about; no failure statistics are made.
    is_safety_relevant: True where a failure can hurt someone; pages say inspect, and never predict.
    shorthand: other usual spellings on repair orders, lower case, each belonging to this component alone.
    """

    code: str
    name: str
    system: str
    sockets: str
    is_renewed_by_repair: bool = False
    is_service_item: bool = False
    is_safety_relevant: bool = False
    shorthand: tuple[str, ...] = ()


def entry(
    system: str,
    code: str,
    name: str,
    sockets: str,
    shorthand: str = "",
    *,
    renewed: bool = False,
    service: bool = False,
    safety: bool = False,
) -> Component:
    """Component from one line of the component lists; shorthand is written with commas between the spellings.

    A component of one of `SAFETY_SYSTEMS` is safety-relevant whatever `safety` says: none can be forgotten.
    """
    spellings = tuple(spelling.strip() for spelling in shorthand.split(",") if spelling.strip())
    is_safety_relevant = safety or system in SAFETY_SYSTEMS
    return Component(code, name, system, sockets, renewed, service, is_safety_relevant, spellings)
