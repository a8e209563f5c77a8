"""Half-named parts ("the pump", "both tensioners", "inner and outer tie rods") told apart by the rest of their line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass

from longmile.pipelines.coding.half_named import HALF_NAMED
from longmile.pipelines.coding.lexicon import known_phrase
from longmile.pipelines.coding.names import NAMES
from longmile.pipelines.coding.phrases import Named
from longmile.pipelines.coding.word_table import word_set
from longmile.schemas.vocabulary import BY_CODE

_PAIRS = (
    "upper lower", "inner outer", "top bottom", "upstream downstream", "intake exhaust", "cam crank",
    "camshaft crankshaft", "front rear", "master slave", "fuel air", "cabin engine", "pre post", "positive negative",
)  # fmt: skip
PAIRED: Mapping[str, str] = {one: other for pair in _PAIRS for one, other in (pair.split(), reversed(pair.split()))}
"""Words that stand for each other in "inner and outer tie rods"."""

_JOINTS = frozenset(("and", "&", "/", ",", "+"))
_ADDED = word_set(
    """upper lower inner outer intake exhaust cam crank camshaft crankshaft upstream downstream fuel air oil cabin
    engine transmission top bottom master slave pre post heater"""
)

_NAME_WORDS = {code: frozenset(known_phrase(entry.name)) for code, entry in BY_CODE.items()}
_LAST_WORD = {code: known_phrase(entry.name)[-1] for code, entry in BY_CODE.items()}


@dataclass(frozen=True)
class Naming:
    """A component named in a text.   words: as they stood there, mended.   is_piece: only a piece of it is named."""

    code: str
    words: tuple[str, ...]
    is_piece: bool = False


def resolved(
    name: str, words: tuple[str, ...], before: Sequence[Naming], others: Sequence[Naming], line_words: Set[str]
) -> tuple[str, str]:
    """(component, how) for a half name; ("", "") where it stays open, ("", "piece") for a piece named before.

    before: components named before it, the nearest last.   others: those named elsewhere in the line.
    how: `same` (named in full in the line), `joined` (shares first words with one named there), `context`, `usual`.
    """
    near = (*reversed(before), *others)
    for naming in near:
        found = _same(words, naming)
        if found:
            return found
    joined = next((code for naming in near for code in (_joined(words, naming),) if code), "")
    return (joined, "joined") if joined else _by_context(name, line_words)


def _same(words: tuple[str, ...], naming: Naming) -> tuple[str, str] | None:
    """The component named in full that ends in the half name: "pump" after "water pump"."""
    if naming.is_piece and words[-1] == naming.words[-1]:
        return "", "piece"
    if not naming.code or words[-1] not in (naming.words[-1], _LAST_WORD[naming.code]):
        return None
    is_within = set(words) <= _NAME_WORDS[naming.code] | set(naming.words)
    return (naming.code, "same") if is_within else None


def _joined(words: tuple[str, ...], naming: Naming) -> str:
    """The component that the first words of a name make up with the half name: "timing belt and tensioner"."""
    for source in (naming.words, known_phrase(BY_CODE[naming.code].name) if naming.code else ()):
        for length in range(len(source), 0, -1):
            kind, code = NAMES.get((*source[:length], *words), ("", ""))
            if kind == "component" and code in BY_CODE:
                return code
    return ""


def _by_context(name: str, line_words: Set[str]) -> tuple[str, str]:
    """The component that other words of the line speak for, else the usual one."""
    for needed, code in HALF_NAMED.get(name, ()):
        if not needed or needed & line_words:
            return code, ("context" if needed else "usual") if code else ""
    return "", ""


def partner(words: Sequence[str], named: Named) -> str:
    """The second component of "inner and outer tie rods", named by one word joined to the other's name; "" for none."""
    own = tuple(words[named.start : named.end])
    found = _joined_before(words[max(0, named.start - 2) : named.start], own)
    found = found or _joined_behind(words[named.end : named.end + 2], own)
    return found if found != named.what else ""


def _joined_before(before: Sequence[str], own: tuple[str, ...]) -> str:
    """The component of "inner and" before "outer tie rod"."""
    if len(before) != 2 or before[1] not in _JOINTS or before[0] not in _ADDED:
        return ""
    codes = (_component((before[0], *own[cut:])) for cut in range(1, len(own)))
    return next((code for code in codes if code), "")


def _joined_behind(behind: Sequence[str], own: tuple[str, ...]) -> str:
    """The component of "and lower" behind "ball joints, upper"."""
    if len(behind) != 2 or behind[0] not in _JOINTS or behind[1] not in PAIRED:
        return ""
    plain = tuple(word for word in own if word.isalpha())
    swapped = tuple(behind[1] if PAIRED.get(behind[1]) == word else word for word in plain)
    return _component(swapped) if swapped and swapped != plain else ""


def _component(words: tuple[str, ...]) -> str:
    """The component of that name, in order or with the last word first; "" for none."""
    kind, code = NAMES.get(words) or NAMES.get((words[-1], *words[:-1])) or ("", "")
    return code if kind == "component" and code in BY_CODE else ""
