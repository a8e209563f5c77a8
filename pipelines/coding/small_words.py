"""Small words between names, and what stands between two words of a text."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.word_table import word_set

ARTICLES = word_set("the a an his her their its my this that")
POSITION_WORDS = word_set("front rear left right lf rf lr rr fl rl fr # driver passenger nearside offside")
SENTENCE_ENDS = frozenset(".;\n!?")
PLACE_WORDS = word_set(
    """in to at near behind under by onto over between around above below against into inside through beside toward out
    from along past"""
)
"""Words after which a part is where something is."""

STUFF_WORDS = word_set("leak weep seep drip of lose low burn into contaminate mix as")
"""Words after which a fluid is what came out or in."""

STUFF = word_set("oil coolant fluid engine_oil")


def ends_between(words: Sequence[str], start: int, end: int) -> bool:
    """Whether a sentence ends between two words."""
    return any(word in SENTENCE_ENDS for word in words[start:end])


def stands_at_place(words: Sequence[str], start: int, what: str) -> bool:
    """Whether a part's name that starts there only tells where, or what came out: "behind the alternator"."""
    before = [w for w in words[max(0, start - 3) : start] if w not in ARTICLES and w not in POSITION_WORDS]
    return bool(before) and (before[-1] in PLACE_WORDS or (before[-1] in STUFF_WORDS and what in STUFF))
