"""Restricted means with errors by vehicle."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.estimators.bootstrap import cluster_bootstrap
from longmile.pipelines.estimators.clustered_means import clustered_restricted_means
from longmile.pipelines.estimators.curve_reading import restricted_means
from longmile.pipelines.estimators.lives import Lives, lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier


def _random(seed: int, n: int = 40, late: bool = True) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(seed)
    entry = np.where(rng.random(n) < 0.5, 0.0, rng.integers(0, 20, n)) if late else np.zeros(n)
    return {
        "entry": entry,
        "exit_": entry + rng.integers(1, 60, n),
        "event": rng.random(n) < 0.6,
        "cluster": rng.integers(0, 12, n),
    }


# Shock absorbers, to 25,000: R survival 3.5-3 survfit rmean error 997.029382046319 (tests/reference/life_data.json has
# it too). No late entry, a cluster a life: the error by cluster is the usual one. lifelines 0.30.3 returns a number it
# calls the variance, whose root is 5083: it is not the variance of the estimate.
def test_without_clusters_it_is_the_published_error(life_data):
    data = life_data("shock_absorbers")
    found = clustered_restricted_means(kaplan_meier(data), data, None, 25_000.0)
    assert found.estimate[0] == pytest.approx(21463.35570039, rel=1e-12)
    assert found.se[0] == pytest.approx(997.029382046319, rel=1e-9)


def _mean(data: Lives) -> float:
    return float(restricted_means(kaplan_meier(data), 40.0).estimate[0])


# The contribution of a cluster is the derivative of the mean in the weight of its lives, taken here numerically.
@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_contributions_are_derivatives_of_the_mean(seed: int):
    columns = _random(seed)
    data = lives(**columns)
    curves = kaplan_meier(data)
    if not (curves.survival > 0).all() or curves.largest[0] < 40:
        return
    step, squares = 1e-5, 0.0
    for cluster in np.unique(columns["cluster"]):
        more = 1.0 + step * (columns["cluster"] == cluster)
        less = 1.0 - step * (columns["cluster"] == cluster)
        slope = (_mean(lives(**columns, weight=more)) - _mean(lives(**columns, weight=less))) / (2 * step)
        squares += slope**2
    naive = restricted_means(curves, 40.0).se[0]
    found = clustered_restricted_means(curves, data, None, 40.0).se[0]
    assert found == pytest.approx(max(np.sqrt(squares), naive), rel=1e-5)


def test_shared_windows_equal_lives_written_out():
    columns = _random(3)
    shared = shared_exposure([0, 0], [0.0, 5.0], [50.0, 60.0], [0], [2], cluster=[3, 99])
    copies = {"entry": [0.0, 0.0, 5.0, 5.0], "exit_": [50.0, 50.0, 60.0, 60.0], "event": [False] * 4}
    copies["cluster"] = [3, 3, 99, 99]
    whole = lives(**{name: np.append(values, copies[name]) for name, values in columns.items()})
    held = lives(**columns)
    a = clustered_restricted_means(kaplan_meier(held, shared), held, shared, 40.0)
    b = clustered_restricted_means(kaplan_meier(whole), whole, None, 40.0)
    assert (a.se[0], a.lower[0], a.upper[0]) == pytest.approx((b.se[0], b.lower[0], b.upper[0]), rel=1e-9)


# The other way to the same error: resampling vehicles, 600 times (a standard deviation to about 3 %).
def test_resampling_vehicles_gives_about_the_same_error():
    rng = np.random.default_rng(2)
    luck = np.repeat(rng.gamma(1.0, 1.0, 150), 4)
    life = rng.exponential(80 / luck)
    data = lives(np.zeros(600), np.minimum(life, 90.0), life < 90, cluster=np.repeat(np.arange(150), 4))
    found = clustered_restricted_means(kaplan_meier(data), data, None, 60.0)
    drawn = cluster_bootstrap(data, None, lambda d, s: restricted_means(kaplan_meier(d, s), 60.0).estimate, 600)
    assert found.se[0] == pytest.approx(drawn.se[0], rel=0.12)
    assert found.se[0] > 1.2 * restricted_means(kaplan_meier(data), 60.0).se[0]


def test_a_curve_that_speaks_from_a_later_age_leaves_out_what_came_before():
    columns = _random(8, 60)
    data = lives(**columns)
    later = kaplan_meier(data, start=10.0)
    cut = columns["exit_"] > 10
    kept = lives(
        **{name: values[cut] for name, values in columns.items()} | {"entry": np.maximum(columns["entry"], 10)[cut]}
    )
    found = clustered_restricted_means(later, data, None, 40.0)
    same = clustered_restricted_means(kaplan_meier(kept, start=10.0), kept, None, 40.0)
    assert found.se[0] == pytest.approx(same.se[0], rel=1e-12)
