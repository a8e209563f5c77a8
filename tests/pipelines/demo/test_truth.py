"""The planted truth: its arithmetic, and that a sound analysis of the simulated lives finds it."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import FrozenInstanceError
from pathlib import Path

import numpy as np
import polars as pl
import pytest
from scipy.optimize import minimize

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.simulation import Simulation, position_codes, simulate
from longmile.pipelines.demo.truth import DemoTruth, TrueLaw
from longmile.schemas.vocabulary import BY_CODE

Written = tuple[Path, DemoTruth]


@pytest.fixture(scope="module")
def sim() -> Simulation:
    return simulate(7)


def test_planted_numbers_follow_from_shape_and_scale(written: Written) -> None:
    _, truth = written
    valve = truth.planted_valve
    # Gamma(1 + 1/3) = 0.892979512 (scipy 1.17.1, scipy.special.gamma); x 185,000 = 165,201.2.
    assert valve.mean_miles == pytest.approx(165_201.2, abs=0.1)
    # (-ln 0.9)^(1/3) = 0.1053605157^(1/3) = 0.47230872; 185,000 x 0.47230872 = 87,377.1.
    assert valve.b10_miles == pytest.approx(87_377.1, abs=0.1)
    # Gamma(1 + 1/1.2) = Gamma(1.83333) = 0.94065586 (the same); 30,000 x 0.94065586 = 28,219.7.
    assert truth.batch.mean_miles == pytest.approx(28_219.7, abs=0.1)
    assert (truth.batch.since.isoformat(), truth.batch.until.isoformat()) == ("2021-03-01", "2021-12-31")


def test_exhaust_valves_last_far_longer_on_every_other_family(written: Written) -> None:
    _, truth = written
    others = [law for law in truth.laws if law.component_code == "exhaust_valve"]
    assert len(others) == 12
    assert min(law.mean_miles for law in others if law.engine_family != sc.VALVE_FAMILY) > 550_000


def test_truth_is_frozen_and_goes_into_json(written: Written) -> None:
    _, truth = written
    with pytest.raises(FrozenInstanceError):
        truth.seed = 3  # type: ignore[misc]
    plain = json.loads(json.dumps(truth.as_dict()))
    assert plain["batch"]["since"] == "2021-03-01"
    assert plain["planted_valve"]["engine_family"] == "Alder 2.0 petrol"
    assert plain["files"]["engine_family.csv"] == ["engine_family", 12]


def test_components_not_fitted_are_in_the_vocabulary_and_never_repaired(written: Written, sim: Simulation) -> None:
    _, truth = written
    assert set(truth.not_fitted) == set(sc.FAMILY_NAMES)
    assert {code for codes in truth.not_fitted.values() for code in codes} <= set(BY_CODE)
    seen = set(sim.ends.select("component", "family").unique().iter_rows())
    for family, name in enumerate(sc.FAMILY_NAMES):
        assert not {(code, family) for code in truth.not_fitted[name]} & seen


def test_everything_a_plan_names_is_in_the_vocabulary_and_no_service_item(written: Written) -> None:
    _, truth = written
    codes = {law.component_code for law in truth.laws}
    assert 40 <= len(codes) <= 60
    assert not [code for code in codes if BY_CODE[code].is_service_item]


def test_the_bad_sublet_comes_back_more_often_than_the_others(written: Written) -> None:
    _, truth = written
    share = {shop: truth.sublet.n_comebacks[shop] / n for shop, n in truth.sublet.n_jobs.items()}
    bad = share.pop(truth.sublet.shop)
    # Planted 25 in 100 against 4 in 100; some come back to nobody because the vehicle is not seen again.
    assert 0.12 < bad < 0.35
    assert max(share.values()) < 0.10
    assert min(truth.sublet.n_jobs.values()) > 60


def test_the_batch_is_counted_as_it_stands_in_the_files(written: Written, tables: dict[str, pl.DataFrame]) -> None:
    _, truth = written
    batch = truth.batch
    orders = tables["repair_order"].filter(pl.col("status") != "void").unique("repair_order_id")
    fitted = (
        tables["repair_line"].unique(["repair_order_id", "line_no"])
        .filter((pl.col("kind") == "part") & (pl.col("supplier") == batch.supplier))
        .filter(pl.col("component_code") == batch.component_code)
        .join(orders, on="repair_order_id")
        .filter(pl.col("opened_on").is_between(pl.lit("2021-03-01"), pl.lit("2021-12-31")))
    )  # fmt: skip
    # A few lines are lost to unknown codes and bad cells (about 2 in 100).
    assert batch.n_installed * 0.9 <= fitted.height <= batch.n_installed
    assert 30 <= batch.n_failures <= batch.n_installed


def test_some_vehicles_come_because_of_the_failure(written: Written, sim: Simulation) -> None:
    _, truth = written
    first = pl.DataFrame({"vehicle": np.arange(sc.N_VEHICLES), "first": sim.vehicles.first_miles})
    rows = sim.ends.join(first, on="vehicle").filter(pl.col("is_failure") & (pl.col("miles") == pl.col("first")))
    assert rows["vehicle"].n_unique() == truth.n_walk_in_vehicles > 200


def _lives(sim: Simulation, law: TrueLaw) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Entry, exit, event and odometer at exit of every socket's lives, cut here, not by the project."""
    family = sc.FAMILY_NAMES.index(law.engine_family)
    sockets = range(len(position_codes(law.component_code)[family]))
    ends = sim.ends.filter((pl.col("component") == law.component_code) & (pl.col("family") == family))
    worked: dict[tuple[int, int], list[tuple[float, bool]]] = {}
    for vehicle, socket, miles, failed, is_set in ends.select(
        "vehicle", "socket", "miles", "is_failure", "is_set"
    ).iter_rows():
        for place in sockets if is_set else (socket,):
            worked.setdefault((vehicle, place), []).append((miles, failed and place == socket))
    lives = []
    for vehicle in np.nonzero(sim.vehicles.family == family)[0].tolist():
        first, last = sim.vehicles.first_miles[vehicle], sim.vehicles.last_miles[vehicle]
        for place in sockets:
            installed, since = 0.0, first
            for miles, failed in [*worked.get((vehicle, place), []), (last, False)]:
                if miles > since:
                    lives.append((since - installed, miles - installed, failed, miles))
                installed, since = miles, miles
    entry, exit_, event, odometer = np.array(lives).T
    return entry, exit_, event.astype(bool), odometer


def _weibull_fit(entry: np.ndarray, exit_: np.ndarray, event: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Log shape, log scale (in 100,000 miles) by maximum likelihood with late entry, and their covariance."""
    entry, exit_ = entry / 1e5, exit_ / 1e5

    def lost(p: np.ndarray) -> float:
        shape, scale = np.exp(p)
        density = np.log(shape / scale) + (shape - 1) * np.log(exit_[event] / scale)
        return float(np.sum((exit_ / scale) ** shape - (entry / scale) ** shape) - np.sum(density))

    found = minimize(lost, [math.log(1.5), math.log(2.0)], method="Nelder-Mead", options={"xatol": 1e-8, "fatol": 1e-8})
    h, steps = 1e-4, np.eye(2) * 1e-4
    curved = np.array([
        [
            lost(found.x + a + b) - lost(found.x + a - b) - lost(found.x - a + b) + lost(found.x - a - b)
            for b in steps
        ]
        for a in steps
    ]) / (4 * h * h)  # fmt: skip
    return found.x, np.linalg.inv(curved)


def _limits(p: np.ndarray, covariance: np.ndarray, value: Callable[[np.ndarray], float]) -> tuple[float, float]:
    """95 % limits, on the log scale, of a quantity whose logarithm is a function of the two parameters."""
    steps = np.eye(2) * 1e-5
    slope = np.array([(value(p + step) - value(p - step)) / 2e-5 for step in steps])
    middle, half = value(p), 1.959964 * math.sqrt(float(slope @ covariance @ slope))
    return 1e5 * math.exp(middle - half), 1e5 * math.exp(middle + half)


def test_a_sound_fit_meets_the_truth_and_the_plain_mean_misses_it(written: Written, sim: Simulation) -> None:
    _, truth = written
    for law in (truth.planted_valve, *truth.controls):
        entry, exit_, event, odometer = _lives(sim, law)
        assert event.sum() > 60
        p, covariance = _weibull_fit(entry, exit_, event)
        mean = _limits(p, covariance, lambda q: q[1] + math.lgamma(1 + math.exp(-q[0])))
        b10 = _limits(p, covariance, lambda q: q[1] + math.exp(-q[0]) * math.log(-math.log(0.9)))
        assert mean[0] < law.mean_miles < mean[1], law
        assert b10[0] < law.b10_miles < b10[1], law
        assert not mean[0] < odometer[event].mean() < mean[1], law


def test_the_rate_of_the_planted_stratum_is_the_one_its_law_gives(written: Written, sim: Simulation) -> None:
    # Expected failures = sum of H(exit) - H(entry), H(t) = (t / scale)^shape; the observed lie within 3 sd.
    _, truth = written
    for law in (truth.planted_valve, *truth.controls):
        entry, exit_, event, _ = _lives(sim, law)
        expected = float(np.sum((exit_ / law.scale) ** law.shape - (entry / law.scale) ** law.shape))
        assert abs(event.sum() - expected) < 3 * math.sqrt(expected)
