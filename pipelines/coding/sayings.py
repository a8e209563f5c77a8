"""What words say: phrases for verbs, troubles and soundness, by their first word."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from longmile.pipelines.coding.lexicon import Phrase, known_phrase
from longmile.pipelines.coding.small_words import ARTICLES
from longmile.pipelines.coding.trade_verbs import VERB_PHRASES, VERBS
from longmile.pipelines.coding.trouble_words import SOUND, TROUBLE
from longmile.pipelines.coding.word_table import word_set

Said = Literal["part", "charge", "verb", "trouble", "sound", "aside"]
Saying = tuple[Phrase, Said, str]

ASIDE = word_set(
    """following because since due after when so that cause caused from while until as if result traced than during
    where before"""
)
"""Words that open a clause telling why or when."""

_DENIED_OTHERWISE = word_set(
    "the a part parts charge need needed sure yet only able available in stock done needed find duplicate"
)


def _table() -> dict[Phrase, tuple[Said, str]]:
    """Every phrase with what it says; verbs of several words count before single ones and before troubles."""
    found: dict[Phrase, tuple[Said, str]] = {}
    for reason, texts in TROUBLE.items():
        for text in texts:
            found.setdefault(known_phrase(text), ("trouble", reason))
    for tag, bases in VERBS.items():
        found |= {(base,): ("verb", tag) for base in bases if tag != "none"}
    found |= {known_phrase(text): ("sound", "") for text in SOUND}
    found |= {known_phrase(text): ("verb", tag) for tag, texts in VERB_PHRASES.items() for text in texts}
    return {phrase: said for phrase, said in found.items() if phrase and said != ("verb", "nothing")}


def _by_first(table: Mapping[Phrase, tuple[Said, str]]) -> dict[str, tuple[Saying, ...]]:
    """Phrases by their first word, longest first."""
    found: dict[str, tuple[Saying, ...]] = {}
    for phrase, (said, what) in sorted(table.items(), key=lambda item: (-len(item[0]), item[0])):
        found[phrase[0]] = (*found.get(phrase[0], ()), (phrase, said, what))
    return found


SAYINGS: Mapping[str, tuple[Saying, ...]] = _by_first(_table())
"""First word to phrases."""


def end_of(words: Sequence[str], at: int, phrase: Phrase) -> int:
    """End of a phrase that starts at a word, articles within it passed over; 0 where it does not stand there."""
    i, n = at, 0
    while n < len(phrase) and i < len(words):
        if words[i] == phrase[n]:
            n += 1
        elif not (n and words[i] in ARTICLES):
            return 0
        i += 1
    return i if n == len(phrase) else 0


def tells_trouble(words: Sequence[str], at: int) -> bool:
    """Whether a trouble code, a strange reading or a plain denial ("does not seal") stands at a word."""
    word, following = words[at], words[at + 1 : at + 2]
    if len(word) == 5 and word[0] in "pbcu" and word[1:].isdigit():
        return True
    if word in ("read", "reads", "reading"):
        return bool(following) and (following[0] == "-" or following[0][0].isdigit())
    return word in ("not", "never") and _denies_a_working(words, at)


def _denies_a_working(words: Sequence[str], at: int) -> bool:
    """Whether what is denied is what a part should do, and no verb of the workshop."""
    following = [word for word in words[at + 1 : at + 4] if word.isalpha()]
    return bool(following) and not (SAYINGS.get(following[0]) or following[0] in _DENIED_OTHERWISE)


def is_while_open(words: Sequence[str], at: int) -> bool:
    """Whether "while ... out" stands there: something was done because it lay open."""
    return words[at] == "while" and bool(
        {"out", "apart", "off", "open", "down", "there", "in"} & {*words[at + 1 : at + 6]}
    )
