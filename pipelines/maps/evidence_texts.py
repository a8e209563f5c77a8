"""What sentences are about: what a customer says, what was found, what was done; by the words in them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from longmile.pipelines.maps.evidence_spelling import plain
from longmile.pipelines.maps.words_texts import TEXTS

MOST_READ = 200


def text_shares(counts: Mapping[str, int]) -> dict[str, float]:
    """Share of different texts that speak of each; a text may speak of several."""
    texts = [plain(cell) for cell in list(counts)[:MOST_READ]]
    return {name: sum(bool(_pattern(name).search(text)) for text in texts) / len(texts) for name in TEXTS}


@cache
def _pattern(name: str) -> re.Pattern[str]:
    """Any of the beginnings of words."""
    stems = sorted({one.replace("_", " ") for one in TEXTS[name].split()})
    return re.compile(rf"\b(?:{'|'.join(stems)})")
