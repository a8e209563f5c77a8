"""Places told of a part as position codes of its socket scheme."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from longmile.pipelines.coding.positions import Place
from longmile.schemas.vocabulary import ALL_POSITIONS, SOCKET_SCHEMES

_ORDER = ("lf", "rf", "lr", "rr", "front", "rear", "left", "right")
WHEELS = ("per_wheel", "per_front_wheel", "per_rear_wheel", "per_door")
_END_OF = {"rf": "front", "rr": "rear"}


@dataclass(frozen=True)
class _Told:
    """What places tell, by kind.   is_two, is_all: "both" or "all" is told.   is_plural: the part is."""

    corners: list[str]
    sides: list[str]
    ends: list[str]
    numbers: list[str]
    banks: list[str]
    is_two: bool
    is_all: bool
    is_plural: bool


def socket_codes(scheme: str, places: Sequence[Place], is_plural: bool, valves: Sequence[str]) -> str:
    """Position codes with commas between, `all`, or "" where the places name none of the scheme.

    is_plural: the part was named in the plural.   valves: kinds of valve that the text speaks of, of `in` and `ex`.
    """
    told = _told(scheme, places, is_plural)
    if scheme == "one" or not places:
        return ""
    if scheme in WHEELS:
        return _wheels(scheme, told)
    if scheme == "per_axle":
        ends = [*told.ends, *("front" if corner[1] == "f" else "rear" for corner in told.corners)]
        return _listed(ends) or (ALL_POSITIONS if told.is_all else "")
    if scheme == "per_side":
        sides = [*told.sides, *("left" if corner[0] == "l" else "right" for corner in told.corners)]
        return _listed(sides) or (ALL_POSITIONS if told.is_two or told.is_all else "")
    if scheme == "per_bank":
        both = "bank_1,bank_2" if told.is_two else ALL_POSITIONS if told.is_all else ""
        return _listed([f"bank_{number}" for number in told.banks]) or both
    return _cylinders(scheme, told, valves)


def _told(scheme: str, places: Sequence[Place], is_plural: bool) -> _Told:
    """Places by kind; "fr" and "rr" are an end beside a side or of several parts, else a corner."""
    is_end = is_plural or any(place.kind in ("side", "two") for place in places)
    either = _of(places, "corner_or_end")
    seats = _of(places, "seat") if scheme != "per_bank" else []
    ends = [*_of(places, "end"), *(_END_OF[corner] for corner in either if is_end)]
    if scheme == "per_door" and seats and not ends:
        ends = ["front"]
    return _Told(
        corners=[*_of(places, "corner"), *(corner for corner in either if not is_end)],
        sides=[*_of(places, "side"), *seats],
        ends=ends,
        numbers=_of(places, "number"),
        banks=_of(places, "bank"),
        is_two=bool(_of(places, "two")),
        is_all=bool(_of(places, "all")),
        is_plural=is_plural,
    )


def _of(places: Sequence[Place], kind: str) -> list[str]:
    """Values of the places of one kind, each once."""
    return list(dict.fromkeys(place.value for place in places if place.kind == kind))


def _wheels(scheme: str, told: _Told) -> str:
    """Wheels, from corners, or from sides and ends together; one end alone is both its wheels in the plural only."""
    legal = SOCKET_SCHEMES[scheme].positions
    own_ends = {"per_front_wheel": ["front"], "per_rear_wheel": ["rear"]}.get(scheme)
    ends = own_ends or told.ends
    found = [corner for corner in told.corners if corner in legal]
    if scheme == "per_front_wheel" and told.corners and not found:
        return ""
    if told.sides and ends and (not found or len(told.sides) == 2):
        found = [side[0] + end[0] for end in ends for side in told.sides]
    if told.is_two and told.corners and len(found) == 1:
        found = [side + found[0][1] for side in "lr"]
    if not found and ends and _is_both(told):
        found = [side + end[0] for end in ends for side in "lr"]
    if not found and told.is_all:
        return ALL_POSITIONS
    return _listed([code for code in found if code in legal])


def _is_both(told: _Told) -> bool:
    """Whether both wheels of an end are meant."""
    return told.is_two or (told.is_plural and bool(told.ends or told.is_all)) or (told.is_all and bool(told.ends))


def _cylinders(scheme: str, told: _Told, valves: Sequence[str]) -> str:
    """Cylinders or valves; which kind of valve stands before the number where the scheme has both."""
    if told.is_all or not told.numbers:
        return ALL_POSITIONS if told.is_all else ""
    if scheme != "per_valve":
        return _listed(told.numbers)
    return _listed([f"{kind}{number}" for kind in valves for number in told.numbers])


def _listed(codes: Sequence[str]) -> str:
    """Codes once each, in reading order, commas between."""
    unique = list(dict.fromkeys(codes))
    unique.sort(key=lambda code: (_ORDER.index(code) if code in _ORDER else len(_ORDER), len(code), code))
    return ",".join(unique)
