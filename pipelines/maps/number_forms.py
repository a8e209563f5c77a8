"""How a number may be written in a cell, as regular expressions without groups, which are matched at full speed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from longmile.pipelines.maps.unit_words import CURRENCY_ABBREVIATIONS, CURRENCY_CODES, CURRENCY_WORDS

Beside = Literal["nothing", "currency", "unit"]
"""What may stand before or after a number."""

_SPACES = " \u00a0\u202f\u2007\u2009"
_APOSTROPHES = "'\u2019\u02bc"
_GROUP_SIGNS = {**dict.fromkeys(_SPACES, _SPACES), **dict.fromkeys(_APOSTROPHES, _APOSTROPHES), ".": ".", ",": ","}
THOUSANDS_SIGNS = ("", *_GROUP_SIGNS)
DECIMAL_SIGNS = (".", ",")

_LETTERS = r"A-Za-z\x{b5}\x{c0}-\x{24f}\x{370}-\x{4ff}\x{1e00}-\x{1eff}\x{2126}"
UNIT_WORD = rf'[{_LETTERS}°%"][{_LETTERS}_/.²]*'
"""Latin, Greek and Cyrillic letters: with those of all scripts the expression is too large to be matched at speed."""
_W = r"[\s\x{a0}\x{202f}\x{2007}\x{2009}]*"
_MINUS, _DASH = r"\-\x{2212}\x{2013}", r"\-\x{2013}\x{2014}"
_CREDIT = r"(?i:cr)\.?"
_SIGN = r"[A-Z]{0,3}\p{Sc}"
_WORDS = "|".join([*CURRENCY_CODES, *CURRENCY_WORDS, *(rf"{word}\.?" for word in CURRENCY_ABBREVIATIONS)])
_BESIDE = {"nothing": "", "currency": f"(?:{_SIGN}|(?i:{_WORDS}))", "unit": UNIT_WORD}
_BEFORE_POINT = {"nothing": "", "currency": _SIGN, "unit": ""}


@dataclass(frozen=True)
class NumberSigns:
    """The signs of a number as the map states them. Any space stands for every space, and so for apostrophes."""

    decimal: str = "."
    thousands: str = ""

    @property
    def group_signs(self) -> str:
        """All signs that may stand between thousands; none where none is stated."""
        return _GROUP_SIGNS.get(self.thousands, "")

    @property
    def point(self) -> str:
        """The decimal sign as a regular expression."""
        return re.escape(self.decimal)

    @property
    def whole(self) -> str:
        """The whole part: groups of three digits after at most three, or digits alone."""
        groups = "".join(re.escape(sign) for sign in self.group_signs)
        return rf"(?:\d{{1,3}}(?:[{groups}]\d{{3}})+|\d+)" if groups else r"\d+"


def from_a_digit(signs: NumberSigns, beside: Beside) -> str:
    """Cells whose number begins with a digit. Money may have a dash in place of cents."""
    body = rf"{signs.whole}(?:{signs.point}\d+)?"
    if beside == "currency":
        body = rf"(?:{body}|{signs.whole}{signs.point}[{_DASH}]{{1,2}})"
    return _forms(body, _BESIDE[beside], beside)


def from_the_point(signs: NumberSigns, beside: Beside) -> str:
    """Cells whose number begins with the decimal sign. Before it only a currency's sign: the stop in `Fr.5` is Fr's."""
    return _forms(rf"{signs.point}\d+", _BEFORE_POINT[beside], beside)


def _forms(body: str, before: str, beside: Beside) -> str:
    """The number with at most one sign or one pair of parentheses, and at most one word before or after."""
    word = _BESIDE[beside]
    bare = rf"(?:{rf'(?:{before}{_W})?' if before else ''}{body}{rf'|{body}{_W}{word}' if word else ''})"
    sign = rf"[+{_MINUS}]"
    forms = [bare, rf"{sign}{_W}{bare}", rf"{bare}{_W}{sign}", rf"\({_W}{bare}{_W}\)"]
    if word:
        forms += [rf"{word}{_W}{sign}{_W}{body}", rf"{body}{_W}{sign}{_W}{word}"]
        forms += [rf"{word}{_W}\({_W}{body}{_W}\)", rf"\({_W}{body}{_W}\){_W}{word}"]
    if beside == "currency":
        forms.append(rf"{bare}{_W}(?i:cr|dr)\.?")
    return f"^(?:{'|'.join(forms)})$"


def negative(signs: NumberSigns, beside: Beside) -> str:
    """Cells, among those that have one of the forms, whose number is below zero. A dash for cents is no minus."""
    credit = rf"|{_CREDIT}$" if beside == "currency" else ""
    return rf"(?:^|[^{signs.point}{_DASH}])[{_MINUS}]|\({credit}"
