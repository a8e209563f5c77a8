from __future__ import annotations

from datetime import date, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.settings import Settings
from longmile.schemas.vocabulary import BY_CODE

LIVES = (
    "SELECT position, entry_miles, exit_miles, outcome, last_sound_miles FROM life WHERE unit = '{}' "
    "ORDER BY position, start_miles, entry_miles"
)


def lives(bench, unit: str = "socket") -> list[tuple]:
    bench.cut()
    return bench.rows(LIVES.format(unit))


def test_labour_and_part_of_one_job_end_the_life_once_and_take_the_given_reason(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "water_pump", reason="preventive")
    bench.line("v2", 2, "water_pump", kind="part", action=None, reason=None, quantity=1)
    assert lives(bench) == [("only", 10_000, 20_000, "removed", None), ("only", 0, 10_000, "running", None)]


def test_a_reopened_order_at_the_same_odometer_is_one_job(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2021-01-05", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "water_pump")
    bench.line("v3", 1, "water_pump")
    assert [row[3] for row in lives(bench)] == ["failed", "running"]
    assert bench.rows("SELECT use FROM line_use ORDER BY repair_order_id") == [("failure",), ("same_job",)]


def test_a_part_that_fails_a_few_miles_later_is_a_life_of_its_own(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2021-01-05", 20_040), ("2022-01-01", 30_000))
    bench.line("v2", 1, "water_pump")
    bench.line("v3", 1, "water_pump")
    assert (("only", 0, 40, "failed", None)) in lives(bench)


def test_found_at_inspection_lies_after_the_visit_before_where_it_was_never_inspected(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("v3", 1, "water_pump", reason="found_at_inspection")
    assert lives(bench) == [("only", 10_000, 30_000, "failed", 20_000)]


def test_an_inspection_of_another_cylinder_says_nothing_of_this_one(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2020-06-01", 12_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "fuel_injector", position="1", action="inspected", reason=None)
    bench.line("v4", 1, "fuel_injector", position="2", reason="found_at_inspection")
    bench.line("v4", 2, "fuel_injector", position="1", reason="found_at_inspection")
    found = lives(bench)
    assert ("1", 10_000, 30_000, "failed", 12_000) in found
    assert ("2", 10_000, 30_000, "failed", 20_000) in found


def test_unknown_reasons_count_as_the_setting_says(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "water_pump", reason=None)
    assert [row[3] for row in lives(bench)] == ["failed", "running"]
    bench.cut(settings=Settings(unknown_reason="removal"))
    assert [row[3] for row in bench.rows(LIVES.format("socket"))] == ["removed", "running"]


def test_positions_are_read_from_lists_and_other_spellings(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000))
    bench.line("v2", 1, "fuel_injector", position="1, 3")
    bench.line("v2", 2, "wheel_bearing", position="left front")
    bench.line("v2", 3, "exhaust_valve", position="all")
    bench.cut()
    found = bench.rows("SELECT component_code, position FROM life WHERE unit = 'socket' AND is_event ORDER BY ALL")
    valves = [("exhaust_valve", str(n)) for n in (1, 2, 3, 4)]
    assert found == [*valves, ("fuel_injector", "1"), ("fuel_injector", "3"), ("wheel_bearing", "lf")]


def test_a_position_the_family_does_not_have_is_one_of_the_set(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000))
    bench.line("v2", 1, "fuel_injector", position="9")
    bench.cut()
    assert bench.rows("SELECT is_position_known, count(*) FROM life WHERE unit = 'socket' AND is_event GROUP BY 1") == [
        (False, 1)
    ]


def test_a_quantity_that_covers_the_set_renews_the_set(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "fuel_injector", kind="part", quantity=4)
    assert lives(bench, "vehicle") == [("set", 10_000, 20_000, "failed", None), ("set", 0, 10_000, "running", None)]
    assert bench.rows("SELECT DISTINCT is_position_known FROM life") == [(True,)]


def test_from_new_below_500_miles(bench):
    for name, first in (("a", 499.0), ("b", 500.0)):
        bench.vehicle(name, ("2020-01-01", first), ("2021-01-01", 20_000))
    bench.cut()
    assert bench.rows("SELECT vehicle_id, origin FROM vehicle_window ORDER BY 1") == [
        ("a", "from_new"),
        ("b", "assumed_original"),
    ]


def test_followed_up_to_date_a_vehicle_goes_on_at_its_own_miles_a_day_up_to_the_cap(bench):
    # 3,660 miles in 366 days = 10 a day. To 2021-01-31: 30 days more = 300. Capped at 1 month of 31 days: 310.
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 13_660))
    to_date = Settings(follow_up="to_date", follow_up_cap_months=1)
    bench.cut(date(2021, 1, 31), to_date)
    assert bench.rows("SELECT last_miles FROM vehicle_window") == [(13_960,)]
    bench.cut(date(2029, 1, 1), to_date)
    assert bench.rows("SELECT last_miles FROM vehicle_window") == [(13_970,)]


# Data sets on which lives were once cut wrongly.

FOUR_VISITS = (("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000), ("2023-01-01", 40_000))


def test_the_same_odometer_in_kilometres_and_in_miles_is_one_job(bench):
    # 15,625 miles = 25,146 km exactly (15,625 x 1.609344).
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 15_625), ("2022-01-01", 30_000))
    again = {"repair_order_id": "w", "vehicle_id": "v", "odometer_in": 25_146, "odometer_unit": "km"}
    bench.put("repair_order", opened_on=date(2021, 1, 5), **again)
    bench.line("v2", 1, "water_pump")
    bench.line("w", 1, "water_pump")
    assert lives(bench) == [("only", 10_000, 15_625, "failed", None), ("only", 0, 14_375, "running", None)]


def test_ages_equal_in_kilometres_are_equal_in_miles(bench):
    # Both pumps ran 10,000 km: from 7,001 to 17,001 and from 5,003 to 15,003. 10,000 / 1.609344 = 6,213.711922.
    for name, installed in (("a", 7_001), ("b", 5_003)):
        readings = (("2020-01-01", 1_000), ("2020-06-01", installed), ("2021-01-01", installed + 10_000))
        bench.vehicle(name, *readings, unit="km")
        bench.line(f"{name}2", 1, "water_pump", reason="preventive")
        bench.line(f"{name}3", 1, "water_pump")
    bench.cut()
    ages = bench.rows("SELECT DISTINCT exit_miles FROM life WHERE unit = 'socket' AND is_event")
    assert ages == [(6_213.711922,)]


def test_an_inspection_of_the_part_before_says_nothing_of_the_new_one(bench):
    bench.vehicle("v", *FOUR_VISITS)
    bench.line("v1", 1, "water_pump", action="inspected", reason=None)
    bench.line("v2", 1, "water_pump")
    bench.line("v4", 1, "water_pump", reason="found_at_inspection")
    # Not inspected since it was put in at 20,000: it was sound on the visit before, at 30,000, having run 10,000.
    assert ("only", 0, 20_000, "failed", 10_000) in lives(bench)


def test_an_inspection_whose_position_cannot_be_read_says_nothing_of_any_socket(bench):
    bench.vehicle("v", *FOUR_VISITS)
    bench.line("v2", 1, "fuel_injector", position="rear", action="inspected", reason=None)
    bench.line("v4", 1, "fuel_injector", position="1", reason="found_at_inspection")
    assert lives(bench) == [("1", 10_000, 40_000, "failed", 30_000)]


def test_spellings_of_two_words_are_read_in_a_list(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000))
    bench.line("v2", 1, "wheel_bearing", position="left front, right rear")
    bench.line("v2", 2, "fuel_injector", position="cyl 1, cyl 3")
    bench.cut()
    found = bench.rows("SELECT position, is_position_known FROM life WHERE unit = 'socket' AND is_event ORDER BY ALL")
    assert found == [("1", True), ("3", True), ("lf", True), ("rr", True)]


def test_where_all_were_named_one_of_the_set_is_the_one_not_worked_on_for_longest(bench):
    visits = [(f"20{15 + n}-01-01", 15_000 + 5_000 * n) for n in range(6)]
    bench.vehicle("v", *visits)
    for order, position in (("v2", "4"), ("v3", "3"), ("v4", "2"), ("v5", "1")):
        bench.line(order, 1, "fuel_injector", position=position)
    bench.line("v6", 1, "fuel_injector")
    # Readings 15,000 to 40,000; cylinder 4 was done at 20,000, the others later: it had run 20,000 at 40,000.
    bench.cut()
    assert bench.rows("SELECT position, exit_miles FROM life WHERE NOT is_position_known AND unit = 'socket'") == [
        ("4", 20_000)
    ]


def test_a_set_fails_for_the_reason_of_the_socket_that_failed(bench):
    bench.vehicle("v", *FOUR_VISITS)
    bench.line("v2", 1, "fuel_injector", position="1", reason="preventive")
    bench.line("v2", 2, "fuel_injector", position="2", reason=None)
    bench.cut()
    assert bench.rows("SELECT outcome, reason FROM life WHERE unit = 'vehicle'") == [("failed", "unknown")]
    assert bench.rows("SELECT line_no, use FROM line_use ORDER BY ALL") == [(1, "same_job"), (2, "failure")]


def test_a_reason_taken_from_the_rest_of_the_job_ranks_as_itself(bench):
    bench.vehicle("v", *FOUR_VISITS)
    bench.line("v2", 1, "fuel_injector", position="1", reason=None)
    bench.line("v2", 2, "fuel_injector", position="2", reason="worn")
    bench.line("v2", 3, "fuel_injector", reason="failed")
    bench.cut()
    assert bench.rows("SELECT position, reason FROM life WHERE outcome = 'failed' ORDER BY ALL") == [
        ("1", "failed"),
        ("2", "worn"),
        ("set", "failed"),
    ]


def test_of_two_orders_at_one_odometer_the_failure_and_the_new_part_have_each_their_own(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2021-01-05", 20_000), ("2022-01-01", 30_000))
    bench.line("v2", 1, "water_pump", action="repaired", reason="failed")
    bench.line("v3", 1, "water_pump", action="replaced", reason=None)
    bench.cut()
    found = bench.rows("SELECT end_order_id, install_order_id FROM life WHERE unit = 'socket' ORDER BY life_no")
    assert found == [("v2", None), (None, "v3")]


def test_of_orders_that_tie_the_first_by_number_stands(bench):
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2021-01-05", 20_000), ("2022-01-01", 30_000))
    bench.line("v3", 1, "fuel_injector", position="1")
    bench.line("v2", 1, "fuel_injector", position="2")
    bench.cut()
    found = bench.rows("SELECT position, end_order_id FROM life WHERE is_event ORDER BY ALL")
    assert found == [("1", "v3"), ("2", "v2"), ("set", "v2")]


PARTS = ("water_pump", "fuel_injector", "exhaust_valve", "brake_pads")
jobs = st.lists(
    st.tuples(
        st.integers(0, 5),
        st.sampled_from(PARTS),
        st.sampled_from([None, "1", "2", "all", "front", "nonsense"]),
        st.sampled_from(["replaced", "repaired", "inspected", "declined", None]),
        st.sampled_from(["failed", "worn", "found_at_inspection", "preventive", "unknown", None]),
        st.sampled_from(["labor", "part", "sublet", "fee"]),
        st.sampled_from([None, 1, 2, 4, 9, -1]),
    ),
    max_size=14,
)
odometers = st.lists(st.integers(0, 200_000), min_size=1, max_size=6)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(odometers=odometers, jobs=jobs)
def test_whatever_was_done_the_miles_add_up_and_no_line_is_lost(bench, odometers: list[int], jobs):
    """`cut_lives` itself raises where miles or lines do not add up; here the counts are held against each other too."""
    assert set(PARTS) <= set(BY_CODE)
    for table in ("vehicle", "repair_order", "repair_line"):
        bench.store.run(f"DELETE FROM {table}")
    days = [(date(2020, 1, 1) + timedelta(days=90 * i)).isoformat() for i in range(len(odometers))]
    bench.vehicle("v", *zip(days, sorted(odometers), strict=True))
    for n, (visit, part, position, action, reason, kind, quantity) in enumerate(jobs):
        order = f"v{1 + visit % len(odometers)}"
        bench.line(order, n, part, position=position, action=action, reason=reason, kind=kind, quantity=quantity)
    bench.cut()
    assert bench.rows("SELECT count(*) FROM life WHERE entry_miles >= exit_miles OR entry_miles < 0") == [(0,)]
    failures, events = bench.rows(
        "SELECT (SELECT count(*) FROM line_use WHERE use IN ('failure', 'walk_in')), "
        "(SELECT count(DISTINCT (component_code, end_order_id)) FROM life WHERE unit = 'socket' AND is_event) + "
        "(SELECT count(DISTINCT (component_code, repair_order_id)) FROM walk_in)"
    )[0]
    assert events >= (failures > 0)
    assert (events == 0) == (failures == 0)


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.randoms(use_true_random=False))
def test_the_order_of_rows_never_matters(bench, seed):
    for table in ("vehicle", "repair_order", "repair_line"):
        bench.store.run(f"DELETE FROM {table}")
    bench.vehicle("v", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    lines = [("v2", 1, "fuel_injector", None), ("v2", 2, "fuel_injector", "2"), ("v3", 3, "fuel_injector", None)]
    for order, number, part, position in sorted(lines, key=lambda _: seed.random()):
        bench.line(order, number, part, position=position)
    assert lives(bench) == [
        ("1", 10_000, 30_000, "failed", None),
        ("2", 10_000, 20_000, "failed", None),
        ("2", 0, 10_000, "running", None),
    ]
