"""Where a text says something is: corners, sides, axles, cylinders, banks, all or both of them.

Left and right are seen from the driver's seat. "Driver side" is a side only as the caller states it; "nearside" is left
and "offside" right, as they are said where one drives on the left.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from longmile.pipelines.coding.word_table import word_set

PlaceKind = Literal["corner", "side", "seat", "end", "corner_or_end", "number", "bank", "all", "two"]

CORNERS = {"lf": "lf", "fl": "lf", "rf": "rf", "lr": "lr", "rl": "lr"}
CORNERS_OR_ENDS = {"fr": "rf", "rr": "rr"}
SIDES = {"left": "left", "right": "right", "nearside": "left", "offside": "right", "l": "left", "r": "right"}
ENDS = {
    "front": "front",
    "rear": "rear",
    "fronts": "front",
    "rears": "rear",
    "behind": "rear",
    "fwd": "front",
    "f": "front",
}
ALL_WORDS = word_set("all every complete")
TWO_WORDS = word_set("both pair pr bth two x2 sides boath")
COUNTS = word_set("x4 four 4 x6 x8 six eight 6 8")
NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
BANKS = {"1": "1", "one": "1", "won": "1", "2": "2", "two": "2", "too": "2"}
_BETWEEN_NUMBERS = word_set(", and & / # - cylinder number no")
_NOT_COUNTED_AFTER = word_set("/ # . - @ at to on between")
_NOT_COUNTED_BEFORE = word_set("/ - . speed wheel hour cylinder door year month qt quart gal lb x")
_CYLINDER = re.compile(r"(?:1[0-6]|[1-9])[a-c]?")
_TROUBLE_CODE = re.compile(r"p03(0[1-9]|1[0-2])|p02(0[1-9]|1[0-2])|p035([1-9])|p067([1-8])")
_BANK = re.compile(r"b(?:ank)?([12])(?:s[12])?")


@dataclass(frozen=True)
class Place:
    """One word or group of words that tells a place.   is_weak: a trouble code that holds a cylinder.

    kind: `seat` is a side told by who sits there; `corner_or_end`: "fr", "rr"; `number` of a cylinder.
    """

    start: int
    end: int
    kind: PlaceKind
    value: str
    is_weak: bool = False


def places_in(words: Sequence[str], driver: str) -> list[Place]:
    """Every place told in a text, in order.   driver: the side a driver sits on, left or right, or "" for unknown."""
    seats = {"driver": driver, "passenger": "right" if driver == "left" else "left"} if driver else {}
    found: list[Place] = []
    at = 0
    while at < len(words):
        places = _place_at(words, at, seats)
        found.extend(places)
        at = places[-1].end if places else at + 1
    return found


def _place_at(words: Sequence[str], at: int, seats: Mapping[str, str]) -> list[Place]:
    """Places that start at a word."""
    word = words[at]
    if word in seats:
        return [Place(at, at + 1, "seat", seats[word])]
    if word in ("cylinder", "#", "number"):
        return numbers_behind(words, at)
    return _by_word(words, at) or _bank(words, at) or _counted(words, at)


def _by_word(words: Sequence[str], at: int) -> list[Place]:
    """A corner, side or end told by one word."""
    word = words[at]
    if word in CORNERS:
        return [Place(at, at + 1, "corner", CORNERS[word])]
    if word in CORNERS_OR_ENDS:
        return [Place(at, at + 1, "corner_or_end", CORNERS_OR_ENDS[word])]
    if word in SIDES and (len(word) > 1 or _is_lone_side(words, at)):
        return [Place(at, at + 1, "side", SIDES[word])]
    is_end = word in ENDS and (len(word) > 1 or words[at - 1 : at] == ("/",)) and words[at + 1 : at + 2] != ("end",)
    return [Place(at, at + 1, "end", ENDS[word])] if is_end else []


def _is_lone_side(words: Sequence[str], at: int) -> bool:
    """Whether a lone "l" or "r" is a side: "l & r", "r side"."""
    near = words[max(0, at - 2) : at + 3]
    return ("l" in near and "r" in near) or words[at + 1 : at + 2] in (("side",), ("front",), ("rear",))


def _bank(words: Sequence[str], at: int) -> list[Place]:
    """A bank: "bank 1", "b2s1"."""
    if words[at] == "bank" and words[at + 1 : at + 2] and words[at + 1] in BANKS:
        return [Place(at, at + 2, "bank", BANKS[words[at + 1]])]
    bank = _BANK.fullmatch(words[at])
    return [Place(at, at + 1, "bank", bank[1])] if bank else []


def numbers_behind(words: Sequence[str], at: int) -> list[Place]:
    """Cylinder numbers behind a word: "cyl #1, 3 and 5"."""
    found: list[Place] = []
    for i in range(at + 1, len(words)):
        word = str(NUMBERS.get(words[i], words[i]))
        if _CYLINDER.fullmatch(word) and not (words[i] in NUMBERS and i > at + 2):
            found.append(Place(at, i + 1, "number", word))
        elif words[i] not in _BETWEEN_NUMBERS or i + 1 == len(words):
            break
    return found


def _counted(words: Sequence[str], at: int) -> list[Place]:
    """All, both, sets of so many, trouble codes that hold a cylinder, and "4 cyl" turned round."""
    word, following = words[at], words[at + 1 : at + 2]
    if word in ALL_WORDS or (word in ("set", "full") and following == ("of",)):
        return [Place(at, at + 1, "all", "")]
    if word in TWO_WORDS:
        return [Place(at, at + 1, "two", "")]
    if word in COUNTS and not _is_of_something_else(words, at):
        return [Place(at, at + 1, "all", word.lstrip("x"))]
    code = _TROUBLE_CODE.fullmatch(word)
    if code:
        return [Place(at, at + 1, "number", str(int(next(filter(None, code.groups())))), is_weak=True)]
    is_number = _CYLINDER.fullmatch(word) and following in (("cylinder",), ("intake",), ("exhaust",))
    return [Place(at, at + 1, "number", word)] if is_number else []


def _is_of_something_else(words: Sequence[str], at: int) -> bool:
    """Whether a number is a measure, a date or a part of something else, and counts no parts."""
    before, behind = words[at - 1 : at] if at else (), words[at + 1 : at + 2]
    return not _NOT_COUNTED_AFTER.isdisjoint(before) or not _NOT_COUNTED_BEFORE.isdisjoint(behind)
