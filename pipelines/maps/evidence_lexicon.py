"""From a word to what it may mean, in any language: whole phrases, parts of compounds, slips and abbreviations."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from longmile.pipelines.maps import (
    words_de,
    words_en,
    words_es,
    words_fr,
    words_it,
    words_nl,
    words_pl,
    words_pt,
    words_sv,
)
from longmile.pipelines.maps.evidence_spelling import spellings, words_in

LANGUAGES: Mapping[str, Mapping[str, str]] = {
    "en": words_en.HEADER_WORDS,
    "de": words_de.HEADER_WORDS,
    "fr": words_fr.HEADER_WORDS,
    "es": words_es.HEADER_WORDS,
    "it": words_it.HEADER_WORDS,
    "nl": words_nl.HEADER_WORDS,
    "pt": words_pt.HEADER_WORDS,
    "sv": words_sv.HEADER_WORDS,
    "pl": words_pl.HEADER_WORDS,
}
EMPTY_WORDS = words_in(
    "of the de du des la le les d l del della dello dei delle di da do dos das der die dem den van het een und et "
    "y e och i av for vid pa zu zum zur bei beim im mit to by at on is was a an and from with el los las con por "
    "em ao as os och till sur pour par au aux en do na z ze przy dla o s"
)
Notions = dict[str, float]
_SLIP_SCORE, _SLIP_LENGTH = 84.0, 5
_LINKS = ("", "s", "n", "en", "e", "es", "er")
_SHORT_PARTS = words_in("no nr ro wo id dt km mi ln in vk ek rg fz kd et ot or os qt hr yr cd tp st pn pt op")


@dataclass(frozen=True)
class Word:
    """What a phrase may mean: notion -> the languages that say so."""

    notions: dict[str, frozenset[str]]


@cache
def lexicon() -> dict[tuple[str, ...], Word]:
    """Every phrase as a tuple of plain words, with what it may mean."""
    found: dict[tuple[str, ...], dict[str, set[str]]] = {}
    for language, words in LANGUAGES.items():
        for notion, phrases in words.items():
            for phrase in phrases.split(","):
                for key in _keys(phrase):
                    found.setdefault(key, {}).setdefault(notion, set()).add(language)
    return {key: Word({n: frozenset(s) for n, s in notions.items()}) for key, notions in found.items()}


def _keys(phrase: str) -> set[tuple[str, ...]]:
    """The ways a listed phrase is looked up: as it is, and without empty words where two others are left."""
    if phrase.strip() == "#":
        return {("#",)}
    whole = {tuple(spelling.split()) for spelling in spellings(phrase)}
    return whole | {bare for words in whole if len(bare := without_empty(words)) > 1} - {()}


def without_empty(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words that say something."""
    return tuple(word for word in words if word not in EMPTY_WORDS)


@cache
def longest_phrase() -> int:
    """Number of words of the longest phrase."""
    return max(len(key) for key in lexicon())


@cache
def single_words() -> dict[str, Word]:
    """The phrases of one word."""
    return {key[0]: word for key, word in lexicon().items() if len(key) == 1}


@cache
def parts_of(word: str, depth: int = 4) -> tuple[str, ...]:
    """The known words a compound is made of ("auftragsnummer": auftrag, nummer), fewest first; none: ()."""
    best: tuple[str, ...] = ()
    for end in range(len(word), 1, -1):
        head = word[:end]
        if head not in single_words() or (end < 3 and head not in _SHORT_PARTS):
            continue
        if end == len(word):
            return (head,)
        for link in _LINKS:
            rest = word[end + len(link) :]
            if depth < 2 or len(rest) < 2 or not word[end:].startswith(link):
                continue
            tail = parts_of(rest, depth - 1)
            if tail and (not best or len(tail) + 1 < len(best)):
                best = (head, *tail)
    return best


def near(word: str) -> tuple[str, float]:
    """The known word this one is a slip or an abbreviation of, and how surely (0: none)."""
    if len(word) >= _SLIP_LENGTH:
        hit = process.extractOne(word, _long_words(), scorer=fuzz.ratio, score_cutoff=_SLIP_SCORE)
        if hit:
            return hit[0], 0.85 * hit[1] / 100
    if len(word) >= 3:
        for known in _by_first_letter().get(word[0], ()):
            if len(known) > len(word) and known.startswith(word):
                return known, 0.75
        for known in _by_first_letter().get(word[0], ()):
            if _is_skeleton(word, known):
                return known, 0.65
    return "", 0.0


def _is_skeleton(word: str, known: str) -> bool:
    """Whether the word is the known one with letters left out, most consonants kept (cstmr, mlge, dscrptn)."""
    if len(known) <= len(word) or word[-1] not in known[-3:]:
        return False
    place = 0
    for sign in known:
        if place < len(word) and sign == word[place]:
            place += 1
    consonants = sum(sign not in "aeiouy" for sign in known)
    return place == len(word) and len(word) >= 0.7 * consonants


@cache
def _long_words() -> tuple[str, ...]:
    """Words in which a slip can be told."""
    return tuple(word for word in single_words() if len(word) >= _SLIP_LENGTH)


@cache
def _by_first_letter() -> dict[str, tuple[str, ...]]:
    """English words first, then the others, shortest first: what an abbreviation may stand for."""
    found: dict[str, list[tuple[bool, int, str]]] = {}
    for word, entry in single_words().items():
        if len(word) > 3:
            is_english = any("en" in languages for languages in entry.notions.values())
            found.setdefault(word[0], []).append((not is_english, len(word), word))
    return {letter: tuple(word for *_, word in sorted(words)) for letter, words in found.items()}
