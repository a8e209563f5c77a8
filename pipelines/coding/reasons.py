"""Why each part was worked on: troubles told of it, and reasons told of the job.

A trouble belongs to the part right behind it ("cracked manifold"), else to the nearest part before it in its sentence,
else to the next one in it; without any it is `loose`: a symptom of whatever was then worked on. Reasons of the job hold
for every part of their sentence, or of the line where the sentence names none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from longmile.pipelines.coding.clauses import OF_A_PART, Event
from longmile.pipelines.coding.small_words import ARTICLES, POSITION_WORDS, SENTENCE_ENDS
from longmile.pipelines.coding.word_table import word_set

OF_THE_LINE = frozenset(("recall", "found_at_inspection"))
NEAREST_ONLY = word_set("while since as in because the be")
"""First words of reasons that are told of the part just named: "while we were in there"."""

PRIORITY = ("recall", "customer_request", "access", "preventive", "found_at_inspection", "worn", "failed")


@dataclass
class Told:
    """Reasons by the index of the part's event, those of the whole line, and which parts were called sound.

    loose: troubles told of no part.   is_loose_sound: whether soundness was told of no part.
    """

    of_part: dict[int, list[str]] = field(default_factory=dict)
    of_line: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    sound: set[int] = field(default_factory=set)
    is_loose_sound: bool = False


def told_in(words: Sequence[str], events: Sequence[Event]) -> Told:
    """Reasons of one text."""
    told = Told()
    sentences = _sentences(words, events)
    for i, event in enumerate(events):
        mates = [j for j, e in enumerate(events) if e.said == "part" and sentences[j] == sentences[i]]
        if event.said == "sound":
            _sound(words, events, i, mates, told)
        elif event.said == "trouble" and event.what in OF_A_PART:
            _trouble(words, events, i, mates, told)
        elif event.said == "trouble" and event.what != "nothing":
            _of_the_job(words, event, i, mates, told)
    return told


def _sentences(words: Sequence[str], events: Sequence[Event]) -> list[int]:
    """Number of the sentence in which each event stands."""
    ends = [i for i, word in enumerate(words) if word in SENTENCE_ENDS]
    return [sum(end < event.start for end in ends) for event in events]


def _sound(words: Sequence[str], events: Sequence[Event], i: int, mates: Sequence[int], told: Told) -> None:
    """Note soundness of the parts it is told of."""
    at = _part_of(words, events, i, mates)
    if at is None:
        told.is_loose_sound = True
    else:
        told.sound.update(_listed_with(words, events, at))


def _trouble(words: Sequence[str], events: Sequence[Event], i: int, mates: Sequence[int], told: Told) -> None:
    """Note a trouble of the part it is told of; behind a list of parts worked on it is a symptom of the job."""
    event = events[i]
    at = _part_of(words, events, i, mates)
    if at is None:
        told.loose.append(event.what)
        return
    listed = _listed_with(words, events, at)
    between = words[events[at].end : event.start]
    follows_a_verb = listed[-1] > 0 and events[listed[-1] - 1].said == "verb"
    if len(listed) > 1 and at < i and follows_a_verb and "," in between:
        told.loose.append(event.what)
        return
    is_of_all = not {"both", "all", "are", "were"}.isdisjoint(between)
    for j in listed if is_of_all else [at]:
        told.of_part.setdefault(j, []).append(event.what)


def _of_the_job(words: Sequence[str], event: Event, i: int, mates: Sequence[int], told: Told) -> None:
    """Note a reason of the job."""
    if not mates or event.what in OF_THE_LINE:
        told.of_line.append(event.what)
        return
    is_near = words[event.start] in NEAREST_ONLY or event.what == "access"
    near = [j for j in mates if j < i][-1:] if is_near else mates
    for j in near or mates:
        told.of_part.setdefault(j, []).append(event.what)


def _part_of(words: Sequence[str], events: Sequence[Event], i: int, mates: Sequence[int]) -> int | None:
    """The part of its sentence that a trouble or soundness is told of."""
    event = events[i]
    behind = next((j for j in mates if j > i), None)
    before = next((j for j in reversed(mates) if j < i), None)
    if behind is not None:
        between = words[event.end : events[behind].start]
        is_first_or_verb = i > 0 and (events[i - 1].said == "verb" or before is None)
        if _belongs_behind(event, between, is_first_or_verb):
            return behind
    if before is not None or behind is None or "," in words[event.end : events[behind].start]:
        return before
    verb_between = any(events[j].said == "verb" for j in range(i + 1, behind))
    return None if verb_between else behind


def _belongs_behind(event: Event, between: Sequence[str], is_first_or_verb: bool) -> bool:
    """Whether what is said is of the part behind: "cracked manifold", "no leak at the manifold"."""
    plain = [word for word in between if word not in ARTICLES and word not in POSITION_WORDS]
    if event.said == "sound":
        return 0 < len(plain) <= 3 and plain[-1] in ("with", "at", "in", "on", "from", "near")
    return is_first_or_verb and len(between) <= 2 and not plain


def _listed_with(words: Sequence[str], events: Sequence[Event], at: int) -> list[int]:
    """The part, and those joined to it by "and" right before: "idler and pitman arm are within limits"."""
    group = [at]
    while group[-1] > 0 and events[group[-1] - 1].said == "part":
        between = words[events[group[-1] - 1].end : events[group[-1]].start]
        plain = [word for word in between if word not in POSITION_WORDS and word not in ARTICLES]
        if not between or any(word not in ("and", "&", "/") for word in plain):
            break
        group.append(group[-1] - 1)
    return group


def strongest(reasons: Sequence[str]) -> str:
    """The reason that counts of several; "" of none."""
    return next((reason for reason in PRIORITY if reason in reasons), "")
