"""Their words for our closed lists: a cell's text to our code, where that is clear."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from longmile.pipelines.maps import words_positions, words_states, words_work
from longmile.pipelines.maps.evidence_spelling import plain, spellings
from longmile.pipelines.maps.words_letters import LETTERS
from longmile.schemas import vocabulary as v

_STEM = "*"
SHORTEST_CUT = 3
_WORDS: Mapping[str, Mapping[str, str]] = {
    "kind": words_work.KINDS,
    "action": words_work.ACTIONS,
    "reason": words_work.REASONS,
    "origin": words_states.ORIGINS,
    "status": words_states.STATUSES,
    "odometer_unit": words_states.ODOMETER_UNITS,
    "yes_no": words_states.YES_NO,
    "stage": words_states.STAGES,
    "measure": words_states.MEASURES,
    "check": words_states.CHECKS,
    "unit": words_states.UNITS,
    "position": words_positions.POSITIONS,
}
_CODES: Mapping[str, tuple[str, ...]] = {
    "measure": v.MEASURES,
    "check": v.VERIFICATION_CHECKS,
    "kind": v.LINE_KINDS,
    "action": v.ACTIONS,
    "reason": v.REASONS,
    "origin": v.PART_ORIGINS,
    "status": v.ORDER_STATUSES,
    "stage": v.TROUBLE_CODE_STAGES,
}


@cache
def _whole(name: str) -> dict[str, str]:
    """Whole spellings of a list to our code; one of two codes is no answer and left out."""
    if name == "component":
        return _components()
    found: dict[str, set[str]] = {}
    for code in _CODES.get(name, ()):
        found.setdefault(plain(code), set()).add(code)
    for code, words in _WORDS[name].items():
        for word in words.split(","):
            if not word.strip().endswith(_STEM):
                for spelling in spellings(word):
                    found.setdefault(spelling, set()).add(code)
    return {spelling: next(iter(codes)) for spelling, codes in found.items() if len(codes) == 1}


def _components() -> dict[str, str]:
    """Names, codes and shorthand of the vocabulary's components."""
    return {
        plain(word): entry.code
        for entry in v.COMPONENTS
        for word in (*entry.shorthand, entry.name, entry.code.replace("_", " "))
    }


def _component_by_words(text: str) -> str:
    """The one component whose shorthand is this without its signs, or whose name has all these words; else empty."""
    compact = {spelling.replace(" ", ""): code for spelling, code in _whole("component").items()}
    if text.replace(" ", "") in compact:
        return compact[text.replace(" ", "")]
    words = set(text.split())
    named = {entry.code for entry in v.COMPONENTS if words <= set(plain(entry.name).split())}
    return next(iter(named)) if len(named) == 1 else ""


@cache
def _stems(name: str) -> tuple[tuple[str, str], ...]:
    """Beginnings of words of a list with our code, the longest first."""
    if name == "component":
        return ()
    found = [
        (plain(word), code)
        for code, words in _WORDS[name].items()
        for word in words.split(",")
        if word.strip().endswith(_STEM)
    ]
    return tuple(sorted(found, key=lambda one: -len(one[0])))


@cache
def letters(name: str, language: str) -> dict[str, str]:
    """Codes of a few letters of a list to our codes, in a language."""
    said = LETTERS.get(language, {}).get(name, "")
    pairs = (one.split("=") for one in said.split(",") if one)
    return {letter: code.strip() for code, theirs in pairs for letter in theirs.split()}


@cache
def ours(name: str, cell: str, language: str = "") -> str:
    """Our code for a cell of list `name`; empty where none or several could be meant.

    language: short codes and cut words are read too, as in this language; empty: they are not.
    """
    short = letters(name, language) if language else {}
    for text in spellings(cell):
        if text in short or (len(text) == 1 and short):
            return short.get(text, "")
        if text in _whole(name):
            return _whole(name)[text]
        if len(text) <= 1:
            return ""
        if name == "component":
            return _component_by_words(text)
        found = _told(name, text)
        if not found and language and len(text) >= SHORTEST_CUT and " " not in text:
            found = _cut(name, text)
        if len(found) == 1:
            return next(iter(found))
    return ""


def _told(name: str, text: str) -> set[str]:
    """Codes of the listed beginnings in a text; whole phrases before single words."""
    whole = {code for stem, code in _stems(name) if " " in stem and text.startswith(stem)}
    return whole or {code for word in text.split() for code in _by_stem(name, word)}


def _cut(name: str, text: str) -> set[str]:
    """Codes of the listed words that this is the beginning of (kontr., repl)."""
    listed = (*_whole(name).items(), *_stems(name))
    return {code for word, code in listed if word.startswith(text)}


def _by_stem(name: str, word: str) -> list[str]:
    """The code of the longest beginning the word has."""
    return next(([code] for stem, code in _stems(name) if " " not in stem and word.startswith(stem)), [])


def list_share(name: str, counts: Mapping[str, int], language: str = "") -> float:
    """Share of cells that say something of list `name`; counts: cell -> how often. language: see `ours`."""
    total = sum(counts.values())
    return sum(times for cell, times in counts.items() if ours(name, cell, language)) / total if total else 0.0
