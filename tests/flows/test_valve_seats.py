"""Valve seats replaced on 41 diesel engines, taken through the whole pipeline as vehicles, visits and repair lines.

Source: Nelson & Doganaksoy 1989 (41 engines of one fleet, 48 replacements; days), as distributed with R's package
survival under the name valveSeat (LGPL). Days stand for miles here. Event 1: a seat replaced; 0: the end of watching.
Engines 328 and 402 each had two seats replaced on one day.
Counts: 41 engines and 48 replacements are the published ones; the exposure is the sum of the 41 ends of watching, taken
straight from the file with Python's csv.
"""

from __future__ import annotations

import csv
from datetime import date, timedelta
from pathlib import Path

import pytest

DATA = Path(__file__).parents[1] / "reference" / "valve_seats.csv"
START = date(2020, 1, 1)
N_SEATS = 8  # a made-up engine of 4 cylinders, 1 exhaust and 1 intake valve each: which seat was replaced is not known


def rows() -> list[tuple[str, int, int]]:
    lines = [line for line in DATA.read_text().splitlines() if not line.startswith("#")]
    return [(r["id"], int(r["time"]), int(r["event"])) for r in csv.DictReader(lines)]


@pytest.fixture(scope="module")
def engines(shop_at, tmp_path_factory):
    shop = shop_at(tmp_path_factory.mktemp("engines") / "shop")
    data = rows()
    ids = sorted({engine for engine, _, _ in data})
    shop.write("engine_family.csv", "engine_family,cylinders", [("Diesel", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [(i, "Diesel") for i in ids])
    visits = {(i, 0) for i in ids} | {(i, time) for i, time, _ in data}
    orders = [(f"{i}-{t}", i, START + timedelta(days=t), t) for i, t in sorted(visits)]
    shop.write("repair_order.csv", "repair_order_id,vehicle_id,opened_on,odometer_in", orders)
    replaced = [(f"{i}-{t}", n, "part", "valve_seat", "replaced", "failed", 1) for n, (i, t, e) in enumerate(data) if e]
    shop.write("repair_line.csv", "repair_order_id,line_no,kind,component_code,action,reason,quantity", replaced)
    shop.run()
    return shop


def test_published_counts_and_exposure(engines):
    data = rows()
    exposure = sum(time for _, time, event in data if not event)
    found = engines.query(
        "SELECT n_vehicles, n_failures, miles_at_risk / n_sockets * n_vehicles FROM estimate "
        "WHERE component_code = 'valve_seat' AND unit = 'socket' AND engine_family = 'Diesel'"
    )
    assert found == [(41, 48, pytest.approx(exposure, rel=1e-12))]


def test_as_many_renewals_as_replacements(engines):
    # Each replacement puts a new seat in: its life shows unless watching ended on that very day (none did here).
    ends = {i: t for i, t, e in rows() if not e}
    assert all(t < ends[i] for i, t, e in rows() if e)
    assert engines.query("SELECT count(*) FROM life WHERE unit = 'socket' AND origin = 'replacement'") == [(48,)]


def test_two_seats_on_one_day_are_two_failures(engines):
    twice = engines.query(
        "SELECT end_order_id, count(*), count(DISTINCT position) FROM life WHERE unit = 'socket' AND is_event "
        "GROUP BY 1 HAVING count(*) > 1"
    )
    assert [(order.split("-")[0], n, places) for order, n, places in sorted(twice)] == [("328", 2, 2), ("402", 2, 2)]


def test_every_replacement_is_marked_as_one_of_the_set(engines):
    assert engines.query("SELECT count(*) FROM life WHERE unit = 'socket' AND is_event AND NOT is_position_known") == [
        (48,)
    ]
