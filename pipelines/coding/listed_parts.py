"""Which parts a verb is said of: those behind it ("replaced pads, rotors") or before it ("pads, rotors replaced")."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.bare_heads import FILLERS
from longmile.pipelines.coding.clauses import OF_A_PART, Event
from longmile.pipelines.coding.small_words import (
    ARTICLES,
    PLACE_WORDS,
    POSITION_WORDS,
    STUFF,
    ends_between,
    stands_at_place,
)
from longmile.pipelines.coding.word_table import word_set

DONE = word_set("replaced rnr tuned repaired adjusted cleaned fluid go put set got")
"""Tags of verbs that say something was done."""

_JOINTS = frozenset(
    (
        *ARTICLES,
        *FILLERS,
        *POSITION_WORDS,
        *[",", "and", "&", "/", "with", "both", "all", "new", "or", "plus", "+", "also"],
    )
)
_WEAK_NAMES = STUFF - {"engine_oil"} | {"engine"}


def has_object(words: Sequence[str], events: Sequence[Event], i: int) -> bool:
    """Whether a part follows a verb before the next one; over a comma only where no part stands before the verb."""
    event = events[i]
    after = next((e for e in events[i + 1 :] if e.said != "charge" and (e.said, e.what) != ("verb", "new")), None)
    if after is None:
        return False
    if after.said in ("trouble", "sound"):
        return _describes_an_object(words, events, i, after)
    between = words[event.end : after.start]
    if after.said != "part" or ends_between(words, event.end, after.start):
        return False
    before = events[i - 1] if i and events[i - 1].said == "part" else None
    if before and any(word in PLACE_WORDS for word in between):
        return False
    if before and before.end == event.start and between and between[0] in ("&", "and"):
        return False
    crosses = not {",", "(", "-"}.isdisjoint(between)
    return not (crosses and i and _part_in_clause(words, events, i))


def _describes_an_object(words: Sequence[str], events: Sequence[Event], i: int, after: Event) -> bool:
    """Whether a trouble right behind the verb belongs to the part behind it: "replaced leaking hose"."""
    part = next((e for e in events[i + 1 :] if e.said in ("part", "verb", "aside")), None)
    if part is None or part.said != "part" or after.start > events[i].end:
        return False
    between = words[events[i].end : part.start]
    return "," not in between and not ends_between(words, events[i].end, part.start)


def _part_in_clause(words: Sequence[str], events: Sequence[Event], i: int) -> bool:
    """Whether a part stands before the verb with no sentence end or other verb between."""
    for event in reversed(events[:i]):
        if ends_between(words, event.end, events[i].start):
            return False
        if event.said in ("part", "verb"):
            return event.said == "part"
    return False


def has_part_since_verb(events: Sequence[Event], i: int) -> bool:
    """Whether a part stands between the last verb and an event."""
    last = next((e for e in reversed(events[:i]) if e.said in ("part", "verb")), None)
    return last is not None and last.said == "part"


def group_before(words: Sequence[str], events: Sequence[Event], i: int) -> list[int]:
    """Indexes of the nearest part before a verb, with the parts listed along with it."""
    parts = [j for j in range(i - 1, -1, -1) if events[j].said == "part"]
    told = [j for j in parts if not stands_at_place(words, events[j].start, events[j].what)]
    fallback = parts if events[i].what in DONE or events[i].what in ("declined", "offered", "needed") else []
    strong = [j for j in (*told, *fallback) if not _is_weak(events[j])]
    at = next(iter(strong or told or fallback), None)
    if at is None:
        return []
    near = words[max(0, events[i].start - 3) : events[i].end + 2]
    if "both" in near or "all" in near:
        others = [j for j in told if j < at and _is_component(events[j])]
        return [at, *(others[:1] if "both" in near else others)]
    return _listed_before(words, events, at)


def _is_component(event: Event) -> bool:
    """Whether a part event names a component in full."""
    return event.named is not None and event.named.kind == "component"


def _is_weak(event: Event) -> bool:
    """Whether a part event is no component by its name: another part, or a word such as "oil"."""
    return event.named is None or event.named.kind == "other" or event.what in _WEAK_NAMES


def _listed_before(words: Sequence[str], events: Sequence[Event], at: int) -> list[int]:
    """A part and those joined to it by signs and small words before."""
    group = [at]
    for j in range(at - 1, -1, -1):
        if events[j].said == "trouble" and events[j].what not in OF_A_PART:
            continue
        between = words[events[j].end : events[group[-1]].start]
        if events[j].said != "part" or not all(word in _JOINTS or word[0].isdigit() for word in between):
            break
        group.append(j)
    return group
