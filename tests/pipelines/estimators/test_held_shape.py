"""Weibull with the shape given: published exponential fits, and the likelihood written out life by life."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import chi2

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.held_shape import fit_held_shape, hazard_limits, read_limits
from longmile.pipelines.estimators.lives import Lives, lives, miles_at_risk, shared_exposure
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import life_by, mean_life, scale, survival_further, survival_to
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.robust import robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull

FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ANSWERS = json.loads(FILE.read_text(encoding="utf-8"))
FULL = ["shock_absorbers", "nist_weibull20", "nist_km20", "left_truncated_residents"]
FIT, LOGLIK = 1e-6, 1e-9
MILEAGES = {"mean_life": mean_life(), "B1": life_by(0.01), "B10": life_by(0.1), "B50": life_by(0.5)}
CHI2_95 = 3.841458820694124  # 95 % point of chi-square with one degree of freedom (any table)
quick = settings(deadline=None, max_examples=40)


def loglik(data: Lives, shape: float, scale_: float) -> float:
    """The log-likelihood life by life, straight from the definition."""
    total = 0.0
    rows = zip(data.entry, data.exit_, data.event, data.left, data.weight, strict=True)
    for entry, exit_, event, left, weight in rows:
        hazard, given = (exit_ / scale_) ** shape, (entry / scale_) ** shape
        if not event:
            part = given - hazard
        elif math.isnan(left):
            part = math.log(shape / exit_) + shape * math.log(exit_ / scale_) - hazard + given
        else:
            near = (left / scale_) ** shape
            part = given - near + math.log(-math.expm1(near - hazard))
        total += weight * part
    return total


@pytest.fixture
def mixed() -> Lives:
    """Every kind of life: exact, right-, left-, interval-censored, late entry, weights; made up."""
    return lives(
        entry=[0, 0, 20, 0, 15, 0, 40, 30],
        exit_=[50, 80, 60, 40, 70, 90, 95, 55],
        event=[True, False, True, True, True, False, True, False],
        weight=[1, 3, 1, 2, 1, 2, 1, 4],
        left=[np.nan, np.nan, np.nan, 0, 35, np.nan, np.nan, np.nan],
    )


@pytest.mark.parametrize("name", FULL)
def test_published_exponential_fits(name, life_data):
    answer = ANSWERS["exponential"]["data"][name]
    fits = fit_held_shape(life_data(name))
    assert fits.status.tolist() == ["ok"]
    assert fits.slope[0] < 1e-8
    assert fits.log_likelihood[0] == pytest.approx(answer["loglik"], rel=LOGLIK)
    assert fits.aic[0] == pytest.approx(answer["aic"], rel=LOGLIK)
    assert np.log(fits.scale[0]) == pytest.approx(answer["mu_log"], rel=FIT)
    assert 1 / fits.scale[0] == pytest.approx(answer["mean_rate"], rel=FIT)
    assert fits.se_log_scale[0] == pytest.approx(answer["se_mu"], rel=FIT)
    wald, profile = hazard_limits(fits, method="wald"), hazard_limits(fits, method="profile")
    for key, quantity in MILEAGES.items():
        made, other = read_limits(wald, quantity), read_limits(profile, quantity)
        theirs = [answer[key][part] for part in ("est", "se_log", "lo", "hi")]
        assert [made.estimate[0], made.se[0], made.lower[0], made.upper[0]] == pytest.approx(theirs, rel=FIT)
        if "profile_lo" in answer[key]:
            theirs = [answer[key]["profile_lo"], answer[key]["profile_hi"]]
            assert [other.lower[0], other.upper[0]] == pytest.approx(theirs, rel=FIT)
    for row in answer["survival"]:
        made = read_limits(wald, survival_to(row["t"]))
        assert [made.estimate[0], made.lower[0], made.upper[0]] == pytest.approx(
            [row["S"], row["lo"], row["hi"]], rel=FIT
        )
    for row in answer["conditional"]:
        made = read_limits(wald, survival_further(row["t"], row["w"]))
        assert made.estimate[0] == pytest.approx(row["P_survive"], rel=FIT)


def test_exact_limits_of_a_constant_rate_are_those_of_the_rate(life_data):
    for name in FULL:
        data = life_data(name)
        made = read_limits(hazard_limits(fit_held_shape(data)), mean_life())
        rates = poisson_rates(fit_held_shape(data).failures, miles_at_risk(data))
        assert made.method.tolist() == ["exact"]
        assert [made.lower[0], made.upper[0]] == pytest.approx([1 / rates.upper[0], 1 / rates.lower[0]], rel=1e-12)


# Exposure is the sum of miles^2: 2^2 + (5^2 - 3^2) + 4^2 = 36 thousand miles squared, two failures. The lower limit
# of scale^2 is 2 x 36 / chi-square(0.975; 6 degrees), the upper 2 x 36 / chi-square(0.025; 4 degrees).
def test_exact_limits_are_the_chi_square_ones_over_the_exposure():
    fits = fit_held_shape(lives([0, 3, 0], [2, 5, 4], [1, 1, 0]), shape=2.0)
    made = read_limits(hazard_limits(fits), scale())
    assert fits.scale[0] ** 2 == pytest.approx(36 / 2, rel=1e-12)
    assert made.lower[0] ** 2 == pytest.approx(2 * 36 / chi2.ppf(0.975, 6), rel=1e-10)
    assert made.upper[0] ** 2 == pytest.approx(2 * 36 / chi2.ppf(0.025, 4), rel=1e-10)


@pytest.mark.parametrize("shape", [0.7, 1.0, 2.5, 8.0])
def test_the_fit_and_its_profile_follow_the_likelihood_written_out(mixed, shape):
    fits = fit_held_shape(mixed, shape=shape)
    eta, top = fits.scale[0], fits.log_likelihood[0]
    assert fits.status.tolist() == ["ok"]
    assert top == pytest.approx(loglik(mixed, shape, eta), rel=1e-12)
    h = 1e-4
    bend = (loglik(mixed, shape, eta * math.exp(h)) - 2 * top + loglik(mixed, shape, eta * math.exp(-h))) / h**2
    assert fits.se_log_scale[0] == pytest.approx((-bend) ** -0.5, rel=1e-5)
    made = read_limits(hazard_limits(fits), scale())
    assert made.method.tolist() == ["profile"]  # failures within intervals have no exact limits
    for limit, far in ((made.lower[0], eta / 20), (made.upper[0], eta * 20)):
        found = brentq(lambda e: 2 * (top - loglik(mixed, shape, e)) - CHI2_95, eta, far, xtol=1e-12, rtol=1e-14)
        assert limit == pytest.approx(found, rel=FIT)


def test_held_at_the_fitted_shape_it_is_the_free_fit(mixed):
    free = fit_weibull(mixed)
    held = fit_held_shape(mixed, shape=free.shape)
    assert held.scale[0] == pytest.approx(free.scale[0], rel=1e-8)
    assert held.log_likelihood[0] == pytest.approx(free.log_likelihood[0], rel=1e-12)
    assert held.aic[0] == pytest.approx(free.aic[0] - 2, rel=1e-12)
    assert held.se_log_scale[0] < free.se_log_scale[0]


def test_failures_over_exposure_is_the_level_even_with_intervals(mixed):
    fits = fit_held_shape(mixed, shape=2.0)
    assert np.log(fits.failures[0]) - fits.log_exposure[0] == pytest.approx(fits.c[0], abs=1e-9)


# 30 units ran 50,000 miles each: scale >= (30 x 50,000^2 / -ln 0.05)^(1/2); the file holds that and B10 for two cases.
def test_zero_failures_leave_a_one_sided_bound():
    for row in ANSWERS["zero_failures"]["rows"]:
        data = lives(0, row["each_ran"], 0, weight=row["units"])
        fits = fit_held_shape(data, shape=row["shape"])
        limits = hazard_limits(fits, bound="lower")
        assert fits.status.tolist() == ["no_failures"]
        made = read_limits(limits, scale())
        assert (made.method[0], made.bound[0]) == ("exact", "lower")
        assert made.lower[0] == pytest.approx(row["scale_lower95_one_sided"], rel=1e-10)
        assert read_limits(limits, life_by(0.1)).lower[0] == pytest.approx(row["B10_lower95"], rel=1e-10)
        assert np.isinf(made.upper[0])
        assert np.isnan(made.estimate[0])
        assert read_limits(limits, survival_further(1e4, 1e4)).upper[0] == 1.0


# Twice the fall of the log-likelihood is twice the hazard: its upper limit is 3.8415 / 2; Wald has none to offer.
def test_zero_failures_by_the_other_methods():
    fits = fit_held_shape(lives(0, 10, 0))
    profile = read_limits(hazard_limits(fits, method="profile"), scale())
    assert profile.lower[0] == pytest.approx(10 / (CHI2_95 / 2), rel=1e-9)
    wald = read_limits(hazard_limits(fits, method="wald"), scale())
    assert wald.method.tolist() == ["exact"]
    assert wald.lower[0] == pytest.approx(10 / -np.log(0.025), rel=1e-12)


def test_one_sided_limits_leave_the_whole_tail_on_their_side():
    fits = fit_held_shape(lives([0, 0], [10, 30], [1, 0], [0, 1], n_strata=2), shape=2.0)
    lower = hazard_limits(fits, bound=np.array(["lower", "lower"]))
    both = hazard_limits(fits, confidence=0.9)
    assert lower.upper == pytest.approx(both.upper, rel=1e-12)
    assert np.all(np.isneginf(lower.lower))
    upper = hazard_limits(fits, bound="upper")
    assert upper.lower == pytest.approx(both.lower, rel=1e-12)
    assert np.all(np.isposinf(upper.upper))


def test_what_says_nothing_is_a_status():
    """Strata: 0 nothing watched; 1 every failure found at the first look; 2 one exact failure; 3 taken out whole."""
    data = lives(
        [0, 0, 0, 0],
        [10, 20, 30, 30],
        [1, 1, 1, 0],
        [1, 1, 2, 3],
        left=[0, 0, np.nan, np.nan],
        weight=[1, 1, 1, -2],
        n_strata=4,
    )
    shared = shared_exposure([0], [0.0], [30.0], [-1, -1, -1, 0], [0, 0, 0, 2])
    fits = fit_held_shape(data, shared, 1.5)
    assert fits.status.tolist() == ["too_few_at_risk", "did_not_converge", "ok", "too_few_at_risk"]
    assert fits.reason.tolist() == ["", "hazard_rises_without_limit", "", ""]
    made = read_limits(hazard_limits(fits), scale())
    assert made.method.tolist() == ["none", "none", "exact", "none"]
    assert np.isnan(made.lower).tolist() == [True, True, False, True]


def test_windows_taken_out_to_the_last_digit_are_said_to_be_lost():
    # Of three sockets over 300,000 miles all but the first 10 miles are taken out: at shape 4 that is 1e-18 of it.
    shared = shared_exposure([0], [0.0], [3e5], [0], [3])
    data = lives([0, 0, 10], [10, 10, 3e5], [0, 0, 0], weight=[1, 1e-9, -3], n_strata=1)
    fits = fit_held_shape(data, shared, 4.0)
    assert fits.status.tolist() == ["did_not_converge"]
    assert fits.reason.tolist() == ["lost_in_rounding"]


def test_shared_windows_equal_lives_written_out():
    entry, exit_ = np.array([0.0, 10, 30]), np.array([50.0, 70, 90])
    shared = shared_exposure([0, 0, 0], entry, exit_, [0, -1], [4, 1])
    own = lives([0, 0], [20, 25], [1, 1], [0, 1], n_strata=2)
    written = lives([0, 0, *entry], [20, 25, *exit_], [1, 1, 0, 0, 0], [0, 1, 0, 0, 0], [1, 1, 4, 4, 4], n_strata=2)
    found, expected = fit_held_shape(own, shared, [2.2, 0.8]), fit_held_shape(written, None, [2.2, 0.8])
    assert found.scale == pytest.approx(expected.scale, rel=1e-10)
    assert found.log_likelihood == pytest.approx(expected.log_likelihood, rel=1e-10)


def test_clustered_errors_take_a_held_fit():
    # Each life twice, both of one vehicle: the clustered variance is twice what the doubled lives claim.
    once = lives([0, 0, 0, 5], [4, 9, 12, 30], [1, 1, 0, 1])
    twice = lives(
        *(np.tile(part, 2) for part in (once.entry, once.exit_, once.event)), cluster=np.tile(np.arange(4), 2)
    )
    single, double = fit_held_shape(once, shape=2.0), fit_held_shape(twice, shape=2.0)
    of_once = robust_errors(single, once).fits.se_log_scale
    assert robust_errors(double, twice).fits.se_log_scale == pytest.approx(of_once, rel=1e-9)


def test_a_steep_shape_at_a_high_mileage_stays_in_range():
    fits = fit_held_shape(lives([0, 0], [3e5, 2e5], [1, 0]), shape=200.0)
    # (2/3)^200 = 6e-36 adds nothing: one failure at 300,000 makes the scale 300,000.
    assert fits.scale[0] == pytest.approx(3e5, rel=1e-12)
    assert np.isfinite(read_limits(hazard_limits(fits), life_by(0.01)).lower[0])


@st.composite
def some_lives(draw, most=20):
    n = draw(st.integers(1, most))
    columns = draw(
        st.lists(
            st.tuples(
                st.integers(0, 30),
                st.integers(1, 30),
                st.sampled_from(["exact", "sound", "within"]),
                st.integers(0, 2),
                st.integers(1, 3),
            ),
            min_size=n,
            max_size=n,
        )
    )
    entry, ran, kind, stratum, weight = (np.array(column) for column in zip(*columns, strict=True))
    left = np.where(kind == "within", entry + ran / 3, np.nan)
    return lives(entry, entry + ran, kind != "sound", stratum, weight, left, n_strata=3)


def _turned(data: Lives, order: np.ndarray, factor: float = 1.0) -> Lives:
    columns = (data.entry * factor, data.exit_ * factor, data.event, data.stratum, data.weight, data.left * factor)
    return lives(*(column[order] for column in columns), n_strata=data.n_strata)


@quick
@given(data=some_lives(), shape=st.floats(0.3, 6.0), factor=st.floats(1e-3, 1e3), seed=st.integers(0, 99))
def test_order_does_not_matter_and_miles_scale(data, shape, factor, seed):
    order = np.random.default_rng(seed).permutation(data.entry.size)
    first, other = fit_held_shape(data, shape=shape), fit_held_shape(_turned(data, order, factor), shape=shape)
    assert first.status.tolist() == other.status.tolist()
    assert other.scale == pytest.approx(first.scale * factor, rel=1e-8, nan_ok=True)
    for method in ("exact", "profile", "wald"):
        ours, theirs = (read_limits(hazard_limits(fits, method=method), life_by(0.1)) for fits in (first, other))
        assert theirs.lower == pytest.approx(ours.lower * factor, rel=1e-6, nan_ok=True)
        assert theirs.upper == pytest.approx(ours.upper * factor, rel=1e-6, nan_ok=True)


@quick
@given(data=some_lives(), shape=st.floats(0.3, 6.0))
def test_weights_equal_repetition(data, shape):
    repeated = np.repeat(np.arange(data.entry.size), data.weight.astype(int))
    written = lives(
        *(getattr(data, key)[repeated] for key in ("entry", "exit_", "event", "stratum")),
        left=data.left[repeated],
        n_strata=3,
    )
    first, other = fit_held_shape(data, shape=shape), fit_held_shape(written, shape=shape)
    assert other.scale == pytest.approx(first.scale, rel=1e-8, nan_ok=True)
    assert other.log_exposure == pytest.approx(first.log_exposure, rel=1e-8, abs=1e-8, nan_ok=True)


@quick
@given(data=some_lives(), shape=st.floats(0.3, 4.0), width=st.floats(1e-9, 1e-7))
def test_an_interval_of_no_width_is_an_exact_failure(data, shape, width):
    exact = data.event & np.isnan(data.left)
    assume(exact.any())
    narrow = np.where(exact, data.exit_ * (1 - width), data.left)
    made = lives(data.entry, data.exit_, data.event, data.stratum, data.weight, narrow, n_strata=3)
    first, other = fit_held_shape(data, shape=shape), fit_held_shape(made, shape=shape)
    fine = first.ok
    assert other.scale[fine] == pytest.approx(first.scale[fine], rel=1e-6)


@quick
@given(data=some_lives(), shape=st.floats(0.3, 4.0), cut=st.integers(1, 19))
def test_exposure_and_failures_of_parts_add_up(data, shape, cut):
    sound_or_exact = np.isnan(data.left)
    parts = [np.flatnonzero(sound_or_exact)[:cut], np.flatnonzero(sound_or_exact)[cut:]]
    assume(all(part.size for part in parts))
    whole = fit_held_shape(_turned(data, np.concatenate(parts)), shape=shape)

    def exposure(fits):
        return np.nan_to_num(np.exp(fits.log_exposure + shape * fits.likelihood.log_ref))

    made = [fit_held_shape(_turned(data, part), shape=shape) for part in parts]
    assert sum(exposure(fits) for fits in made) == pytest.approx(exposure(whole), rel=1e-9)
    assert sum(fits.failures for fits in made) == pytest.approx(whole.failures)


@pytest.mark.parametrize("shape", [0.0, -1.0, np.nan, np.inf])
def test_a_shape_that_cannot_be_is_refused(shape):
    with pytest.raises(LivesError):
        fit_held_shape(lives(0, 1, 1), shape=shape)


def test_a_confidence_that_cannot_be_is_refused():
    with pytest.raises(LivesError):
        hazard_limits(fit_held_shape(lives(0, 1, 1)), confidence=1.0)


def test_profile_limits_that_would_free_the_shape_are_refused():
    fits = fit_held_shape(lives([0, 0, 0], [3, 5, 9], [1, 1, 0]), shape=2.0)
    with pytest.raises(LivesError, match="shape of these fits was given"):
        profile_limits(fits, mean_life())
