"""Text of a repair line as plain words: case, signs, units, shorthand and plurals settled; slips mended by `fuzzy`.

A word is a lower-case word of the trade, a number, a sign that ends a thought (, ; . ( ) and the like), or one of the
marks <miles>, <length>, <reading>, <percent> that stand for an amount with its unit.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

from longmile.pipelines.coding.abbreviations import ABBREVIATIONS
from longmile.pipelines.coding.idioms import IDIOMS

MAX_CHARACTERS = 2_000
"""Of one text that are read; a line that says what was done says it sooner."""

SIGNS = frozenset(",;.:()-/&+\n!?|=>")
BREAKS = frozenset(",;.:()-\n!?|=>")
"""Signs between thoughts; "/", "&" and "+" join."""

_FROM_TO = str.maketrans("\u2018\u2019\u201c\u201d\u2013\u2014\r\t*", "''\"\"--\n  ")
"""Curly quotes and long dashes as plain ones, other blanks as spaces."""

_TOKEN = re.compile(r"<[a-z]+>|#\s*\d+[a-d]?\b|[a-z0-9]+(?:[/&'.+-][a-z0-9]+)*|[^\sa-z0-9]|\n")
_JOINED = re.compile(r"[&'.+-]")
_SPLIT = re.compile(r"([/&+-])|['.]")
_LETTERS_THEN_DIGITS = re.compile(r"(cyl|cylinder|cyls|bank|bk|sensor|no|c)(\d{1,2})")
_DIGIT_FORM = re.compile(r"\d+(?:st|nd|rd|th)|\d+[a-c]?|b\ds\d|b\d|s\d|[pbcu]\d[0-9a-f]{3}|x\d+|\d+w\d+")


@dataclass(frozen=True)
class Words:
    """Words of one text, and what stood there for each.   words, raws: same length."""

    words: tuple[str, ...]
    raws: tuple[str, ...]


def lowered(text: str) -> str:
    """Text in small letters without accents, at most `MAX_CHARACTERS`, amounts with units and idioms marked."""
    plain = text[:MAX_CHARACTERS].translate(_FROM_TO).lower()
    if not plain.isascii():
        apart = unicodedata.normalize("NFKD", plain)
        plain = "".join(letter for letter in apart if not unicodedata.combining(letter))
    for pattern, put in IDIOMS:
        plain = pattern.sub(put, plain)
    return plain


def words_of(text: str, mend: Callable[[str], tuple[str, ...]] | None = None) -> Words:
    """Words of a text; `mend` gives the words for one that is in no table (spelling slips), else it stays as it is."""
    words: list[str] = []
    raws: list[str] = []
    for raw in _TOKEN.findall(lowered(text)):
        for word in _resolved(raw, mend):
            words.append(word)
            raws.append(raw)
    return Words(tuple(words), tuple(raws))


def _resolved(raw: str, mend: Callable[[str], tuple[str, ...]] | None) -> tuple[str, ...]:
    """Words that one written word stands for."""
    if raw[0] == "#" and len(raw) > 1:
        return ("#", raw[1:].strip())
    if len(raw) == 1 or raw[0] == "<":
        return ABBREVIATIONS.get(raw, (raw,))
    if raw.endswith(("'s", "'d")) and len(raw) > 3:
        raw = raw[:-2]
    known = ABBREVIATIONS.get(raw) or ABBREVIATIONS.get(_JOINED.sub("/", raw))
    if known:
        return tuple(full for word in known for full in mend(word)) if mend else known
    if not raw.isalpha():
        return _in_pieces(raw, mend)
    return mend(raw) if mend else _singular(raw)


def _in_pieces(raw: str, mend: Callable[[str], tuple[str, ...]] | None) -> tuple[str, ...]:
    """Words of a joined form: "lf/rf", "brake-pads", "cyl3"; decimals and trouble codes stay whole."""
    if _DIGIT_FORM.fullmatch(raw):
        return (raw,)
    numbered = _LETTERS_THEN_DIGITS.fullmatch(raw)
    if numbered:
        word = {"c": "cylinder", "no": "#"}.get(numbered[1], numbered[1])
        return (*ABBREVIATIONS.get(word, (word,)), numbered[2])
    pieces = [piece for piece in _SPLIT.split(raw) if piece]
    if len(pieces) == 1 or all(piece.replace(".", "").isdigit() for piece in raw.split(".")):
        return (raw,)
    found: list[str] = []
    for piece in pieces:
        if piece == "-" and not (found and found[-1].isdigit()):
            continue
        found.extend((piece,) if piece in SIGNS else _resolved(piece, mend))
    return tuple(found)


def _singular(word: str) -> tuple[str, ...]:
    """The word as it is; plurals are settled where the words of the trade are known (`fuzzy`)."""
    return (word,)
