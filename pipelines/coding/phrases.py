"""Where a text names parts: the longest names, in order or turned round ("PUMP, WATER").

A name followed at once by the head of another part is that other part: a water pump gasket is no water pump. "X for Y"
is X. What was done, and to what, is settled later.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from longmile.pipelines.coding.bare_heads import BARE_HEADS, FILLERS
from longmile.pipelines.coding.names import LONGEST, NAMES, PLAIN_FILLERS, TURNED, TURNED_WORDS, Kind
from longmile.pipelines.coding.small_words import ARTICLES, POSITION_WORDS
from longmile.pipelines.coding.word_table import word_set

MODIFIERS = word_set("upper lower inner outer upstream downstream rear front intake exhaust")
MAX_TURNED = 9
"""Words within which a name turned round is looked for."""

OF_ANOTHER = word_set("for of on to in at from by behind")
FLUID_NAMES = word_set("coolant oil engine_oil brake_fluid")
_ENDS_A_NAME = frozenset(".;\n:!?=")
_NOT_WITHIN = frozenset(("and", "&", "with"))
_WITHIN = frozenset(",-()/")


@dataclass(frozen=True)
class Named:
    """One name in a text.   start, end: its words, end excluded.   what: component code, or the name itself.

    by: `name` as written in a table, `turned` in another order, `part_of` where it is the head of a longer name.
    """

    start: int
    end: int
    kind: Kind
    what: str
    by: Literal["name", "turned", "part_of"] = "name"


def names_in(words: Sequence[str], is_catalogue: bool = False) -> list[Named]:
    """Names in order, none overlapping, longest first at each word.

    is_catalogue: the text names a part as a parts list does, head first: "PUMP, WATER".
    """
    found: list[Named] = []
    at = 0
    while at < len(words):
        named = _name_at(words, at, is_catalogue)
        at = named.end if named else at + 1
        if named:
            _add(words, found, named)
    return found


def _name_at(words: Sequence[str], at: int, is_catalogue: bool) -> Named | None:
    """The name that starts at a word; a name turned round only where it explains more words."""
    straight = _with_modifier(words, _straight_at(words, at))
    turned = _turned_at(words, at, straight, is_catalogue)
    if turned is None or straight is None:
        return straight or turned
    n_words = len({*words[turned.start : turned.end]} & TURNED_WORDS)
    return turned if n_words > straight.end - at else straight


def _straight_at(words: Sequence[str], at: int) -> Named | None:
    """Longest name as written that starts at a word; "cylinder 3" is a place."""
    for length in range(min(LONGEST.get(words[at], 0), len(words) - at), 0, -1):
        entry = NAMES.get(tuple(words[at : at + length]))
        if entry and not (length == 1 and words[at] == "cylinder" and _is_numbered(words, at + 1)):
            return Named(at, at + length, *entry)
    return None


def _is_numbered(words: Sequence[str], at: int) -> bool:
    """Whether a number stands there."""
    return at < len(words) and (words[at][0].isdigit() or words[at] in ("#", "number", "one", "two", "three", "four"))


def _with_modifier(words: Sequence[str], straight: Named | None) -> Named | None:
    """The name with the word behind its comma that makes it another: "tie rod end, inner"."""
    if straight is None or straight.kind not in ("component", "half"):
        return straight
    at = straight.end + (tuple(words[straight.end : straight.end + 1]) in ((",",), ("-",), ("(",)))
    if not words[at : at + 1] or words[at] not in MODIFIERS:
        return straight
    entry = TURNED.get(frozenset((*words[straight.start : straight.end], words[at])))
    if entry and entry[0] == "component" and entry[1] != straight.what:
        return Named(straight.start, at + 1, *entry, by="turned")
    return straight


def _turned_at(words: Sequence[str], at: int, straight: Named | None, is_catalogue: bool) -> Named | None:
    """Longest name whose words start here in any order, with fillers, positions and "of the" between.

    Over a comma only in a parts list, and where what stands before it is no whole component by itself.
    """
    if words[at] not in TURNED_WORDS:
        return None
    is_whole = straight is not None and straight.kind not in ("half", "other") and words[at] not in BARE_HEADS
    may_cross = is_catalogue and not is_whole
    content: set[str] = set()
    best: Named | None = None
    for end in range(at, min(len(words), at + MAX_TURNED)):
        word = words[end]
        if word in _ENDS_A_NAME or (word in (",", "(") and not may_cross) or word in _NOT_WITHIN:
            break
        if word in TURNED_WORDS and word not in content and word not in PLAIN_FILLERS:
            content.add(word)
            entry = TURNED.get(frozenset(content)) if len(content) > 1 else None
            best = Named(at, end + 1, *entry, by="turned") if entry else best
        elif not _may_stand_within(word, words[at]):
            break
    return best


def _may_stand_within(word: str, first: str) -> bool:
    """Whether a word may stand within a name turned round."""
    if word in ("of", "the") and first in BARE_HEADS:
        return True
    return word in FILLERS or word in POSITION_WORDS or word in _WITHIN or word[0].isdigit()


def _add(words: Sequence[str], found: list[Named], named: Named) -> None:
    """Add a name, taken together with the one before where both make one."""
    last = found[-1] if found else None
    if last is None:
        found.append(named)
    elif last.what in FLUID_NAMES and named.start == last.end and named.kind in ("component", "half"):
        found[-1] = named
    elif last.kind == "component" and named.kind in ("half", "other") and _is_head(words, last, named):
        found[-1] = _longer(words, last, named)
    elif _is_of(words, last, named):
        found[-1] = _of(words, last, named)
    else:
        found.append(named)


def _is_head(words: Sequence[str], last: Named, named: Named) -> bool:
    """Whether a bare head stands right behind a component's name: "water pump gasket"."""
    is_bare = words[named.end - 1] in BARE_HEADS if named.kind == "half" else named.what in ("fuse", "relay")
    return is_bare and last.end == named.start


def _longer(words: Sequence[str], last: Named, named: Named) -> Named:
    """The component that the last words of both names are ("heater blower motor" + "resistor"), else another part."""
    for start in range(last.start + 1, last.end):
        entry = NAMES.get(tuple(words[start : named.end]))
        if entry and entry[0] == "component":
            return Named(last.start, named.end, *entry)
    return replace(last, end=named.end, kind="other", what=f"{last.what} {named.what}", by="part_of")


def _is_of(words: Sequence[str], last: Named, named: Named) -> bool:
    """Whether "X for Y" stands there, with X half named or another part and Y a part."""
    between = words[last.end : named.start]
    if last.kind not in ("half", "other") or named.kind not in ("component", "other", "half"):
        return False
    if not 0 < len(between) <= 3 or between[0] not in OF_ANOTHER or words[last.start] not in BARE_HEADS:
        return False
    return all(word in ARTICLES or word in POSITION_WORDS for word in between[1:])


def _of(words: Sequence[str], last: Named, named: Named) -> Named:
    """What "X for Y" names: the component that both make up, wiring wherever it leads, else another part."""
    both = (*words[named.start : named.end], *words[last.start : last.end])
    entry = NAMES.get(both) or TURNED.get(frozenset(both))
    if entry:
        return Named(last.start, named.end, *entry, by="turned")
    if named.what in ("engine", "motor") and last.kind == "half":
        return last
    if last.what in ("wire", "wiring", "cable"):
        return Named(last.start, named.end, "component", "wiring_harness", by="part_of")
    return Named(last.start, named.end, "other", f"{named.what} {last.what}", by="part_of")
