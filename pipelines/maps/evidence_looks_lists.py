"""How closed lists look: words, cut words and short codes for kinds, actions, reasons, states, in any language."""

from __future__ import annotations

from collections.abc import Callable

from longmile.pipelines.maps.evidence_ramps import Fit, ramp
from longmile.pipelines.maps.evidence_values import Values

WORDS_SAY, CODES_SAY = 0.8, 0.7
OPEN_LISTS = ("unit", "yes_no")
"""Lists whose words are read in nearly any column of short signs."""


def closed_list(name: str) -> Callable[[Values], Fit]:
    """Words of a closed list. Other words can be too (a shop's own codes), where there are few different ones."""

    def fit(values: Values) -> Fit:
        """Agreement of one column."""
        says = _words_say(name, values) or _codes_say(name, values)
        return Fit(max(_known(name, values), _few(values)), says * (1.0 - _sentence(values)))

    return fit


def _sentence(values: Values) -> float:
    """How surely these are sentences and no list."""
    return ramp(values.words, 2.4, 3.6)


def _numbered(values: Values) -> float:
    """How surely the values are told apart by numbers."""
    return ramp(values.share["has_digit"], 0.4, 0.9)


def _known(name: str, values: Values) -> float:
    """By how many cells are known of the list."""
    share = max(values.lists.get(name, 0.0), 0.9 * values.letters.get(name, 0.0))
    return ramp(share, 0.15, 0.7) * (1.0 - 0.6 * _sentence(values)) * (1.0 - 0.7 * _numbered(values))


def _few(values: Values) -> float:
    """By how few different short values there are."""
    few = 0.6 if values.is_list and values.share["number"] < 0.7 else 0.2
    return few * (1.0 - 0.8 * ramp(values.words, 1.4, 2.6))


def _words_say(name: str, values: Values) -> float:
    """How much whole words say, without any header; half where another list explains more."""
    said = values.lists.get(name, 0.0) * (1.0 - ramp(values.share["has_digit"], 0.1, 0.4))
    others = max((share for other, share in values.lists.items() if other not in (name, *OPEN_LISTS)), default=0.0)
    sure = 1.0 if values.is_list and values.n_distinct > 1 else 0.3
    return WORDS_SAY * ramp(said, 0.5, 0.9) * sure * (1.0 if said >= others else 0.5)


def _codes_say(name: str, values: Values) -> float:
    """How much codes of two to four letters say; single letters say nothing by themselves."""
    if values.length <= 1.5 or values.n_distinct <= 2:
        return 0.0
    return CODES_SAY * ramp(values.letters.get(name, 0.0), 0.7, 1.0) * (1.0 - _numbered(values))
