"""Small random shops cut twice, by the statements of the steps and by the plain cutter: every row must agree."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from random import Random
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.flows.estimates import estimate_all
from longmile.pipelines.settings import Settings

# Table -> the columns that name a row, which never hold a mileage.
KEYS = {
    "odometer_reading": ("vehicle_id", "repair_order_id", "which"),
    "visit": ("repair_order_id",),
    "vehicle_window": ("vehicle_id",),
    "line_use": ("repair_order_id", "line_no"),
    "life": ("unit", "vehicle_id", "component_code", "position", "life_no"),
    "walk_in": ("vehicle_id", "component_code", "position"),
}
FAMILIES = {"Elm": (4, 1), "Fir": (3, 2), "Yew": (1, 1)}
POSITIONS = {
    "water_pump": [None, "only", "left", "all"],
    "fuel_injector": [None, None, "1", "2", "3", "cyl 2", "#3", "1, 3", "cyl 1, cyl 2", "all", "set", "9", "1/9", "x"],
    "spark_plug_thread": [None, None, "1", "02", "1 2", "all", "7"],
    "exhaust_valve": [None, "1", "2", "1a", "cyl 2b", "1-a", "1b & 3a", "each"],
    "brake_pads": [None, None, "front", "rear", "f", "rear axle", "both", "front rear", "left"],
    "wheel_bearing": [None, None, "lf", "left front", "l/r", "lf/rr", "left front, right rear", "full set", "lf x"],
    "engine_oil": [None],
    "no_such_part": [None, "1"],
}
REASONS = ["failed", "worn", "found_at_inspection", "preventive", "access", "recall", "customer_request", "unknown"]
ACTIONS = [*["replaced"] * 6, *["repaired"] * 3, *["inspected"] * 3, "adjusted", "cleaned", "declined", None, None]
DAY = date(2020, 1, 1)
# Days and miles from one visit to the next; seldom such as may contradict one another.
LEGS = [(0, 0), (1, 0), (5, 0), (0, 30), (7, 900), (90, 6_000), (128, 6_000), (200, 15_625), (365, 20_000)] * 3
LEGS += [(0, 900), (1, 1_400), (1, 1_500), (1, 6_000)]


def vehicle_orders(chance: Random, vehicle: str, is_km: bool) -> list[dict[str, Any]]:
    """One vehicle's visits, now and then void, in the other unit, with a slip of the pen or a reading on leaving."""
    day = DAY + timedelta(days=chance.randrange(60))
    miles = chance.choice([0, 120, 499, 500, 20_000, 60_000, 90_000])
    found = []
    for number in range(1, chance.randint(1, 6) + 1):
        unit = chance.choice([None] * 8 + ["mi", "km"])
        shown = round(miles * 1.609344) if unit == "km" or (unit is None and is_km) else miles
        slip = chance.choice([None] * 20 + [shown * 10, shown // 10, shown + 1_500, shown - 700])
        came = max(0, shown if slip is None else slip)
        closed = chance.choice([None, None, 0, 3, 30])
        found.append(
            {
                "repair_order_id": f"{vehicle}{number}",
                "location": chance.choice([None, "north", "south"]),
                "vehicle_id": vehicle,
                "opened_on": day,
                "closed_on": None if closed is None else day + timedelta(days=closed),
                "odometer_in": came,
                "odometer_out": chance.choice([None] * 5 + [came, came + 7, came + 40, came // 2]),
                "odometer_unit": unit,
                "status": chance.choice([None, "open", *["closed"] * 12, "void"]),
            }
        )
        days, further = chance.choice(LEGS)
        day, miles = day + timedelta(days=days), miles + further
    return found


def some_line(chance: Random, order: str, number: int, code: str | None) -> dict[str, Any]:
    return {
        "repair_order_id": order,
        "line_no": number,
        "kind": chance.choice(["labor"] * 4 + ["part"] * 4 + ["sublet", "fee"]),
        "component_code": code,
        "position": chance.choice(POSITIONS[code] if code else [None]),
        "action": chance.choice(ACTIONS),
        "reason": chance.choice([*REASONS, "failed", "failed", "found_at_inspection", "found_at_inspection", None]),
        "part_origin": chance.choice([None, "new", "used"]),
        "supplier": chance.choice([None, "Oak", "Ash"]),
        "quantity": chance.choice([None, None, None, 1, 1, 1, 2, 3, 4, 12, 500, 0, -1, 0.4, 1.5]),
    }


def random_shop(seed: int) -> dict[str, Any]:
    """A small shop as keyword arguments of the plain cutter's `Shop`: few components, so that jobs meet on a socket."""
    chance = Random(seed)
    vehicles, orders, lines = [], [], []
    codes = [*chance.sample(list(POSITIONS)[:6], 2), chance.choice([*POSITIONS, None])]
    unit = chance.choice(["mi", "km"])
    for name in "abcd"[: chance.randint(2, 4)]:
        own_unit = chance.choice([None, "mi", "km"])
        orders += vehicle_orders(chance, name, (own_unit or unit) == "km")
        if chance.random() < 0.95:
            family = chance.choice([*FAMILIES] * 5 + ["Nowhere"])
            vehicles.append({"vehicle_id": name, "engine_family": family, "odometer_unit": own_unit})
    for order in [*(o["repair_order_id"] for o in orders), "lost"]:
        numbers = range(1, chance.choice([0, 1, 2, 3, 4]) + 1)
        lines += [some_line(chance, order, number, chance.choice([codes[0], *codes])) for number in numbers]
    return {
        "families": FAMILIES,
        "vehicles": vehicles,
        "orders": orders,
        "lines": lines,
        "as_of": chance.choice([date(2030, 1, 1)] * 4 + [date(2021, 1, 31), date(2020, 5, 1)]),
        "unit": unit,
        "unknown_is_failure": chance.random() < 0.5,
        "to_date": chance.random() < 0.3,
        "cap_months": chance.choice([1, 12]),
    }


def put(bench: Any, shop: Any) -> None:
    for table in ("engine_family", "vehicle", "repair_order", "repair_line"):
        bench.store.run(f"DELETE FROM {table}")
    for name, (cylinders, valves) in shop.families.items():
        bench.put("engine_family", engine_family=name, cylinders=cylinders, exhaust_valves_per_cylinder=valves)
    for table, rows in (("vehicle", shop.vehicles), ("repair_order", shop.orders), ("repair_line", shop.lines)):
        for row in rows:
            bench.put(table, **row)


def settings_of(shop: Any) -> Settings:
    return Settings(
        odometer_unit=shop.unit,
        unknown_reason="failure" if shop.unknown_is_failure else "removal",
        follow_up="to_date" if shop.to_date else "last_reading",
        follow_up_cap_months=shop.cap_months,
    )


def same(found: Any, expected: Any, n_lives: int = 1) -> bool:
    """Mileages to a millionth of a mile each, of which a life has two; everything else to the letter."""
    if isinstance(found, float) and isinstance(expected, Fraction | int):
        return abs(found - float(expected)) <= 2.1e-6 * n_lives
    return bool(found == expected)


def assert_rows_agree(bench: Any, table: str, expected: list[dict[str, Any]]) -> None:
    keys = KEYS[table]
    columns = list(expected[0]) if expected else list(keys)
    listed = [dict(zip(columns, row, strict=True)) for row in bench.rows(f"SELECT {', '.join(columns)} FROM {table}")]
    found = {tuple(row[k] for k in keys): row for row in listed}
    plain = {tuple(row[k] for k in keys): row for row in expected}
    assert len(found) == len(listed)
    assert len(plain) == len(expected)
    assert sorted(found) == sorted(plain), table
    wrong = {
        (*key, name): (found[key][name], plain[key][name])
        for key in plain
        for name in columns
        if not same(found[key][name], plain[key][name])
    }
    assert not wrong, (table, "found, expected", wrong)


def assert_estimates_agree(bench: Any, unit: str, expected: dict[tuple[str, str], dict[str, Any]]) -> None:
    names = [name for name in next(iter(expected.values()))] if expected else ["points"]
    names.remove("points")
    listed = ", ".join(("component_code", "engine_family", *names))
    rows = bench.rows(f"SELECT {listed} FROM estimate WHERE unit = ?", unit)
    found = {row[:2]: dict(zip(names, row[2:], strict=True)) for row in rows}
    assert sorted(found) == sorted(expected)
    wrong = {
        (*key, name): (found[key][name], expected[key][name])
        for key in expected
        for name in names
        if not same(found[key][name], expected[key][name], max(1, expected[key]["n_lives"]))
    }
    assert not wrong, (unit, "found, expected", wrong)
    points = bench.rows(
        "SELECT component_code, engine_family, age_miles, at_risk, n_events, survival FROM survival_point "
        "WHERE unit = ? ORDER BY ALL",
        unit,
    )
    plain = sorted((*key, *point) for key, stratum in expected.items() for point in stratum["points"])
    assert [row[:2] + row[3:5] for row in points] == [row[:2] + row[3:5] for row in plain]
    for row, point in zip(points, plain, strict=True):
        assert same(row[2], point[2])
        assert row[5] == pytest.approx(float(point[5]), abs=1e-9)


def rules_of(bench: Any, unit: str) -> dict[tuple[str, str], tuple[float | None, float]]:
    """What the program chose: which first parts count, and from what age each curve speaks."""
    rule = "original_below_miles, curve_from_miles"
    rows = bench.rows(f"SELECT component_code, engine_family, {rule} FROM estimate WHERE unit = ?", unit)
    return {row[:2]: (row[2], row[3]) for row in rows}


def assert_cut_alike(bench: Any, plain: SimpleNamespace, values: dict[str, Any]) -> Any:
    """The shop, put in the store and cut both ways."""
    shop = plain.readings.Shop(**values)
    expected = plain.cutter.cut_shop(shop)
    put(bench, shop)
    bench.cut(shop.as_of, settings_of(shop))
    for table in KEYS:
        assert_rows_agree(bench, table, expected[table])
    estimate_all(bench.store, settings_of(shop))
    for unit in ("socket", "vehicle"):
        assert_estimates_agree(bench, unit, plain.counts.estimate(shop, unit, rules_of(bench, unit)))
    return shop


@settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(seed=st.integers(0, 2**32 - 1))
def test_every_table_of_a_random_shop_agrees_with_the_plain_cutter(bench, plain, seed: int):
    assert_cut_alike(bench, plain, random_shop(seed))
