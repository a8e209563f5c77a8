"""Words behind spelling slips: the nearest known word, within a distance that grows with the word's length.

Distance: optimal string alignment (insertions, deletions, substitutions and swaps of neighbours). Words of four letters
and fewer are never mended: "seal" and "seat", "bolt" and "belt" are one letter apart.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from longmile.pipelines.coding.abbreviations import ABBREVIATIONS
from longmile.pipelines.coding.lexicon import FORMS, PART_WORDS, component_texts, plain_phrase, singular

SHORTEST = 5
"""Letters from which a word is mended."""

_TARGETS: tuple[str, ...] = tuple(sorted({form for form in FORMS if len(form) >= SHORTEST and form.isalpha()}))
_SHORT_TARGETS: tuple[str, ...] = tuple(
    sorted(word for word in PART_WORDS | {"stuck", "broke"} if 4 <= len(word) <= 5 and word.isalpha())
)
_LONG_SHORTHAND: tuple[str, ...] = tuple(sorted(s for s in ABBREVIATIONS if len(s) >= 6 and s.isalpha()))


def cutoff(length: int) -> int:
    """Slips allowed in a word of that length."""
    return 0 if length < SHORTEST else 1 if length < 7 else 2 if length < 12 else 3


_USE = Counter(word for text, _ in component_texts() for word in plain_phrase(text))
"""How many names of components each word stands in."""


@lru_cache(maxsize=200_000)
def mended(word: str) -> tuple[str, ...]:
    """Words that a written word of letters stands for: itself where nothing known is near."""
    known = exact(word)
    if known:
        return known
    near = _nearest(word)
    if near and OSA.distance(word, near[0]) <= 1:
        return near
    return _two_words(word) or near or (word,)


def exact(word: str) -> tuple[str, ...]:
    """The known word or words for a form without a slip; () where there is none."""
    if word in ABBREVIATIONS:
        return _as_forms(ABBREVIATIONS[word])
    if word in FORMS:
        return (FORMS[word],)
    single = singular(word)
    if single != word and single in ABBREVIATIONS:
        return _as_forms(ABBREVIATIONS[single])
    return (FORMS[single],) if single != word and single in FORMS else ()


def _as_forms(words: tuple[str, ...]) -> tuple[str, ...]:
    """Words of an abbreviation in the form in which they count."""
    return tuple(FORMS.get(word, word) for word in words)


def _two_words(word: str) -> tuple[str, ...]:
    """Two known words of three letters or more written as one, at least one of a part: "waterpump"."""
    if len(word) < 7:
        return ()
    for cut in range(len(word) - 3, 2, -1):
        first, last = exact(word[:cut]), exact(word[cut:])
        if first and last and last[-1] in PART_WORDS and first[0] in PART_WORDS:
            return (*first, *last)
    return ()


def _nearest(word: str) -> tuple[str, ...]:
    """The known word within the cutoff; of several as near, one with the same letters, then one of more part names."""
    allowed = cutoff(len(word))
    if not allowed:
        return _short(word)
    doubled = _doubled(word)
    if doubled:
        return (FORMS[doubled],)
    near = _near(word, allowed)
    if not near:
        shorthand = process.extract(word, _LONG_SHORTHAND, scorer=OSA.distance, score_cutoff=1, limit=1)
        return ABBREVIATIONS[shorthand[0][0]] if shorthand else ()
    letters = sorted(word)
    best = min(near, key=lambda n: (n[1], sorted(n[0]) != letters, n[0][0] != word[0], -_USE[FORMS[n[0]]], n[0]))
    return (FORMS[best[0]],)


def _near(word: str, allowed: int) -> list[tuple[str, int]]:
    """(known form, distance) within the cutoff; one further for the same letters, or the same start and end."""
    reach = max(allowed, 2) if len(word) > SHORTEST else allowed
    found = []
    for target, distance, _ in process.extract(word, _TARGETS, scorer=OSA.distance, score_cutoff=reach, limit=30):
        is_framed = (target[:2], target[-2:]) == (word[:2], word[-2:])
        if _may_be(word, target) and (int(distance) <= allowed or is_framed or sorted(target) == sorted(word)):
            found.append((target, int(distance)))
    return found


def _doubled(word: str) -> str:
    """The one part word of four letters that five are with one letter doubled: "boddy"; "" for none."""
    if len(word) != SHORTEST:
        return ""
    likely = (t for t in _SHORT_TARGETS if len(t) == 4 and t[0] == word[0] and set(t) == set(word))
    near = [target for target in likely if OSA.distance(word, target) == 1]
    return near[0] if len(near) == 1 else ""


def _short(word: str) -> tuple[str, ...]:
    """The one word of parts or verbs that four letters are with two neighbours swapped or one letter left out."""
    if len(word) != SHORTEST - 1:
        return ()
    found = set()
    for target, _, _ in process.extract(word, _SHORT_TARGETS, scorer=OSA.distance, score_cutoff=1, limit=8):
        is_left_out = len(target) == SHORTEST and target[-1] == word[-1]
        if target[0] == word[0] and (sorted(target) == sorted(word) or is_left_out):
            found.add(FORMS[target])
    return (found.pop(),) if len(found) == 1 else ()


def _may_be(word: str, target: str) -> bool:
    """Whether a word starts or ends like the target: few slips are in the first letter."""
    if len(word) == 7 and OSA.distance(word, target) > 1 and word[:2] != target[:2] and sorted(word) != sorted(target):
        return False
    return word[0] == target[0] or word[:2] == target[1::-1] or word[-3:] == target[-3:]


def is_slip(raw: str) -> bool:
    """Whether a written word was mended by distance and not found in a table."""
    return raw.isalpha() and not exact(raw) and not _two_words(raw) and bool(_nearest(raw))
