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
