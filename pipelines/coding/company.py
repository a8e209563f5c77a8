"""Doubtful words told by the words beside them: "tie rdo" is a tie rod, "rad cpa" a radiator cap.

A word that is in no table may be a slip (by distance, a wider one than `fuzzy` allows alone) or an abbreviation (its
letters in order, first and last consonant the same: "cmprsr"). One that makes the name of a part with the word before
or behind it is taken; alone, only a near slip or an abbreviation that keeps most consonants.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from rapidfuzz import process
from rapidfuzz.distance import OSA

from longmile.pipelines.coding.bare_heads import FILLERS
from longmile.pipelines.coding.fuzzy import exact, mended
from longmile.pipelines.coding.lexicon import FORMS, PART_WORDS
from longmile.pipelines.coding.names import NAMES
from longmile.pipelines.coding.normal_text import Words, words_of
from longmile.pipelines.coding.small_words import POSITION_WORDS
from longmile.pipelines.coding.trade_verbs import VERBS
from longmile.pipelines.coding.word_table import word_set

_VOWELS = frozenset("aeiouy")
_TARGETS: tuple[str, ...] = tuple(
    sorted(form for form, word in FORMS.items() if form.isalpha() and len(form) > 2 and word in PART_WORDS)
)
_LONG_TARGETS: tuple[str, ...] = tuple(sorted(form for form in FORMS if form.isalpha() and len(form) > 4))
_SMALL_WORDS = word_set("and & of with in on the a to over for off out")
_PAIRS: frozenset[tuple[str, str]] = frozenset(
    pair
    for phrase, (kind, _) in NAMES.items()
    if kind in ("component", "half", "other")
    for pair in pairwise(phrase)
    if not _SMALL_WORDS & {*pair}
)
_SAID = frozenset(word for words in VERBS.values() for word in words)
MOST_OPTIONS = 12
ALONE = 0.75
"""Share of a word's consonants that an abbreviation must keep to be taken for it alone."""


def read_words(text: str) -> Words:
    """Words of a text, slips and abbreviations settled."""
    read = words_of(text, mended)
    words = list(read.words)
    doubtful = [i for i, raw in enumerate(read.raws) if _is_doubtful(raw, words[i])]
    for i in doubtful:
        found = _in_company(words, read.raws, i)
        if found:
            words[i] = found
    return Words(tuple(words), read.raws) if doubtful else read


def _is_doubtful(raw: str, word: str) -> bool:
    """Whether a written word is in no table, alone or in pieces."""
    return raw.isalpha() and len(raw) > 2 and not exact(raw) and word.isalpha()


def _in_company(words: Sequence[str], raws: Sequence[str], i: int) -> str:
    """The option that makes a name with a neighbour, else the likeliest abbreviation; "" where the word stays."""
    before = next((words[j] for j in range(i - 1, max(-1, i - 3), -1) if words[j] not in POSITION_WORDS), "")
    behind = next((j for j in range(i + 1, min(len(words), i + 3)) if words[j] not in FILLERS), None)
    after = (
        {words[behind], *(_options(raws[behind]) if _is_doubtful(raws[behind], words[behind]) else ())}
        if behind
        else set()
    )
    if words[i] != raws[i] and words[i] in _SAID:
        return ""
    options = _options(raws[i])
    for option in options if words[i] == raws[i] else options[:3]:
        if (before, option) in _PAIRS or any((option, word) in _PAIRS for word in after):
            return option
    return _abbreviated(raws[i]) if words[i] == raws[i] else ""


@lru_cache(maxsize=100_000)
def _options(raw: str) -> tuple[str, ...]:
    """Words of parts that a written word may be, the likeliest first."""
    reach = 1 if len(raw) < 5 else 2
    near = process.extract(raw, _TARGETS, scorer=OSA.distance, score_cutoff=reach, limit=MOST_OPTIONS)
    slips = [(distance + (target[0] != raw[0]), FORMS[target]) for target, distance, _ in near]
    short = [(1.5 + 2 * (1 - kept), word) for word, kept in _longer_words(raw) if kept >= 0.5]
    return tuple(dict.fromkeys(word for _, word in sorted(slips + short)))


@lru_cache(maxsize=100_000)
def _abbreviated(raw: str) -> str:
    """The one word of which an abbreviation keeps most consonants; "" where there is none or several."""
    if len(raw) < 4 or 4 * sum(letter in _VOWELS for letter in raw) > len(raw):
        return ""
    likely = sorted(((-kept, word) for word, kept in _longer_words(raw) if kept >= ALONE))
    if not likely or (len(likely) > 1 and likely[1][0] == likely[0][0] and likely[1][1] != likely[0][1]):
        return ""
    return likely[0][1]


def _longer_words(raw: str) -> list[tuple[str, float]]:
    """(word, share of its consonants kept) of every longer known word that the letters may stand for."""
    if not any(letter not in _VOWELS for letter in raw[1:]):
        return []
    found = []
    for target in _LONG_TARGETS:
        if target[0] == raw[0] and len(target) >= len(raw) + 2 and _is_within(raw, target):
            consonants = [letter for letter in target if letter not in _VOWELS]
            last = consonants[-1]
            if raw[-1] in (last, target[-1]):
                found.append((FORMS[target], sum(letter not in _VOWELS for letter in raw) / len(consonants)))
    return found


def _is_within(short: str, long: str) -> bool:
    """Whether the letters of one word stand in the other in the same order."""
    rest = iter(long)
    return all(letter in rest for letter in short)
