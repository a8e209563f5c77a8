"""Families drawn towards their fleet: by hand, by simulation, and in the numbers it is made of."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import gamma as gamma_function

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Lives, lives, shared_exposure
from longmile.pipelines.estimators.negative_binomial import counts
from longmile.pipelines.estimators.prior_average import averaged_posteriors
from longmile.pipelines.estimators.shrinkage import shrink_to_fleet
from longmile.pipelines.estimators.shrunk_levels import Shrunk
from longmile.pipelines.estimators.thin import FleetShapes, fleet_shapes
from longmile.pipelines.estimators.weibull import fit_weibull


def as_fleet(data: Lives, fleet_of: np.ndarray, n_fleets: int) -> Lives:
    """The families' lives as lives of their fleets."""
    columns = (data.entry, data.exit_, data.event, np.asarray(fleet_of)[data.stratum], data.weight, data.left)
    return lives(*columns, n_strata=n_fleets)


def shop(rng, theta, parts, shape, scale, fleet_of):
    """Lives of families with relative hazards theta: parts of each, seen late, watched for a while; Weibull by name.

    Late entry by drawing the life given that it reached the entry: H(life) = H(entry) + a unit exponential.
    """
    stratum = np.repeat(np.arange(theta.size), parts)
    own = (scale * theta ** (-1 / shape))[stratum]
    entry = rng.uniform(0, 0.6 * scale, stratum.size)
    life = own * ((entry / own) ** shape + rng.exponential(size=stratum.size)) ** (1 / shape)
    end = entry + rng.uniform(0.05, 0.5, stratum.size) * scale
    data = lives(entry, np.minimum(life, end), life < end, stratum, n_strata=theta.size)
    fleets = fit_weibull(as_fleet(data, fleet_of, int(fleet_of.max()) + 1))
    return data, fleets, fleet_shapes(fleets, fleet_of)


# Shape 2. Family 0 ran 4^2 + 2^2 = 20 with one failure, family 1 6^2 = 36 without, family 2 was never seen. One failure
# in all, so the fleet's scale^2 is their sum, 56, and the failures expected are 20 / 56 and 36 / 56.
def test_expected_failures_and_raw_levels_by_hand():
    data = lives([0, 0, 0], [4, 2, 6], [1, 0, 0], [0, 0, 1], n_strata=3)
    fleet = fit_weibull(lives([0, 0, 0], [5, 9, 12], [1, 1, 1]))
    given = FleetShapes(np.full(3, 2.0), np.full(3, 2.0), np.full(3, 2.0), np.full(3, "constant_rate"))
    made = shrink_to_fleet(data, fleet, [0, 0, 0], given)
    assert made.level.fleet_scale**2 == pytest.approx(np.full(3, 56.0))
    assert made.expected == pytest.approx([20 / 56, 36 / 56, 0.0])
    theta = made.theta()
    assert theta.raw[:2] == pytest.approx([56 / 20, 0.0])
    assert made.scale().raw[:2] == pytest.approx([20**0.5, np.inf])
    assert made.status.tolist() == ["ok", "no_failures", "too_few_at_risk"]
    assert np.isnan(theta.raw[2])
    posterior = averaged_posteriors(counts([1, 0, 0], [20 / 56, 36 / 56, 0.0]))
    assert theta.estimate == pytest.approx(posterior.mean, rel=1e-9)
    # The shape is known for sure here, so it adds nothing.
    assert theta.upper == pytest.approx(posterior.upper, rel=1e-9)
    assert theta.lower == pytest.approx(posterior.lower, rel=1e-9)
    assert made.weight_on_own[2] == 0.0


def test_mileages_follow_from_the_level_and_the_shape_only_widens_them():
    rng = np.random.default_rng(1)
    code = np.zeros(6, np.int64)
    data, fleets, shapes = shop(rng, rng.gamma(4, 0.25, 6), 30, 2.5, 5e4, code)
    made = shrink_to_fleet(data, fleets, code, shapes)
    k, theta = made.level.shape, made.level.theta
    scale = made.level.fleet_scale * theta ** (-1 / k)
    assert made.scale().estimate == pytest.approx(scale, rel=1e-12)
    assert made.mean().estimate == pytest.approx(scale * gamma_function(1 + 1 / k), rel=1e-12)
    b10 = made.life_by(0.1)
    assert b10.estimate == pytest.approx(scale * (-np.log(0.9)) ** (1 / k), rel=1e-12)
    known = made.level.fleet_scale * (-np.log(0.9) / made.theta_upper) ** (1 / k)
    assert np.all(b10.lower < known)
    survival, hazard = made.survival_to(3e4), (3e4 / made.level.fleet_scale) ** k
    assert survival.estimate == pytest.approx(np.exp(-theta * hazard), rel=1e-12)
    assert np.all(survival.lower <= np.exp(-made.theta_upper * hazard))
    assert np.all(survival.upper >= np.exp(-made.theta_lower * hazard))
    # Drawn in: nearer to the fleet than the raw value, up to what is not known of the families' mean.
    assert np.all(np.abs(np.log(theta)) < np.abs(np.log(made.theta().raw)) + 0.2)


def test_the_fleet_scale_is_the_fit_where_there_is_one():
    rng = np.random.default_rng(2)
    code = np.repeat([0, 1], 5)
    data, fleets, shapes = shop(rng, np.ones(10), 40, 2.0, 4e4, code)
    made = shrink_to_fleet(data, fleets, code, shapes)
    assert made.level.fleet_scale == pytest.approx(fleets.scale[code])
    # At the fleet's own fit as many failures are expected of all its families together as there were.
    assert np.bincount(code, made.expected) == pytest.approx(np.bincount(code, made.failures), rel=1e-6)


def test_a_fleet_in_which_nothing_failed_has_no_level():
    data = lives([0, 0, 0], [4, 2, 6], [0, 0, 1], [0, 1, 2], n_strata=3)
    fleets = fit_weibull(as_fleet(data, np.array([0, 0, 1]), 2))
    made = shrink_to_fleet(data, fleets, [0, 0, 1], fleet_shapes(fleets, [0, 0, 1]))
    assert made.status.tolist() == ["did_not_converge", "did_not_converge", "ok"]
    assert np.isnan(made.theta().estimate[:2]).all()
    assert made.priors.status.tolist() == ["too_few_at_risk", "no_extra_variation"]


def test_shared_windows_equal_lives_written_out():
    entry, exit_ = np.array([0.0, 1e4, 3e4]), np.array([5e4, 7e4, 9e4])
    shared = shared_exposure([0, 0, 1], entry, exit_, [0, 1], [4, 2])
    own = lives([0, 0, 5e3], [2e4, 6e4, 4e4], [1, 1, 1], [0, 0, 1], n_strata=2)
    written = lives(
        [0, 0, 5e3, *entry], [2e4, 6e4, 4e4, *exit_], [1, 1, 1, 0, 0, 0], [0, 0, 1, 0, 0, 1], [1, 1, 1, 4, 4, 2]
    )
    fleets = fit_weibull(as_fleet(written, np.zeros(2, np.int64), 1))
    shapes = fleet_shapes(fleets, [0, 0])
    found, expected = (
        shrink_to_fleet(own, fleets, [0, 0], shapes, shared),
        shrink_to_fleet(written, fleets, [0, 0], shapes),
    )
    assert found.expected == pytest.approx(expected.expected, rel=1e-9)
    assert found.theta().upper == pytest.approx(expected.theta().upper, rel=1e-7)


def test_clusters_make_counts_worth_less():
    rng = np.random.default_rng(6)
    data, fleets, shapes = shop(rng, np.ones(6), 30, 2.0, 5e4, np.zeros(6, np.int64))
    code = np.zeros(6, np.int64)
    plain = shrink_to_fleet(data, fleets, code, shapes)
    spread = shrink_to_fleet(data, fleets, code, shapes, dispersion=2.0)
    assert spread.theta_raw == pytest.approx(plain.theta_raw, rel=1e-12)
    assert spread.expected == pytest.approx(plain.expected, rel=1e-12)
    assert np.all(spread.theta_upper - spread.theta_lower > plain.theta_upper - plain.theta_lower)


def covered(found: Shrunk, truth: np.ndarray) -> float:
    return float(np.mean((found.lower <= truth) & (truth <= found.upper)))


# 150 components of 12 families of 3 to 60 parts, seen late and watched a while, 5 failures a family on average; shape
# and scale of every fleet fitted from the same lives. Families' levels from a gamma distribution of mean 1, or alike.
# theta is relative to the fleet as it happened to be fitted, so its truth is the family's own hazard over the failures
# expected. The error of a share of 95 % among 1,800 is 0.5 % were they independent; more for B10, which rests on the
# 150 shapes.
@pytest.mark.parametrize(("alpha", "least", "most"), [(3.0, 0.93, 0.97), (10.0, 0.94, 0.985), (np.inf, 0.96, 1.0)])
def test_limits_cover_the_truth(alpha, least, most):
    rng = np.random.default_rng(77)
    code = np.repeat(np.arange(150), 12)
    theta = rng.gamma(alpha, 1 / alpha, code.size) if np.isfinite(alpha) else np.ones(code.size)
    data, fleets, shapes = shop(rng, theta, rng.choice([3, 10, 30, 60], code.size), 2.5, 6e4, code)
    assert fleets.ok.all()
    made = shrink_to_fleet(data, fleets, code, shapes)
    own = 6e4 * theta ** (-1 / 2.5)
    hazard = (data.exit_ / own[data.stratum]) ** 2.5 - (data.entry / own[data.stratum]) ** 2.5
    of_truth = np.bincount(data.stratum, hazard, minlength=code.size) / made.expected
    assert least < covered(made.theta(), of_truth) < most
    assert least < covered(made.mean(), own * gamma_function(1 + 1 / 2.5)) < most
    assert least < covered(made.survival_to(1e5), np.exp(-((1e5 / own) ** 2.5))) < most
    assert covered(made.life_by(0.1), own * (-np.log(0.9)) ** (1 / 2.5)) > 0.92


@settings(deadline=None, max_examples=15)
@given(seed=st.integers(0, 1000), factor=st.floats(1e-2, 1e2))
def test_order_does_not_matter_and_miles_scale(seed, factor):
    rng = np.random.default_rng(seed)
    code = np.zeros(5, np.int64)
    data, fleets, shapes = shop(rng, rng.gamma(3, 1 / 3, 5), 12, 2.0, 5e4, code)
    order = rng.permutation(data.entry.size)
    columns = (factor * data.entry[order], factor * data.exit_[order], data.event[order], data.stratum[order])
    other = lives(*columns, n_strata=5)
    again = fit_weibull(as_fleet(other, code, 1))
    first, second = (
        shrink_to_fleet(data, fleets, code, shapes),
        shrink_to_fleet(other, again, code, fleet_shapes(again, code)),
    )
    assert second.level.theta == pytest.approx(first.level.theta, rel=1e-5)
    assert second.life_by(0.1).lower == pytest.approx(factor * first.life_by(0.1).lower, rel=1e-5)


def test_what_cannot_be_is_refused():
    data = lives([0, 0], [1, 2], [1, 1], [0, 1])
    fleets = fit_weibull(lives([0, 0], [1, 2], [1, 1]))
    shapes = fleet_shapes(fleets, [0, 0])
    for asked in ({"fleet_of": [0, 1]}, {"fleet_of": [0]}, {"fleet_of": [0, 0], "dispersion": 0.5}):
        with pytest.raises(LivesError):
            shrink_to_fleet(data, fleets, shapes=shapes, **asked)
    made = shrink_to_fleet(data, fleets, [0, 0], shapes)
    with pytest.raises(LivesError):
        made.life_by(1.0)
    with pytest.raises(LivesError):
        made.survival_to(0.0)
