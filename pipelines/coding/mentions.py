"""The first stage, the vocabulary alone: a line's texts to mentions of components with position, action and reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from longmile.pipelines.coding.chosen import chosen, implied_fluid
from longmile.pipelines.coding.component_groups import MEASURED
from longmile.pipelines.coding.mention_signs import signs_of
from longmile.pipelines.coding.occurrences import Gathered, Occurrence
from longmile.pipelines.coding.positions import Place
from longmile.pipelines.coding.reading import gathered
from longmile.pipelines.coding.sockets_named import socket_codes
from longmile.pipelines.coding.statuses import DONE, status_of
from longmile.pipelines.coding.why import Line, reason_of
from longmile.pipelines.coding.word_table import word_set
from longmile.schemas.vocabulary import BY_CODE

Outcome = Literal["mentions", "nothing", "open"]
_TELLING = frozenset((*DONE, "declined", "inspected", "rnr", "new", "fluid", "offered"))
_TROUBLED = word_set("failed worn aged found_at_inspection")


@dataclass(frozen=True)
class Mention:
    """One component that a line is about. Position, action and reason as in `repair_line`; "" where the line says none.

    said: the words that named it.   is_action_told: the action is told by words, and not what such lines usually mean.
    """

    component_code: str
    position: str
    action: str
    reason: str
    said: str = ""
    is_action_told: bool = True


@dataclass(frozen=True)
class Reading:
    """What the first stage makes of a line.   outcome: `mentions`; `nothing`: it names what is no component; `open`: it
    names no component and may be about one.   signs: what speaks for and against.   plain_text: its words, settled.
    """

    outcome: Outcome
    mentions: tuple[Mention, ...]
    signs: Mapping[str, float]
    because: str
    plain_text: str


def read_line(kind: str, texts: Mapping[str, str], driver: str = "left") -> Reading:
    """Reading of one line; texts: description, cause, correction and concern, each may be missing or empty."""
    found = gathered(texts, driver, kind == "part")
    concern = gathered({"cause": texts.get("concern", "")}, driver)
    by_code = _by_code(found)
    status = {code: status_of(code, items, kind, found) for code, items in by_code.items()}
    kept = chosen(kind, by_code, status, found)
    fluid = implied_fluid(kind, found, status, kept)
    if fluid:
        by_code[fluid], status[fluid] = (
            [Occurrence(fluid, "correction", "implied", {"replaced"}, said="flush")],
            "replaced",
        )
        kept = [*kept, fluid]
    first = next((code for code in kept if status[code] in DONE), kept[0] if kept else "")
    line = Line(kind, found, concern, kept, first)
    mentions = tuple(_mention(code, by_code[code], status[code], line) for code in kept)
    outcome: Outcome = "mentions" if mentions else "open" if _is_open(kind, found) else "nothing"
    signs = signs_of(kind, found, by_code, status, kept)
    return Reading(outcome, mentions, signs, _because(found, mentions), " ".join(found.in_order))


def mention_of(code: str, kind: str, texts: Mapping[str, str], driver: str = "left") -> Mention:
    """The mention of a component that is known from elsewhere: action, reason and position as the texts tell them."""
    for mention in read_line(kind, texts, driver).mentions:
        if mention.component_code == code:
            return mention
    found = gathered(texts, driver, kind == "part")
    concern = gathered({"cause": texts.get("concern", "")}, driver)
    tags = {verb for verb in found.verbs if verb in _TELLING}
    reasons = [reason for item in found.occurrences for reason in item.reasons]
    item = Occurrence(code, "correction", "learned", tags, reasons, found.is_loose_sound, found.places)
    return _mention(code, [item], status_of(code, [item], kind, found), Line(kind, found, concern, [code], code))


def _by_code(found: Gathered) -> dict[str, list[Occurrence]]:
    """Occurrences by component; a driveshaft with a side is an axle shaft, as the British say."""
    by_code: dict[str, list[Occurrence]] = {}
    for item in found.occurrences:
        if item.code == "driveshaft" and any(place.kind in ("side", "corner") for place in item.places):
            item.code = "cv_axle"
        by_code.setdefault(item.code, []).append(item)
    return by_code


def _mention(code: str, items: Sequence[Occurrence], status: str, line: Line) -> Mention:
    """The mention of one component."""
    action = _action(code, status, items, line)
    is_told = status in DONE or status in ("declined", "inspected", "needed")
    return Mention(
        code, _position(code, items, line), action, reason_of(code, items, action, line), items[0].said, is_told
    )


def _action(code: str, status: str, items: Sequence[Occurrence], line: Line) -> str:
    """Action of a component from what was done to it; what is only found in trouble, or measured, was looked at."""
    if line.kind == "part":
        return "replaced"
    if code == "tail_light" and status == "replaced" and "bulb" in line.found.words:
        return "repaired"
    if status in DONE or status in ("declined", "inspected"):
        return status
    if status in ("needed", "later"):
        return "declined" if "declined" in line.found.verbs else "inspected"
    if status == "removed":
        return ""
    told = {reason for item in items for reason in item.reasons}
    is_troubled = bool(told & _TROUBLED) or (bool(line.found.loose) and not told)
    return "inspected" if is_troubled or (code in MEASURED and "<length>" in line.found.words) else "replaced"


def _position(code: str, items: Sequence[Occurrence], line: Line) -> str:
    """Position of a component: told of it, best where the work is told; else of the line; else by the customer."""
    scheme, found = BY_CODE[code].sockets, line.found
    if scheme == "one":
        return ""
    valves = [kind for kind, word in (("in", "intake"), ("ex", "exhaust")) if word in found.words]
    is_plural = any(item.is_plural for item in items)
    by_work = sorted(items, key=lambda item: (item.source != "correction", not item.tags & {"replaced", "repaired"}))
    is_misfire_only = is_plural and scheme == "per_cylinder" and len(found.places) == 1
    own = [place for item in items for place in item.places]
    told = [*(item.places for item in by_work), own, [] if is_misfire_only else found.places]
    for places in (*told, line.concern.places if len(line.kept) == 1 else []):
        named = socket_codes(scheme, _strong(places), is_plural, valves)
        if named:
            return named
    return ""


def _strong(places: Sequence[Place]) -> list[Place]:
    """Places, those that only a trouble code tells left out where others are told."""
    return [place for place in places if not place.is_weak] or list(places)


def _is_open(kind: str, found: Gathered) -> bool:
    """Whether a line without mentions may still be about a component."""
    if found.open_names or kind == "fee":
        return bool(found.open_names)
    is_of_a_component = any(other.split()[0] in BY_CODE for other in found.others)
    return is_of_a_component or not (found.charges or found.others)


def _because(found: Gathered, mentions: Sequence[Mention]) -> str:
    """Why, for people: the words that were matched, and what stayed open."""
    parts = [f"{mention.said!r}: {mention.component_code}" for mention in mentions]
    named = list(dict.fromkeys((*found.charges, *found.others)))
    if not mentions and named:
        parts.append(f"no component: {', '.join(named)}")
    if found.open_names:
        parts.append(f"not told which: {', '.join(dict.fromkeys(found.open_names))}")
    return "; ".join(parts)
