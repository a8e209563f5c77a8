"""What a header says: its words read in the file's language, and how well they agree with each meaning."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from longmile.pipelines.maps.evidence_lexicon import (
    EMPTY_WORDS,
    Notions,
    lexicon,
    longest_phrase,
    near,
    parts_of,
    single_words,
    without_empty,
)
from longmile.pipelines.maps.evidence_spelling import header_words
from longmile.pipelines.maps.words_meaning import Meaning
from longmile.pipelines.maps.words_meanings import MEANINGS
from longmile.pipelines.maps.words_meanings_refused import REFUSED

OTHER_LANGUAGE = 0.72
UNKNOWN_WEIGHT = 0.55
LONG_WORD = 8
IN_CONTEXT, WORD_BY_WORD = 0.93, 0.85
_WEIGHTS = {
    "number": 0.3,
    "code": 0.4,
    "id": 0.3,
    "name": 0.4,
    "amount": 0.5,
    "line": 0.6,
    "vehicle": 0.7,
    "order": 0.8,
}


@dataclass(frozen=True)
class Reading:
    """One way to read a header: per word or phrase the notions it may stand for, with their weights."""

    segments: tuple[Notions, ...]


def language_of(headers: Sequence[str]) -> str:
    """The language most of the headers' words are of; English where none is better."""
    votes: dict[str, float] = {"en": 0.01}
    for header in headers:
        words = header_words(header, single_words())
        length = max(len("".join(words)), 1)
        for part in (part for word in words for part in _known_parts(word) if len(part) > 1):
            for language in {one for said in lexicon()[(part,)].notions.values() for one in said}:
                votes[language] = votes.get(language, 0.0) + min(len(part), LONG_WORD) / length
    return max(votes, key=lambda language: (votes[language], language == "en"))


def _known_parts(word: str) -> tuple[str, ...]:
    """The word itself where it is known, else the parts of the compound."""
    return (word,) if (word,) in lexicon() else parts_of(word)


def readings(header: str, language: str) -> tuple[Reading, ...]:
    """The header read by longest phrases, and word by word where that differs."""
    words = header_words(header, single_words())
    longest = Reading(tuple(_segments(words, language, longest_phrase())))
    single = Reading(tuple(_segments(words, language, 1)))
    return (longest,) if single == longest else (longest, single)


def _segments(words: Sequence[str], language: str, at_most: int) -> list[Notions]:
    """Notions of each phrase, from the left, longest first; words without meaning of their own left out."""
    found: list[Notions] = []
    place = 0
    while place < len(words):
        key, length = _longest(words[place : place + at_most])
        found.extend([_notions(key, language)] if key else _unknown(words[place], language))
        place += length
    return [one for one in found if one]


def _longest(words: Sequence[str]) -> tuple[tuple[str, ...], int]:
    """The longest listed phrase the words begin with, and how many of them it takes; none: () and 1."""
    for length in range(len(words), 0, -1):
        whole = tuple(words[:length])
        for key in (whole, without_empty(whole)):
            if key in lexicon() and (len(key) > 1 or length == 1):
                return key, length
    return (), 1


def _unknown(word: str, language: str) -> list[Notions]:
    """Notions of a word that is not listed: its parts, the word it is a slip of; else one that says nothing."""
    if word in EMPTY_WORDS or word.isdigit():
        return []
    parts = parts_of(word)
    if parts:
        return [_notions((part,), language) for part in parts]
    known, sureness = near(word)
    if known:
        return [_less_sure(known, sureness, language)]
    return _behind_prefix(word, language) or [{"": 1.0}]


def _less_sure(known: str, sureness: float, language: str) -> Notions:
    """Notions of the word that another is a slip or an abbreviation of."""
    return {notion: weight * sureness for notion, weight in _notions((known,), language).items()}


def _behind_prefix(word: str, language: str) -> list[Notions]:
    """Notions of a terse word made of a short known one or one letter, and another (PTSRC, VYEAR); none: []."""
    for end in (3, 2, 1):
        head, rest = word[:end], word[end:]
        known, sureness = (rest, 1.0) if rest in single_words() else near(rest)
        if len(rest) < 3 or not known or not (end == 1 or head in single_words()):
            continue
        first = _notions(("vehicle",), language) if head == "v" else {} if end == 1 else _notions((head,), language)
        return [one for one in (first, _less_sure(known, 0.9 * sureness, language)) if one]
    return []


def _notions(key: tuple[str, ...], language: str) -> Notions:
    """What a listed phrase may mean; less sure where only another language says so. One short sign: less sure too."""
    return {
        notion: 1.0 if language in said else (0.9 if "en" in said else OTHER_LANGUAGE)
        for notion, said in lexicon()[key].notions.items()
    }


def header_scores(header: str, language: str, context: str = "") -> dict[str, float]:
    """Agreement of a header with every meaning, 0 to 1; meanings without any are left out.

    context: a notion that the file's or sheet's name adds to what its headers leave unsaid ("vehicle").
    """
    found: dict[str, float] = {}
    for place, reading in enumerate(readings(header, language)):
        for meaning in (*MEANINGS, *REFUSED):
            score = _agreement(reading.segments, meaning)
            if context and 0 < score < 1:
                score = max(score, IN_CONTEXT * _agreement((*reading.segments, {context: 1.0}), meaning))
            found[meaning.name] = max(found.get(meaning.name, 0.0), score * (WORD_BY_WORD if place else 1.0))
    return {name: score for name, score in found.items() if score}


def _agreement(segments: Sequence[Notions], meaning: Meaning) -> float:
    """Agreement of a reading with the best phrase of a meaning."""
    return max((weight * _overlap(segments, phrase, meaning.free) for phrase, weight in meaning.phrases), default=0.0)


def _overlap(segments: Sequence[Notions], phrase: frozenset[str], free: frozenset[str]) -> float:
    """Twice what a reading and a phrase share, over all they say; free notions beside the phrase do not count."""
    left = list(segments)
    shared = 0.0
    for notion in sorted(phrase, key=_weight, reverse=True):
        best = max(left, key=lambda one: one.get(notion, 0.0), default=None)
        if best is not None and best.get(notion, 0.0) > 0:
            shared += _weight(notion) * best[notion]
            left.remove(best)
    if not shared:
        return 0.0
    extra = sum(_segment_weight(one) for one in left if not (free | phrase) & one.keys())
    said = sum(_weight(notion) for notion in phrase)
    return shared * 2 / (said * 2 + extra) * math.sqrt(min(1.0, shared / said))


@cache
def _weight(notion: str) -> float:
    """How much a notion says: little for "number", which stands in many headers."""
    return _WEIGHTS.get(notion, 1.0)


def _segment_weight(segment: Mapping[str, float]) -> float:
    """Weight of a word that no phrase explains."""
    return max((UNKNOWN_WEIGHT if not n else _weight(n) * w for n, w in segment.items()), default=0.0)


def notions_in(text: str, language: str, only_listed: bool = False) -> set[str]:
    """Every notion that the words of a text may stand for.

    only_listed: words that are listed themselves or, in German and its like, made of listed ones; no slips.
    """
    if not only_listed:
        return {notion for reading in readings(text, language) for segment in reading.segments for notion in segment}
    words = [
        part
        for word in header_words(text, single_words())
        for part in _known_parts(word)
        if len(part) > 3 or part == word
    ]
    return {notion for part in words for notion in _notions((part,), language)}
