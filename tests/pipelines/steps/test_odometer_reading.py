from __future__ import annotations

from datetime import date

import pytest

from longmile.pipelines.settings import Settings

USED = "SELECT repair_order_id FROM odometer_reading WHERE is_used AND vehicle_id = 'v' ORDER BY read_on"


def used(bench) -> list[str]:
    bench.cut()
    return [order for (order,) in bench.rows(USED)]


def test_readings_that_agree_are_all_used(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2020-06-01", 14_000), ("2021-01-01", 20_000))
    assert used(bench) == ["v1", "v2", "v3"]


def test_a_digit_too_many_is_left_out_and_the_rest_used(bench):
    # 450,000 for 45,000: lower readings follow, and 405,000 miles in 152 days are more than 1,000 + 500 x 152.
    readings = [("2020-01-01", 40_000), ("2020-06-01", 450_000), ("2021-01-01", 50_000), ("2021-06-01", 55_000)]
    bench.vehicle("v", *readings)
    assert used(bench) == ["v1", "v3", "v4"]


def test_a_digit_too_many_on_the_last_visit_is_left_out_by_the_miles_a_day(bench):
    # Since 2021-01-01 (151 days): 500,000 > 1,000 + 500 x 151 = 76,500; since 2020-01-01 (517): 510,000 > 259,500.
    bench.vehicle("v", ("2020-01-01", 40_000), ("2021-01-01", 50_000), ("2021-06-01", 550_000))
    assert used(bench) == ["v1", "v2"]


def test_a_digit_lost_is_left_out(bench):
    readings = [("2020-01-01", 40_000), ("2020-06-01", 45_000), ("2021-01-01", 5_000), ("2021-06-01", 55_000)]
    bench.vehicle("v", *readings)
    assert used(bench) == ["v1", "v2", "v4"]


def test_where_two_readings_contradict_and_nothing_tells_which_is_wrong_both_are_left_out(bench):
    bench.vehicle("v", ("2020-01-01", 40_000), ("2020-06-01", 30_000))
    assert used(bench) == []


def test_a_vehicle_whose_readings_all_contradict_equally_has_no_window_and_its_lines_say_so(bench):
    bench.vehicle("v", ("2020-01-01", 40_000), ("2020-06-01", 30_000))
    bench.line("v2", 1, "water_pump")
    bench.cut()
    assert bench.rows("SELECT * FROM vehicle_window") == []
    assert bench.rows("SELECT use FROM line_use") == [("unplaced_visit",)]


def test_a_reading_on_leaving_below_the_one_on_arrival_is_left_out(bench):
    bench.vehicle("v", ("2020-01-01", 40_000))
    bench.put(
        "repair_order",
        repair_order_id="w",
        vehicle_id="v",
        opened_on=date(2020, 6, 1),
        odometer_in=45_000,
        odometer_out=4_500,
    )
    bench.cut()
    assert bench.rows("SELECT reason FROM odometer_reading WHERE NOT is_used") == [("below_in",)]


@pytest.mark.parametrize(
    ("unit", "default", "miles"), [("km", "mi", 10_000), (None, "km", 10_000), (None, "mi", 16_093.44)]
)
def test_kilometres_become_miles_exactly(bench, unit: str | None, default: str, miles: float):
    # 16,093.44 km / 1.609344 = 10,000 miles.
    bench.vehicle("v", ("2020-01-01", 16_093.44), unit=unit)
    bench.cut(settings=Settings(odometer_unit=default))
    assert bench.rows("SELECT odometer_miles FROM odometer_reading") == [(pytest.approx(miles, rel=1e-12),)]


def test_a_visit_whose_reading_is_left_out_is_placed_by_its_date(bench):
    # A third of the way from 2020-01-01 (40,000) to 2020-03-31 (49,000): 90 days, 30 of them gone: 43,000.
    bench.vehicle("v", ("2019-06-01", 35_000), ("2020-01-01", 40_000), ("2020-01-31", 4_000), ("2020-03-31", 49_000))
    bench.line("v3", 1, "water_pump")
    bench.cut()
    assert bench.rows("SELECT basis, odometer_miles FROM visit WHERE repair_order_id = 'v3'") == [("by_date", 43_000)]
    assert bench.rows("SELECT exit_miles FROM life WHERE unit = 'socket' AND is_event") == [(43_000,)]


def test_readings_that_rise_faster_than_one_leg_may_are_used_where_each_agrees_with_its_neighbour(bench):
    # 1,400 and 1,500 miles in a day each: no more than 1,000 + 500, though 2,900 in two days are more than 2,000.
    bench.vehicle("v", ("2020-01-01", 10_000), ("2020-01-02", 11_400), ("2020-01-03", 12_900))
    assert used(bench) == ["v1", "v2", "v3"]


def test_the_reading_on_leaving_counts_on_the_day_the_vehicle_next_came_in_if_the_order_was_closed_later(bench):
    # Closed on the 10th, but back on the 4th with 23 miles more: no contradiction, though lower than a reading before.
    bench.vehicle("v", ("2020-01-01", 10_000), ("2020-03-04", 14_050))
    slow = {
        "opened_on": date(2020, 3, 2),
        "closed_on": date(2020, 3, 10),
        "odometer_in": 14_020,
        "odometer_out": 14_027,
    }
    bench.put("repair_order", repair_order_id="w", vehicle_id="v", **slow)
    bench.cut()
    assert bench.rows("SELECT read_on, is_used FROM odometer_reading WHERE which = 'out'") == [(date(2020, 3, 4), True)]


# In the 61 days to the next reading: 9,000 miles are no more than 1,000 + 150 x 61 = 10,150, and 11,000 are.
@pytest.mark.parametrize(("then", "is_read"), [(9_000, True), (11_000, False)])
def test_0_is_a_reading_on_the_first_day_only_and_near_the_next(bench, then: int, is_read: bool):
    bench.vehicle("v", ("2020-01-01", 0), ("2020-03-02", then), ("2020-06-01", 0), ("2020-09-01", then + 8_000))
    assert used(bench) == (["v1"] if is_read else []) + ["v2", "v4"]
    assert set(bench.rows("SELECT fault, reason FROM odometer_reading WHERE NOT is_used")) == {("not_read", "not_read")}
