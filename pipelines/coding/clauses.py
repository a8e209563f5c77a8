"""A text as a row of things said: parts named, verbs, troubles, words that a part is sound, and openings of asides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from longmile.pipelines.coding.negation import is_negated
from longmile.pipelines.coding.phrases import Named, names_in
from longmile.pipelines.coding.sayings import ASIDE, SAYINGS, Said, end_of, is_while_open, tells_trouble

OF_A_PART = frozenset(("failed", "worn", "aged"))
"""Troubles told of a part; other reasons are told of the job."""


@dataclass(frozen=True)
class Event:
    """One thing said.   start, end: its words.   what: component or name, verb tag, or reason.   named: for parts."""

    start: int
    end: int
    said: Said
    what: str
    is_negated: bool = False
    named: Named | None = None


@dataclass
class _Text:
    """Words of a text and what became of them.   taken: in names.   used: in anything said."""

    words: Sequence[str]
    events: list[Event] = field(default_factory=list)
    taken: set[int] = field(default_factory=set)
    used: set[int] = field(default_factory=set)


def events_in(words: Sequence[str], is_catalogue: bool = False) -> list[Event]:
    """Everything said in a text, in order; what stands inside a part's name says nothing by itself."""
    text = _Text(words)
    for named in names_in(words, is_catalogue):
        _add_name(text, named)
    at = 0
    while at < len(words):
        at = _add_at(text, at) if at not in text.taken else at + 1
    return sorted(text.events, key=lambda event: event.start)


def _add_name(text: _Text, named: Named) -> None:
    """Add a name; words that name nothing are left to be heard otherwise."""
    if named.kind == "charge":
        text.events.append(Event(named.start, named.end, "charge", named.what))
    elif named.kind != "nothing":
        is_excluded = _is_excluded(text.words, named)
        text.events.append(Event(named.start, named.end, "part", named.what, is_excluded, named))
        text.taken.update(range(named.start, named.end))
        if is_excluded:
            text.used.update(range(max(0, named.start - 3), named.start))


def _add_at(text: _Text, at: int) -> int:
    """Add what is said at a word; where to go on."""
    said = _saying_at(text, at)
    if said:
        text.events.append(said)
        text.used.update(range(said.start, said.end))
        return said.end
    if is_while_open(text.words, at):
        text.events.append(Event(at, at + 1, "trouble", "preventive"))
    if text.words[at] in ASIDE:
        text.events.append(Event(at, at + 1, "aside", text.words[at]))
    elif at + 1 not in text.taken and tells_trouble(text.words, at):
        text.events.append(Event(at, at + 1, "trouble", "failed"))
        text.used.add(at)
    return at + 1


def _saying_at(text: _Text, at: int) -> Event | None:
    """Longest verb, trouble or sound phrase that starts at a word."""
    for phrase, said, what in SAYINGS.get(text.words[at], ()):
        end = end_of(text.words, at, phrase)
        if end and text.taken.isdisjoint(range(at, end)):
            if said == "sound" and at == 0 and phrase[0] in ("ok", "okay"):
                return None
            return _heard(Event(at, end, said, what, is_negated(text.words, at, text.used)))
    return None


def _heard(event: Event) -> Event:
    """A trouble denied is soundness, and soundness denied a trouble."""
    if event.is_negated and event.said == "trouble" and event.what in OF_A_PART:
        return Event(event.start, event.end, "sound", "")
    if event.is_negated and event.said == "sound":
        return Event(event.start, event.end, "trouble", "failed")
    return event


def _is_excluded(words: Sequence[str], named: Named) -> bool:
    """Whether "not" or "no" stands right before a part: "rotors, not pads"."""
    at = named.start - 1
    while at >= 0 and words[at] in ("the", "a", "front", "rear", "any"):
        at -= 1
    return at >= 0 and words[at] in ("not", "no", "without")
