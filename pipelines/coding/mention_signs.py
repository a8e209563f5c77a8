"""What speaks for and against a reading, as numbers for its confidence."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.chosen import ByCode, Status
from longmile.pipelines.coding.occurrences import Gathered
from longmile.pipelines.coding.statuses import DONE
from longmile.pipelines.coding.word_table import word_set

_BY_VERB = word_set("replaced rnr repaired new")


def signs_of(kind: str, found: Gathered, by_code: ByCode, status: Status, kept: Sequence[str]) -> dict[str, float]:
    """Signs by name; each is a count, a share or 0 and 1."""
    numbers = _of_texts(kind, found) | _of_names(found, by_code, kept) | _of_work(found, by_code, status, kept)
    return {name: float(number) for name, number in numbers.items()}


def _of_texts(kind: str, found: Gathered) -> dict[str, float]:
    """Signs of the texts as such."""
    return {
        "is_part": kind == "part",
        "is_fee": kind == "fee",
        "is_sublet": kind == "sublet",
        "is_empty": found.n_words == 0,
        "is_long": found.n_words > 25,
        "length": min(found.n_words, 40),
        "n_unknown": found.n_unknown,
        "share_unknown": found.n_unknown / max(found.n_words, 1),
        "n_untold": min(found.n_untold, 8),
        "n_loose_heads": min(found.n_loose_heads, 4),
        "is_negative": bool({"not", "no", "never"} & found.words),
        "has_of": "of" in found.words and kind == "labor",
    }


def _of_names(found: Gathered, by_code: ByCode, kept: Sequence[str]) -> dict[str, float]:
    """Signs of how components, and other things, are named."""
    hows = {by_code[code][0].how for code in kept}
    return {
        "n_kept": len(kept),
        "n_dropped": len(by_code) - len(kept),
        "n_named": min(len(found.occurrences), 6),
        "n_open": len(found.open_names),
        "n_others": len(found.others),
        "n_charges": len(found.charges),
        "is_slip": not all(any(item.is_exact for item in by_code[code]) for code in kept),
        "is_joined": "joined" in hows,
        "is_context": "context" in hows,
        "is_usual": "usual" in hows,
        "is_implied": "implied" in hows,
    }


def _of_work(found: Gathered, by_code: ByCode, status: Status, kept: Sequence[str]) -> dict[str, float]:
    """Signs of what is told to have been done."""
    states = [status[code] for code in kept]
    return {
        "is_bare": bool(kept) and not any(states),
        "is_done": bool(kept) and all(state in DONE for state in states),
        "is_weak_status": any(state in ("needed", "later", "removed") for state in states),
        "n_inspected": states.count("inspected"),
        "n_verbs": min(len(found.verbs), 6),
        "n_later": sum(verb in ("later", "declined", "offered", "needed") for verb in found.verbs),
        "is_placed": any(item.tags & {"place", "context"} for code in kept for item in by_code[code]),
        "is_told_by_verb": bool(kept) and all(any(i.tags & _BY_VERB for i in by_code[code]) for code in kept),
    }
