"""Bench readings, trouble codes, checks after the repair and promises of the invented shop.

Trouble codes are of the published generic set (SAE J2012; from memory).
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.demo.wording import drawn

_READINGS = pl.DataFrame(
    [
        ("exhaust_valve", "leak_down", "percent", 32.0, 88.0),
        ("exhaust_valve", "compression", "psi", 35.0, 95.0),
        ("battery", "battery_voltage", "volt", 9.8, 12.2),
        ("alternator", "charging_voltage", "volt", 11.8, 13.1),
        ("brake_pads", "brake_pad_thickness", "mm", 0.8, 3.0),
        ("fuel_injector", "injector_resistance", "ohm", 0.2, 40.0),
        ("glow_plug", "glow_plug_resistance", "ohm", 5.0, 90.0),
        ("wheel_bearing", "wheel_bearing_play", "mm", 0.1, 0.9),
    ],
    schema=["component", "measure", "unit", "low", "high"],
    orient="row",
)
_CODES = {
    "exhaust_valve": "P0300",
    "ignition_coil": "P0300",
    "spark_plug": "P0300",
    "fuel_injector": "P0200",
    "battery": "P0562",
    "alternator": "P0562",
    "oxygen_sensor_upstream": "P0131",
    "oxygen_sensor_downstream": "P0137",
    "catalytic_converter": "P0420",
    "evap_purge_valve": "P0443",
    "egr_valve": "P0401",
    "mass_air_flow_sensor": "P0101",
    "camshaft_position_sensor": "P0340",
    "crankshaft_position_sensor": "P0335",
    "thermostat": "P0128",
    "automatic_transmission": "P0730",
    "particulate_filter": "P2463",
    "glow_plug": "P0380",
    "wheel_speed_sensor": "C0035",
}
_CHECKS = ("road_test_miles", "leak_check", "function_check", "noise_check")
_TERMS = ((12, 12_000), (24, 24_000), (36, 36_000))


def make_measurements(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """Readings taken on failed parts; `jobs`: order_id, component, code (position), n_sockets."""
    rows = jobs.filter(pl.Series(rng.random(len(jobs)) < 0.5)).join(_READINGS, on="component")
    rows = rows.sort("order_id", "component", "code", "measure")
    span = pl.col("high") - pl.col("low")
    value = (pl.col("low") + span * pl.Series(rng.random(len(rows)))).round(2)
    return rows.select(
        repair_order_id="order_id",
        component_code="component",
        position=pl.when(pl.col("n_sockets") > 1).then("code"),
        measure="measure",
        value=value,
        unit="unit",
        pull_no=pl.lit(1),
    ).unique(["repair_order_id", "component_code", "position", "measure"], maintain_order=True, keep="first")


def make_trouble_codes(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """Codes read on arrival; cylinder faults carry the cylinder's number."""
    known = pl.DataFrame({"component": list(_CODES), "found": list(_CODES.values())})
    rows = jobs.filter(pl.Series(rng.random(len(jobs)) < 0.7)).join(known, on="component")
    rows = rows.sort("order_id", "component", "code")
    is_cylinder = pl.col("found").is_in(["P0300", "P0200"])
    numbered = pl.col("found").str.slice(0, 4) + pl.col("code").str.slice(0, 1)
    return rows.select(
        repair_order_id="order_id",
        code=pl.when(is_cylinder).then(numbered).otherwise("found"),
        stage=pl.lit("arrival"),
    ).unique(maintain_order=True)


def make_verifications(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """One check on some repair orders, nearly all passed."""
    rows = jobs.select("order_id").unique().sort("order_id")
    rows = rows.filter(pl.Series(rng.random(len(rows)) < 0.2))
    n = len(rows)
    check = drawn(rng, _CHECKS, n)
    driven = pl.Series(np.round(rng.uniform(2, 14, n), 1))
    return rows.select(
        repair_order_id="order_id",
        check=check,
        position=pl.lit(None, dtype=pl.String),
        value=pl.when(check == "road_test_miles").then(driven),
        passed=pl.Series(rng.random(n) < 0.975),
    )


def make_promises(rng: np.random.Generator, lines: pl.DataFrame) -> pl.DataFrame:
    """Months and miles promised on the lines marked so."""
    rows = lines.filter("is_promised")
    terms = np.array(_TERMS)[rng.choice(len(_TERMS), len(rows), p=[0.55, 0.35, 0.10])]
    return rows.select(
        repair_order_id="order_id",
        line_no="line_no",
        months=pl.Series(terms[:, 0]),
        miles=pl.Series(terms[:, 1]),
    )
