"""Remaining lives of parts of unknown age, and Weibull fits on them. Coverage of the limits: tests/simulation."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import gammainc

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Lives, lives, no_shared_exposure, shared_exposure
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import mean_life
from longmile.pipelines.estimators.renewal_density import renewal_density
from longmile.pipelines.estimators.renewal_errors import renewed_errors
from longmile.pipelines.estimators.renewal_mixture import fit_weibull_renewed, renewal_likelihood
from longmile.pipelines.estimators.residual_life import naive_residual, residual, residual_table
from longmile.pipelines.estimators.robust import robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull

MILES = np.array([0.01, 0.3, 1.0, 2.5, 6.0])
REST = np.array([0.001, 0.05, 0.4, 1.0, 2.0])


def shop(n_strata: int = 3, seed: int = 4, scale: float = 60_000.0, shape: float = 2.0) -> tuple[Lives, np.ndarray]:
    """Parts renewed from mile 0, vehicles first seen anywhere up to 150,000, watched for 40,000; and known ages."""
    draw = np.random.default_rng(seed)
    n = 120 * n_strata
    first = draw.uniform(600, 150_000, n)
    fitted, stop = np.zeros(n), scale * draw.weibull(shape, n)
    while (stop < first).any():
        gone = stop < first
        fitted[gone] = stop[gone]
        stop[gone] += scale * draw.weibull(shape, gone.sum())
    end = first + 40_000
    event = stop <= end
    exit_ = np.minimum(stop, end)
    follows = exit_ + scale * draw.weibull(shape, n)
    second = event & (end > exit_)
    stratum = np.tile(np.arange(n_strata), 120)
    data = lives(
        np.concatenate([first, np.zeros(second.sum())]),
        np.concatenate([exit_, (np.minimum(follows, end) - exit_)[second]]),
        np.concatenate([event, (follows <= end)[second]]),
        np.concatenate([stratum, stratum[second]]),
    )
    return data, np.arange(data.entry.size) >= n


# --- what a renewal process leaves


def test_remaining_life_without_wear_does_not_depend_on_the_mileage():
    # Shape 1 is chance alone: the hazard over x scales is x, its density 1.
    hazard, rate = residual(1.0, MILES, REST)
    np.testing.assert_allclose(hazard, np.tile(REST, (5, 1)), rtol=1e-6)
    np.testing.assert_allclose(rate, 1.0, rtol=1e-6)


@pytest.mark.parametrize("shape", [0.8, 1.5, 3.0])
def test_remaining_life_of_a_vehicle_seen_from_new_is_the_life_itself(shape):
    hazard, rate = residual(shape, np.array([1e-13]), REST)
    np.testing.assert_allclose(hazard[0], REST**shape, rtol=1e-5)
    np.testing.assert_allclose(rate[0], shape * REST ** (shape - 1), rtol=1e-5)


@pytest.mark.parametrize("shape", [1.2, 1.5, 3.0])
def test_remaining_life_after_many_replacements_is_that_of_equilibrium(shape):
    # Chance to survive x more, once the start is forgotten: integral of S beyond x over the mean life, which for a
    # Weibull is 1 - gammainc(1 / k, x^k) (substitute y = x^k).
    hazard, _ = residual(shape, np.array([25.0]), REST)
    np.testing.assert_allclose(np.exp(-hazard[0]), 1 - gammainc(1 / shape, REST**shape), rtol=2e-5)


# Expected replacements of a Weibull part by 1 and 2 scales: power series of Smith & Leadbetter 1963, and the renewal
# equation on a grid, extrapolated, which agreed to 1e-10 (tests/reference/held_shape_and_calculators.json).
@pytest.mark.parametrize(("t", "expected"), [(1.0, 0.8415781366496907), (2.0, 1.945500799925875)])
def test_density_adds_up_to_the_expected_replacements(t, expected):
    u = (np.arange(40_000) + 0.5) / 40_000 * t
    assert renewal_density(1.5).at(u).mean() * t == pytest.approx(expected, rel=2e-5)


@pytest.mark.parametrize(("shape", "tolerance"), [(0.45, 3e-5), (0.9, 2e-5), (1.7, 3e-4), (3.1, 2e-3), (4.4, 2e-2)])
def test_table_reads_what_the_integral_gives(shape, tolerance):
    m, x = (values.ravel() for values in np.meshgrid(np.log([0.02, 0.4, 1.1, 2.3]), np.log([2e-4, 0.03, 0.2, 1.3])))
    hazard, rate = (values.T.ravel() for values in residual(shape, np.exp(m[:4]), np.exp(x[::4])))
    old = [values.T.ravel() for values in naive_residual(shape, np.exp(m[:4]), np.exp(x[::4]))]
    table, b = residual_table(), np.full(m.size, np.log(shape))
    near = hazard < 20
    found = table.read(table.hazard, b, m, x).value - np.log(hazard / old[0])
    np.testing.assert_allclose(found[near], 0, atol=tolerance)
    np.testing.assert_allclose((table.read(table.rate, b, m, x).value - np.log(rate / old[1]))[near], 0, atol=tolerance)


# --- fits


def likelihood_of(data, known):
    return renewal_likelihood(data, known, no_shared_exposure(data.n_strata), np.zeros(0, np.bool_))


def with_intervals(data: Lives) -> Lives:
    """Every third failure known only to the last tenth of what was watched of it."""
    third = data.event & (np.arange(data.entry.size) % 3 == 0)
    left = np.where(third, data.exit_ - 0.1 * (data.exit_ - data.entry), np.nan)
    return dataclasses.replace(data, left=left)


def test_slopes_and_curvatures_are_those_of_the_likelihood():
    data, known = shop()
    likelihood = likelihood_of(with_intervals(data), known)
    rows, step = np.arange(3), 1e-5
    c, b = np.array([0.1, -0.4, 0.3]), np.array([0.3, 0.7, -0.2])
    here = likelihood.evaluate(rows, c, b)
    right, left = (likelihood.evaluate(rows, c + s, b) for s in (step, -step))
    up, down = (likelihood.evaluate(rows, c, b + s) for s in (step, -step))
    for one, two, slope in ((right, left, "g_c"), (up, down, "g_b")):
        np.testing.assert_allclose((one.loglik - two.loglik) / 2 / step, getattr(here, slope), rtol=1e-6, atol=1e-4)
    for one, two, first, bend in ((right, left, "g_c", "h_cc"), (up, down, "g_c", "h_cb"), (up, down, "g_b", "h_bb")):
        numeric = (getattr(one, first) - getattr(two, first)) / 2 / step
        np.testing.assert_allclose(numeric, getattr(here, bend), rtol=1e-5, atol=1e-3)


def test_parts_of_known_age_alone_give_the_ordinary_fit():
    data, _ = shop()
    data = with_intervals(data)
    ours, ordinary = fit_weibull_renewed(data, np.ones(data.entry.size, np.bool_)), fit_weibull(data)
    np.testing.assert_allclose(ours.shape, ordinary.shape, rtol=1e-8)
    np.testing.assert_allclose(ours.log_likelihood, ordinary.log_likelihood, rtol=1e-10)


def test_at_few_miles_an_unknown_age_is_the_odometer():
    # First seen at 60 miles of a scale of 60,000: one in a million was replaced by then.
    data, _ = shop()
    data = dataclasses.replace(data, entry=np.full(data.entry.size, 60.0), exit_=data.exit_ + 60)
    ours, ordinary = fit_weibull_renewed(data, np.zeros(data.entry.size, np.bool_)), fit_weibull(data)
    np.testing.assert_allclose(ours.shape, ordinary.shape, rtol=1e-4)
    np.testing.assert_allclose(ours.scale, ordinary.scale, rtol=1e-4)


def test_ages_taken_for_unknown_find_the_truth_that_the_odometer_hides():
    # 2,400 vehicles, shape 2, scale 60,000. The fit that trusts the odometer is far off.
    data, known = shop(n_strata=20)
    data = dataclasses.replace(data, stratum=np.zeros_like(data.stratum), n_strata=1)
    fit = fit_weibull_renewed(data, known)
    assert fit.status[0] == "ok" and fit.slope[0] < 1e-8
    assert fit.shape[0] == pytest.approx(2.0, abs=3.3 * 2 * fit.se_log_shape[0])
    assert fit.scale[0] == pytest.approx(60_000, abs=3.3 * 60_000 * fit.se_log_scale[0])
    assert fit_weibull(data).shape[0] < 2.0 - 5 * 2 * fit.se_log_shape[0]
    limits = profile_limits(fit, mean_life())
    assert limits.lower[0] < 60_000 * 0.886227 < limits.upper[0]  # mean = scale x Gamma(1.5)


@settings(deadline=None, max_examples=8)
@given(seed=st.integers(0, 1000), times=st.floats(0.1, 10))
def test_order_repetition_and_unit_do_not_matter(seed, times):
    data, known = shop(seed=seed)
    data = with_intervals(data)
    fit = fit_weibull_renewed(data, known)
    order = np.random.default_rng(seed).permutation(data.entry.size)
    columns = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
    mixed = dataclasses.replace(data, **{name: getattr(data, name)[order] for name in columns})
    np.testing.assert_allclose(fit_weibull_renewed(mixed, known[order]).shape, fit.shape, rtol=1e-7)
    twice = dataclasses.replace(data, **{name: np.tile(getattr(data, name), 2) for name in columns})
    heavy = fit_weibull_renewed(dataclasses.replace(data, weight=np.full(data.entry.size, 2.0)), known)
    np.testing.assert_allclose(fit_weibull_renewed(twice, np.tile(known, 2)).log_likelihood, heavy.log_likelihood)
    scaled = {name: times * getattr(data, name) for name in ("entry", "exit_", "left")}
    longer = fit_weibull_renewed(dataclasses.replace(data, **scaled), known)
    np.testing.assert_allclose(longer.shape, fit.shape, rtol=1e-6)
    np.testing.assert_allclose(longer.scale, times * fit.scale, rtol=1e-6)


def test_shared_windows_count_as_lives_of_their_own():
    # Four sockets a vehicle; one of the first vehicle's has a life of its own, so one is taken out of its window.
    first, last, known_window = np.array([30_000.0, 90_000.0, 400.0]), np.full(3, 120_000.0), np.array([0, 0, 1]) > 0
    own = lives([30_000.0, 0.0, 90_000.0], [50_000.0, 60_000.0, 110_000.0], [True, True, True])
    flags = np.array([False, True, False])
    taken = lives(
        np.append(own.entry, first[[0, 1]]),
        np.append(own.exit_, last[[0, 1]]),
        [True] * 3 + [False] * 2,
        weight=[1, 1, 1, -1, -1],
        cluster=[0, 0, 1, 0, 1],
    )
    shared = shared_exposure([0, 0, 0], first, last, [0], [4.0], cluster=[0, 1, 2])
    ours = fit_weibull_renewed(taken, np.append(flags, [False, False]), shared, known_window)
    spelled = lives(
        np.append(own.entry, first),
        np.append(own.exit_, last),
        [True] * 3 + [False] * 3,
        weight=[1, 1, 1, 3, 3, 4],
        cluster=[0, 0, 1, 0, 1, 2],
    )
    flags_spelled = np.append(flags, known_window)
    expected = fit_weibull_renewed(spelled, flags_spelled)
    assert ours.status[0] == expected.status[0] == "ok"
    np.testing.assert_allclose(ours.log_likelihood, expected.log_likelihood, rtol=1e-9)
    np.testing.assert_allclose(ours.shape, expected.shape, rtol=1e-6)
    errors = renewed_errors(ours, taken, np.append(flags, [False, False]), shared, known_window)
    of_spelled = renewed_errors(expected, spelled, flags_spelled)
    np.testing.assert_allclose(errors.fits.se_log_scale, of_spelled.fits.se_log_scale, rtol=1e-5)


def test_clustered_errors_of_parts_of_known_age_are_the_ordinary_ones():
    data, _ = shop()
    data = dataclasses.replace(with_intervals(data), cluster=np.arange(data.entry.size) // 2)
    known = np.ones(data.entry.size, np.bool_)
    ours = renewed_errors(fit_weibull_renewed(data, known), data, known)
    ordinary = robust_errors(fit_weibull(data), data)
    np.testing.assert_allclose(ours.fits.se_log_shape, ordinary.fits.se_log_shape, rtol=1e-6)
    np.testing.assert_allclose(ours.fits.cov_cb, ordinary.fits.cov_cb, rtol=1e-6)


def test_clustered_errors_count_a_vehicle_twice_in_the_records_once():
    # Every life written down twice under one vehicle: the naive variance halves, the clustered one stays.
    data, known = shop()
    columns = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
    twice = dataclasses.replace(data, **{name: np.tile(getattr(data, name), 2) for name in columns})
    one = renewed_errors(fit_weibull_renewed(data, known), data, known)
    two = renewed_errors(fit_weibull_renewed(twice, np.tile(known, 2)), twice, np.tile(known, 2))
    np.testing.assert_allclose(two.fits.se_log_shape, one.fits.se_log_shape, rtol=1e-6)
    np.testing.assert_allclose(two.naive.se_log_shape * np.sqrt(2), one.naive.se_log_shape, rtol=1e-6)
    np.testing.assert_allclose(one.fits.se_log_shape, one.naive.se_log_shape, rtol=0.25)


def test_thin_strata_say_so_and_a_shape_beyond_the_table_is_no_fit():
    # Stratum 0: nothing failed; 1: one failure; 2: failures within a thousand miles of each other, shape far above 7.
    at = np.array([99_600.0, 100_000.0, 100_300.0, 99_900.0])
    data = lives(
        np.concatenate([[10_000, 10_000], np.zeros(4)]),
        np.concatenate([[20_000, 20_000], at]),
        [False, True, True, True, True, True],
        [0, 1, 2, 2, 2, 2],
    )
    fit = fit_weibull_renewed(data, np.array([False, False, True, True, True, True]))
    assert fit.status.tolist() == ["no_failures", "thin", "did_not_converge"]
    assert fit.reason[2] == "shape_beyond_table" and np.isnan(fit.shape[2])
    errors = renewed_errors(fit, data, np.array([False, False, True, True, True, True]))
    assert np.isnan(errors.fits.se_log_shape).all()


def test_a_life_of_unknown_age_that_enters_at_0_is_refused():
    data = lives([0.0, 5.0], [10.0, 10.0], [True, True])
    with pytest.raises(LivesError, match="1 lives or windows of unknown age enter at 0"):
        fit_weibull_renewed(data, np.array([False, False]))
    with pytest.raises(LivesError, match="1 flags for 2 lives"):
        fit_weibull_renewed(data, np.array([True]))
