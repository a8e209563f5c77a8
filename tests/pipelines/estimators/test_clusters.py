"""Cluster sums with shared windows against the same lives written out one by one."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from longmile.pipelines.estimators.clusters import cluster_products, n_clusters_failed
from longmile.pipelines.estimators.lives import lives, shared_exposure


def _u(entry: np.ndarray, exit_: np.ndarray, stratum: np.ndarray) -> np.ndarray:
    """An invented contribution of two numbers that differs by stratum."""
    return np.stack([exit_ - entry, (exit_ * (stratum + 1)) ** 0.5 - entry], axis=1)


# One stratum, clusters 0 and 1; contributions 1 and 2 of cluster 0, 4 of cluster 1: (1 + 2)^2 + 4^2 = 25.
def test_contributions_of_a_cluster_are_added_before_they_are_squared():
    data = lives([0, 0, 0], [1, 2, 4], [1, 0, 1], cluster=[0, 0, 1])
    products = cluster_products(data, None, np.array([[1.0], [2.0], [4.0]]), lambda s, w: np.zeros((s.size, 1)))
    assert products.tolist() == [[[25.0]]]


# Both failures are of cluster 7: one cluster can say nothing about how clusters differ.
def test_clusters_with_a_failure_are_counted_once():
    data = lives([0, 0, 0], [1, 2, 4], [1, 1, 0], cluster=[7, 7, 1])
    assert n_clusters_failed(data).tolist() == [1.0]


@given(seed=st.integers(0, 10_000))
def test_shared_windows_equal_lives_written_out(seed):
    rng = np.random.default_rng(seed)
    n_windows, multiplicity = 6, [2, 3]
    entry = rng.integers(0, 50, n_windows).astype(float)
    exit_ = entry + rng.integers(1, 50, n_windows)
    group = rng.integers(0, 2, n_windows)
    copies = rng.integers(1, 3, n_windows)
    touched = rng.integers(0, n_windows, 4)
    stratum = group[touched]
    own_exit = exit_[touched] + 1
    data = lives(entry[touched], own_exit, np.ones(4), stratum, n_strata=2, cluster=touched)
    shared = shared_exposure(group, entry, exit_, [0, 1], multiplicity, copies, np.arange(n_windows))

    def windows(s: np.ndarray, w: np.ndarray) -> np.ndarray:
        return _u(shared.entry[w], shared.exit_[w], s)

    found = cluster_products(data, shared, _u(data.entry, data.exit_, stratum), windows)
    expected = np.zeros((2, 2, 2))
    for s in range(2):
        for vehicle in range(n_windows):
            u = _u(data.entry, data.exit_, stratum)[(stratum == s) & (touched == vehicle)].sum(axis=0)
            if group[vehicle] == s:
                of_window = _u(entry[[vehicle]], exit_[[vehicle]], np.array([s]))[0]
                u = u + multiplicity[s] * copies[vehicle] * of_window
            expected[s] += np.outer(u, u)
    np.testing.assert_allclose(found, expected, rtol=1e-12)
