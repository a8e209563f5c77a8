"""Weibull regressions against published fits, a second likelihood, and what must hold of any of them.

As a peer, lifelines 0.30.3 (WeibullAFTFitter with entry_col, robust=True) was compared by hand. With one covariate its
coefficients agree to 2e-5 (sim_pads, residents, litters; it stops at a looser gradient: on the litters its intercept is
5.158856, R's 5.158849), its log-likelihoods to 1e-9. It has no clusters: its robust errors are ours with every life a
cluster of its own (litters, coefficient: 0.08360; by litter, and in R, 0.07584).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Lives, lives
from longmile.pipelines.estimators.regression_limits import wald_limits
from longmile.pipelines.estimators.weibull import fit_weibull
from longmile.pipelines.estimators.weibull_regression import WeibullRegressions, weibull_regression

EXPECTED = json.loads((Path(__file__).parents[2] / "reference" / "regressions.json").read_text(encoding="utf-8"))
SAME = ("coefficient", "intercept", "sigma", "covariance", "clustered", "log_likelihood")


def columns_of(name: str, only: Any = None) -> dict[str, np.ndarray]:
    path = Path(__file__).parents[2] / "reference" / f"{name}.csv"
    table = np.genfromtxt(path, delimiter=",", names=True, dtype=None, encoding="utf-8")
    kept = table[table["entry"] < table["exit"]]
    return (
        {key: kept[key] for key in table.dtype.names}
        if only is None
        else {k: kept[k][only(kept)] for k in kept.dtype.names}
    )


def lives_of(table: dict[str, np.ndarray], cluster: str | None = None) -> Lives:
    return lives(
        table["entry"], table["exit"], table["event"] == 1, cluster=None if cluster is None else table[cluster]
    )


def litters(who: str) -> dict[str, np.ndarray]:
    return columns_of("clustered_litters", None if who == "all" else lambda t: t["sex"] == "f")


@pytest.mark.parametrize("who", ["all", "females"])
def test_regression_and_clustered_errors_of_the_litters(who: str):
    table, expected = litters(who), EXPECTED["clustered_litters"][who]["weibull_aft_cluster"]
    fits = weibull_regression(lives_of(table, "cluster"), table["treated"])
    assert fits.ok[0] and fits.slope[0] < 1e-8
    found = [fits.intercept[0], fits.coefficient[0, 0], np.log(fits.sigma[0])]
    coef = expected["coef"]
    assert found == pytest.approx([coef["(Intercept)"], coef["treated"], expected["log_scale"]], rel=1e-6)
    assert fits.log_likelihood[0] == pytest.approx(expected["loglik"], rel=1e-9)
    assert np.sqrt(np.diag(fits.covariance[0])) == pytest.approx(expected["naive_se"], rel=1e-6)
    assert np.sqrt(np.diag(fits.clustered[0])) == pytest.approx(expected["robust_se"], rel=1e-6)


@pytest.mark.parametrize("who", ["all", "females"])
def test_without_covariates_it_is_the_weibull_fit_with_clustered_errors(who: str):
    data, expected = lives_of(litters(who), "cluster"), EXPECTED["clustered_litters"][who]["weibull_only_cluster"]
    fits = weibull_regression(data, np.zeros((data.entry.size, 0)))
    assert 1 / fits.sigma[0] == pytest.approx(expected["shape"], rel=1e-6)
    assert np.exp(fits.intercept[0]) == pytest.approx(expected["scale"], rel=1e-6)
    assert np.sqrt(np.diag(fits.covariance[0])) == pytest.approx(expected["naive_se_mu_logsigma"], rel=1e-6)
    assert np.sqrt(np.diag(fits.clustered[0])) == pytest.approx(expected["robust_se_mu_logsigma"], rel=1e-6)


def plain_log_likelihood(at: np.ndarray, x: np.ndarray, data: Lives) -> float:
    """Written from the definition, life by life: nothing of it is shared with the estimator."""
    mu, sigma = at[0] + x @ at[1:-1], np.exp(at[-1])

    def hazard(t: np.ndarray) -> np.ndarray:
        return np.where(t > 0, np.exp((np.log(np.where(t > 0, t, 1.0)) - mu) / sigma), 0.0)

    within = ~np.isnan(data.left)
    exact = (np.log(data.exit_) - mu) / sigma - np.log(sigma) - np.log(data.exit_) - hazard(data.exit_)
    between = np.exp(-hazard(np.where(within, data.left, 0.0))) - np.exp(-hazard(data.exit_))
    of_failures = np.where(within, np.log(np.where(within, between, 1.0)), exact)
    each = np.where(data.event, of_failures, -hazard(data.exit_)) + hazard(data.entry)
    return float((data.weight * each).sum())


def searched(x: np.ndarray, data: Lives, at: np.ndarray) -> tuple[np.ndarray, float]:
    """Maximum found with scipy: without slopes first, then refined."""

    def loss(at: np.ndarray) -> float:
        return -plain_log_likelihood(at, x, data)

    near = minimize(loss, at, method="Nelder-Mead", options={"maxiter": 4000, "xatol": 1e-7, "fatol": 1e-9})
    found = minimize(loss, near.x, method="BFGS", options={"gtol": 1e-6})
    return found.x, -found.fun


@pytest.mark.parametrize(
    ("name", "indicator"),
    [("sim_pads", lambda t: t["family"] == "Birch-16"), ("left_truncated_residents", lambda t: t["sex"] == 2)],
)
def test_late_entry_agrees_with_a_plain_likelihood(name: str, indicator: Any):
    table = columns_of(name)
    data, x = lives_of(table), indicator(table).astype(float)
    fits = weibull_regression(data, x)
    at, height = searched(x[:, None], data, np.array([np.log(np.median(data.exit_)), 0.0, 0.0]))
    assert fits.log_likelihood[0] == pytest.approx(height, rel=1e-9)
    assert fits.log_likelihood[0] >= height - 1e-9 * abs(height)
    # A search without exact slopes settles the place of the maximum to about the root of its precision.
    assert [fits.intercept[0], fits.coefficient[0, 0], np.log(fits.sigma[0])] == pytest.approx(at, abs=2e-5)


def mixed(seed: int, n_strata: int = 4, n: int = 500) -> tuple[Lives, np.ndarray]:
    """Exact, right-, left- and interval-censored lives with late entry, weights and clusters; three covariates."""
    draw = np.random.default_rng(seed)
    stratum = draw.integers(0, n_strata, n)
    x = np.stack([draw.normal(2000, 5, n), draw.integers(0, 2, n), draw.integers(0, 2, n)], axis=1).astype(float)
    life = np.exp(11 + 0.02 * (x[:, 0] - 2000) - 0.5 * x[:, 1] + 0.3 * x[:, 2] + 0.5 * np.log(draw.exponential(size=n)))
    entry = draw.uniform(0, 40_000, n) * (draw.random(n) < 0.7)
    stop = entry + draw.uniform(1_000, 90_000, n)
    seen = life > entry
    event, exit_ = (life <= stop)[seen], np.minimum(life, stop)[seen]
    entry, stratum, x = entry[seen], stratum[seen], x[seen]
    kind = draw.random(entry.size)
    left = np.where(event & (kind < 0.3), np.maximum(entry, exit_ - 5_000), np.nan)
    left = np.where(event & (kind > 0.95), entry, left)
    weight, cluster = draw.integers(1, 3, entry.size), draw.integers(0, 60, entry.size)
    return lives(entry, exit_, event, stratum, weight, left, n_strata, cluster), x


def test_every_kind_of_life_agrees_with_a_plain_likelihood():
    data, x = mixed(3, n_strata=1, n=400)
    fits = weibull_regression(data, x)
    centred = x - [2000, 0, 0]
    at, height = searched(centred, data, np.array([11.0, 0.0, 0.0, 0.0, -0.5]))
    assert fits.log_likelihood[0] == pytest.approx(height, rel=1e-9)
    assert fits.coefficient[0] == pytest.approx(at[1:-1], abs=2e-5)
    assert fits.intercept[0] + 2000 * fits.coefficient[0, 0] == pytest.approx(at[0], abs=2e-4)


def test_strata_together_equal_each_alone_with_its_own_columns():
    data, x = mixed(5)
    active = np.array([[1, 1, 1], [1, 0, 1], [0, 0, 0], [0, 1, 1]], bool)
    together = weibull_regression(data, x, active)
    assert together.ok.all()
    assert (np.isnan(together.coefficient) == ~active).all()
    for stratum in range(4):
        own = data.stratum == stratum
        keys = ("entry", "exit_", "event", "weight", "left", "cluster")
        alone_data = lives(**{key: getattr(data, key)[own] for key in keys})
        alone = weibull_regression(alone_data, x[own][:, active[stratum]])
        kept = np.flatnonzero(np.r_[True, active[stratum], True])
        assert together.coefficient[stratum][active[stratum]] == pytest.approx(alone.coefficient[0], rel=1e-8)
        for name in ("covariance", "clustered"):
            both = getattr(together, name)[stratum][np.ix_(kept, kept)]
            assert both == pytest.approx(getattr(alone, name)[0], rel=1e-8, abs=1e-14)
    assert together.log_likelihood_without == pytest.approx(fit_weibull(data).log_likelihood, rel=1e-12)


def reordered(data: Lives, order: np.ndarray, **changed: Any) -> Lives:
    keys = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
    return lives(**({key: getattr(data, key)[order] for key in keys} | changed), n_strata=data.n_strata)


def assert_same(one: WeibullRegressions, other: WeibullRegressions, names: tuple[str, ...] = SAME) -> None:
    assert one.status.tolist() == other.status.tolist()
    for name in names:
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=1e-6, atol=1e-12, err_msg=name)


quick = settings(max_examples=15, deadline=None)


@quick
@given(st.integers(0, 10_000))
def test_row_order_never_matters(seed: int):
    data, x = mixed(seed, n_strata=2, n=240)
    order = np.random.default_rng(seed).permutation(data.entry.size)
    assert_same(weibull_regression(data, x), weibull_regression(reordered(data, order), x[order]))


@quick
@given(st.integers(0, 10_000))
def test_weights_are_repetitions_within_their_cluster(seed: int):
    data, x = mixed(seed, n_strata=2, n=240)
    again = np.repeat(np.arange(data.entry.size), data.weight.astype(int))
    assert_same(
        weibull_regression(data, x), weibull_regression(reordered(data, again, weight=np.ones(again.size)), x[again])
    )


@quick
@given(st.integers(0, 10_000), st.sampled_from([0.001, 1.609344, 1000.0]))
def test_scaling_the_miles_moves_the_intercept_alone(seed: int, factor: float):
    data, x = mixed(seed, n_strata=2, n=240)
    every = np.arange(data.entry.size)
    changed = {key: getattr(data, key) * factor for key in ("entry", "exit_", "left")}
    one, other = weibull_regression(data, x), weibull_regression(reordered(data, every, **changed), x)
    assert_same(one, other, ("coefficient", "sigma"))
    assert other.intercept == pytest.approx(one.intercept + np.log(factor), rel=1e-6)


@quick
@given(st.integers(0, 10_000), st.floats(-50, 50), st.sampled_from([1e-3, 0.2, 30.0]))
def test_scaling_a_covariate_scales_its_coefficient_and_moving_it_changes_none(seed: int, move: float, factor: float):
    data, x = mixed(seed, n_strata=2, n=240)
    one, other = weibull_regression(data, x), weibull_regression(data, (x + move) * factor)
    assert other.coefficient * factor == pytest.approx(one.coefficient, rel=1e-6)
    assert other.se_clustered * factor == pytest.approx(one.se_clustered, rel=1e-6)


def groups(failed: list[int], n: int = 60) -> tuple[Lives, np.ndarray]:
    """Lives of three groups with two indicator columns; of the groups not in `failed` nothing failed."""
    draw = np.random.default_rng(1)
    group = np.arange(n) % 3
    event = (draw.random(n) < 0.6) & np.isin(group, failed)
    return lives(np.zeros(n), draw.weibull(2, n) * 100, event), np.stack([group == 1, group == 2], axis=1) * 1.0


def test_a_level_of_which_nothing_failed_has_no_coefficient_and_says_which():
    fits = weibull_regression(*groups([0, 1]))
    assert (fits.status[0], fits.reason[0], fits.column[0]) == ("did_not_converge", "coefficient_without_limit", 1)
    assert np.isnan(fits.coefficient).all() and np.isnan(fits.se).all()


@pytest.mark.parametrize("extra", ["sum", "constant"])
def test_a_column_that_others_make_up_is_named(extra: str):
    data, x = groups([0, 1, 2])
    third = x.sum(axis=1) if extra == "sum" else np.full(60, 7.0)
    fits = weibull_regression(data, np.column_stack([x, third]))
    assert (fits.status[0], fits.reason[0], fits.column[0]) == ("did_not_converge", "collinear_column", 2)


def test_statuses_of_lives_that_cannot_bear_a_regression():
    # Stratum 0: nothing failed. 1: one failure. 2: both groups fail each at one mileage. 3: no lives at all.
    exit_, event, stratum = [5, 6, 5, 6, 50, 50, 60, 60], [0, 0, 1, 0, 1, 1, 1, 1], [0, 0, 1, 1, 2, 2, 2, 2]
    fits = weibull_regression(lives(np.zeros(8), exit_, event, stratum, n_strata=4), [0, 1, 0, 1, 0, 0, 1, 1])
    assert fits.status.tolist() == ["no_failures", "thin", "did_not_converge", "too_few_at_risk"]
    assert fits.reason.tolist() == ["", "one_failure", "shape_rises_without_limit", ""]


def test_one_failed_cluster_gives_no_clustered_errors():
    fits = weibull_regression(lives(np.zeros(4), [5, 6, 7, 8], [1, 1, 1, 0], cluster=[3, 3, 3, 4]), [0, 1, 0, 1])
    assert fits.ok[0] and fits.clusters_failed[0] == 1
    assert np.isnan(fits.clustered).all() and not np.isnan(fits.covariance).any()


# 0.3 +- 1.959964 x 0.1 = (0.104004, 0.495996); z = 3, two-sided p = 0.0026998. The wider of errors 0.1 and 0.2 is 0.2.
def test_limits_by_hand():
    class Hand:
        coefficient, se, se_clustered = np.array([[0.3]]), np.array([[0.1]]), np.array([[0.2]])

    lower, upper, p_value = wald_limits(Hand(), 0.95, "information")
    assert [lower[0, 0], upper[0, 0]] == pytest.approx([0.1040036, 0.4959964], abs=1e-6)
    assert p_value[0, 0] == pytest.approx(0.0026998, abs=1e-7)
    assert wald_limits(Hand(), 0.95, "wider")[0] == pytest.approx(wald_limits(Hand(), 0.95, "clustered")[0])


def test_limits_cover_a_planted_effect_also_where_lives_of_a_vehicle_are_alike():
    """400 shops of 150 vehicles with two lives each: supplier B's parts, 30 % of them, live 0.6 times as long.

    95 % limits must cover 93 to 97 % (400 shops: the share itself is known to about +-2 %). Lives of a vehicle share a
    factor (log spread 0.3), so errors that take them for independent cover less than the clustered ones.
    """
    draw = np.random.default_rng(8)
    shops, vehicles = 400, 150
    of_vehicle = (shops, vehicles, 2)
    stratum = np.broadcast_to(np.arange(shops)[:, None, None], of_vehicle).ravel()
    vehicle = np.broadcast_to(np.arange(vehicles)[:, None], of_vehicle).ravel()
    is_b = np.broadcast_to(draw.random((shops, vehicles, 1)) < 0.3, of_vehicle).ravel().astype(float)
    alike = np.broadcast_to(draw.normal(0, 0.3, (shops, vehicles, 1)), of_vehicle).ravel()
    life = np.exp(11 + np.log(0.6) * is_b + alike + 0.4 * np.log(draw.exponential(size=stratum.size)))
    entry = draw.uniform(0, 20_000, stratum.size) * (draw.random(stratum.size) < 0.5)
    stop = entry + draw.uniform(3_000, 60_000, stratum.size)
    seen = life > entry
    data = lives(
        entry[seen],
        np.minimum(life, stop)[seen],
        (life <= stop)[seen],
        stratum[seen],
        n_strata=shops,
        cluster=vehicle[seen],
    )
    fits = weibull_regression(data, is_b[seen])
    assert fits.ok.all()
    shares = {}
    for errors in ("clustered", "information"):
        lower, upper, _ = wald_limits(fits, 0.95, errors)
        shares[errors] = ((lower <= np.log(0.6)) & (np.log(0.6) <= upper)).mean()
    assert 0.93 <= shares["clustered"] <= 0.97
    assert shares["information"] < shares["clustered"]


@pytest.mark.parametrize(
    ("covariates", "words"),
    [
        (np.zeros((3, 1)), "one row of columns per life"),
        ([0.0, np.nan], "1 of 2 lives"),
        ([[0.0], [np.inf]], "not finite"),
    ],
)
def test_covariates_that_cannot_be_are_refused(covariates: Any, words: str):
    with pytest.raises(LivesError, match=words):
        weibull_regression(lives([0, 0], [5, 6], [1, 1]), covariates)


def test_lives_taken_out_are_refused():
    with pytest.raises(LivesError, match="weigh less than nothing"):
        weibull_regression(lives([0, 0, 0], [5, 6, 7], [1, 1, 0], weight=[1, 1, -1]), [0.0, 1.0, 0.0])
