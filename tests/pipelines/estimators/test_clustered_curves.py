"""Errors of survival curves by cluster."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.estimators import clustered_curves as module
from longmile.pipelines.estimators.clustered_curves import clustered_survival, thinned_limits
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier, survival_limits

REFERENCE = Path(__file__).parents[2] / "reference"
quick = settings(max_examples=25, deadline=None)
NAMES = ("survival", "se", "lower", "upper", "cumulative_hazard", "se_cumulative_hazard", "n_clusters_failed")


def assert_same(one, other):
    """The same; where contributions cancel to 0, rounding of squares leaves some 1e-8 of its root."""
    for name in NAMES:
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=1e-9, abs=1e-7, nan_ok=True), name


def three_vehicles():
    """Two lives each: vehicle 0 fails at 1 and 2, vehicle 1 at 2 and not by 3, vehicle 2 not by 3 at all."""
    return lives(np.zeros(6), [1, 2, 2, 3, 3, 3], [1, 1, 1, 0, 0, 0], cluster=[0, 0, 1, 1, 2, 2])


# R 4.2.2, survival 3.5-3: survfit(..., cluster = litter). It is the derivative of the product, with d / (Y (Y - d));
# with d / Y^2, the derivative of the cumulative hazard, errors come out 0.3 to 0.7 % smaller (tried).
def test_errors_by_litter_reach_the_published_answer():
    expected = json.loads((REFERENCE / "curves.json").read_text(encoding="utf-8"))["clustered_litters"]
    with (REFERENCE / "clustered_litters.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    exit_, event, cluster = ([float(row[name]) for row in rows] for name in ("exit", "event", "cluster"))
    data = lives(np.zeros(len(rows)), exit_, event, cluster=cluster)
    found = clustered_survival(kaplan_meier(data), data, None, 0, expected["time"])
    assert found.survival == pytest.approx(expected["S"], rel=1e-12)
    assert found.se == pytest.approx(expected["se_cluster"], rel=1e-12)
    assert found.se_greenwood == pytest.approx(expected["se_greenwood"], rel=1e-12)


# At 1, 1 of 6 fails; at 2, 2 of 5: S = 5/6 x 3/5 = 1/2. Steps d / (Y (Y - d)): 1/30 and 4/30. Contributions to -log S:
# failed at 1: 1/5 - 1/30 = 5/30; failed at 2: 1/3 - 5/30 = 5/30; the others -5/30. Vehicles: 10/30, 0, -10/30; sum of
# squares 2/9. Greenwood: 5/30. Cumulative hazard 1/6 + 2/5, steps d / Y^2 = 25/900 and 72/900: failed at 1:
# 150/900 - 25/900 = 125/900; at 2: 180/900 - 97/900 = 83/900; the others -97/900. Vehicles 208, -14, -194 of 900.
def test_contributions_by_hand():
    data = three_vehicles()
    found = clustered_survival(kaplan_meier(data), data, None, [0, 0], [2, 2.5])
    assert found.survival == pytest.approx([0.5, 0.5], rel=1e-15)
    assert found.se == pytest.approx([0.5 * math.sqrt(2) / 3] * 2, rel=1e-14)
    assert found.se_greenwood == pytest.approx([0.5 * math.sqrt(1 / 6)] * 2, rel=1e-14)
    assert found.se_cumulative_hazard[0] == pytest.approx(math.sqrt(208**2 + 14**2 + 194**2) / 900, rel=1e-14)
    assert found.n_clusters_failed.tolist() == [2, 2]
    limits = survival_limits(np.array([0.5]), np.array([0.5 * math.sqrt(2) / 3]), 0.95, "loglog")
    assert (found.lower[0], found.upper[0]) == pytest.approx([float(limit[0]) for limit in limits], rel=1e-14)


# One vehicle has failed by 1: its errors are unknown, and the limits are those of independent lives.
def test_one_failed_cluster_says_nothing_of_how_clusters_differ():
    data = three_vehicles()
    curve = kaplan_meier(data)
    found = clustered_survival(curve, data, None, 0, [0.5, 1, 3])
    assert found.n_clusters_failed.tolist() == [0, 1, 2]
    assert np.isnan(found.se[:2]).all()
    assert np.isnan(found.se_cumulative_hazard[:2]).all()
    assert (found.lower[1], found.upper[1]) == (curve.lower[0], curve.upper[0])


# Vehicles 0 and 1 each have one life that fails and one that does not: each sums to 0, yet that is luck.
def test_limits_are_never_narrower_than_those_of_independent_lives():
    data = lives(np.zeros(4), [1, 3, 2, 3], [1, 0, 1, 0], cluster=[0, 0, 1, 1])
    curve = kaplan_meier(data)
    found = clustered_survival(curve, data, None, 0, 2)
    assert found.se == pytest.approx(0, abs=1e-15)
    assert (found.lower, found.upper) == (curve.lower[1], curve.upper[1])


def test_survival_of_zero_has_no_error_but_the_hazard_has():
    data = lives([0, 0], [1, 2], [1, 1])
    found = clustered_survival(kaplan_meier(data), data, None, 0, 2)
    assert np.isnan([found.se, found.lower, found.upper]).all()
    # At 1 of two, at 2 alone: 1/2 - 1/4 and 1 - 1 - 1/4.
    assert found.se_cumulative_hazard == pytest.approx(math.sqrt(1 / 8), rel=1e-14)


def some_lives(seed, late=True, n=40):
    rng = np.random.default_rng(seed)
    entry = rng.integers(0, 20, n) * late
    return lives(
        entry,
        entry + rng.integers(1, 20, n),
        rng.random(n) < 0.5,
        rng.integers(0, 2, n),
        n_strata=2,
        cluster=rng.integers(0, 12, n),
    )


# The error by cluster is the root of the sum of squared differences that taking a cluster's weight slightly up makes:
# the curve itself, worked out anew with one cluster weighing 1 + 1e-6 and 1 - 1e-6.
@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10_000))
def test_contributions_are_derivatives_of_the_curve(seed):
    data = some_lives(seed)
    curve = kaplan_meier(data)
    found = clustered_survival(curve, data, None, curve.stratum, curve.t)
    squares = np.zeros((2, curve.t.size))
    for c in range(12):
        up, down = (
            kaplan_meier(lives(**{**vars(data), "weight": np.where(data.cluster == c, 1 + e, 1.0)}))
            for e in (1e-6, -1e-6)
        )
        squares[0] += ((up.survival - down.survival) / 2e-6) ** 2
        squares[1] += ((up.cumulative_hazard - down.cumulative_hazard) / 2e-6) ** 2
    for se, square in ((found.se, squares[0]), (found.se_cumulative_hazard, squares[1])):
        known = ~np.isnan(se)
        assert se[known] == pytest.approx(np.sqrt(square[known]), rel=1e-5, abs=1e-8)


@quick
@given(st.integers(0, 10_000))
def test_without_clusters_and_late_entry_the_error_is_greenwoods(seed):
    data = some_lives(seed, late=False)
    data = lives(data.entry, data.exit_, data.event, data.stratum, n_strata=2)
    curve = kaplan_meier(data)
    found = clustered_survival(curve, data, None, curve.stratum, curve.t)
    known = ~np.isnan(found.se)
    assert found.se[known] == pytest.approx(curve.se[known], rel=1e-9)


# Vehicle by vehicle, a window and its touched sockets of one cluster together; one stratum holds no windows.
@quick
@given(st.integers(0, 10_000), st.sampled_from([0.0, 12.0]))
def test_shared_windows_equal_lives_written_out(seed, start):
    rng = np.random.default_rng(seed)
    entry = rng.integers(0, 20, 8).astype(float)
    exit_ = entry + rng.integers(2, 30, 8)
    group = rng.integers(0, 2, 8)
    touched = rng.integers(0, 8, 6)
    at = entry[touched] + np.ceil((exit_ - entry)[touched] * rng.uniform(0.1, 1, 6))
    data = lives(
        np.r_[entry[touched], 0, 2],
        np.r_[at, 9, 12],
        np.r_[rng.random(6) < 0.8, 1, 0],
        np.r_[group[touched], 2, 2],
        n_strata=3,
        cluster=np.r_[touched, 1, 2],
    )
    shared = shared_exposure(group, entry, exit_, [0, 1, -1], [2, 3, 1], rng.integers(1, 3, 8), np.arange(8))
    plain = lives(
        np.r_[data.entry, entry],
        np.r_[data.exit_, exit_],
        np.r_[data.event, np.zeros(8)],
        np.r_[data.stratum, group],
        np.r_[data.weight, np.array([2, 3])[group] * shared.weight],
        n_strata=3,
        cluster=np.r_[data.cluster, np.arange(8)],
    )
    asked = np.arange(3)[:, None], np.arange(0.0, 50, 3)
    one = clustered_survival(kaplan_meier(data, shared, start=start), data, shared, *asked)
    other = clustered_survival(kaplan_meier(plain, start=start), plain, None, *asked)
    assert one.se.shape == (3, 17)
    assert_same(one, other)


# Conditional on reaching 12 as if lives were watched from 12 on; below 12 nothing is said.
@quick
@given(st.integers(0, 10_000))
def test_a_start_is_the_same_as_lives_watched_from_it(seed):
    data = some_lives(seed)
    beyond = data.exit_ > 12
    cut = lives(
        np.maximum(data.entry, 12)[beyond],
        data.exit_[beyond],
        data.event[beyond],
        data.stratum[beyond],
        n_strata=2,
        cluster=data.cluster[beyond],
    )
    asked = np.arange(2)[:, None], np.arange(12.0, 40)
    one = clustered_survival(kaplan_meier(data, start=12), data, None, *asked)
    other = clustered_survival(kaplan_meier(cut), cut, None, *asked)
    assert_same(one, other)
    assert np.isnan(clustered_survival(kaplan_meier(data, start=12), data, None, 0, 11).survival)


@quick
@given(st.integers(0, 10_000), st.sampled_from([0.5, 1000.0]))
def test_order_unit_and_repetition_within_a_cluster_change_nothing(seed, factor):
    data = some_lives(seed)
    order = np.random.default_rng(seed).permutation(np.repeat(np.arange(data.entry.size), 2))
    twice = lives(
        data.entry[order] * factor,
        data.exit_[order] * factor,
        data.event[order],
        data.stratum[order],
        n_strata=2,
        cluster=data.cluster[order],
    )
    weighed = lives(**{**vars(data), "weight": np.full(data.entry.size, 2.0)})
    asked = np.arange(2)[:, None], np.arange(1.0, 40)
    one = clustered_survival(kaplan_meier(weighed), weighed, None, *asked)
    other = clustered_survival(kaplan_meier(twice), twice, None, asked[0], asked[1] * factor)
    assert_same(one, other)


def test_the_size_of_a_chunk_changes_nothing(monkeypatch):
    data = some_lives(3, n=200)
    curve = kaplan_meier(data)
    whole = clustered_survival(curve, data, None, curve.stratum, curve.t)
    monkeypatch.setattr(module, "_CHUNK", 250)
    parts = clustered_survival(curve, data, None, curve.stratum, curve.t)
    assert parts.se.tolist() == pytest.approx(whole.se.tolist(), rel=1e-13, nan_ok=True)


def test_no_lives_at_all():
    data = lives([], [], [], n_strata=1)
    found = clustered_survival(kaplan_meier(data), data, None, 0, [5.0])
    assert (found.survival.tolist(), found.n_clusters_failed.tolist()) == ([1], [0])
    assert np.isnan(found.se).all()


# Few rows: every row is made, so the limits are those of clustered_survival itself.
def test_limits_of_every_row_are_those_read_at_the_rows():
    rng = np.random.default_rng(4)
    life = rng.integers(1, 20, 60)
    data = lives(np.zeros(60), life, rng.random(60) < 0.7, cluster=rng.integers(0, 12, 60))
    curves = kaplan_meier(data)
    lower, upper = thinned_limits(curves, data, None)
    read = clustered_survival(curves, data, None, curves.stratum, curves.t)
    np.testing.assert_allclose(lower, np.where(np.isnan(read.se), curves.lower, read.lower), rtol=1e-12)
    np.testing.assert_allclose(upper, np.where(np.isnan(read.se), curves.upper, read.upper), rtol=1e-12)


def test_limits_between_the_rows_made_lie_between_theirs():
    rng = np.random.default_rng(6)
    luck = np.repeat(rng.gamma(2.0, 0.5, 200), 5)
    life = rng.weibull(1.5, 1000) * 100 / luck
    data = lives(np.zeros(1000), np.minimum(life, 150.0), life < 150, cluster=np.repeat(np.arange(200), 5))
    curves = kaplan_meier(data)
    lower, upper = thinned_limits(curves, data, None, most=24)
    every = clustered_survival(curves, data, None, curves.stratum, curves.t)
    known = ~np.isnan(every.lower) & ~np.isnan(lower)
    assert known.sum() > 500
    assert np.abs(lower[known] - every.lower[known]).max() < 0.01
    assert np.abs(upper[known] - every.upper[known]).max() < 0.01
