"""Which strata are told. Rates by hand in the docstring of invented_shop."""

from __future__ import annotations

import polars as pl
import pytest

from longmile.reports import selection
from longmile.reports.frames import FRAME_COLUMNS
from longmile.schemas.results import ALL_FAMILIES


def test_the_others_are_all_families_less_the_family(invented_shop):
    rows = selection.against_others(invented_shop.frames().estimate, "socket")
    pump = rows.filter(
        (pl.col("component_code") == "water_pump") & (pl.col("engine_family") == invented_shop.HOSTILE_FAMILY)
    ).row(0, named=True)
    # 50 - 40 failures; 2,000,000 - 1,000,000 miles; 10 / 1,000,000 * 100,000
    assert (pump["others_failures"], pump["others_miles"], pump["others_rate"]) == (
        10,
        1e6,
        pytest.approx(1.0),
    )


def test_what_stands_out_lies_above_the_others_furthest_first(invented_shop):
    rows = selection.compared(invented_shop.frames().estimate)
    # water pump and brake pads on two families each; the thermostat's 3 failures are too few to compare
    assert rows.height == 4
    higher = selection.standing_out(rows, "is_higher")
    # brake pads: 1.5 / 0.6 = 2.5 before water pump: 2.0 / 1.0 = 2
    assert higher["component_code"].to_list() == ["brake_pads", "water_pump"]
    assert set(higher["engine_family"]) == {invented_shop.HOSTILE_FAMILY}
    # B: upper limits 2 against 4.0 and 1.2 against 3.0
    lower = selection.standing_out(rows, "is_lower")
    assert set(lower["engine_family"]) == {invented_shop.OTHER_FAMILY}


def test_one_job_on_many_sockets_does_not_stand_out_alone(invented_shop):
    """By socket the pump stands out; by vehicle its lower limit, 0.5, lies below the others' rate of 1.0."""
    estimate = invented_shop.frames().estimate
    is_vehicle = (pl.col("unit") == "vehicle") & (pl.col("engine_family") == invented_shop.HOSTILE_FAMILY)
    changed = estimate.with_columns(
        pl.when(is_vehicle).then(0.5).otherwise(pl.col("rate_per_100k_lower")).alias("rate_per_100k_lower")
    )
    assert selection.standing_out(selection.compared(changed), "is_higher").is_empty()


def test_a_component_that_never_failed_anywhere_gives_no_bound(invented_shop):
    rows = [
        invented_shop.estimate_row("pitman_arm", family, "socket", 0, miles)
        for family, miles in ((invented_shop.OTHER_FAMILY, 1e6), (ALL_FAMILIES, 1e6))
    ]
    schema = dict(FRAME_COLUMNS["estimate"])
    estimate = pl.DataFrame([{c: row.get(c) for c in schema} for row in rows], schema=schema)
    assert selection.without_failures(estimate).is_empty()


def test_a_family_that_is_the_only_one_is_not_compared(invented_shop):
    estimate = invented_shop.frames().estimate.filter(pl.col("engine_family") != invented_shop.OTHER_FAMILY)
    only = estimate.with_columns(
        pl.when(pl.col("engine_family") == ALL_FAMILIES)
        .then(1e6)
        .otherwise(pl.col("miles_at_risk"))
        .alias("miles_at_risk")
    )
    assert selection.compared(only).is_empty()


def test_a_component_missing_from_the_vocabulary_is_named_and_taken_as_safety_relevant(invented_shop):
    frames = invented_shop.frames()
    named = selection.named(frames.estimate, frames.component.clear())
    assert named["component_name"][0] == "water pump"
    assert named["is_safety_relevant"].all()


def _stratum(code: str, n_failures: int, plain: float, mean: float) -> dict[str, object]:
    return {
        "component_code": code,
        "engine_family": "Elm",
        "unit": "socket",
        "status": "ok",
        "weibull_status": "ok",
        "n_failures": n_failures,
        "plain_mean_miles": plain,
        "mean_miles": mean,
        "mean_miles_lower": mean * 0.9,
        "mean_miles_upper": mean * 1.1,
        "largest_miles": 150_000.0,
    }


def test_the_instructive_stratum_has_most_failures_and_is_no_safety_part():
    rows = pl.DataFrame(
        [
            _stratum("battery", 80, 60_000, 120_000),
            _stratum("alternator", 90, 60_000, 120_000),
            _stratum("brake_pads", 900, 10_000, 120_000),  # more, but no mean is given of it
            _stratum("thermostat", 900, 130_000, 120_000),  # above the mean
            _stratum("starter", 900, 115_000, 120_000),  # inside the limits
            _stratum("radiator", 900, 10_000, 140_000),  # the upper limit, 154,000, lies beyond the miles watched
        ]
    )
    assert selection.instructive(rows, {"brake_pads"})["component_code"].to_list() == ["alternator"]
    assert selection.instructive(rows.filter(pl.col("component_code") == "thermostat"), set()).is_empty()
