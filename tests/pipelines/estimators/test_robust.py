"""Errors of parametric fits by cluster."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from longmile.pipelines.estimators.distributions import DISTRIBUTIONS, Distribution
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.location_scale import fit_distribution
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import life_by, mean_life, wald_limits
from longmile.pipelines.estimators.robust import clustered_limits, dispersion, robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull

REFERENCE = Path(__file__).parents[2] / "reference"
ANSWERS = json.loads((REFERENCE / "distributions.json").read_text(encoding="utf-8"))


def _litters(only):
    with (REFERENCE / "clustered_litters.csv").open(newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if only(row)]
    exit_ = [float(row["exit"]) for row in rows]
    return lives(
        [0] * len(rows), exit_, [row["event"] == "1" for row in rows], cluster=[row["cluster"] for row in rows]
    )


# Three animals a litter; R survival 3.5-3 survreg(..., cluster = litter), tolerance 1e-6 for errors (expected.json).
@pytest.mark.parametrize(("which", "only"), [("all", lambda row: True), ("females", lambda row: row["sex"] == "f")])
def test_errors_by_litter_reach_the_published_answer(which, only):
    expected = ANSWERS["clustered_litters"][which]
    data = _litters(only)
    fits = fit_weibull(data)
    errors = robust_errors(fits, data)
    assert fits.shape[0] == pytest.approx(expected["shape"], rel=1e-6)
    assert fits.scale[0] == pytest.approx(expected["scale"], rel=1e-6)
    for found, pair in ((fits, "naive_se_mu_logsigma"), (errors.fits, "robust_se_mu_logsigma")):
        assert [found.se_log_scale[0], found.se_log_shape[0]] == pytest.approx(expected[pair], rel=1e-6)


def _random(seed: int, n: int = 50) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(seed)
    entry = np.where(rng.random(n) < 0.5, 0.0, rng.uniform(0, 40, n))
    return {
        "entry": entry,
        "exit_": entry + rng.weibull(1.5, n) * 60 + 0.1,
        "event": rng.random(n) < 0.6,
        "cluster": rng.integers(0, 15, n),
    }


# Every life twice under the same cluster: scores of clusters double, their squares are four times as large, the
# information doubles: 4 / 2^2 = 1, so the clustered error must not shrink, while the naive one does by root 2.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_a_life_told_twice_is_no_new_evidence(distribution: Distribution):
    columns = _random(4) | {"cluster": np.arange(50)}
    once = lives(**columns)
    twice = lives(**{name: np.tile(values, 2) for name, values in columns.items()})
    first = robust_errors(fit_distribution(distribution, once), once)
    second = robust_errors(fit_distribution(distribution, twice), twice)
    np.testing.assert_allclose(second.fits.se_log_scale, first.fits.se_log_scale, rtol=1e-6)
    np.testing.assert_allclose(second.naive.se_log_scale, first.naive.se_log_scale / np.sqrt(2), rtol=1e-6)


# The scores are the slopes of the log-likelihood: summed over all lives they are 0 at the maximum.
@pytest.mark.parametrize("distribution", DISTRIBUTIONS, ids=lambda d: d.name)
def test_one_cluster_of_all_lives_has_no_score(distribution: Distribution):
    columns = _random(6)
    left = np.where(columns["event"] & (np.arange(50) % 2 == 0), columns["entry"] + 0.05, np.nan)
    data = lives(**columns | {"cluster": np.arange(50) // 49}, left=left)
    fits = fit_distribution(distribution, data)
    # All but one life in cluster 0: its score is minus the other's, so the middle has rank 1.
    cov = robust_errors(fits, data).fits
    assert cov.cov_cc[0] * cov.cov_bb[0] == pytest.approx(cov.cov_cb[0] ** 2, rel=1e-6)


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_shared_windows_equal_lives_written_out(seed):
    columns = _random(seed)
    entry, exit_ = np.array([0.0, 10.0, 30.0]), np.array([50.0, 60.0, 90.0])
    shared = shared_exposure([0, 0, 0], entry, exit_, [0], [2], weight=[1, 2, 1], cluster=[3, 99, 7])
    copies = np.repeat(np.arange(3), [2, 4, 2])
    written = {
        "entry": np.append(columns["entry"], entry[copies]),
        "exit_": np.append(columns["exit_"], exit_[copies]),
        "event": np.append(columns["event"], np.zeros(8, bool)),
        "cluster": np.append(columns["cluster"], np.array([3, 99, 7])[copies]),
    }
    held, whole = lives(**columns), lives(**written)
    a = robust_errors(fit_weibull(held, shared), held, shared)
    b = robust_errors(fit_weibull(whole), whole)
    np.testing.assert_allclose(a.fits.se_log_scale, b.fits.se_log_scale, rtol=1e-6)
    np.testing.assert_allclose(a.fits.cov_cb, b.fits.cov_cb, rtol=1e-5, atol=1e-12)


def test_clustered_limits_are_never_narrower_and_say_what_they_are():
    data = _litters(lambda row: True)
    errors = robust_errors(fit_weibull(data), data)
    for quantity in (mean_life(), life_by(0.1)):
        naive, found = profile_limits(errors.naive, quantity), clustered_limits(errors, quantity)
        assert dispersion(errors, quantity)[0] > 1
        assert found.lower[0] < naive.lower[0] < naive.upper[0] < found.upper[0]
        assert found.method == "clustered profile"
        wald = clustered_limits(errors, quantity, method="wald")
        # The working value is a log mileage, so the limits are estimate x exp(-+t x robust error x root G / (G - 1)),
        # t the 97.5 % point of Student's distribution with one degree of freedom less than the G litters that failed.
        g = errors.n_clusters[0]
        reach = stats.t.ppf(0.975, g - 1) * np.sqrt(g / (g - 1)) * wald_limits(errors.fits, quantity).se[0]
        assert wald.lower[0] == pytest.approx(wald.estimate[0] * np.exp(-reach), rel=1e-9)
        assert wald.upper[0] == pytest.approx(wald.estimate[0] * np.exp(reach), rel=1e-9)


# One vehicle with all failures: nothing can be said about how vehicles differ, so the naive limits stand.
def test_a_single_cluster_with_failures_leaves_the_naive_limits():
    data = lives([0] * 5, [3, 5, 8, 9, 10], [1, 1, 1, 0, 0], cluster=[1, 1, 1, 2, 3])
    errors = robust_errors(fit_weibull(data), data)
    assert errors.n_clusters[0] == 1
    assert np.isnan(errors.fits.se_log_scale[0])
    assert clustered_limits(errors, mean_life()).upper[0] == profile_limits(errors.naive, mean_life()).upper[0]
