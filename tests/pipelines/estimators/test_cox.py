"""Proportional hazards by hand, against published fits, and against a partial likelihood written out.

Where peers disagree: lifelines 0.30.3's clustered errors with late entry come from residuals that forget the entry
(they equal ours when ours forget it too), and with ties (litters) it gives 0.2739 for R's 0.2710. R 4.2.2 is right in
both: ours are R's, and the late-entry case below is worked by hand.
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
from longmile.pipelines.estimators.cox import CoxFits, cox
from longmile.pipelines.estimators.life_ratio import log_life_ratios
from longmile.pipelines.estimators.lives import Lives, lives
from longmile.pipelines.estimators.weibull_regression import weibull_regression

REFERENCE = Path(__file__).parents[2] / "reference"
EXPECTED = json.loads((REFERENCE / "regressions.json").read_text(encoding="utf-8"))
SAME = ("coefficient", "covariance", "clustered", "log_likelihood", "log_likelihood_without")


def table_of(name: str) -> np.ndarray:
    table = np.genfromtxt(REFERENCE / f"{name}.csv", delimiter=",", names=True, dtype=None, encoding="utf-8")
    return table[table["entry"] < table["exit"]]


def lives_of(table: np.ndarray, cluster: str | None = None) -> Lives:
    codes = None if cluster is None else table[cluster]
    return lives(table["entry"], table["exit"], table["event"] == 1, cluster=codes)


# At 1 the first two are at risk: u / (u + 1), u = exp(coefficient). At 2 the last two: 1 / (1 + u). Product largest at
# u = 1. Information 2 x 1/4, so se = sqrt 2. Residuals: 1/2 - 1/4 = 1/4; -1/2 + 1/4 + 1/4 = 0; -1/4 (not at risk at 1:
# counting it there would give -1/2). Clustered variance 2 x (1/16 + 1/16) x 2 = 1/2.
def test_late_entry_by_hand():
    fits = cox(lives([0, 0, 1.5], [1, 2, 3], [1, 1, 0]), [1.0, 0.0, 1.0])
    assert fits.ok[0]
    assert fits.coefficient[0, 0] == pytest.approx(0, abs=1e-9)
    assert fits.se[0, 0] == pytest.approx(np.sqrt(2), rel=1e-9)
    assert fits.se_clustered[0, 0] == pytest.approx(np.sqrt(0.5), rel=1e-9)
    assert fits.log_likelihood[0] == pytest.approx(2 * np.log(0.5), rel=1e-12)


# Two fail at 1 (one has the covariate), the third, which has it too, runs on.
# Breslow: u / (2u + 1)^2, largest where 1 = 4u / (2u + 1): u = 1/2.
# Efron: u / ((2u + 1)(2u + 1 - (u + 1) / 2)), largest where 1/2 = 3 u^2: u = 1 / sqrt 6.
@pytest.mark.parametrize(("ties", "ratio"), [("breslow", 0.5), ("efron", 6**-0.5)])
def test_ties_by_hand(ties: Any, ratio: float):
    fits = cox(lives([0, 0, 0], [1, 1, 2], [1, 1, 0]), [1.0, 0.0, 1.0], ties=ties)
    assert fits.coefficient[0, 0] == pytest.approx(np.log(ratio), rel=1e-9)


@pytest.mark.parametrize("who", ["all", "females"])
def test_clustered_errors_of_the_litters(who: str):
    table, expected = table_of("clustered_litters"), EXPECTED["clustered_litters"][who]["cox_cluster_efron"]
    kept = table if who == "all" else table[table["sex"] == "f"]
    fits = cox(lives_of(kept, "cluster"), kept["treated"])
    assert fits.coefficient[0, 0] == pytest.approx(expected["coef"], rel=1e-6)
    assert fits.se[0, 0] == pytest.approx(expected["naive_se"], rel=1e-6)
    assert fits.se_clustered[0, 0] == pytest.approx(expected["robust_se"], rel=1e-6)


def test_residents_who_enter_late():
    table, expected = table_of("left_truncated_residents"), EXPECTED["left_truncated_residents"]
    data, woman = lives_of(table), table["sex"] == 2
    fits = cox(data, woman)
    assert fits.coefficient[0, 0] == pytest.approx(expected["cox_sex2"]["coef"], rel=1e-6)
    assert fits.se[0, 0] == pytest.approx(expected["cox_sex2"]["se"], rel=1e-6)
    breslow = cox(data, woman, ties="breslow")
    assert breslow.coefficient[0, 0] == pytest.approx(expected["cox_sex2_breslow"]["coef"], rel=1e-6)


def test_pads_of_two_families_with_errors_clustered_by_vehicle():
    table, expected = table_of("sim_pads"), EXPECTED["sim_pads"]["cox"]
    fits = cox(lives_of(table, "vehicle"), table["family"] == "Birch-16")
    assert fits.coefficient[0, 0] == pytest.approx(expected["coef"], rel=1e-6)
    assert fits.se[0, 0] == pytest.approx(expected["naive_se"], rel=1e-6)
    assert fits.se_clustered[0, 0] == pytest.approx(expected["robust_se"], rel=1e-6)
    assert abs(fits.coefficient[0, 0] - expected["true_log_hr"]) < 3 * fits.se[0, 0]


# The two families' parts live 42,000 and 33,000 miles x a Weibull of the same shape: ratio 33 / 42 = 0.7857.
def test_life_ratio_of_the_pads_is_that_of_the_weibull_regression_and_holds_the_truth():
    table = table_of("sim_pads")
    data, x = lives_of(table, "vehicle"), table["family"] == "Birch-16"
    weibull = weibull_regression(data, x)
    ratio, lower, upper = log_life_ratios(cox(data, x), weibull)
    assert np.exp(ratio[0, 0]) == pytest.approx(np.exp(weibull.coefficient[0, 0]), rel=0.01)
    assert np.exp(lower[0, 0]) < 33 / 42 < np.exp(upper[0, 0])
    # Both find the same effect in the same lives, so their errors must be of a size.
    assert (upper - lower)[0, 0] == pytest.approx(2 * 1.959964 * weibull.se_clustered[0, 0], rel=0.05)


def simulated(seed: int, n_strata: int = 3, n: int = 300) -> tuple[Lives, np.ndarray]:
    """Lives of whole thousands of miles, so that many tie; late entry, weights, clusters; two covariates."""
    draw = np.random.default_rng(seed)
    stratum = draw.integers(0, n_strata, n)
    x = np.stack([draw.normal(5, 1, n), draw.integers(0, 2, n)], axis=1)
    life = np.exp(3.5 - 0.2 * (x[:, 0] - 5) + 0.4 * x[:, 1] + 0.5 * np.log(draw.exponential(size=n)))
    entry = np.floor(draw.uniform(0, 20, n) * (draw.random(n) < 0.7))
    stop = entry + np.ceil(draw.uniform(0, 40, n))
    seen = np.ceil(life) > entry
    exit_, event = np.minimum(np.ceil(life), stop)[seen], (np.ceil(life) <= stop)[seen]
    weight, cluster = draw.integers(1, 3, seen.sum()), draw.integers(0, 40, seen.sum())
    return lives(entry[seen], exit_, event, stratum[seen], weight, None, n_strata, cluster), x[seen]


def plain_log_likelihood(at: np.ndarray, x: np.ndarray, data: Lives) -> float:
    """Efron's, from the definition, one failure mileage after the other."""
    relative, total = np.exp(x @ at), 0.0
    for t in np.unique(data.exit_[data.event]):
        at_risk = (data.entry < t) & (t <= data.exit_)
        failing = data.event & (data.exit_ == t)
        gone, all_of = (data.weight * relative)[failing].sum(), (data.weight * relative)[at_risk].sum()
        n = int(data.weight[failing].sum())
        total += (data.weight * (x @ at))[failing].sum()
        total -= sum(np.log(all_of - share / n * gone) for share in range(n))
    return float(total)


def alone(data: Lives, stratum: int) -> Lives:
    own = data.stratum == stratum
    return lives(**{key: getattr(data, key)[own] for key in ("entry", "exit_", "event", "weight", "left", "cluster")})


def test_strata_together_agree_with_a_plain_likelihood_each():
    data, x = simulated(4)
    fits = cox(data, x)
    assert fits.ok.all() and (fits.slope < 1e-8).all()
    for stratum in range(3):
        own, columns = alone(data, stratum), x[data.stratum == stratum]
        found = minimize(lambda at, c=columns, d=own: -plain_log_likelihood(at, c, d), [0.0, 0.0], method="BFGS")
        assert fits.log_likelihood[stratum] == pytest.approx(-found.fun, rel=1e-10)
        assert fits.log_likelihood_without[stratum] == pytest.approx(
            plain_log_likelihood(np.zeros(2), columns, own), rel=1e-12
        )
        assert fits.coefficient[stratum] == pytest.approx(found.x, abs=1e-4)
        # The finite-difference inverse information of the search is rough; it must still be of the size.
        assert fits.covariance[stratum] == pytest.approx(found.hess_inv, rel=0.2, abs=2e-3)


def test_strata_that_stop_early_or_use_fewer_columns_do_not_disturb_the_others():
    data, x = simulated(6)
    active = np.array([[1, 1], [0, 1], [1, 0]], bool)
    together = cox(data, x, active)
    assert (np.isnan(together.coefficient) == ~active).all()
    for stratum in range(3):
        one = cox(alone(data, stratum), x[data.stratum == stratum][:, active[stratum]])
        kept = active[stratum]
        assert together.coefficient[stratum][kept] == pytest.approx(one.coefficient[0], rel=1e-8)
        assert together.se_clustered[stratum][kept] == pytest.approx(one.se_clustered[0], rel=1e-8)


def test_a_start_elsewhere_ends_at_the_same_place():
    data, x = simulated(7)
    one, other = cox(data, x), cox(data, x, start=np.array([[0.5, -0.5], [np.nan, 1.0], [0.0, 0.0]]))
    for name in SAME:
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=1e-7, err_msg=name)


def assert_same(one: CoxFits, other: CoxFits) -> None:
    assert one.status.tolist() == other.status.tolist()
    for name in SAME:
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=1e-6, atol=1e-12, err_msg=name)


def reordered(data: Lives, order: np.ndarray, **changed: Any) -> Lives:
    keys = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
    return lives(**({key: getattr(data, key)[order] for key in keys} | changed), n_strata=data.n_strata)


quick = settings(max_examples=15, deadline=None)


@quick
@given(st.integers(0, 10_000))
def test_row_order_never_matters(seed: int):
    data, x = simulated(seed)
    order = np.random.default_rng(seed).permutation(data.entry.size)
    assert_same(cox(data, x), cox(reordered(data, order), x[order]))


@quick
@given(st.integers(0, 10_000))
def test_weights_are_repetitions_within_their_cluster(seed: int):
    data, x = simulated(seed)
    again = np.repeat(np.arange(data.entry.size), data.weight.astype(int))
    assert_same(cox(data, x), cox(reordered(data, again, weight=np.ones(again.size)), x[again]))


@quick
@given(st.integers(0, 10_000), st.sampled_from([lambda t: t * 1609.344, np.sqrt, lambda t: t**3]))
def test_only_the_order_of_the_miles_counts(seed: int, bend: Any):
    data, x = simulated(seed)
    bent = reordered(data, np.arange(data.entry.size), entry=bend(data.entry), exit_=bend(data.exit_))
    assert_same(cox(data, x), cox(bent, x))


def test_a_level_of_which_nothing_failed_has_no_coefficient():
    data, x = simulated(1, n_strata=1)
    none = lives(data.entry, data.exit_, data.event & (x[:, 1] == 0))
    fits = cox(none, x)
    assert (fits.status[0], fits.reason[0], fits.column[0]) == ("did_not_converge", "coefficient_without_limit", 1)
    assert np.isnan(fits.coefficient).all() and np.isnan(fits.se_clustered).all()


def test_statuses_of_lives_that_cannot_bear_a_fit():
    # Stratum 0: nothing failed. 1: one failure. 2: both columns the same. 3: no lives at all.
    exit_, event = [5, 6, 5, 6, 50, 51, 60, 61], [0, 0, 1, 0, 1, 1, 1, 1]
    x = np.array([0, 1, 0, 1, 0, 1, 1, 0.0])
    fits = cox(lives(np.zeros(8), exit_, event, [0, 0, 1, 1, 2, 2, 2, 2], n_strata=4), np.stack([x, x], axis=1))
    assert fits.status.tolist() == ["no_failures", "thin", "did_not_converge", "too_few_at_risk"]
    assert fits.reason.tolist() == ["", "one_failure", "collinear_column", ""]
    assert fits.column.tolist() == [-1, -1, 1, -1]


def test_parts_of_a_failure_are_refused_with_efron_alone():
    data = lives([0, 0, 0], [1, 2, 3], [1, 1, 0], weight=[1.5, 1, 1])
    with pytest.raises(LivesError, match="1 of 2 failures have a weight that is not a whole number"):
        cox(data, [1.0, 0.0, 1.0])
    # u^1.5 / (1.5 u + 1 + u)^1.5 x 1 / (1 + u), largest where 1.5 = 3.75 u / (2.5 u + 1) + u / (1 + u), which is
    # 5 u^2 - u - 3 = 0: u = (1 + sqrt 61) / 10.
    ratio = (1 + np.sqrt(61)) / 10
    assert cox(data, [1.0, 0.0, 1.0], ties="breslow").coefficient[0, 0] == pytest.approx(np.log(ratio), rel=1e-9)


def test_no_covariate_is_refused():
    with pytest.raises(LivesError, match="none given"):
        cox(lives([0, 0], [1, 2], [1, 1]), np.zeros((2, 0)))
