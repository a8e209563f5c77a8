"""The decimal and thousands signs of a file, and of columns that are written otherwise."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from longmile.pipelines.maps.evidence_numbers import Signs, decimal_sign, thousands_sign
from longmile.pipelines.maps.evidence_values import Values

WHOLE_NUMBERS = frozenset({"odometer_in", "odometer_out", "miles", "model_year", "line_no"})
"""Meanings whose values have no decimals: a sign before three digits parts thousands."""


@dataclass(frozen=True)
class FileSigns:
    """decimal, thousands: of the file.   own: header -> (decimal, thousands) where they differ.

    unsure: headers in which a sign before three digits could be either.
    """

    decimal: str
    thousands: str
    own: dict[str, tuple[str, str]]
    unsure: tuple[str, ...]


def decide_signs(
    values: Mapping[str, Values], meaning_of: Mapping[str, str], headers: Sequence[str], usual: str = "."
) -> FileSigns:
    """Signs of the numbers in these headers' columns: each column by itself, then what is open by the file's habit.

    usual: the decimal sign where no value tells.
    """
    told = {header: _told(values[header].signs, meaning_of.get(header, "")) for header in headers}
    votes = {sign: sum(values[one].filled for one in headers if told[one] == sign) for sign in ".,"}
    decimal = max(votes, key=lambda sign: (votes[sign], sign == usual))
    own = {header: told[header] or decimal for header in headers}
    seen = {header: thousands_sign(values[header].signs, own[header]) for header in headers}
    thousands = _commonest([seen[one] for one in headers if own[one] == decimal])
    differing = {
        header: (own[header], seen[header])
        for header in headers
        if own[header] != decimal or seen[header] not in ("", thousands)
    }
    unsure = tuple(one for one in headers if not told[one] and not any(votes.values()) and values[one].signs.either)
    return FileSigns(decimal, thousands, differing, unsure)


def _told(signs: Signs, meaning: str) -> str:
    """The decimal sign a column shows; of whole numbers, by the sign between their thousands; empty: not told."""
    if decimal_sign(signs):
        return decimal_sign(signs)
    if meaning in WHOLE_NUMBERS and any(signs.either.values()):
        return "." if signs.either.get(",", 0) > signs.either.get(".", 0) else ","
    return ""


def _commonest(signs: Sequence[str]) -> str:
    """The sign seen in most columns; empty where none is seen."""
    seen = [sign for sign in signs if sign]
    return max(sorted(set(seen)), key=seen.count, default="")
