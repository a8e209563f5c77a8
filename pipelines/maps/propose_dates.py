"""In which formats the dates of a file are written; day before month or after it is decided over all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from longmile.pipelines.maps.date_format import EXCEL, date_format
from longmile.pipelines.maps.evidence_values import Values

WORTH_A_FORMAT = 0.03
DAY_FIRST, MONTH_FIRST = "%d", "%m"


@dataclass(frozen=True)
class Dates:
    """common: formats of most columns.   own: header -> formats where they differ.

    unsure: headers whose day and month could be the other way round.   sure: header -> share of cells read.
    """

    common: tuple[str, ...]
    own: dict[str, tuple[str, ...]]
    unsure: tuple[str, ...]
    read: dict[str, float]


def decide_dates(
    values: Mapping[str, Values], headers: Sequence[str], others: Sequence[str], is_day_first: bool
) -> Dates:
    """The formats of the headers' columns. others: date columns that are not mapped but are in the same file's habit.

    is_day_first: what is taken where no value tells.
    """
    told = _told([values[one] for one in (*headers, *others)])
    first = told or (DAY_FIRST if is_day_first else MONTH_FIRST)
    chosen = {header: _formats(values[header].dates, first) for header in headers}
    weights: dict[tuple[str, ...], int] = {}
    for header, formats in chosen.items():
        weights[formats] = weights.get(formats, 0) + values[header].filled
    common = max(weights, key=lambda formats: weights[formats], default=("%Y-%m-%d",))
    unsure = tuple(header for header in headers if not told and _is_open(values[header].dates, chosen[header]))
    read = {header: _share(values[header].dates, formats) for header, formats in chosen.items()}
    return Dates(common, {header: own for header, own in chosen.items() if own != common}, unsure, read)


def _told(columns: Sequence[Values]) -> str:
    """Which of day and month comes first, by the cells that can be read in one way only; empty where none can."""
    lead = {DAY_FIRST: 0.0, MONTH_FIRST: 0.0}
    for values in columns:
        for one, share in values.dates.items():
            other = _swapped(one)
            sign = _first(one)
            if other and sign in lead:
                lead[sign] += values.filled * max(0.0, share - values.dates.get(other, 0.0))
    best = max(lead, key=lambda sign: lead[sign])
    return best if lead[best] > 0 else ""


def _first(one: str) -> str:
    """The sign of what a format begins with, a weekday left out."""
    return one.replace("%a", "").lstrip(", ")[:2]


def _swapped(one: str) -> str:
    """The format with day and month changed over; empty where it has a month's name or the year first."""
    if EXCEL in one or "%b" in one or not ("%d" in one and "%m" in one) or one.startswith(("%Y", "%y")):
        return ""
    return one.replace("%d", "\0").replace("%m", "%d").replace("\0", "%m")


def _formats(shares: Mapping[str, float], first: str) -> tuple[str, ...]:
    """The formats of one column: the one that reads most cells, then each that reads others and clashes with none."""
    left = dict(shares)
    found: list[str] = []
    while left:
        best = max(left, key=lambda one: (round(left[one], 3), _first(one) == first, "%Y" in one))
        if found and left[best] < WORTH_A_FORMAT:
            break
        found.append(best)
        left = {one: share for one, share in left.items() if not _clash(one, found)}
    return tuple(found) or ("%Y-%m-%d",)


def _clash(one: str, found: Sequence[str]) -> bool:
    """Whether a format would read the same cells as one found already."""
    if one == EXCEL or one in found:
        return one in found
    shape = date_format(one).shape
    return any(other != EXCEL and date_format(other).shape == shape for other in found)


def _is_open(shares: Mapping[str, float], formats: Sequence[str]) -> bool:
    """Whether a column is read as well with day and month changed over."""
    return any(_swapped(one) and shares.get(_swapped(one), -1.0) >= shares.get(one, 0.0) for one in formats)


def _share(shares: Mapping[str, float], formats: Sequence[str]) -> float:
    """Share of cells that the formats read, ISO dates always read."""
    return min(1.0, sum(shares.get(one, 0.0) for one in {*formats, "%Y-%m-%d"}))
