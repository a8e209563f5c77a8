"""The closed list of units a column may use, with exact conversions and where each comes from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from longmile.schemas.vocabulary import MEASURE_UNITS

KM_PER_MILE = 1.609344
"""Exact by definition: International yard and pound agreement of 1 July 1959 (1 mile = 1,760 yards of 0.9144 m)."""

UNITS: Mapping[str, str] = MappingProxyType(
    {
        "": "no unit",
        "miles": "international miles, 1 mile = 1.609344 km exactly",
        "failures per 100,000 miles": "failures divided by miles at risk, times 100,000",
        "cents": "hundredths of the workspace's currency, whole",
        "hours": "hours of labour",
        "months": "calendar months",
        "days": "days",
        "share": "a number from 0 to 1",
        "lives": "lives: one part in one socket",
        "as odometer_unit": "miles or kilometres, as the column odometer_unit or the vehicle says",
        "as unit": "as the column unit of the same row says",
    }
)

BENCH_UNITS: tuple[str, ...] = tuple(sorted({unit for units in MEASURE_UNITS.values() for unit in units}))
"""Units of bench readings; a reading keeps the unit it came with."""


def km_to_miles(km: float) -> float:
    """Miles from kilometres, by the exact definition."""
    return km / KM_PER_MILE
