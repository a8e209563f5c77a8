"""Bounds for families with few failures, the shape held at their fleet's."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.held_shape import fit_held_shape, hazard_limits, read_limits
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.quantities import life_by, scale, survival_to
from longmile.pipelines.estimators.thin import ASSUMED_SHAPES, MILEAGES, FleetShapes, fleet_shapes, thin_bounds
from longmile.pipelines.estimators.weibull import fit_weibull

FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ZERO = json.loads(FILE.read_text(encoding="utf-8"))["zero_failures"]["rows"]
Z = 1.959963984540054  # 97.5 % point of the normal distribution (any table)


def known(shape, n):
    """A shape known for sure."""
    every = np.full(n, float(shape))
    return FleetShapes(every, every, every, np.full(n, "fleet"))


@pytest.fixture
def fleets():
    """Fleet 0: sixty parts worn out around 50,000 miles; fleet 1: one failure, no fit."""
    rng = np.random.default_rng(8)
    miles = np.append(5e4 * rng.weibull(2.5, 60), [3e4, 4e4])
    return fit_weibull(lives(np.zeros(62), miles, [1] * 61 + [0], [0] * 60 + [1, 1]))


def test_published_zero_failure_bounds():
    for row in ZERO:
        data = lives(0, row["each_ran"], 0, weight=row["units"])
        made = thin_bounds(data, known(row["shape"], 1))
        assert made.status.tolist() == ["no_failures"]
        limits = made.limits["scale"]
        assert (limits.method[0], limits.bound[0]) == ("exact", "lower")
        assert limits.lower[0] == pytest.approx(row["scale_lower95_one_sided"], rel=1e-10)
        assert made.limits["b10"].lower[0] == pytest.approx(row["B10_lower95"], rel=1e-10)
        # The shape is known for sure, so nothing is wider than that.
        assert limits.widest_lower[0] == pytest.approx(limits.lower[0], rel=1e-12)


def test_the_fleet_lends_its_shape_and_says_so(fleets):
    found = fleet_shapes(fleets, [0, 1, -1, 0])
    assert fleets.status.tolist() == ["ok", "thin"]
    assert found.shape_from.tolist() == ["fleet", "constant_rate", "constant_rate", "fleet"]
    assert found.shape.tolist() == [fleets.shape[0], 1.0, 1.0, fleets.shape[0]]
    reach = np.exp(Z * fleets.se_log_shape[0])
    assert (found.lower[0], found.upper[0]) == pytest.approx((fleets.shape[0] / reach, fleets.shape[0] * reach))
    assert (found.lower[1], found.upper[1]) == ASSUMED_SHAPES


def test_limits_are_those_of_the_held_fit_and_the_widest_hold_at_the_ends_of_the_shape(fleets):
    data = lives([0, 0, 1e4, 0], [3e4, 2e4, 4e4, 1e4], [1, 0, 0, 1], [0, 0, 1, 2], n_strata=3)
    shapes = fleet_shapes(fleets, [0, 0, 1])
    made = thin_bounds(data, shapes, quantities={**MILEAGES, "survival": survival_to(2.5e4)})
    assert made.status.tolist() == ["ok", "no_failures", "ok"]
    assert made.failures.tolist() == [1.0, 0.0, 1.0]
    assert made.limits["b10"].bound.tolist() == ["two_sided", "lower", "two_sided"]
    asked = np.array(["two_sided", "lower", "two_sided"])
    for name, quantity in (("b10", life_by(0.1)), ("survival", survival_to(2.5e4))):
        found = made.limits[name]
        middle = read_limits(hazard_limits(fit_held_shape(data, shape=shapes.shape), bound=asked), quantity)
        assert found.lower == pytest.approx(middle.lower, rel=1e-12)
        assert found.upper == pytest.approx(middle.upper, rel=1e-12)
        for end in (shapes.lower, shapes.upper):
            other = read_limits(hazard_limits(fit_held_shape(data, shape=end), bound=asked), quantity)
            assert np.all(found.widest_lower <= np.minimum(middle.lower, other.lower) * (1 + 1e-12))
            assert np.all(found.widest_upper >= np.maximum(middle.upper, other.upper) * (1 - 1e-12))


def test_asked_for_two_sides_a_stratum_without_failures_gets_the_tail_of_two_sides():
    # e^-x = 0.025: x = 3.6889 instead of 2.9957.
    data = lives(0, 1e4, 0)
    made = thin_bounds(data, known(1, 1), bound="two_sided")
    assert made.limits["mean"].lower[0] == pytest.approx(1e4 / -np.log(0.025), rel=1e-12)
    assert np.isinf(made.limits["mean"].upper[0])


def test_shared_windows_are_counted():
    shared = shared_exposure([0, 0], [0.0, 0.0], [2e4, 5e4], [0, -1], [4, 0])
    made = thin_bounds(lives([], [], [], n_strata=2), known(2, 2), shared)
    assert made.status.tolist() == ["no_failures", "too_few_at_risk"]
    exposure = 4 * (2e4**2 + 5e4**2)
    assert made.limits["scale"].lower[0] == pytest.approx((exposure / -np.log(0.05)) ** 0.5, rel=1e-10)
    assert np.isnan(made.limits["scale"].lower[1])
    assert made.limits["scale"].method[1] == "none"


# 2,000 families of 20 parts watched to 30,000 miles and renewed when they fail, true scale 60,000, shape 2.5 known:
# the count over the exposure is Poisson in all but name. Exact limits promise at least 95 %; the error of the share is
# 0.5 %. Seed fixed.
def test_exact_limits_cover_with_few_failures():
    rng = np.random.default_rng(5)
    families, parts, to = 2000, 20, 3e4
    stratum = np.repeat(np.arange(families), parts)
    start, entry, exit_, event, owner = np.zeros(stratum.size), [], [], [], []
    sockets = np.arange(stratum.size)
    while sockets.size:
        life = 6e4 * rng.weibull(2.5, sockets.size)
        failed = start[sockets] + life < to
        entry.append(np.zeros(sockets.size))
        exit_.append(np.where(failed, life, to - start[sockets]))
        event.append(failed)
        owner.append(stratum[sockets])
        start[sockets] += life
        sockets = sockets[failed]
    columns = (np.concatenate(part) for part in (entry, exit_, event, owner))
    made = thin_bounds(lives(*columns, n_strata=families), known(2.5, families), quantities={"scale": scale()})
    limits = made.limits["scale"]
    inside = (limits.lower <= 6e4) & (limits.upper >= 6e4)
    assert np.mean(made.failures) == pytest.approx(3.4, abs=0.3)
    assert 0.945 <= np.mean(inside) <= 0.99


def test_a_fleet_that_is_not_there_is_refused(fleets):
    with pytest.raises(LivesError):
        fleet_shapes(fleets, [2])
