"""How numbers are written in cells: decimal and thousands signs, and the number itself once the signs are known."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_MONEY = r"(?:€|\$|£|¥|₤|kr\.?|zł|CHF|EUR|USD|GBP|CAD|AUD|SEK|NOK|DKK|PLN|BRL|MXN|R\$|Fr\.?|Kč|lei)"
_ROMANCE = r"kilomet\w*|chilomet\w*|quil[oó]met\w*|milles?|millas?|migli\w*|milhas?"
_DISTANCE = rf"(?:km|kms|k|mi|mls|miles?|meilen|mijl\w*|{_ROMANCE})\.?"
_OTHER = r"(?:h|hrs?|hours?|std|uur|ore|pcs?|stk|ud|st|x|%)\.?"
_INSIDE = r"[\d.,'\u2019\s\u00a0\u202f]*"
_MINUS = r"\s*[-+(]?\s*"
_BEHIND = rf"\s*[-)]?\s*(?:{_MONEY}|{_DISTANCE}|{_OTHER})?\s*[-)]?\s*\)?"
NUMBER = rf"(?i)^{_MINUS}{_MONEY}?{_MINUS}(?:\d{_INSIDE}|[.,]\d+){_BEHIND}$"
"""A cell that can be a number: digits with signs, currency, a unit, a minus or parentheses on either side."""

NUMBER_AND_DISTANCE = rf"(?i)^\d{_INSIDE}\s*{_DISTANCE}$"
"""A number with km or miles behind it."""

_BODY = re.compile(rf"{_INSIDE}\d")
_SPACE = re.compile(r"[\s\u00a0\u202f]")


@dataclass(frozen=True)
class Signs:
    """Cells by what they say of the signs.

    sure: sign -> cells in which it can only be the decimal sign.   thousands: sign -> cells in which it can only part
    thousands.   either: sign -> cells with it once before exactly three digits.
    """

    sure: dict[str, int]
    thousands: dict[str, int]
    either: dict[str, int]


def body(cell: str) -> str:
    """The digits and the signs among them, without currency, unit, minus; any space as a plain one."""
    hit = _BODY.search(cell)
    return _SPACE.sub(" ", hit[0]).strip().replace("\u2019", "'") if hit else ""


def signs_of(counts: Mapping[str, int]) -> Signs:
    """What the cells say of decimal and thousands signs; counts: cell that can be a number -> how often."""
    found = Signs({}, {}, {})
    for cell, times in counts.items():
        _count(body(cell), times, found)
    return found


def _count(text: str, times: int, found: Signs) -> None:
    """Add what one number says."""
    used = [sign for sign in ".,' " if sign in text]
    if not used:
        return
    last = max(used, key=text.rfind)
    after = len(text) - text.rfind(last) - 1
    for sign in used:
        if sign in "' " or text.count(sign) > 1 or (len(used) > 1 and sign != last):
            _add(found.thousands, sign, times)
    if last in "' " or text.count(last) > 1:
        return
    before = text[: text.rfind(last)]
    if len(used) > 1 or after != 3 or before in ("", "0") or len(re.sub(r"\D", "", before)) > 3:
        _add(found.sure, last, times)
    else:
        _add(found.either, last, times)


def _add(counts: dict[str, int], sign: str, times: int) -> None:
    """Add to a count."""
    counts[sign] = counts.get(sign, 0) + times


def decimal_sign(signs: Signs) -> str:
    """The decimal sign as these cells have it; empty where none can be told."""
    votes = {sign: signs.sure.get(sign, 0) - signs.thousands.get(sign, 0) for sign in ".,"}
    best = max(votes, key=lambda sign: votes[sign])
    if votes[best] > 0:
        return best
    parted = [sign for sign in ".," if signs.thousands.get(sign)]
    return {".": ",", ",": "."}[parted[0]] if len(parted) == 1 else ""


def likely_decimal(signs: Signs) -> str:
    """The decimal sign, or, where every sign stands before three digits, the one that is not seen."""
    told = decimal_sign(signs)
    return told or ("." if signs.either.get(",", 0) > signs.either.get(".", 0) else "," if signs.either else ".")


def thousands_sign(signs: Signs, decimal: str) -> str:
    """The sign between thousands once the decimal sign is known; empty where none is seen."""
    seen = {sign: signs.thousands.get(sign, 0) + signs.either.get(sign, 0) for sign in ".,' " if sign != decimal}
    best = max(seen, key=lambda sign: seen[sign])
    return best if seen[best] else ""


def number_in(cell: str, decimal: str) -> float:
    """The number in a cell that can be one, its sign with it."""
    digits = "".join(sign for sign in body(cell) if sign.isdigit() or sign == (decimal or "."))
    is_negative = "(" in cell or cell.strip().startswith("-") or cell.strip().endswith("-")
    try:
        value = float(digits.replace(",", "."))
    except ValueError:
        return float("nan")
    return -value if is_negative else value
