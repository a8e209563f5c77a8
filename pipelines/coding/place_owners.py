"""Which part each place of a text is told of: the one behind it, or the one before where a break comes first."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.clauses import Event
from longmile.pipelines.coding.positions import Place, numbers_behind
from longmile.pipelines.coding.small_words import ends_between
from longmile.pipelines.coding.word_table import word_set
from longmile.schemas.vocabulary import BY_CODE

Parts = Sequence[tuple[int, Event]]
Owned = dict[int, list[Place]]

_LEADING = word_set(
    """and & / , side cylinder # outer inner upper lower the brake wheel door axle suspension number hand bank both all
    new of x set lh rh position two left right front rear lf rf lr rr"""
)
MOST_LEADING = 6
MOST_FROM_ALL = 4
"""Words between "all" or "both" and the part it is told of."""

_BY_NUMBER = ("per_cylinder", "per_exhaust_valve", "per_intake_valve", "per_valve")


def owned_places(words: Sequence[str], events: Sequence[Event], places: Sequence[Place]) -> Owned:
    """Places by the index of the part's event."""
    parts = [(i, e) for i, e in enumerate(events) if e.named and e.named.kind in ("component", "half")]
    owned: Owned = {}
    for place in places:
        is_count = place.kind in ("all", "two") and not _is_near(words, parts, place)
        owner = _counted_by_verb(events, parts, place) if is_count else _owner(words, parts, place)
        if owner is not None:
            owned.setdefault(owner, []).append(place)
    for i, event in parts:
        numbers = numbers_behind(words, event.end - 1) if _has_numbers(event) and event.end < len(words) else []
        if numbers and all(place.kind != "number" for place in owned.get(i, [])):
            owned.setdefault(i, []).extend(numbers)
    return owned


def _owner(words: Sequence[str], parts: Parts, place: Place) -> int | None:
    """Index of the part that a place is told of; None for none in its sentence."""
    inside = next((i for i, e in parts if e.start <= place.start and place.end <= e.end), None)
    if inside is not None:
        return inside
    before = next(((i, e) for i, e in reversed(parts) if e.end <= place.start), None)
    after = next(((i, e) for i, e in parts if e.start >= place.end), None)
    if after and _leads(words[place.end : after[1].start]):
        return after[0]
    if before and not ends_between(words, before[1].end, place.start):
        return before[0]
    return after[0] if after and not ends_between(words, place.end, after[1].start) else None


def _leads(between: Sequence[str]) -> bool:
    """Whether only joints and words of places stand between a place and the part behind it."""
    return len(between) <= MOST_LEADING and all(word in _LEADING or word[0].isdigit() for word in between)


def _is_near(words: Sequence[str], parts: Parts, place: Place) -> bool:
    """Whether "all" or "both" stands near enough to a part to be told of it."""
    for _, event in parts:
        start, end = (place.end, event.start) if place.end <= event.start else (event.end, place.start)
        if end - start <= MOST_FROM_ALL and not ends_between(words, start, end):
            return True
    return False


def _counted_by_verb(events: Sequence[Event], parts: Parts, place: Place) -> int | None:
    """The part before, where "all" stands right behind "replaced" with nothing of its own."""
    is_done = any(e.said == "verb" and e.end == place.start and e.what in ("replaced", "rnr") for e in events)
    before = [i for i, e in parts if e.end <= place.start]
    return before[-1] if is_done and before else None


def _has_numbers(event: Event) -> bool:
    """Whether a part has sockets by cylinder, so that a number right behind it is one: "injector 6"."""
    if event.named is not None and event.named.kind == "half":
        return event.what in ("coil", "plug", "valve", "injector")
    code = event.what.split("+")[0]
    return code in BY_CODE and BY_CODE[code].sockets in _BY_NUMBER
