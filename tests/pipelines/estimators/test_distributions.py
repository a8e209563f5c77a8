"""Weibull, lognormal and log-logistic fits against published data and independent programs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from longmile.pipelines.estimators.distributions import DISTRIBUTIONS, LOGLOGISTIC, LOGNORMAL, WEIBULL, Distribution
from longmile.pipelines.estimators.lives import Lives, lives, shared_exposure
from longmile.pipelines.estimators.location_scale import fit_distribution
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import (
    Limits,
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    survival_to,
    wald_limits,
)

ANSWERS = json.loads((Path(__file__).parents[2] / "reference" / "distributions.json").read_text(encoding="utf-8"))
BY_NAME = {d.name: d for d in DISTRIBUTIONS}
CASES = [(name, model) for name, found in ANSWERS["datasets"].items() for model in found["fits"]]


@pytest.fixture(scope="module")
def load(life_data: Any) -> Any:
    """Name of a case, a family or a mode after the file's name -> its lives."""

    def of(case: str) -> Lives:
        file, _, part = case.partition(" ")
        if part.startswith("mode"):
            return life_data(file, lambda row: row["mode"] == part[-1])
        # Four residents leave on the day they enter: no time watched.
        return life_data(
            file,
            only=lambda row: row.get("family", part) == part and float(row["entry"]) < float(row["exit"]),
        )

    return of


def _close(found: float, expected: float, relative: float) -> None:
    assert found == pytest.approx(expected, rel=relative)


def _ends(limits: Limits, low: float, high: float) -> None:
    _close(limits.lower[0], low, 1e-6)
    _close(limits.upper[0], high, 1e-6)


# Answers: see `source` in tests/reference/distributions.json; tolerances 1e-9 (likelihood) and 1e-6, as stated there.
@pytest.mark.parametrize(("case", "model"), CASES)
def test_fit_reaches_the_published_answer(load, case, model):
    expected = ANSWERS["datasets"][case]["fits"][model]
    fits = fit_distribution(BY_NAME[model], load(case))
    assert fits.status[0] == "ok"
    assert fits.slope[0] < 1e-8
    _close(fits.log_likelihood[0], expected["loglik"], 1e-9)
    _close(fits.aic[0], expected["aic"], 1e-9)
    _close(np.log(fits.scale[0]), expected["mu_log"], 1e-6)
    _close(1 / fits.shape[0], expected["sigma"], 1e-6)
    _close(fits.se_log_scale[0], expected["se_mu"], 1e-6)
    _close(fits.se_log_shape[0], expected["se_log_sigma"], 1e-6)
    # log sigma is minus log shape; near 0 the covariance is held against the two errors, not against itself.
    size = expected["se_mu"] * expected["se_log_sigma"]
    assert -fits.cov_log[0] == pytest.approx(expected["cov_mu_logsigma"][0][1], rel=1e-6, abs=1e-6 * size)


@pytest.mark.parametrize(("case", "model"), CASES)
def test_lives_and_chances_with_their_limits_reach_the_published_answer(load, case, model):
    expected = ANSWERS["datasets"][case]["fits"][model]
    fits = fit_distribution(BY_NAME[model], load(case))
    asked = {"mean_life": mean_life(), "B1": life_by(0.01), "B10": life_by(0.1), "B50": life_by(0.5)}
    for name, quantity in asked.items():
        wald = wald_limits(fits, quantity)
        _close(wald.estimate[0], expected[name]["est"], 1e-6)
        _ends(wald, expected[name]["lo"], expected[name]["hi"])
        if "profile_lo" in expected[name]:
            _ends(profile_limits(fits, quantity), expected[name]["profile_lo"], expected[name]["profile_hi"])
    for row in expected.get("survival", []):
        wald = wald_limits(fits, survival_to(row["t"]))
        _close(wald.estimate[0], row["S"], 1e-6)
        _ends(wald, row["lo"], row["hi"])
    for row in expected.get("conditional", []):
        _close(wald_limits(fits, survival_further(row["t"], row["w"])).estimate[0], row["P_survive"], 1e-6)


# What comes out where late entry is forgotten, and must not come out here (the same independent likelihood, every entry
# put at 0): residents shape 14.61 for 8.83; pads scale 45,632 and 35,746 for 41,288 and 32,785.
@pytest.mark.parametrize(
    ("case", "shape_forgotten", "scale_forgotten"),
    [
        ("left_truncated_residents", 14.606966939532, 1092.18574037028),
        ("sim_pads Alder-20", 2.79072198757377, 45631.5245805921),
        ("sim_pads Birch-16", 2.65872156582693, 35745.6705822917),
    ],
)
def test_forgetting_late_entry_would_give_another_answer(load, case, shape_forgotten, scale_forgotten):
    data = load(case)
    right = fit_distribution(WEIBULL, data)
    forgotten = fit_distribution(WEIBULL, lives(np.zeros(data.entry.size), data.exit_, data.event))
    assert (forgotten.shape[0], forgotten.scale[0]) == pytest.approx((shape_forgotten, scale_forgotten), rel=1e-6)
    assert right.shape[0] < shape_forgotten / 1.05
    assert right.scale[0] < scale_forgotten / 1.04


SCIPY = {
    "weibull": lambda k, s: stats.weibull_min(k, scale=s),
    "lognormal": lambda k, s: stats.lognorm(1 / k, scale=s),
    "loglogistic": lambda k, s: stats.fisk(k, scale=s),
}


# SciPy's own distributions, whichever version is installed.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
@pytest.mark.parametrize("k", [1.3, 4.0])
def test_formulas_agree_with_scipy(distribution: Distribution, k: float):
    other = SCIPY[distribution.name](k, 50.0)
    t = np.array([0.5, 20.0, 50.0, 90.0, 400.0])
    z = k * np.log(t / 50)
    np.testing.assert_allclose(distribution.hazard(z).value, -other.logsf(t), rtol=1e-10)
    rate = distribution.log_rate(z).value + np.log(k / t)
    np.testing.assert_allclose(rate, other.logpdf(t) - other.logsf(t), rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(distribution.z_by(0.1), k * np.log(other.ppf(0.1) / 50), rtol=1e-10)
    height = distribution.mean_height(np.array([np.log(k)])).value[0]
    assert 50 * np.exp(height / k) == pytest.approx(other.mean(), rel=1e-8)
    np.testing.assert_allclose(distribution.z_of_hazard(distribution.hazard(z).value), z, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_slopes_and_bends_are_those_of_the_values(distribution: Distribution):
    z, step = np.array([-6.0, -1.5, 0.0, 1.0, 3.0]), 1e-5
    for function in (distribution.hazard, distribution.log_rate):
        low, here, high = function(z - step), function(z), function(z + step)
        np.testing.assert_allclose((high.value - low.value) / (2 * step), here.slope, rtol=1e-6, atol=1e-9)
        np.testing.assert_allclose((high.slope - low.slope) / (2 * step), here.bend, rtol=1e-6, atol=1e-9)


# The mean of a log-logistic is the integral of its survival; at a shape of 1 or less there is none.
def test_a_loglogistic_of_shape_1_or_less_has_no_mean():
    heights = LOGLOGISTIC.mean_height(np.log([0.9, 1.0, 2.5])).value
    assert np.isinf(heights[:2]).all()
    area = integrate.quad(lambda t: 1 / (1 + t**2.5), 0, np.inf)[0]
    assert np.exp(heights[2] / 2.5) == pytest.approx(area, rel=1e-8)


# Shape 1.05 on 6 failures: the data do not refuse a mean without bound, so there is no upper limit.
def test_a_mean_without_upper_limit_is_said_to_have_none(life_data):
    found = profile_limits(fit_distribution(LOGLOGISTIC, life_data("nist_km20")), mean_life())
    assert np.isinf(found.upper[0])
    assert 0 < found.lower[0] < found.estimate[0]


def _random_lives(seed: int, n: int = 60) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(seed)
    entry = np.where(rng.random(n) < 0.5, 0.0, rng.uniform(0, 40, n))
    exit_ = entry + rng.weibull(1.5, n) * 60 + 0.1
    return {"entry": entry, "exit_": exit_, "event": rng.random(n) < 0.6, "stratum": rng.integers(0, 2, n)}


@pytest.mark.parametrize("distribution", [LOGNORMAL, LOGLOGISTIC], ids=lambda d: d.name)
@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_order_unit_and_repetition_do_not_matter(distribution: Distribution, seed: int):
    columns = _random_lives(seed)
    rng = np.random.default_rng(seed + 1)
    weight = rng.integers(1, 4, 60)
    plain = fit_distribution(distribution, lives(**columns, weight=weight, n_strata=2))
    order = rng.permutation(60)
    mixed = {name: values[order] for name, values in columns.items()}
    shuffled = fit_distribution(distribution, lives(**mixed, weight=weight[order], n_strata=2))
    longer = columns | {"entry": columns["entry"] * 1000, "exit_": columns["exit_"] * 1000}
    scaled = fit_distribution(distribution, lives(**longer, weight=weight, n_strata=2))
    repeated = {name: np.repeat(values, weight) for name, values in columns.items()}
    written_out = fit_distribution(distribution, lives(**repeated, n_strata=2))
    for other, factor in ((shuffled, 1), (scaled, 1000), (written_out, 1)):
        np.testing.assert_allclose(other.scale, plain.scale * factor, rtol=1e-7)
        np.testing.assert_allclose(other.shape, plain.shape, rtol=1e-7)
        np.testing.assert_allclose(other.se_log_scale, plain.se_log_scale, rtol=1e-6)


# An interval a millionth wide holds the density times its width: the fit is that of exact failures.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_an_interval_of_no_width_is_an_exact_failure(distribution: Distribution):
    columns = _random_lives(3)
    exact = fit_distribution(distribution, lives(**columns, n_strata=2))
    left = np.where(columns["event"], columns["exit_"] * (1 - 1e-6), np.nan)
    narrow = fit_distribution(distribution, lives(**columns, left=left, n_strata=2))
    np.testing.assert_allclose(narrow.scale, exact.scale, rtol=1e-4)
    np.testing.assert_allclose(narrow.shape, exact.shape, rtol=1e-4)


@pytest.mark.parametrize("distribution", [LOGNORMAL, LOGLOGISTIC], ids=lambda d: d.name)
def test_shared_windows_equal_lives_written_out(distribution: Distribution):
    columns = _random_lives(5)
    del columns["stratum"]
    entry, exit_ = np.array([0.0, 10.0, 30.0]), np.array([50.0, 60.0, 90.0])
    shared = shared_exposure([0, 0, 0], entry, exit_, [0], [2], weight=[1, 2, 1])
    copies = np.repeat(np.arange(3), [2, 4, 2])
    written = {
        "entry": np.append(columns["entry"], entry[copies]),
        "exit_": np.append(columns["exit_"], exit_[copies]),
        "event": np.append(columns["event"], np.zeros(8, bool)),
    }
    a = fit_distribution(distribution, lives(**columns), shared)
    b = fit_distribution(distribution, lives(**written))
    _close(a.log_likelihood[0], b.log_likelihood[0], 1e-12)
    _close(a.scale[0], b.scale[0], 1e-9)
    _close(a.se_log_shape[0], b.se_log_shape[0], 1e-7)


# The Weibull has a likelihood of its own, with sums; the general one must climb to the same place.
def test_the_general_likelihood_agrees_with_the_weibull_one():
    from longmile.pipelines.estimators.general_likelihood import general_likelihood
    from longmile.pipelines.estimators.weibull_likelihood import weibull_likelihood

    columns = _random_lives(9)
    left = np.where(columns["event"] & (np.arange(60) % 3 == 0), columns["entry"] + 0.05, np.nan)
    data = lives(**columns, left=left, n_strata=2)
    rows = np.array([0, 1, 0])
    at = (rows, np.array([-1.0, 0.3, 0.0]), np.array([0.2, 0.5, -0.4]))
    one, two = weibull_likelihood(data).evaluate(*at), general_likelihood(WEIBULL, data).evaluate(*at)
    for a, b in zip(one, two, strict=True):
        np.testing.assert_allclose(a, b, rtol=1e-9, atol=1e-9)


# Two lives, both failed at 10: any steeper curve fits better.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_a_likelihood_without_a_maximum_is_named(distribution: Distribution):
    fits = fit_distribution(distribution, lives([0, 0, 0], [10, 10, 3], [1, 1, 0]))
    assert fits.status[0] == "did_not_converge"
    assert fits.reason[0] == "shape_rises_without_limit"
    for quantity in (mean_life(), shape(), scale(), life_by(0.1), survival_further(5, 5)):
        assert np.isnan(profile_limits(fits, quantity).estimate).all()


# At each end of the limits the best likelihood with the chance held is 1.92 lower: looked for here on a fine grid.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_limits_of_the_chance_to_run_further_lie_where_the_likelihood_has_fallen(distribution, life_data):
    data = life_data("nist_weibull20")
    fits = fit_distribution(distribution, data)
    found = profile_limits(fits, survival_further(300.0, 200.0))
    for end in (found.lower[0], found.upper[0]):
        near = np.linspace(-9.0, 3.0, 60_001)  # z at 300
        target = -np.log(end) + distribution.hazard(near).value
        far = distribution.z_of_hazard(target)
        k = (far - near) / np.log(500 / 300)
        c = near - k * (np.log(300) - fits.likelihood.log_ref[0])
        good = k > 1e-3
        loglik = fits.likelihood.evaluate(np.zeros(good.sum(), int), c[good], np.log(k[good])).loglik
        assert 2 * (fits.log_likelihood[0] - loglik.max()) == pytest.approx(3.841458820694124, abs=1e-4)
