"""Vehicle identification numbers: the signs they may hold, the check digit, the sign of the model year.

Facts of the standards and pure functions; no table. Signs and length: ISO 3779 (17 signs, never I, O or Q). Values,
weights and check digit: 49 CFR 565.15(c), whose worked example is among the tests; years: 565.15(d), from memory. The
check digit is required where that regulation applies; elsewhere the ninth sign may be anything, so that a number whose
check digit does not hold is not wrong for that alone.
"""

from __future__ import annotations

VIN_LENGTH = 17
VIN_SIGNS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
"""Every sign a number may hold."""

LETTERS, LETTER_VALUES = "ABCDEFGHJKLMNPRSTUVWXYZ", "12345678123457923456789"
"""The value of each letter, place by place; digits have their own."""

WEIGHTS: tuple[int, ...] = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""Of the 17 places; the check digit's own counts nothing."""

CHECK_PLACE = 9
"""Place of the check digit, counted from 1."""

YEAR_PLACE, ERA_PLACE = 10, 7
"""Places of the model year's sign and of the sign that tells its thirty years, counted from 1."""

YEAR_SIGNS = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""Signs of the model years 1980 to 2009, and again of 2010 to 2039."""

FIRST_YEAR = 1980

MISREAD = (("O", "0"), ("I", "1"))
"""Letters that no number holds, and the digits they are mistaken for."""

FEWEST_SIGNS = 5
"""A number with fewer different signs fills a field and names no vehicle (common practice, no source)."""


def check_digit(vin: str) -> str:
    """The check digit that belongs to a number: 0 to 9 or X; ValueError where it is not 17 allowed signs."""
    if len(vin) != VIN_LENGTH or any(sign not in VIN_SIGNS for sign in vin):
        raise ValueError(f"{vin!r} is not {VIN_LENGTH} of the signs {VIN_SIGNS}")
    digits = vin.translate(str.maketrans(LETTERS, LETTER_VALUES))
    rest = sum(int(digit) * weight for digit, weight in zip(digits, WEIGHTS, strict=True)) % 11
    return "X" if rest == 10 else str(rest)


def repaired(vin: str) -> str | None:
    """The number with O read as 0 and I as 1, where it holds such letters and its check digit then holds; else None."""
    changed = vin
    for letter, digit in MISREAD:
        changed = changed.replace(letter, digit)
    if changed == vin or len(changed) != VIN_LENGTH or any(sign not in VIN_SIGNS for sign in changed):
        return None
    return changed if changed[CHECK_PLACE - 1] == check_digit(changed) else None


def model_years(vin: str) -> tuple[int, ...]:
    """The model years a number of 17 signs may state, earlier first; none where the sign is no year's.

    The sign comes round every thirty years. Which round is told by the seventh sign of light vehicles (a digit: 1980
    to 2009, a letter: 2010 to 2039; 49 CFR 565.15), but not of heavy ones nor where the regulation does not apply, so
    both are given.
    """
    place = YEAR_SIGNS.find(vin[YEAR_PLACE - 1])
    return () if place < 0 else (FIRST_YEAR + place, FIRST_YEAR + place + len(YEAR_SIGNS))
