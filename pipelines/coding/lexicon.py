"""Words the coder knows: those of part names, of what was done and why, and everyday words; with their usual forms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from longmile.pipelines.coding.bare_heads import BARE_HEADS
from longmile.pipelines.coding.charges import CHARGES
from longmile.pipelines.coding.no_part_words import NO_PART
from longmile.pipelines.coding.normal_text import words_of
from longmile.pipelines.coding.other_parts import OTHER_PARTS
from longmile.pipelines.coding.plain_words import PLAIN_WORDS
from longmile.pipelines.coding.spellings_body import SPELLINGS_BODY
from longmile.pipelines.coding.spellings_chassis import SPELLINGS_CHASSIS
from longmile.pipelines.coding.spellings_driveline import SPELLINGS_DRIVELINE
from longmile.pipelines.coding.spellings_engine import SPELLINGS_ENGINE
from longmile.pipelines.coding.spellings_feeding import SPELLINGS_FEEDING
from longmile.pipelines.coding.trade_verbs import IRREGULAR, VERBS, inflected
from longmile.pipelines.coding.trouble_words import NOT_INFLECTED, SOUND, TROUBLE
from longmile.pipelines.coding.word_table import spelled_out, word_set
from longmile.schemas.vocabulary import COMPONENTS

Phrase = tuple[str, ...]

SPELLINGS = (SPELLINGS_ENGINE, SPELLINGS_FEEDING, SPELLINGS_DRIVELINE, SPELLINGS_CHASSIS, SPELLINGS_BODY)
_DROPPED = frozenset(",()")
KEPT_PLURALS = word_set("rings mains heads lights blades always lens brass chassis gas bus less pass news")
"""Plurals that mean another thing than their singular, and words that are none."""


def component_texts() -> Iterator[tuple[str, str]]:
    """(text, component code) of every way to name a component: vocabulary first, then the coder's own patterns."""
    for entry in COMPONENTS:
        for text in (entry.name, entry.code.replace("_", " "), *entry.shorthand):
            yield text, entry.code
    for table in SPELLINGS:
        for code, patterns in table.items():
            for pattern in patterns:
                for text in spelled_out(pattern):
                    yield text, code


def singular(word: str) -> str:
    """The word without its plural ending; words of three letters and those in `KEPT_PLURALS` stay."""
    if len(word) < 4 or word in KEPT_PLURALS or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1]


def plain_phrase(text: str) -> Phrase:
    """Words of a text of the coder's own tables, in the singular."""
    return tuple(singular(word) for word in words_of(text).words if word not in _DROPPED)


def _verb_forms() -> dict[str, str]:
    """Every form of every verb to its base."""
    forms = {form: base for words in VERBS.values() for base in words for form in inflected(base)}
    return {**forms, **IRREGULAR}


def _words_of_parts() -> set[str]:
    """Every word that stands in the name of a part."""
    texts = [text for text, _ in component_texts()]
    texts += [text for pattern in OTHER_PARTS for text in spelled_out(pattern)]
    words = {word for text in texts for word in plain_phrase(text) if word.isalpha()}
    return words | BARE_HEADS


def _words_of(*tables: str) -> set[str]:
    """Every word of tables with commas."""
    return {word for table in tables for word in words_of(table).words if word.isalpha()}


def _forms() -> dict[str, str]:
    """Known written form to the word it counts as: verbs first, then troubles, parts, and everyday words."""
    parts = {word for word in _words_of_parts() if word.isalpha()}
    said = _words_of(*(text for texts in TROUBLE.values() for text in texts), *SOUND) - BARE_HEADS
    other = {w for table in (CHARGES, NO_PART) for p in table for t in spelled_out(p) for w in plain_phrase(t)}
    known = {word: word for word in PLAIN_WORDS | {word for word in other if word.isalpha()}}
    known |= {word + "s": word for word in sorted(parts) if len(word) > 2 and word + "s" not in KEPT_PLURALS}
    known |= {word: word for word in sorted(parts)}
    known |= _trouble_forms(said - _FUNCTION_WORDS)
    known |= {word: word for word in sorted(said) if word not in IRREGULAR and word not in known}
    known |= {form: base for form, base in _verb_forms().items() if form not in BARE_HEADS}
    return known | {word: word for word in KEPT_PLURALS}


def _trouble_forms(said: set[str]) -> dict[str, str]:
    """Forms of words of trouble; a word that is a form of a shorter one counts as that."""
    forms: dict[str, str] = {}
    for base in sorted(said, key=lambda word: (len(word), word)):
        if base not in forms:
            usual = (base,) if base in NOT_INFLECTED else inflected(base)
            forms |= {form: base for form in usual if form not in BARE_HEADS and form not in forms}
    return forms


_FUNCTION_WORDS = word_set(
    """
    a all an and apart as at be before below book by come could dot down due each ex fall for from full get go
    good had hard have he his hold in it job large like long loose low manual metal no not of off ok on on one
    or out over own past per plan poor range record route same she since small so spec still tell that the then
    there thing time to under up us use used using used was water we while wide within without year high hit is
    me mr new old open pre test
    """
)


FORMS: Mapping[str, str] = _forms()
"""Written form to word."""

PART_WORDS: frozenset[str] = frozenset(_words_of_parts())
"""Words of part names: spelling slips are mended into these first."""


def known_phrase(text: str) -> Phrase:
    """Words of a text of the coder's own tables, as they come out of a text that is read."""
    return tuple(FORMS.get(word, word) for word in plain_phrase(text))
