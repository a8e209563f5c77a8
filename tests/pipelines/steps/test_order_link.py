"""Orders that may be one: proposed, never merged without a decision."""

import json
from datetime import date, datetime

import pytest

from longmile.pipelines.flows.settle import settle_orders, settle_vehicles
from longmile.pipelines.settings import Settings


def order(
    bench, number: str, day: str, odometer: float, *lines: tuple[str, int | None], vehicle: str = "V", total=None
):
    bench.put(
        "repair_order",
        repair_order_id=number,
        vehicle_id=vehicle,
        opened_on=date.fromisoformat(day),
        odometer_in=odometer,
        total_cents=total,
    )
    for line_no, (component, price) in enumerate(lines, 1):
        bench.line(number, line_no, component, price_cents=price)


def settle(bench, known: datetime = datetime(2026, 1, 1)) -> None:
    bench.store.ask(date(2030, 1, 1), known)
    settle_vehicles(bench.store)
    settle_orders(bench.store, Settings())


def links(bench) -> list[tuple]:
    settle(bench)
    return bench.rows("SELECT repair_order_id, earlier_order_id, link_kind, link_state FROM order_link ORDER BY ALL")


def decide(bench, subject: str, answer: object) -> None:
    number = bench.store.value("SELECT coalesce(max(decision_no), 0) + 1 FROM decision")
    bench.store.run(
        "INSERT INTO decision (decision_no, decided_at, decision_kind, subject, answer) "
        "VALUES (?, ?, 'order_link', ?, ?)",
        (number, datetime(2025, 2, 1), subject, json.dumps(answer)),
    )


PADS, ROTOR, PUMP = ("front_brake_pads", 9_000), ("front_brake_rotor", 12_000), ("water_pump", 30_000)


@pytest.fixture
def shop(bench):
    bench.put("vehicle", vehicle_id="V", engine_family="Elm")
    bench.put("vehicle", vehicle_id="W", engine_family="Elm")
    return bench


# 3 lines in common of 3 + 4 - 3 = 4: a share of 0.75.
def test_the_same_work_under_another_number_is_proposed_as_a_duplicate(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS, ROTOR, PUMP)
    order(shop, "K-77", "2024-03-02", 50_002, PADS, ROTOR, PUMP, ("thermostat", 5_000))
    assert links(shop) == [("K-77", "1001", "duplicate", "proposed")]


# 2 of 2 + 3 - 2 = 3 lines in common (0.67), and all of the smaller order's: part of it.
def test_an_order_whose_lines_are_all_on_another_is_part_of_it(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS, ROTOR)
    order(shop, "1002", "2024-03-01", 50_001, PADS, ROTOR, PUMP)
    assert links(shop) == [("1002", "1001", "part_of", "proposed")]


def test_one_number_written_in_two_ways_on_one_day_is_a_duplicate(shop):
    order(shop, "RO-001001", "2024-03-01", 50_000, PADS)
    order(shop, "1001", "2024-03-01", 50_000, PUMP)
    assert links(shop) == [("RO-001001", "1001", "duplicate", "proposed")]


@pytest.mark.parametrize("number", ["1001-1", "1001/A", "1001R", "1001.2"])
def test_a_number_with_something_added_soon_after_is_reopened(shop, number: str):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, number, "2024-03-09", 50_120, PUMP)
    assert links(shop) == [(number, "1001", "reopened", "proposed")]


@pytest.mark.parametrize("number", ["10012", "100123", "2001", "1001-1234"])
def test_a_longer_number_is_not_a_reopened_order(shop, number: str):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, number, "2024-03-09", 50_120, PUMP)
    assert links(shop) == []


def test_other_work_of_one_visit_is_noted_and_changes_nothing(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, "1002", "2024-03-01", 50_000, PUMP)
    assert links(shop) == [("1002", "1001", "same_visit", "noted")]
    assert shop.rows("SELECT count(*) FROM settled_repair_order WHERE status = 'duplicate'") == [(0,)]


@pytest.mark.parametrize(
    ("vehicle", "day", "odometer"),
    [("W", "2024-03-01", 50_000), ("V", "2024-03-05", 50_000), ("V", "2024-03-01", 50_006)],
)
def test_other_vehicles_days_and_miles_are_other_orders(shop, vehicle: str, day: str, odometer: float):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, "1002", day, odometer, PADS, vehicle=vehicle)
    assert links(shop) == []


def test_nothing_is_left_out_until_a_person_accepts_and_it_can_be_taken_back(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, "1002", "2024-03-01", 50_000, PADS)
    left_out = "SELECT repair_order_id FROM settled_repair_order WHERE status = 'duplicate'"
    settle(shop)
    assert shop.rows(left_out) == []
    decide(shop, "1002|1001", {"link": "accept"})
    assert links(shop)[0][3] == "accepted" and shop.rows(left_out) == [("1002",)]
    settle(shop, known=datetime(2025, 1, 15))
    assert shop.rows(left_out) == [], "decided after the moment asked about"
    decide(shop, "1002|1001", {"link": "refuse"})
    assert links(shop)[0][3] == "refused" and shop.rows(left_out) == []
    decide(shop, "1002|1001", None)
    assert links(shop)[0][3] == "proposed"


def test_of_a_part_and_its_whole_the_part_is_left_out_whichever_came_first(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS, ROTOR)
    order(shop, "1002", "2024-03-01", 50_001, PADS, ROTOR, PUMP)
    decide(shop, "1002|1001", {"link": "accept"})
    settle(shop)
    assert shop.rows("SELECT repair_order_id FROM settled_repair_order WHERE status = 'duplicate'") == [("1001",)]


def test_vehicles_joined_have_their_orders_compared(shop):
    order(shop, "1001", "2024-03-01", 50_000, PADS)
    order(shop, "1002", "2024-03-01", 50_000, PADS, vehicle="W")
    shop.store.run(
        "INSERT INTO decision (decision_no, decided_at, decision_kind, subject, answer) "
        "VALUES (1, TIMESTAMP '2025-01-01', 'vehicle', 'W', '{\"join\": \"V\"}')"
    )
    assert links(shop) == [("1002", "1001", "duplicate", "proposed")]
