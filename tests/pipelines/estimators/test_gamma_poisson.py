from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.stats import gamma, nbinom, poisson

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.gamma_poisson import chance_of_as_many, fit_gamma_priors, gamma_posteriors
from longmile.pipelines.estimators.negative_binomial import best_mean, counts, log_likelihood, spread_slope
from longmile.pipelines.estimators.rates import poisson_rates

FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ANSWERS = json.loads(FILE.read_text(encoding="utf-8"))
GOAL = 1e-5  # agreed goal for alpha and beta
quick = settings(deadline=None, max_examples=30)
PUMPS, FAMILIES = ANSWERS["pump_rates"], ANSWERS["families"]
SETS = {
    "pumps": (PUMPS["count"], PUMPS["exposure"], PUMPS),
    "families": (FAMILIES["observed"], FAMILIES["expected"], FAMILIES["empirical_bayes"]),
}


@pytest.mark.parametrize("name", SETS)
def test_published_priors_and_posteriors(name):
    count, exposure, answer = SETS[name]
    data = counts(count, exposure)
    priors = fit_gamma_priors(data)
    assert priors.status.tolist() == ["ok"]
    assert priors.log_likelihood[0] == pytest.approx(answer["loglik"], rel=1e-9)
    for ours, theirs in ((priors.alpha, "alpha"), (priors.beta, "beta"), (priors.mean, "prior_mean")):
        assert ours[0] == pytest.approx(answer[theirs], rel=GOAL), theirs
    made = gamma_posteriors(data, priors)
    for ours, theirs in (
        (made.mean, "posterior_mean"),
        (made.lower, "posterior_lo95"),
        (made.upper, "posterior_hi95"),
        (made.chance_above, "prob_rate_gt_2x_prior_mean"),
    ):
        assert ours == pytest.approx(answer[theirs], rel=GOAL), theirs


def test_published_chances_of_as_many():
    found = chance_of_as_many(FAMILIES["observed"], FAMILIES["expected"])
    assert found == pytest.approx(FAMILIES["exact_upper_tail_p"], rel=1e-10)
    assert chance_of_as_many([0, 3], [2.0, 0.0]).tolist() == [1.0, 0.0]


def test_all_groups_at_once_equal_one_by_one():
    sizes = [len(SETS[name][0]) for name in SETS]
    data = counts(
        np.concatenate([SETS[name][0] for name in SETS]),
        np.concatenate([SETS[name][1] for name in SETS]),
        np.repeat([2, 0], sizes),
        3,
    )
    priors = fit_gamma_priors(data)
    assert priors.status.tolist() == ["ok", "too_few_at_risk", "ok"]
    assert priors.alpha[[2, 0]] == pytest.approx([SETS[name][2]["alpha"] for name in SETS], rel=GOAL)
    assert np.isnan(priors.alpha[1])


def test_the_likelihood_is_the_negative_binomial_one_and_its_limit_the_poisson_one():
    count, exposure = np.array([0, 2, 7, 40]), np.array([0.5, 3.0, 2.0, 30.0])
    data = counts(count, exposure)
    for alpha in (0.3, 5.0, 99.0, 101.0, 3e4):
        expected = nbinom.logpmf(count, alpha, alpha / (alpha + 1.4 * exposure)).sum()
        assert log_likelihood(data, np.log([1.4]), np.log([alpha]))[0] == pytest.approx(expected, rel=1e-9)
    expected = poisson.logpmf(count, 1.4 * exposure).sum()
    assert log_likelihood(data, np.log([1.4]), np.array([np.inf]))[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("psi", [-2.0, 1.0, 4.0, 8.0])
def test_slopes_are_those_of_the_likelihood(psi):
    data = counts([0, 2, 7, 40, 1], [0.5, 3.0, 2.0, 30.0, 0.0 + 2.0])
    at, h = np.array([psi]), 1e-4
    mean, bend = best_mean(data, at, data.log_pooled())
    here = log_likelihood(data, mean, at)
    beside = [log_likelihood(data, mean + side * h, at) for side in (-1, 1)]
    assert beside[0] < here > beside[1]
    assert (beside[0] - 2 * here + beside[1]) / h**2 == pytest.approx(bend, rel=1e-3)
    slope = (log_likelihood(data, mean, at + h) - log_likelihood(data, mean, at - h)) / (2 * h)
    assert spread_slope(data, mean, at) == pytest.approx(slope, rel=1e-5, abs=1e-7)


def test_the_prior_is_the_top_of_the_likelihood_by_another_search():
    rng = np.random.default_rng(11)
    exposure = rng.gamma(1.0, 6.0, (20, 15))
    count = rng.poisson(exposure * rng.gamma(2.0, 0.5, exposure.shape))
    data = counts(count.ravel(), exposure.ravel(), np.repeat(np.arange(20), 15), 20)
    priors = fit_gamma_priors(data)
    for g in range(20):
        one = counts(count[g], exposure[g])

        def fall(p, one=one):
            return -log_likelihood(one, p[:1], p[1:])[0]

        best = min((minimize(fall, [0.0, s], method="Nelder-Mead") for s in (0.0, 2.0, 8.0)), key=lambda m: m.fun)
        assert priors.log_likelihood[g] == pytest.approx(-best.fun, abs=1e-6)


# Counts 3, 3, 3 over equal exposures vary less than chance makes them: pooled, 9 over 6, limits of 9 failures.
def test_no_extra_variation_is_said_and_pooled():
    data = counts([3, 3, 3], [2.0, 2.0, 2.0])
    priors = fit_gamma_priors(data)
    assert priors.status.tolist() == ["no_extra_variation"]
    assert priors.pooled.tolist() == [True]
    made = gamma_posteriors(data, priors)
    whole = poisson_rates(9, 6.0)
    assert made.mean == pytest.approx([1.5] * 3)
    assert made.lower == pytest.approx([whole.lower] * 3)
    assert made.upper == pytest.approx([whole.upper] * 3)
    assert made.weight_on_own.tolist() == [0.0] * 3
    assert priors.log_likelihood[0] == pytest.approx(3 * poisson.logpmf(3, 3.0), rel=1e-12)


def test_what_says_nothing_is_a_status():
    """Groups: 0 nothing failed; 1 one member; 2 nobody; 3 members without exposure."""
    data = counts([0, 0, 4, 0], [2.0, 3.0, 2.0, 0.0], [0, 0, 1, 3], 4)
    priors = fit_gamma_priors(data)
    assert priors.status.tolist() == ["no_failures", "no_extra_variation", "too_few_at_risk", "too_few_at_risk"]
    made = gamma_posteriors(data, priors)
    assert made.mean[:3].tolist() == [0.0, 0.0, 2.0]
    assert made.upper[0] == pytest.approx(-np.log(0.025) / 5, rel=1e-12)
    assert np.isnan(made.mean[3])


def test_a_member_never_watched_gets_the_prior():
    data = counts([*PUMPS["count"], 0], [*PUMPS["exposure"], 0.0])
    priors = fit_gamma_priors(data)
    made = gamma_posteriors(data, priors)
    assert priors.alpha[0] == pytest.approx(PUMPS["alpha"], rel=GOAL)
    assert made.mean[-1] == pytest.approx(PUMPS["prior_mean"], rel=GOAL)
    assert made.upper[-1] == pytest.approx(gamma.ppf(0.975, PUMPS["alpha"], scale=1 / PUMPS["beta"]), rel=GOAL)


@quick
@given(seed=st.integers(0, 10_000), factor=st.floats(1e-3, 1e3))
def test_order_does_not_matter_and_rates_scale_with_exposure(seed, factor):
    rng = np.random.default_rng(seed)
    exposure = rng.gamma(1.0, 5.0, 12)
    count = rng.poisson(exposure * rng.gamma(1.5, 1.0, 12))
    group, order = rng.integers(0, 2, 12), rng.permutation(12)
    first, other = counts(count, exposure, group, 2), counts(count[order], factor * exposure[order], group[order], 2)
    ours, theirs = fit_gamma_priors(first), fit_gamma_priors(other)
    assert ours.status.tolist() == theirs.status.tolist()
    assert theirs.mean * factor == pytest.approx(ours.mean, rel=1e-6, nan_ok=True)
    made, again = gamma_posteriors(first, ours), gamma_posteriors(other, theirs)
    assert again.upper * factor == pytest.approx(made.upper[order], rel=1e-5, nan_ok=True)


@pytest.mark.parametrize(
    "asked", [([1], [0.0]), ([-1], [1.0]), ([1, 2], [1.0]), ([np.nan], [1.0]), ([1], [1.0], [1]), ([1], [np.inf])]
)
def test_counts_that_cannot_be_are_refused(asked):
    with pytest.raises(LivesError):
        counts(*asked)


def test_limits_that_cannot_be_are_refused():
    data = counts([1], [1.0])
    for confidence, threshold in ((1.0, 2.0), (0.95, 0.0)):
        with pytest.raises(LivesError):
            gamma_posteriors(data, fit_gamma_priors(data), confidence, threshold)
    with pytest.raises(LivesError):
        chance_of_as_many(-1, 1.0)
