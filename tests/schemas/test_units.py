"""Units: the one conversion longmile makes, and that every unit in use is on the closed list."""

from __future__ import annotations

from fractions import Fraction

import pytest

from longmile.schemas import units
from longmile.schemas.registry import TABLES


def test_a_mile_is_exactly_1_609344_km():
    # International yard and pound agreement of 1 July 1959: 1 yard = 0.9144 m; a mile is 1,760 yards.
    yard_in_metres = Fraction(9_144, 10_000)
    assert Fraction(str(units.KM_PER_MILE)) == 1_760 * yard_in_metres / 1_000


# Arithmetic: 1.609344 x 100 = 160.9344; 1.609344 x 100,000 = 160,934.4.
@pytest.mark.parametrize(("km", "miles"), [(0.0, 0.0), (1.609344, 1.0), (160.9344, 100.0), (160_934.4, 100_000.0)])
def test_km_to_miles(km: float, miles: float):
    assert units.km_to_miles(km) == pytest.approx(miles, rel=1e-15)


def test_every_unit_is_explained_and_no_column_uses_another():
    used = {column.unit for table in TABLES for column in table.columns}
    assert all(words for words in units.UNITS.values())
    assert used <= set(units.UNITS)


def test_the_list_of_units_cannot_be_changed():
    with pytest.raises(TypeError):
        units.UNITS["furlongs"] = "an eighth of a mile"  # type: ignore[index]
