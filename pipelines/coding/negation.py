"""Whether what is said is denied: "no leak", "did not replace", "never found"."""

from __future__ import annotations

from collections.abc import Sequence, Set

from longmile.pipelines.coding.normal_text import BREAKS
from longmile.pipelines.coding.trouble_words import NEGATIONS

REACH = 3
"""Words back from the denied one within which the denial stands."""
_LETS_GO = frozenset(("and", "but", "&", "so", "because", "only"))


def is_negated(words: Sequence[str], at: int, used: Set[int] = frozenset()) -> bool:
    """Whether a word of denial stands at most `REACH` words before, with no break and no "and" or "but" between.

    used: words that are part of something else said ("not engaging"); a denial among them is spent.
    """
    for back in range(at - 1, max(-1, at - 1 - REACH), -1):
        if words[back] in NEGATIONS:
            return back not in used and not (words[back] == "no" and back + 1 < len(words) and words[back + 1] == "#")
        if words[back] in BREAKS or words[back] in _LETS_GO:
            return False
    return False
