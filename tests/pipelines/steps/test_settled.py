"""What was settled reaches the lives: joined vehicles, orders that are one, components read from text, comebacks."""

from datetime import date

import pytest


def read_from_text(bench, order: str, line_no: int, *mentions: tuple[str, str | None], state: str = "coded") -> None:
    """Mentions as (component, position), each replaced because it failed."""
    for mention_no, (component, position) in enumerate(mentions, 1):
        bench.store.run(
            "INSERT INTO coded_line (repair_order_id, line_no, mention_no, component_code, position, action, reason, "
            "confidence, coding_state, coding_stage, text_key) "
            "VALUES (?, ?, ?, ?, ?, 'replaced', 'failed', 0.99, ?, 'vocabulary', 'k')",
            (order, line_no, mention_no, component, position, state),
        )


def decide(bench, kind: str, subject: str, answer: str) -> None:
    number = bench.store.value("SELECT coalesce(max(decision_no), 0) + 1 FROM decision")
    bench.store.run(
        "INSERT INTO decision (decision_no, decided_at, decision_kind, subject, answer) "
        "VALUES (?, TIMESTAMP '2025-01-01', ?, ?, ?)",
        (number, kind, subject, answer),
    )


@pytest.fixture
def watched(bench):
    """One vehicle seen at 10,000, 40,000 and 70,000 miles: orders V1, V2, V3."""
    bench.vehicle("V", ("2020-01-01", 10_000), ("2022-01-01", 40_000), ("2024-01-01", 70_000))
    return bench


USES = "SELECT repair_order_id, line_no, mention_no, use FROM line_use ORDER BY ALL"
FAILED = "SELECT component_code, position, exit_miles FROM life WHERE unit = 'socket' AND is_event ORDER BY ALL"


def test_a_line_without_a_component_counts_for_each_that_its_text_names(watched, monkeypatch):
    watched.put("repair_line", repair_order_id="V2", line_no=1, kind="labor", price_cents=101, quantity=2)
    read_from_text(watched, "V2", 1, ("water_pump", None), ("thermostat", None))
    keep_coded_lines(monkeypatch)
    watched.cut()
    assert watched.rows(USES) == [("V2", 1, 1, "failure"), ("V2", 1, 2, "failure")]
    assert watched.rows(FAILED) == [("thermostat", "only", 40_000.0), ("water_pump", "only", 40_000.0)]
    shares = watched.rows("SELECT mention_no, price_cents, quantity FROM settled_repair_line ORDER BY 1")
    assert shares == [(1, 51, None), (2, 50, None)]  # 101 cents in two, not a cent more or less


def test_an_unsure_line_counts_for_nothing_and_says_so(watched, monkeypatch):
    watched.put("repair_line", repair_order_id="V2", line_no=1, kind="labor")
    watched.put("repair_line", repair_order_id="V2", line_no=2, kind="fee")
    read_from_text(watched, "V2", 1, ("water_pump", None), state="unsure")
    keep_coded_lines(monkeypatch)
    watched.cut()
    assert watched.rows(USES) == [("V2", 1, 1, "unsure_text"), ("V2", 2, 1, "no_component")]


def test_what_the_line_itself_says_comes_before_its_text(watched, monkeypatch):
    watched.line("V2", 1, "water_pump", action=None, reason="preventive")
    read_from_text(watched, "V2", 1, ("water_pump", None))
    keep_coded_lines(monkeypatch)
    watched.cut()
    assert watched.rows("SELECT action, reason FROM settled_repair_line") == [("replaced", "preventive")]
    assert watched.rows(USES) == [("V2", 1, 1, "removal")]


def keep_coded_lines(monkeypatch) -> None:
    """Lives are cut from the coded lines that the test put there."""
    monkeypatch.setattr("longmile.pipelines.flows.settle.code_lines", lambda store: None, raising=False)


# Watched from 10,000 to 70,000 as one, not from 10,000 to 40,000 and nothing.
def test_two_vehicles_joined_are_watched_as_one(bench):
    bench.vehicle("V", ("2020-01-01", 10_000), ("2022-01-01", 40_000))
    bench.vehicle("W", ("2024-01-01", 70_000))
    decide(bench, "vehicle", "W", '{"join": "V"}')
    bench.cut()
    assert bench.rows("SELECT vehicle_id, first_miles, last_miles, n_visits FROM vehicle_window") == [
        ("V", 10_000.0, 70_000.0, 3)
    ]


def test_an_order_accepted_as_a_duplicate_counts_once(watched):
    watched.put("repair_order", repair_order_id="X2", vehicle_id="V", opened_on=date(2022, 1, 2), odometer_in=40_001.0)
    for order in ("V2", "X2"):
        watched.line(order, 1, "water_pump")
    watched.cut()
    assert len(watched.rows(FAILED)) == 2, "proposed only: both still count"
    decide(watched, "order_link", "X2|V2", '{"link": "accept"}')
    watched.cut()
    assert watched.rows(FAILED) == [("water_pump", "only", 40_000.0)]
    assert watched.rows(USES) == [("V2", 1, 1, "failure"), ("X2", 1, 1, "duplicate_order")]


def test_a_reopened_order_once_accepted_is_the_same_job(watched):
    watched.put(
        "repair_order", repair_order_id="V2-1", vehicle_id="V", opened_on=date(2022, 1, 9), odometer_in=40_100.0
    )
    for order in ("V2", "V2-1"):
        watched.line(order, 1, "water_pump")
    watched.cut()
    assert [row[2] for row in watched.rows(FAILED)] == [100.0, 40_000.0]
    decide(watched, "order_link", "V2-1|V2", '{"link": "accept"}')
    watched.cut()
    assert watched.rows(FAILED) == [("water_pump", "only", 40_000.0)]
    assert watched.rows("SELECT odometer_miles, basis FROM visit WHERE repair_order_id = 'V2-1'") == [
        (40_000.0, "reopened")
    ]


# Replaced at 40,000; failed again 800 miles and 31 days later, and 700 miles and 28 days after that; then 2 years on.
def test_comebacks_are_chained_and_stay_failures(bench):
    readings = [("2020-01-01", 10_000), ("2022-01-01", 40_000), ("2022-02-01", 40_800), ("2022-03-01", 41_500)]
    bench.vehicle("V", *readings, ("2024-03-01", 70_000), ("2024-06-01", 71_000))
    for order in ("V2", "V3", "V4", "V5"):
        bench.line(order, 1, "water_pump")
    bench.cut()
    found = bench.rows(
        "SELECT repair_order_id, earlier_order_id, days_apart, miles_apart, first_order_id, chain_no "
        "FROM comeback ORDER BY 1"
    )
    assert found == [("V3", "V2", 31, 800.0, "V2", 1), ("V4", "V3", 28, 700.0, "V2", 2)]
    assert len(bench.rows(FAILED)) == 4
