"""From shares of cells to agreement between 0 and 1: what the looks beside this have in common."""

from __future__ import annotations

from typing import NamedTuple

from longmile.pipelines.maps.evidence_values import Values


class Fit(NamedTuple):
    """can: 0 (the values cannot be this) to 1 (nothing speaks against it).   says: 0 to 1, without any header."""

    can: float
    says: float


NEUTRAL = Fit(1.0, 0.0)


def ramp(share: float, none: float, whole: float) -> float:
    """0 at or below `none`, 1 at or above `whole`, straight between."""
    return min(1.0, max(0.0, (share - none) / (whole - none)))


def cents(values: Values) -> float:
    """How surely these are amounts: numbers, and many of them with cents."""
    return ramp(values.share["number"], 0.8, 1.0) * ramp(1 - values.whole, 0.2, 0.6)


def written_date(values: Values) -> float:
    """Share of dates with signs or names in them."""
    return max((share for one, share in values.dates.items() if set("-/. ") & set(one)), default=0.0)
