from __future__ import annotations

from math import exp, sqrt

import polars as pl
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.steps.recurrence import REPAIR_JOB_SQL, recurrence

FITTED = pl.DataFrame({"component_code": ["water_pump"], "engine_family": ["Elm"]})
Z = 1.959963984540054  # the 97.5 % point of the standard normal


def three_vehicles(bench) -> None:
    """Water pumps of one family; walk-ins, preventive work, declined lines and other components are no repairs.

    | vehicle | watched          | repairs, with their price                                                        |
    |---------|------------------|----------------------------------------------------------------------------------|
    | a       | 10,000 - 60,000  | 30,000: 150 (part 100 and labour 50, on two orders that day)                     |
    | b       | 20,000 - 120,000 | 40,000: 200; 90,000: 300, and a line without a price                             |
    | c       | 30,000 - 80,000  | none; a walk-in at 30,000, a preventive one at 50,000, one declined at 80,000     |
    """
    bench.vehicle("a", ("2020-01-01", 10_000), ("2021-01-01", 30_000), ("2021-01-04", 30_000), ("2022-01-01", 60_000))
    bench.vehicle("b", ("2020-01-01", 20_000), ("2021-01-01", 40_000), ("2022-01-01", 90_000), ("2023-01-01", 120_000))
    bench.vehicle("c", ("2020-01-01", 30_000), ("2021-01-01", 50_000), ("2022-01-01", 80_000))
    bench.line("a2", 1, "water_pump", kind="part", price_cents=10_000)
    bench.line("a3", 1, "water_pump", price_cents=5_000)
    bench.line("a2", 2, "thermostat", price_cents=99_900)
    bench.line("b2", 1, "water_pump", price_cents=21_000)
    bench.line("b2", 2, "water_pump", kind="fee", action=None, price_cents=-1_000)
    bench.line("b2", 3, "water_pump", action="declined", price_cents=77_700)
    bench.line("b3", 1, "water_pump", kind="part", price_cents=30_000)
    bench.line("b3", 2, "water_pump")
    bench.line("c1", 1, "water_pump", price_cents=88_800)
    bench.line("c2", 1, "water_pump", reason="preventive", price_cents=66_600)
    bench.line("c3", 1, "water_pump", action="declined", price_cents=55_500)
    bench.cut()


def frames(bench) -> tuple[pl.DataFrame, pl.DataFrame]:
    return bench.store.frame("SELECT * FROM vehicle_window"), bench.store.frame(REPAIR_JOB_SQL)


def rows(made: pl.DataFrame, family: str) -> list[dict]:
    return made.filter(pl.col("engine_family") == family).sort("at_miles").to_dicts()


def test_repairs_and_price_per_vehicle_of_three_vehicles(bench):
    three_vehicles(bench)
    made = recurrence(FITTED, *frames(bench))
    half, whole, beyond = rows(made, "Elm")
    # At 30,000 a and b are watched (c from there on): 1/2. At 40,000 all three: 1/3. At 90,000 b alone: 1.
    assert half["repairs_per_vehicle"] == pytest.approx(5 / 6, rel=1e-12)
    assert whole["repairs_per_vehicle"] == pytest.approx(11 / 6, rel=1e-12)
    # 150/2 + 200/3, then 300 more.
    assert half["cost_per_vehicle"] == pytest.approx(75 + 200 / 3, rel=1e-12)
    assert whole["cost_per_vehicle"] == pytest.approx(375 + 200 / 3, rel=1e-12)
    counted = [
        (r["n_repairs"], r["at_risk"], r["n_without_price"], r["is_extrapolated"]) for r in (half, whole, beyond)
    ]
    assert counted == [(2, 3, 0, False), (3, 1, 1, False), (3, 0, 1, True)]
    assert {r["n_vehicles"] for r in (half, whole, beyond)} == {3}
    # Nobody was watched below 10,000, nor from 120,000 on.
    assert [r["unwatched_miles"] for r in (half, whole, beyond)] == [10_000, 10_000, 40_000]
    assert beyond["repairs_per_vehicle"] == whole["repairs_per_vehicle"]
    assert [r["status"] for r in (half, whole, beyond)] == ["thin"] * 3


def test_limits_come_from_how_vehicles_differ(bench):
    three_vehicles(bench)
    half, whole, _ = rows(recurrence(FITTED, *frames(bench)), "Elm")
    # a: (1 - 1/2)/2 - (1/3)/3 = 5/36; b: -(1/2)/2 + (1 - 1/3)/3 = -1/36; c: -(1/3)/3 = -4/36. At 90,000 b is alone, so
    # that it differs from nobody: nothing is added.
    se = sqrt(25 + 1 + 16) / 36
    for row, mean in ((half, 5 / 6), (whole, 11 / 6)):
        factor = exp(Z * se / mean)
        found = [row["repairs_per_vehicle_lower"], row["repairs_per_vehicle_upper"]]
        assert found == pytest.approx([mean / factor, mean * factor], rel=1e-12)
    # The same in money. a: (150 - 75)/2 - (200/3)/3; b: -75/2 + (200 - 200/3)/3; c: -(200/3)/3.
    spent = sqrt((75 / 2 - 200 / 9) ** 2 + (400 / 9 - 75 / 2) ** 2 + (200 / 9) ** 2)
    mean = 75 + 200 / 3
    found = [half["cost_per_vehicle_lower"], half["cost_per_vehicle_upper"]]
    assert found == pytest.approx([mean * exp(-Z * spent / mean), mean * exp(Z * spent / mean)], rel=1e-12)


def test_two_sockets_of_one_job_are_one_repair(bench):
    bench.vehicle("a", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("a2", 1, "fuel_injector", position="1, 3", price_cents=40_000)
    bench.cut()
    fitted = FITTED.with_columns(component_code=pl.lit("fuel_injector"))
    [row] = rows(recurrence(fitted, *frames(bench), at_miles=[25_000]), "Elm")
    assert (row["n_repairs"], row["repairs_per_vehicle"], row["cost_per_vehicle"]) == (1, 1, 400)
    # One vehicle differs from nobody.
    assert (row["repairs_per_vehicle_lower"], row["cost_per_vehicle_upper"]) == (None, None)


def test_families_apart_and_together(bench):
    three_vehicles(bench)
    bench.put("engine_family", engine_family="Oak", cylinders=4)
    bench.vehicle("d", ("2020-01-01", 1), ("2021-01-01", 100_000))
    bench.store.run("UPDATE vehicle SET engine_family = 'Oak' WHERE vehicle_id = 'd'")
    bench.cut()
    fitted = pl.DataFrame(
        {
            "component_code": ["water_pump", "water_pump", "thermostat"],
            "engine_family": ["Elm", "Oak", "Elm"],
        }
    )
    made = recurrence(fitted, *frames(bench), at_miles=[50_000])
    found = {(r["component_code"], r["engine_family"]): r for r in made.to_dicts()}
    assert set(found) == {
        ("thermostat", "Elm"),
        ("thermostat", "all families"),
        ("water_pump", "Elm"),
        ("water_pump", "Oak"),
        ("water_pump", "all families"),
    }
    # At 30,000 a, b and d are watched, at 40,000 all four.
    whole = found["water_pump", "all families"]
    assert whole["repairs_per_vehicle"] == pytest.approx(1 / 3 + 1 / 4, rel=1e-12)
    assert (whole["n_vehicles"], found["water_pump", "Oak"]["n_vehicles"]) == (4, 1)
    none = found["water_pump", "Oak"]
    assert (none["status"], none["repairs_per_vehicle"], none["repairs_per_vehicle_upper"]) == ("no_failures", 0, None)
    # The thermostat is looked at on one family alone: its three vehicles, and its one repair at 30,000.
    assert found["thermostat", "all families"]["n_vehicles"] == 3
    assert found["thermostat", "Elm"]["repairs_per_vehicle"] == 1 / 2


def test_no_price_anywhere_is_no_price_and_not_none_at_all(bench):
    bench.vehicle("a", ("2020-01-01", 10_000), ("2021-01-01", 20_000), ("2022-01-01", 30_000))
    bench.line("a2", 1, "water_pump")
    bench.cut()
    before, after = rows(recurrence(FITTED, *frames(bench), at_miles=[15_000, 25_000]), "Elm")
    assert (before["cost_per_vehicle"], after["cost_per_vehicle"]) == (0, None)
    assert (after["n_repairs"], after["n_without_price"]) == (1, 1)


def test_a_shop_without_repairs(bench):
    bench.vehicle("a", ("2020-01-01", 10_000), ("2021-01-01", 20_000))
    bench.cut()
    made = recurrence(FITTED, *frames(bench))
    assert made["n_repairs"].to_list() == [0] * 6
    assert set(made["status"]) == {"no_failures"}
    assert recurrence(FITTED.clear(), *frames(bench)).height == 0


def test_a_repair_outside_its_vehicles_window_is_refused(bench):
    three_vehicles(bench)
    window, repair = frames(bench)
    with pytest.raises(LivesError, match="in a window"):
        recurrence(FITTED, window, repair.with_columns(odometer_miles=pl.lit(500_000.0)))
