"""Other usual spellings of positions, by socket scheme. Common practice, no source.

A spelling is listed only where it can mean one thing. Left out: "driver side" and "passenger side" (the
country decides), "front" on a component with one socket per wheel, "both" of four, "left bank" (which bank
is 1 differs between engines), "l/r" where it may mean left and right.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from string import ascii_lowercase

from longmile.schemas.sockets import ALL_POSITIONS, MAX_LISTED_CYLINDERS, SOCKET_SCHEMES

MAX_LISTED_VALVES = 3
"""Valves of one kind per cylinder for which other spellings are listed; none has more (from memory)."""

_SIDES = {"left": ("left", "l", "lh", "lt"), "right": ("right", "r", "rh", "rt")}
_ENDS = {"front": ("front", "fr", "frt"), "rear": ("rear", "rr", "back")}

_WHOLE_SET = ("set", "full set", "complete set", "every", "each")
_PAIR = ("both", "pair")
_ALL_FOUR = ("all 4", "all four")
_WHOLE_SET_OF: Mapping[str, tuple[str, ...]] = {
    "per_wheel": _ALL_FOUR,
    "per_door": _ALL_FOUR,
    "per_front_wheel": _PAIR,
    "per_rear_wheel": _PAIR,
    "per_axle": _PAIR,
    "per_side": _PAIR,
    "per_bank": _PAIR,
}

_AMBIGUOUS: Mapping[str, frozenset[str]] = {
    "per_rear_wheel": frozenset({"l/r"}),  # left rear, or left and right
    "per_side": frozenset({"l/r", "r/r", "fr", "rr"}),  # front and rear, where an engine has mounts there too
}


def _corner_spellings() -> dict[str, str]:
    """Spellings of the four corners, side first and end first, to lf, rf, lr, rr."""
    found: dict[str, str] = {}
    for side, end in product(_SIDES, _ENDS):
        words = [f"{first} {last}" for first, last in product(_SIDES[side], _ENDS[end])]
        words += [f"{first} {last}" for first, last in product(_ENDS[end], _SIDES[side])]
        words += [f"{side}{joint}{end}" for joint in ("-", "/", "")]
        words += [f"{end}{joint}{side}" for joint in ("-", "/", "")]
        words += [f"{side[0]}/{end[0]}", f"{end[0]}{side[0]}"]
        found |= dict.fromkeys(words, side[0] + end[0])
    return found


def _side_spellings(left: str, right: str) -> dict[str, str]:
    """Spellings of left and right alone, to the two codes given."""
    found: dict[str, str] = {}
    for side, code in (("left", left), ("right", right)):
        long = (f"{side} side", f"{side} hand", f"{side}-hand", f"{side} hand side")
        short = (f"{side[0]}/s", f"{side[0]}/h", f"{side[0]}hs", f"{side[0]}.h.")
        found |= dict.fromkeys((*_SIDES[side], *long, *short), code)
    return found


def _two_wheel_spellings(left: str, right: str) -> dict[str, str]:
    """Spellings of the two wheels of one axle: its corners, and left and right alone."""
    corners = {spelling: code for spelling, code in _corner_spellings().items() if code in (left, right)}
    return corners | _side_spellings(left, right)


def _two_side_spellings() -> dict[str, str]:
    """Spellings of left and right where there is one per side: a corner says the side too."""
    corners = _corner_spellings() | {code: code for code in ("lf", "rf", "lr", "rr")}
    sides = {spelling: "left" if code[0] == "l" else "right" for spelling, code in corners.items()}
    return sides | _side_spellings("left", "right")


def _axle_spellings() -> dict[str, str]:
    """Spellings of front and rear axle."""
    found: dict[str, str] = {}
    for end, words in _ENDS.items():
        found |= dict.fromkeys((*words, end[0], f"{end}s", *(f"{word} axle" for word in words)), end)
    return found


def _door_spellings() -> dict[str, str]:
    """Spellings of the four side doors."""
    corners = _corner_spellings()
    codes = {f"{code} door": code for code in ("lf", "rf", "lr", "rr")}
    return corners | codes | {f"{spelling} door": code for spelling, code in corners.items()}


def _bank_spellings() -> dict[str, str]:
    """Spellings of the two banks; the sensor number is left to the component, which says before or after."""
    found: dict[str, str] = {}
    for number in "12":
        words = [f"{word}{number}" for word in ("bank ", "bank", "bank-", "bank #", "b", "bk ")]
        words += [f"{word}{sensor}" for word, sensor in product((f"b{number}s", f"bank {number} sensor "), "12")]
        found |= dict.fromkeys(words, f"bank_{number}")
    return found


def _numbers() -> list[str]:
    """Cylinder numbers as written in a position code."""
    return [str(number) for number in range(1, MAX_LISTED_CYLINDERS + 1)]


def _lettered() -> list[str]:
    """Cylinder numbers with a valve letter: 1a, 1b, ..."""
    return [f"{number}{letter}" for number, letter in product(_numbers(), ascii_lowercase[:MAX_LISTED_VALVES])]


def _labelled(code: str) -> dict[str, str]:
    """Spellings of one cylinder, or of one lettered valve, by what is written before it."""
    before = (
        "cyl ",
        "cyl",
        "cyl. ",
        "cyl #",
        "cyl no ",
        "cyl no. ",
        "cylinder ",
        "cylinder #",
        "cylinder no ",
    )
    marks = ("#", "# ", "no ", "no. ", "number ", "c")
    return dict.fromkeys((*(word + code for word in before + marks), f"{code} cyl"), code)


def _cylinder_spellings() -> dict[str, str]:
    """Spellings of every listed cylinder; 3.0 and 03 are what spreadsheets make of a 3."""
    found: dict[str, str] = {}
    for code in _numbers():
        found |= _labelled(code) | {f"{code}.0": code, code.zfill(2): code}
    return found


def _one_kind_of_valve_spellings() -> dict[str, str]:
    """Spellings of exhaust valves alone, or of intake valves alone."""
    found = _cylinder_spellings()
    for code in _lettered():
        apart = (f"{code[:-1]}{joint}{code[-1]}" for joint in ("-", " ", "/"))
        found |= _labelled(code) | dict.fromkeys(apart, code)
    return found


def _either_kind_of_valve_spellings() -> dict[str, str]:
    """Spellings of `per_valve` codes: the kind of valve before or after the number."""
    kinds = {"in": ("in", "int", "intake", "inlet"), "ex": ("ex", "exh", "exhaust")}
    found: dict[str, str] = {}
    for kind, number in product(kinds, _numbers() + _lettered()):
        for word in kinds[kind]:
            before = (f"{word}{number}", f"{word} {number}", f"{word} #{number}")
            after = (f"{number}{word}", f"{number} {word}", f"#{number} {word}", f"cyl {number} {word}")
            found |= dict.fromkeys((*before, *after), f"{kind}{number}")
    return found


_SPELLINGS: Mapping[str, Mapping[str, str]] = {
    "one": {},
    "per_cylinder": _cylinder_spellings(),
    "per_exhaust_valve": _one_kind_of_valve_spellings(),
    "per_intake_valve": _one_kind_of_valve_spellings(),
    "per_valve": _either_kind_of_valve_spellings(),
    "per_bank": _bank_spellings(),
    "per_wheel": _corner_spellings(),
    "per_front_wheel": _two_wheel_spellings("lf", "rf"),
    "per_rear_wheel": _two_wheel_spellings("lr", "rr"),
    "per_axle": _axle_spellings(),
    "per_side": _two_side_spellings(),
    "per_door": _door_spellings(),
}


def _synonyms(scheme: str) -> dict[str, str]:
    """Spellings of one scheme with those of the whole set, less the doubtful and the codes themselves."""
    whole = dict.fromkeys(_WHOLE_SET + _WHOLE_SET_OF.get(scheme, ()), ALL_POSITIONS)
    doubtful = _AMBIGUOUS.get(scheme, frozenset())
    both = {**_SPELLINGS[scheme], **whole}
    return {spelling: code for spelling, code in both.items() if spelling != code and spelling not in doubtful}


POSITION_SYNONYMS: Mapping[str, Mapping[str, str]] = {scheme: _synonyms(scheme) for scheme in SOCKET_SCHEMES}
"""By scheme: other spelling, lower case, to our position code or `ALL_POSITIONS`; our own codes are left out.

A code found here need not exist on a given engine ("#7" on a four-cylinder, "#3" where a cylinder has two
exhaust valves): compare with `socket_positions`.
"""
