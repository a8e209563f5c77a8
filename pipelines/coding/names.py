"""Every name that texts are searched for, as words in order and as sets of words for names turned round.

Kinds: `component`; `half`, shared by several components; `other`, a part the vocabulary does not have; `charge`, for
no part; `nothing`, words that hold the name of a part and name none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal

from longmile.pipelines.coding.bare_heads import BARE_HEADS
from longmile.pipelines.coding.charges import CHARGES
from longmile.pipelines.coding.half_named import HALF_NAMED
from longmile.pipelines.coding.lexicon import Phrase, component_texts, known_phrase
from longmile.pipelines.coding.no_part_words import NO_PART
from longmile.pipelines.coding.other_parts import OTHER_PARTS
from longmile.pipelines.coding.trade_verbs import VERBS
from longmile.pipelines.coding.word_table import spelled_out, word_set

Kind = Literal["component", "half", "other", "charge", "nothing"]
Entry = tuple[Kind, str]

PLAIN_FILLERS = word_set("assembly kit set unit complete")
"""Words that a name turned round may have or lack."""

_DONE_WORDS = frozenset(word for words in VERBS.values() for word in words) - BARE_HEADS


def _of_tables() -> Iterator[tuple[Phrase, Entry]]:
    """Names that are no component, the later kinds before the earlier."""
    for pattern in NO_PART:
        yield from ((known_phrase(text), ("nothing", text)) for text in spelled_out(pattern))
    for pattern in CHARGES:
        yield from ((known_phrase(text), ("charge", text)) for text in spelled_out(pattern))
    for pattern in OTHER_PARTS:
        yield from ((known_phrase(text), ("other", text)) for text in spelled_out(pattern))
    yield from ((known_phrase(name), ("half", name)) for name in HALF_NAMED)


def _components() -> dict[Phrase, str]:
    """Names of components; ValueError where one names two. A name for two together stands before that for the first."""
    found: dict[Phrase, str] = {}
    for text, code in component_texts():
        phrase = known_phrase(text)
        if len(phrase) == 1 and phrase[0] in HALF_NAMED:
            continue
        first = found.setdefault(phrase, code)
        if first in code.split("+"):
            found[phrase] = code
        elif first != code:
            raise ValueError(f"{text!r} names both {first} and {code}; expected one component for a name.")
    return found


def _names() -> dict[Phrase, Entry]:
    """All names, components last: they count where two kinds have the same."""
    found = dict(_of_tables())
    found |= {phrase: ("component", code) for phrase, code in _components().items()}
    return found


def _turned(names: Mapping[Phrase, Entry]) -> dict[frozenset[str], Entry]:
    """Names of two words and more by the set of their words, the shortest first; components before other kinds."""
    found: dict[frozenset[str], Entry] = {}
    for phrase, entry in sorted(names.items(), key=lambda item: (len(item[0]), item[0])):
        words = frozenset(phrase) - PLAIN_FILLERS
        is_plain = len(frozenset(phrase)) == len(phrase) and not words & _DONE_WORDS
        if len(words) < 2 or not is_plain or entry[0] in ("charge", "nothing"):
            continue
        first = found.setdefault(words, entry)
        if entry[0] == "component" and first[0] != "component":
            found[words] = entry
    return found


NAMES: Mapping[Phrase, Entry] = _names()
"""Words in order to what they name."""

TURNED: Mapping[frozenset[str], Entry] = _turned(NAMES)
"""Words in any order to what they name."""

LONGEST: Mapping[str, int] = {
    first: max(len(phrase) for phrase in NAMES if phrase[0] == first) for first in {phrase[0] for phrase in NAMES}
}
"""First word to the length of the longest name that begins with it."""

TURNED_WORDS: frozenset[str] = frozenset(word for words in TURNED for word in words)
