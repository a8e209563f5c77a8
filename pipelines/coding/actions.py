"""What was done to each part named, as tags for `statuses` to settle.

Tags are the verbs' (`trade_verbs`), and `not_done`; `excluded` and `ruled_out` ("not the pads"); `place` and `context`
(named in a clause of where or why); `with` and `and` (joined to the part before).
"""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.clauses import OF_A_PART, Event
from longmile.pipelines.coding.listed_parts import DONE, group_before, has_object, has_part_since_verb
from longmile.pipelines.coding.small_words import ends_between, stands_at_place
from longmile.pipelines.coding.word_table import word_set

SAID_OF_PARTS_BEFORE = DONE - {"tuned"} | word_set("inspected declined offered later needed removed new not_done")
NOT_YET = word_set("declined offered needed later")
BE = word_set("was were is are been be being get got has")

Tags = dict[int, set[str]]


def tags_of(words: Sequence[str], events: Sequence[Event]) -> Tags:
    """Tags for each part event, by its index in `events`."""
    tags: Tags = {i: set() for i, event in enumerate(events) if event.said == "part"}
    active: list[str] = []
    is_aside, verb_end, opened_by = False, 0, ""
    for i, event in enumerate(events):
        if i and ends_between(words, events[i - 1].end, event.start):
            active, is_aside, opened_by = [], False, ""
        if event.said == "aside":
            is_aside, opened_by = True, event.what
        elif event.said == "trouble" and event.what in OF_A_PART and has_part_since_verb(events, i):
            active = []
        elif event.said == "verb" and opened_by in ("when", "until", "before") and _is_passive(words, event):
            active, is_aside = [], False
        elif event.said == "verb":
            active, verb_end, is_aside = _verb(words, events, i, tags, active), event.end, False
        elif event.said == "part":
            in_force = [] if _is_told_apart(words, events, i, verb_end) else active
            _part(words, events, i, tags[i], in_force, is_aside)
    return tags


def _verb(words: Sequence[str], events: Sequence[Event], i: int, tags: Tags, active: list[str]) -> list[str]:
    """The verbs in force after this one; where it has no object of its own it is said of the parts before."""
    event = events[i]
    follows = i > 0 and events[i - 1].said == "verb"
    if follows and words[event.start] == "do" and event.start - events[i - 1].end <= 1:
        return active
    tag = _denied(event) if event.is_negated else event.what
    chained = active if follows and tag != "found" else []
    is_passive = words[event.start - 1 : event.start] != () and _is_passive(words, event)
    if not is_passive and has_object(words, events, i):
        if tuple(words[event.end : event.end + 1]) == ("with",):
            _said_before(words, events, i, tags, {tag})
        return [*chained, tag]
    if tag in SAID_OF_PARTS_BEFORE:
        _said_before(words, events, i, tags, {tag, *(t for t in chained if t in NOT_YET | {"not_done"})})
    return [] if is_passive else [*chained, tag]


def _said_before(words: Sequence[str], events: Sequence[Event], i: int, tags: Tags, said: set[str]) -> None:
    """Tags said of the parts before a verb."""
    for at in group_before(words, events, i):
        tags[at] |= said


def _denied(event: Event) -> str:
    """Tag of a verb that is denied."""
    return "not_done" if event.what in DONE else "" if event.what in NOT_YET else event.what


def _is_passive(words: Sequence[str], event: Event) -> bool:
    """Whether a verb is said of what stands before it: "was replaced", "has been resealed"."""
    return event.start > 0 and words[event.start - 1] in BE and event.what in SAID_OF_PARTS_BEFORE


def _is_told_apart(words: Sequence[str], events: Sequence[Event], i: int, verb_end: int) -> bool:
    """Whether a part behind a comma is said to be sound, or faulty, there: "pads renewed, discs ok"."""
    after = next((e for e in events[i + 1 :] if e.said != "aside"), None)
    if after is None or after.said not in ("sound", "trouble") or "," in words[events[i].end : after.start]:
        return False
    is_told = after.said == "sound" or (after.what in OF_A_PART and after.start == events[i].end)
    return is_told and "," in words[verb_end : events[i].start]


def _part(
    words: Sequence[str], events: Sequence[Event], i: int, tags: set[str], active: Sequence[str], is_aside: bool
) -> None:
    """Add the tags of a part: those of the verbs in force, unless it is only where or why."""
    event = events[i]
    if event.is_negated:
        tags.add("excluded" if {"replaced", "new", "put", "declined"} & set(active) else "ruled_out")
    if stands_at_place(words, event.start, event.what):
        tags.add("place")
    if event.start and words[event.start - 1] == "with":
        tags.add("with")
    if _is_joined(words, event):
        tags.add("and")
    if is_aside:
        tags.add("context")
    elif "place" not in tags or not has_part_since_verb(events, i):
        tags.update(tag for tag in active if tag)


def _is_joined(words: Sequence[str], event: Event) -> bool:
    """Whether a part is joined to one before it by a sign or word, or stands in a list in brackets."""
    if event.start and words[event.start - 1] in ("&", "and", "with", "+", "/", "("):
        return True
    before = list(words[: event.start])
    return before.count("(") > before.count(")")
