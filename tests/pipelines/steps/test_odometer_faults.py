"""Odometer readings that contradict their vehicle's others: worked by hand, and held against the plain rule."""

from __future__ import annotations

import json
from datetime import date, datetime, timedelta
from fractions import Fraction
from random import Random
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.flows.lives import place_readings
from longmile.pipelines.flows.settle import settle_orders, settle_vehicles
from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.odometer_reading import odometer_faults_sql

FIRST = date(2015, 1, 1)
# A steady vehicle: 3,000 miles every 90 days, exactly, so that it has no scatter; ranges are 50 miles either way.
STEADY = [40_000 + 3_000 * n for n in range(10)]


def visits(numbers: list[float], days: int = 90) -> list[tuple[str, float]]:
    return [((FIRST + timedelta(days=days * n)).isoformat(), number) for n, number in enumerate(numbers)]


def told(bench: Any) -> list[tuple]:
    """(order, fault, treatment, miles used) of every reading that is not used as written."""
    bench.cut()
    return bench.rows(
        "SELECT repair_order_id, fault, treatment, CASE WHEN is_used THEN odometer_miles END FROM odometer_reading "
        "WHERE fault <> 'none' OR treatment <> 'as_written' ORDER BY read_on, which"
    )


def with_one(at: int, number: float) -> list[float]:
    return [*STEADY[:at], number, *STEADY[at + 1 :]]


# The sixth reading should be 55,000, and lies between 54,950 and 55,050.
@pytest.mark.parametrize(
    ("written", "fault", "treatment", "miles"),
    [
        (955_000, "digit_too_many", "corrected", 55_000),  # without another digit: 95,000, 95,500 is not so near
        (
            550_100,
            "digit_too_many",
            "left_out",
            None,
        ),  # without the 1 55,000, without the nought before it 55,010... two
        (5_501, "digit_missing", "left_out", None),  # 55,001, 55,010 to 55,019: many lie there
        (45_000, "rollback", "left_out", None),  # a wrong digit explains it, but in 100 miles that may be an accident
        (50_500, "digits_swapped", "corrected", 55_000),  # 5-0-5: the second and third changed over; nothing else does
        (88_514, "unit", "corrected", 55_000.05),  # 88,514 km / 1.609344 = 55,000.05
        (17, "rollback", "left_out", None),
    ],
)
def test_a_slip_is_corrected_where_one_value_alone_explains_it(
    bench, written: int, fault: str, treatment: str, miles: float | None
):
    bench.vehicle("v", *visits(with_one(5, written)))
    near = None if miles is None else pytest.approx(miles, abs=0.01)
    assert told(bench) == [("v6", fault, treatment, near)]


def test_beside_the_reading_on_leaving_a_wrong_digit_is_found(bench):
    # 45,003 for 55,003, left with 55,010: between 54,960 and 55,010 lies only the first digit changed.
    bench.vehicle("v", *visits([n for n in STEADY if n != 55_000]))
    day = FIRST + timedelta(days=5 * 90)
    bench.store.run("UPDATE repair_order SET opened_on = opened_on + INTERVAL 90 DAY WHERE odometer_in > 55000")
    bench.put(
        "repair_order", repair_order_id="w", vehicle_id="v", opened_on=day, odometer_in=45_003, odometer_out=55_010
    )
    assert told(bench) == [("w", "digit_wrong", "corrected", 55_003)]


def test_an_odometer_of_five_digits_that_went_round_goes_on(bench):
    written = [n % 100_000 for n in (91_020, 94_020, 97_020, 100_020, 103_020, 106_020, 109_020)]
    bench.vehicle("v", *visits(written))
    assert told(bench) == [(f"v{n}", "rollover", "corrected", 100_020 + 3_000 * (n - 4)) for n in (4, 5, 6, 7)]
    assert bench.rows("SELECT first_miles, last_miles FROM vehicle_window") == [(91_020, 109_020)]


def test_a_last_stretch_in_kilometres_is_put_in_miles(bench):
    kilometres = [round(n * 1.609344) for n in STEADY[7:]]
    bench.vehicle("v", *visits([*STEADY[:7], *kilometres], days=30))
    found = told(bench)
    assert [row[:3] for row in found] == [(f"v{n}", "unit", "corrected") for n in (8, 9, 10)]
    assert [row[3] for row in found] == pytest.approx(STEADY[7:], abs=0.4)


def test_of_two_clusters_the_side_with_fewer_miles_is_left_out(bench):
    # 12,000 miles on the first, 9,000 on the second.
    bench.vehicle("v", *visits([141_000, 144_000, 147_000, 150_000, 153_000, 20, 3_020, 6_020, 9_020]))
    assert told(bench) == [(f"v{n}", "cluster_replaced", "left_out", None) for n in (6, 7, 8, 9)]


def test_of_two_clusters_with_as_many_miles_the_first_is_kept(bench):
    bench.vehicle("v", *visits([141_000, 144_000, 147_000, 20, 3_020, 6_020]))
    assert told(bench) == [(f"v{n}", "cluster_replaced", "left_out", None) for n in (4, 5, 6)]


def test_a_reading_turned_back_is_left_out_and_called_so(bench):
    bench.vehicle("v", *visits(with_one(5, 30_777)))
    assert told(bench) == [("v6", "rollback", "left_out", None)]


def test_too_many_miles_for_this_vehicle_are_found_though_another_might_drive_them(bench):
    # 33 miles a day are usual: no more than 5,000 + 167 x 90 = 20,000 in 90 days. 40,000 are below 1,000 + 500 x 90.
    bench.vehicle("v", *visits([*STEADY, STEADY[-1] + 40_000]))
    assert told(bench) == [("v11", "too_many_miles_a_day", "left_out", None)]


def test_two_visits_that_contradict_each_other_are_settled_by_where_they_should_lie(bench):
    # 55,000 (where it should) and 58,500 the day before contradict each other; all others agree with either.
    bench.vehicle("v", *visits(STEADY))
    day = FIRST + timedelta(days=5 * 90 - 1)
    bench.put("repair_order", repair_order_id="w", vehicle_id="v", opened_on=day, odometer_in=57_777)
    assert [row[:3] for row in told(bench)] == [("w", "contradicts", "left_out")]


def decide(bench: Any, number: int, subject: str, answer: object, day: int = 1) -> None:
    bench.store.run(
        "INSERT INTO decision VALUES (?, ?, 'odometer', ?, ?, 'KD', NULL)",
        (number, datetime(2025, 6, day), subject, json.dumps(answer)),
    )


def test_what_a_person_decided_is_used_and_can_be_taken_back(bench):
    bench.vehicle("v", *visits(with_one(5, 30_777)))
    decide(bench, 1, "v6|in", {"miles": 55_432.1})
    assert told(bench) == [("v6", "none", "decided", 55_432.1)]
    decide(bench, 2, "v6|in", {"use": "leave_out"}, day=2)
    assert told(bench) == [("v6", "none", "decided", None)]
    decide(bench, 3, "v6|in", None, day=3)
    assert told(bench) == [("v6", "rollback", "left_out", None)]


def test_a_decision_made_after_the_moment_asked_about_does_not_count(bench):
    bench.vehicle("v", *visits(with_one(5, 30_777)))
    decide(bench, 1, "v6|in", {"miles": 55_432.1})
    bench.store.ask(date(2030, 1, 1), datetime(2025, 5, 1))
    settle_vehicles(bench.store)
    settle_orders(bench.store, Settings())
    place_readings(bench.store, Settings())
    assert bench.rows("SELECT treatment FROM odometer_reading WHERE repair_order_id = 'v6'") == [("left_out",)]


def test_what_contradicts_a_decided_reading_is_left_out(bench):
    # As written the first three are the odd ones out; somebody says that the third is right.
    bench.vehicle("v", *visits([40_000, 43_000, 46_000, 20_000, 23_000, 26_000, 29_000]))
    decide(bench, 1, "v3|in", {"use": "as_written"})
    assert [row[0] for row in told(bench) if row[2] == "left_out"] == ["v4", "v5", "v6", "v7"]


def test_every_changed_reading_is_listed_with_its_neighbours_and_the_name_of_its_decision(bench):
    bench.vehicle("v", *visits(with_one(5, 50_500)))
    bench.cut()
    listed = bench.store.frame(odometer_faults_sql()).to_dicts()
    assert [
        (row["subject"], row["written"], row["used_miles"], row["prior_miles"], row["next_miles"]) for row in listed
    ] == [("v6|in", 50_500, 55_000, 52_000, 58_000)]


def slipped(chance: Random, number: int) -> int:
    digits, at = str(number), chance.randrange(len(str(number)))
    return chance.choice(
        [
            int(digits[:at] + chance.choice("0123456789") + digits[at:]),
            int("0" + digits[:at] + digits[at + 1 :]),
            int(digits[:at] + chance.choice("123456789") + digits[at + 1 :]),
            int(digits[:at] + digits[at : at + 2][::-1] + digits[at + 2 :]),
            round(number * 1.609344),
            round(number / 1.609344),
            number // 2,
            0,
        ]
    )


def random_history(seed: int) -> dict[str, Any]:
    """A vehicle of up to 18 visits with slips, stretches and decisions, as keyword arguments of the plain `Shop`."""
    chance = Random(seed)
    day, miles, pace = FIRST, chance.choice([30, 70_000, 91_500]), chance.choice([20, 33, 120])
    break_at, stretch = chance.randrange(2, 16), chance.choice([None, "unit", "round", "cluster"])
    orders, decided = [], {}
    for n in range(chance.randint(3, 18)):
        shown = miles
        if stretch and n >= break_at:
            shown = {"unit": round(miles * 1.609344), "round": miles % 100_000, "cluster": max(0, miles - 61_000)}[
                stretch
            ]
        came = slipped(chance, shown) if chance.random() < 0.12 else shown
        left = chance.choice([None, None, shown, shown + 9, slipped(chance, shown + 5)])
        orders.append(
            {
                "repair_order_id": f"a{n}",
                "location": None,
                "vehicle_id": "a",
                "opened_on": day,
                "closed_on": chance.choice([None, day, day + timedelta(days=chance.choice([1, 4, 40]))]),
                "odometer_in": came,
                "odometer_out": left,
                "odometer_unit": chance.choice([None] * 9 + ["km"]),
                "status": chance.choice(["closed"] * 20 + ["void"]),
            }
        )
        if chance.random() < 0.03:
            decided[f"a{n}|{chance.choice(['in', 'out'])}"] = chance.choice(
                [{"miles": miles}, {"use": "as_written"}, {"use": "leave_out"}]
            )
        days = chance.choice([0, 1, 13, 14, 30, 90, 97, 200])
        day, miles = day + timedelta(days=days), miles + round(pace * days * chance.choice([0.6, 0.9, 1, 1, 1.2, 1.7]))
    vehicle = {"vehicle_id": "a", "engine_family": "Elm", "odometer_unit": chance.choice([None, "mi"])}
    return {
        "families": {"Elm": (4, 1)},
        "vehicles": [vehicle],
        "orders": orders,
        "lines": [],
        "as_of": date(2030, 1, 1),
        "unit": "mi",
        "decided": decided,
    }


def found_rows(bench: Any, shop: Any) -> dict[tuple, dict[str, Any]]:
    """The statements' readings of the shop, by order and which."""
    for table in ("vehicle", "repair_order", "decision"):
        bench.store.run(f"DELETE FROM {table}")
    for table, rows in (("vehicle", shop.vehicles), ("repair_order", shop.orders)):
        for row in rows:
            bench.put(table, **row)
    for number, (subject, answer) in enumerate(shop.decided.items(), 1):
        decide(bench, number, subject, answer)
    bench.store.ask(shop.as_of, datetime(2026, 1, 1))
    settle_vehicles(bench.store)
    settle_orders(bench.store, Settings())
    place_readings(bench.store, Settings())
    rows = bench.store.frame("SELECT * FROM odometer_reading").to_dicts()
    return {(row["repair_order_id"], row["which"]): row for row in rows}


def is_same(found: object, expected: object) -> bool:
    if isinstance(found, float) and isinstance(expected, Fraction):
        return abs(found - float(expected)) <= 2e-6
    return found == expected


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seed=st.integers(0, 2**32 - 1))
def test_readings_of_a_random_vehicle_are_settled_as_by_the_plain_rule(bench, plain: SimpleNamespace, seed: int):
    shop = plain.readings.Shop(**random_history(seed))
    expected = {(row["repair_order_id"], row["which"]): row for row in plain.readings.readings(shop)}
    found = found_rows(bench, shop)
    assert sorted(found) == sorted(expected)
    wrong = {
        (*key, name): (found[key][name], value)
        for key, row in expected.items()
        for name, value in row.items()
        if not is_same(found[key][name], value)
    }
    assert not wrong, ("found, expected", wrong)
