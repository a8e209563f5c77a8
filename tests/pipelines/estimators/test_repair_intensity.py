from __future__ import annotations

from itertools import pairwise
from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from longmile.pipelines.estimators.repair_expectations import (
    expected_repairs,
    intensity_at,
    miles_between,
    scale_limits,
    trend_limits,
)
from longmile.pipelines.estimators.repair_history import repair_history
from longmile.pipelines.estimators.repair_intensity import constant_log_likelihood, fit_intensity
from longmile.pipelines.estimators.tilted_exposure import tilted

MODELS = ("power_law", "log_linear")


def one_unit(repairs, start=0.0, end=100.0):
    return repair_history(repairs, np.zeros(len(repairs)), [0], [start], [end])


# Worked by hand: one unit over (0, 100], repairs at 100/e, 100/e^2 and 100/e^3. Sum of log(100 / t) = 1 + 2 + 3 = 6,
# beta = 3/6 = 1/2, lambda = 3 / 100^(1/2) = 0.3; intensity at 100 = 3 x 1/2 / 100 = 0.015.
def test_power_law_of_one_unit_in_closed_form():
    fits = fit_intensity(one_unit([100 / exp(k) for k in (1, 2, 3)]), "power_law")
    beta, (lam, eta) = trend_limits(fits), scale_limits(fits)
    assert fits.status.tolist() == ["ok"]
    assert beta.estimate == pytest.approx([0.5], rel=1e-13)
    assert lam.estimate == pytest.approx([0.3], rel=1e-13)
    assert eta.estimate == pytest.approx([0.3**-2], rel=1e-12)
    assert intensity_at(fits, 100.0).estimate == pytest.approx([0.015], rel=1e-13)
    assert miles_between(fits, 100.0).estimate == pytest.approx([1 / 0.015], rel=1e-13)
    assert expected_repairs(fits, 0.0, 100.0).estimate == pytest.approx([3], rel=1e-13)
    # var(log beta) = 1/n; var(log M(T)) = 1/n; var(log intensity at T) = 2/n (Crow 1974, large samples).
    assert beta.se == pytest.approx([sqrt(1 / 3)], rel=1e-13)
    assert expected_repairs(fits, 0.0, 100.0).se == pytest.approx([sqrt(1 / 3)], rel=1e-12)
    assert intensity_at(fits, 100.0).se == pytest.approx([sqrt(2 / 3)], rel=1e-12)
    # log-likelihood: 3 log(0.3 x 0.5) - 1/2 sum of log t - 3, with sum of log t = 3 log 100 - 6.
    assert fits.log_likelihood == pytest.approx([3 * log(0.15) - (3 * log(100) - 6) / 2 - 3], rel=1e-13)


def test_repairs_spread_evenly_show_no_slope():
    fits = fit_intensity(one_unit([25, 50, 75]), "log_linear")
    slope = trend_limits(fits)
    assert slope.estimate == pytest.approx([0], abs=1e-15)
    # Information on the slope: n x variance of an even place = 3 x 100^2 / 12 = 2,500.
    assert slope.se == pytest.approx([1 / sqrt(2500)], rel=1e-12)
    assert intensity_at(fits, 40.0).estimate == pytest.approx([3 / 100], rel=1e-13)
    assert expected_repairs(fits, 20.0, 60.0).estimate == pytest.approx([1.2], rel=1e-13)
    assert fits.log_likelihood == pytest.approx(constant_log_likelihood(one_unit([25, 50, 75])), rel=1e-13)
    assert constant_log_likelihood(one_unit([25, 50, 75])) == pytest.approx([3 * (log(0.03) - 1)], rel=1e-13)


@st.composite
def histories(draw):
    """Some units with windows that begin late and have gaps, and repairs within them."""
    windows, repairs = [], []
    for unit in range(draw(st.integers(1, 4))):
        at = draw(st.sampled_from([0, 0, 3, 40]))
        for _ in range(draw(st.integers(1, 2))):
            end = at + draw(st.integers(2, 30))
            windows.append((unit, at, end))
            repairs += [(unit, at + x * (end - at)) for x in draw(st.lists(st.floats(0.05, 1.0), max_size=4))]
            at = end + draw(st.integers(0, 9))
    return windows, repairs


def made(history, factor=1.0):
    windows, repairs = history
    window_unit, start, end = np.array(windows, float).T
    unit, at = np.array(repairs, float).reshape(-1, 2).T
    return repair_history(at * factor, unit, window_unit, start * factor, end * factor)


def log_likelihood(model, history, rate, theta):
    """Straight from the definition, the exposure by numerical integration."""
    windows, repairs = history

    def intensity(t):
        return rate * (theta * t ** (theta - 1) if model == "power_law" else exp(theta * t))

    if model == "power_law":
        exposure = sum(rate * (b**theta - a**theta) for _, a, b in windows)
    else:
        exposure = sum(quad(intensity, a, b, epsabs=1e-12, epsrel=1e-12)[0] for _, a, b in windows)
    return sum(log(intensity(t)) for _, t in repairs) - exposure


@settings(max_examples=60, deadline=None)
@given(histories(), st.sampled_from(MODELS))
def test_no_neighbour_is_likelier_and_the_likelihood_is_that_of_the_definition(history, model):
    fits = fit_intensity(made(history), model)
    assume(fits.ok[0] and abs(fits.theta[0]) < 20)
    trend = trend_limits(fits)
    theta = float(trend.estimate[0])
    rate = float(intensity_at(fits, 1.0).estimate[0] / (theta if model == "power_law" else exp(theta)))
    best = log_likelihood(model, history, rate, theta)
    assert fits.log_likelihood[0] == pytest.approx(best, rel=1e-9, abs=1e-9)
    step = 1e-3 * float(trend.se[0] * (theta if model == "power_law" else 1))
    for r, t in ((rate * 1.001, theta), (rate / 1.001, theta), (rate, theta + step), (rate, theta - step)):
        assert log_likelihood(model, history, r, t) <= best + 1e-9 * (1 + abs(best))


@settings(max_examples=60, deadline=None)
@given(histories(), st.sampled_from(MODELS), st.sampled_from([0.001, 1.609344, 1000.0]))
def test_scaling_the_miles_scales_the_answers(history, model, factor):
    one, other = fit_intensity(made(history), model), fit_intensity(made(history, factor), model)
    assert one.status.tolist() == other.status.tolist()
    assume(one.ok[0] and abs(one.theta[0]) < 50)
    ours, theirs = trend_limits(one), trend_limits(other)
    unit = 1.0 if model == "power_law" else factor
    assert theirs.estimate * unit == pytest.approx(ours.estimate, rel=1e-7, abs=1e-9)
    between, further = miles_between(one, one.last_miles), miles_between(other, other.last_miles)
    assert further.estimate == pytest.approx(between.estimate * factor, rel=1e-7)
    assert further.upper == pytest.approx(between.upper * factor, rel=1e-6)


@settings(max_examples=40, deadline=None)
@given(histories(), st.randoms(use_true_random=False), st.sampled_from(MODELS))
def test_row_order_never_matters_and_windows_may_be_cut_in_two(history, random, model):
    windows, repairs = history
    cut = [(u, *half) for u, a, b in windows for half in ((a, (a + b) / 2), ((a + b) / 2, b))]
    shuffled = random.sample(cut, len(cut)), random.sample(repairs, len(repairs))
    one, other = fit_intensity(made(history), model), fit_intensity(made(shuffled), model)
    assert one.status.tolist() == other.status.tolist()
    assert other.theta == pytest.approx(one.theta, rel=1e-7, abs=1e-9, nan_ok=True)
    assert other.log_likelihood == pytest.approx(one.log_likelihood, rel=1e-9, nan_ok=True)


# Strata that cannot be fitted, and why. Repairs at the last mileage of all; repairs that only ever came first thing in
# windows which begin late; one repair; none; no window at all.
@pytest.mark.parametrize(
    ("model", "reasons"),
    [
        ("power_law", ["shape_rises_without_limit", "shape_falls_to_zero", "one_failure", "", ""]),
        ("log_linear", ["slope_rises_without_limit", "slope_falls_without_limit", "one_failure", "", ""]),
    ],
)
def test_what_cannot_be_fitted_says_why(model, reasons):
    at = [100, 100, 40.0001, 40.0001, 7]
    data = repair_history(
        at, [0, 0, 1, 1, 2], [0, 1, 2, 3], [0, 40, 0, 0], [100, 90, 10, 10],
        stratum=[0, 0, 1, 1, 2], group=[0, 1, 2, 3], stratum_group=np.arange(5),
    )  # fmt: skip
    fits = fit_intensity(data, model)
    status = ["did_not_converge", "did_not_converge", "thin", "no_failures", "too_few_at_risk"]
    assert fits.status.tolist() == status
    assert fits.reason.tolist() == reasons
    for limits in (trend_limits(fits), miles_between(fits, 50.0), expected_repairs(fits, 0.0, 50.0)):
        assert np.isnan([limits.estimate, limits.lower, limits.upper]).all()


def test_windows_too_short_for_their_mileage_tell_no_power_law_but_a_slope():
    data = one_unit([99994.9998, 99995], 99990, 100000)
    law, line = fit_intensity(data, "power_law"), fit_intensity(data, "log_linear")
    assert (law.status.tolist(), law.reason.tolist()) == (["did_not_converge"], ["no_information"])
    assert line.status.tolist() == ["ok"]


def test_coverage_of_wald_limits_on_simulated_shops():
    """600 shops of 40 units seen late, in one call: 95 % limits of the shape cover 93 to 97 %."""
    rng = np.random.default_rng(7)
    n_shops, n_units, beta, eta = 600, 40, 1.6, 40.0
    start = rng.uniform(0, 30, (n_shops, n_units))
    end = start + rng.uniform(5, 60, (n_shops, n_units))
    mean = (end / eta) ** beta - (start / eta) ** beta
    count = rng.poisson(mean)
    shop, unit = (np.repeat(code.ravel(), count.ravel()) for code in np.indices((n_shops, n_units)))
    low, high = start[shop, unit] ** beta, end[shop, unit] ** beta
    at = (low + rng.uniform(size=shop.size) * (high - low)) ** (1 / beta)
    data = repair_history(
        at, unit, np.tile(np.arange(n_units), n_shops), start.ravel(), end.ravel(),
        stratum=shop, group=np.repeat(np.arange(n_shops), n_units),
    )  # fmt: skip
    fits = fit_intensity(data, "power_law")
    assert set(fits.status) == {"ok"}
    limits, expected = trend_limits(fits), expected_repairs(fits, 0.0, 60.0)
    truth = (60.0 / eta) ** beta
    assert 0.93 < np.mean((limits.lower < beta) & (beta < limits.upper)) < 0.97
    assert 0.93 < np.mean((expected.lower < truth) & (truth < expected.upper)) < 0.97


@pytest.mark.parametrize("theta", [-40.0, -0.8, -0.29, 0.0, 1e-7, 0.29, 0.31, 3.0, 200.0])
def test_weighed_windows_against_numerical_integration(theta):
    far, width = 0.7, 1.3
    heavy = far if theta > 0 else far - width  # weights relative to the heavy end, so that none is tiny
    edges = np.linspace(far - width, far, 41)

    def moment(power):
        def f(x):
            return (x - heavy) ** power * exp(theta * (x - heavy))

        return sum(quad(f, a, b, epsabs=0, epsrel=1e-12)[0] for a, b in pairwise(edges))

    total, first, second = (moment(k) for k in (0, 1, 2))
    found = tilted(np.array([theta]), np.array([far]), np.array([width]))
    assert found.log_total[0] == pytest.approx(log(total) + theta * heavy, rel=1e-11, abs=1e-11)
    assert found.mean[0] == pytest.approx(heavy + first / total, rel=1e-11)
    assert found.variance[0] == pytest.approx(second / total - (first / total) ** 2, rel=1e-9)
