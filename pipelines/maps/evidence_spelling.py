"""Text as it is compared: plain words of headers and values. Nothing of the trade is known here."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container

_LETTERS = str.maketrans(
    {"ß": "ss", "ø": "o", "ł": "l", "æ": "ae", "œ": "oe", "đ": "d", "№": " no ", "º": " ", "°": " ", "ª": " "}
)
_CAMEL = re.compile(r"(?<=[a-zà-ÿ])(?=[A-ZÀ-Þ])|(?<=[A-ZÀ-Þ])(?=[A-ZÀ-Þ][a-zà-ÿ])")
_APART = re.compile(r"[^a-z0-9#]+")
_DIGITS = re.compile(r"(?<=[a-z])(?=[0-9])|(?<=[0-9])(?=[a-z])")
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa"})


def plain(text: str) -> str:
    """The text in lower case without accents, every other sign a space, single spaces."""
    low = unicodedata.normalize("NFC", text).casefold().translate(_LETTERS)
    bare = "".join(sign for sign in unicodedata.normalize("NFKD", low) if not unicodedata.combining(sign))
    return " ".join(_APART.sub(" ", bare).split())


def spellings(text: str) -> tuple[str, ...]:
    """The plain text, and the one in which umlauts are written with an e where that differs."""
    written_out = plain(unicodedata.normalize("NFC", text).casefold().translate(_UMLAUTS))
    return tuple(dict.fromkeys((plain(text), written_out)))


def header_words(header: str, known: Container[str] = ()) -> list[str]:
    """Plain words of a header: parted at signs, digits, and capitals inside a word that is not known; # is a word."""
    words: list[str] = []
    for one in header.replace("#", " # ").split():
        whole = plain(one)
        parted = whole if whole in known else plain(_CAMEL.sub(" ", one))
        words += _DIGITS.sub(" ", parted).split()
    return words


def words_in(text: str) -> frozenset[str]:
    """The words of a text, parted by white space, as a set."""
    return frozenset(text.split())
