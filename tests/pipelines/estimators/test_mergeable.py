"""What must hold for rates, curves and Weibull fits of any lives, and for lives merged from buckets of vehicles.

Shops are drawn at random in whole miles of a coarse grid, so that ties happen and buckets share lives. Limits of
rounding: 1e-12 where the same sums are formed in another order, 1e-9 where a search ends on them.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.buckets import collapse, collapse_windows, merge, merge_windows
from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.lives import (
    Lives,
    SharedExposure,
    lives,
    miles_at_risk,
    n_failures,
    n_lives,
    shared_exposure,
)
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.rates import Rates, poisson_rates
from longmile.pipelines.estimators.robust import robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull
from longmile.pipelines.estimators.weibull_likelihood import weibull_likelihood

COLUMNS = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
CURVE = (
    "stratum",
    "t",
    "at_risk",
    "events",
    "survival",
    "se",
    "lower",
    "upper",
    "cumulative_hazard",
    "se_cumulative_hazard",
    "largest",
)
FIT = ("shape", "scale", "log_likelihood", "se_log_shape", "se_log_scale", "failures")
N_STRATA = 3
seeds = st.integers(0, 100_000)
quick = settings(max_examples=25, deadline=None)


def some_lives(seed: int, n: int = 90, *, within: bool = True, late: bool = True) -> Lives:
    """Lives of three strata in hundreds of miles, weights 1 to 3; some enter late, some failed within an interval."""
    draw = np.random.default_rng(seed)
    entry = np.where(draw.random(n) < 0.6, draw.integers(1, 400, n), 0) * 100.0 * late
    exit_ = entry + 100.0 * draw.integers(2, 600, n)
    event = draw.random(n) < 0.5
    found = event & within & (draw.random(n) < 0.3)
    return lives(
        entry,
        exit_,
        event,
        draw.integers(0, N_STRATA, n),
        draw.integers(1, 4, n),
        np.where(found, (entry + exit_) / 2, np.nan),
        N_STRATA,
        draw.integers(0, n // 3, n),
    )


def a_shop(seed: int) -> tuple[Lives, SharedExposure]:
    """Vehicles of two groups; strata 0 and 1 hold their windows, less the sockets that failed; stratum 2 none."""
    draw = np.random.default_rng(seed)
    n = 60
    first = 5_000.0 * draw.integers(0, 6, n)
    last = first + 5_000.0 * draw.integers(2, 8, n)
    group = draw.integers(0, 2, n)
    shared = shared_exposure(group, first, last, [0, 1, -1], [4, 6, 1], draw.integers(1, 3, n), np.arange(n))
    hit = np.flatnonzero(draw.random(n) < 0.5)
    at = first[hit] + np.floor(draw.random(hit.size) * (last - first)[hit] / 1_000 + 1) * 1_000
    going = at < last[hit]
    bare = some_lives(seed, 40)
    return lives(
        np.concatenate([first[hit], first[hit], np.zeros(int(going.sum())), bare.entry]),
        np.concatenate([at, last[hit], (last[hit] - at)[going], bare.exit_]),
        np.concatenate([np.ones(hit.size), np.zeros(hit.size), np.zeros(int(going.sum())), bare.event]),
        np.concatenate([group[hit], group[hit], group[hit][going], np.full(40, 2)]),
        np.concatenate([np.ones(hit.size), np.full(hit.size, -1), np.ones(int(going.sum())), bare.weight]),
        np.concatenate([np.full(2 * hit.size + int(going.sum()), np.nan), bare.left]),
        N_STRATA,
        np.concatenate([hit, hit, hit[going], bare.cluster]),
    ), shared


def taken(data: Lives, which: Any, **changed: Any) -> Lives:
    """The lives at `which`, some columns changed."""
    columns = {name: getattr(data, name)[which] for name in COLUMNS} | changed
    return lives(**columns, n_strata=data.n_strata)


def in_buckets(seed: int, data: Lives, shared: SharedExposure, n: int = 4) -> list[tuple[Lives, SharedExposure]]:
    """The vehicles divided at random; a bucket may be empty."""
    bucket = np.random.default_rng(seed).integers(0, n, 1 + max(data.cluster.max(), shared.cluster.max()))
    parts = []
    for number in range(n):
        held = bucket[shared.cluster] == number
        windows = (getattr(shared, name)[held] for name in ("group", "entry", "exit_"))
        rest = {"weight": shared.weight[held], "cluster": shared.cluster[held]}
        part = shared_exposure(*windows, shared.stratum_group, shared.multiplicity, **rest)
        parts.append((taken(data, bucket[data.cluster] == number), part))
    return parts


def rates_of(data: Lives, shared: SharedExposure | None = None) -> Rates:
    return poisson_rates(n_failures(data), miles_at_risk(data, shared))


def assert_same(one: Any, other: Any, names: tuple[str, ...], rel: float) -> None:
    for name in names:
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=rel, nan_ok=True), name


def assert_same_answers(one: Lives, other: Lives, *shared: SharedExposure) -> None:
    """Rates, curves and fits agree; shared: the windows of the one and of the other."""
    windows = shared or (None, None)
    assert_same(rates_of(one, windows[0]), rates_of(other, windows[1]), ("rate", "lower", "upper"), 1e-12)
    assert_same(kaplan_meier(one, windows[0]), kaplan_meier(other, windows[1]), CURVE, 1e-12)
    fits = fit_weibull(one, windows[0]), fit_weibull(other, windows[1])
    assert fits[0].status.tolist() == fits[1].status.tolist()
    assert_same(*fits, FIT, 1e-9)


@quick
@given(seeds)
def test_order_never_matters(seed):
    data = some_lives(seed)
    assert_same_answers(data, taken(data, np.random.default_rng(seed + 1).permutation(data.entry.size)))


@quick
@given(seeds)
def test_weights_are_repetitions(seed):
    data = some_lives(seed)
    again = np.repeat(np.arange(data.entry.size), data.weight.astype(int))
    assert_same_answers(data, taken(data, again, weight=np.ones(again.size)))


# S, H(t) and the shape have no unit. A rate is per mile, a scale in miles, a density per mile: each exact failure's
# log-likelihood falls by log(factor); that of a failure within an interval is a chance and stays.
@quick
@given(seeds, st.sampled_from([0.001, 1.609344, 1000.0]))
def test_another_unit_of_length_changes_nothing_but_the_unit(seed, factor):
    data = some_lives(seed)
    scaled = taken(data, slice(None), entry=data.entry * factor, exit_=data.exit_ * factor, left=data.left * factor)
    for name in ("rate", "lower", "upper"):
        assert getattr(rates_of(data), name) == pytest.approx(getattr(rates_of(scaled), name) * factor, rel=1e-12)
    curve, longer = kaplan_meier(data), kaplan_meier(scaled)
    assert_same(curve, longer, tuple(name for name in CURVE if name not in ("t", "largest")), 1e-12)
    assert curve.t * factor == pytest.approx(longer.t, rel=1e-12)
    fits, others = fit_weibull(data), fit_weibull(scaled)
    assert_same(fits, others, ("shape", "se_log_shape", "se_log_scale"), 1e-9)
    assert fits.scale * factor == pytest.approx(others.scale, rel=1e-9)
    n_exact = np.bincount(data.stratum, data.weight * (data.event & np.isnan(data.left)), N_STRATA)
    assert fits.log_likelihood - n_exact * np.log(factor) == pytest.approx(others.log_likelihood, rel=1e-9)


def _curve_without_entry(exit_, event, weight):
    """Product-limit S and sum of d / Y at each failure mileage, from lives all watched from 0: a plain loop."""
    t = np.unique(exit_[event])
    survival, hazard, s, h = [], [], 1.0, 0.0
    for mileage in t:
        d, at_risk = weight[event & (exit_ == mileage)].sum(), weight[exit_ >= mileage].sum()
        s, h = s * (1 - d / at_risk), h + d / at_risk
        survival.append(s)
        hazard.append(h)
    return t, survival, hazard


def _slopes_without_entry(shape, scale, exit_, event, weight):
    """Log-likelihood of sum d log f + (1 - d) log S and its slopes in (log shape, log scale), by the textbook."""
    log_z = shape * np.log(exit_ / scale)
    z = np.exp(log_z)
    value = (weight * (event * (np.log(shape) + log_z - np.log(exit_)) - z)).sum()
    return value, (weight * (event * (1 + log_z) - z * log_z)).sum(), (weight * (event - z)).sum() * shape


@quick
@given(seeds)
def test_lives_watched_from_new_give_what_formulas_without_entry_give(seed):
    data = some_lives(seed, within=False, late=False)
    curves, fits = kaplan_meier(data), fit_weibull(data)
    assert miles_at_risk(data).tolist() == np.bincount(data.stratum, data.weight * data.exit_).tolist()
    for s in range(N_STRATA):
        columns = [getattr(data, name)[data.stratum == s] for name in ("exit_", "event", "weight")]
        rows = slice(curves.start[s], curves.start[s + 1])
        t, survival, hazard = _curve_without_entry(*columns)
        assert curves.t[rows].tolist() == t.tolist()
        assert curves.survival[rows] == pytest.approx(survival, rel=1e-12, abs=1e-15)
        assert curves.cumulative_hazard[rows] == pytest.approx(hazard, rel=1e-12)
        value, *slopes = _slopes_without_entry(fits.shape[s], fits.scale[s], *columns)
        assert fits.log_likelihood[s] == pytest.approx(value, rel=1e-9)
        assert slopes == pytest.approx([0, 0], abs=1e-7 * fits.failures[s])


# Watched to a and again from a is watched throughout: (0, t] and the pieces (0, a], (a, t] are the same evidence.
@quick
@given(seeds)
def test_a_life_cut_in_two_is_the_same_life(seed):
    data = some_lives(seed)
    sound_to = np.where(np.isnan(data.left), data.exit_, data.left)
    cut = data.entry + np.floor((sound_to - data.entry) / 200) * 100
    long = np.flatnonzero(cut > data.entry)
    early = taken(data, long, exit_=cut[long], event=np.zeros(long.size), left=np.full(long.size, np.nan))
    late = taken(data, slice(None), entry=np.maximum(cut, data.entry))
    columns = {name: np.concatenate([getattr(early, name), getattr(late, name)]) for name in COLUMNS}
    pieces = lives(**columns, n_strata=N_STRATA)
    assert (n_lives(pieces) > n_lives(data)).all()
    assert_same_answers(pieces, data)


# No interval of width 0 can be written (left < exit_): the failure is then exact. Rates and curves do not look at left,
# so they are the same at any width. For a Weibull, log chance of (t - w, t] = log w + log f(t) + O(w / t): per failure
# the likelihoods differ by log w and an error that vanishes with w, so at w = t / 10^6 shape and scale must agree to
# 1e-4 (slopes of log f in log t are of the order of the shape and z, below 100 here), and ten times better at t / 10^7.
@quick
@given(seeds)
def test_an_interval_that_closes_becomes_an_exact_failure(seed):
    data = some_lives(seed, within=False)
    exact = fit_weibull(data)
    off = []
    for share in (1e-6, 1e-7):
        width = share * (data.exit_ - data.entry)
        within = taken(data, slice(None), left=np.where(data.event, data.exit_ - width, np.nan))
        assert_same(rates_of(within), rates_of(data), ("rate", "lower", "upper"), 0.0)
        assert_same(kaplan_meier(within), kaplan_meier(data), CURVE, 0.0)
        fits = fit_weibull(within)
        assert fits.ok.tolist() == exact.ok.tolist()
        assert_same(fits, exact, ("shape", "scale", "se_log_shape", "se_log_scale"), 100 * share)
        log_width = np.bincount(data.stratum, data.weight * data.event * np.log(width), N_STRATA)
        assert fits.log_likelihood - log_width == pytest.approx(exact.log_likelihood, rel=100 * share)
        off.append(np.abs(fits.shape / exact.shape - 1))
    assert (off[1] <= 0.2 * off[0] + 1e-9).all()


@quick
@given(seeds)
def test_estimates_from_merged_buckets_are_those_of_the_whole(seed):
    data, shared = a_shop(seed)
    parts = in_buckets(seed, data, shared)
    merged = merge([collapse(part) for part, _ in parts])
    windows = merge_windows([collapse_windows(part) for _, part in parts])
    assert merged.entry.size < data.entry.size and windows.group.size < shared.group.size
    assert (n_lives(merged, windows) == n_lives(data, shared)).all()
    assert_same_answers(merged, data, windows, shared)


# Weights are whole numbers, so their sums are exact in any order.
@quick
@given(seeds, st.integers(1, 6))
def test_the_merged_table_does_not_show_how_vehicles_were_divided(seed, n):
    data, shared = a_shop(seed)
    parts = in_buckets(seed, data, shared, n)
    whole, merged = collapse(data), merge([collapse(part) for part, _ in parts])
    windows = merge_windows([collapse_windows(part) for _, part in parts])
    for name in COLUMNS:
        np.testing.assert_array_equal(getattr(merged, name), getattr(whole, name))
    for name, values in vars(collapse_windows(shared)).items():
        np.testing.assert_array_equal(getattr(windows, name), values)


# At the same place (c, b) of each stratum; the reference mileage is a sum over failures too.
@quick
@given(seeds)
def test_the_likelihood_of_merged_buckets_is_that_of_the_whole_everywhere(seed):
    data, shared = a_shop(seed)
    parts = in_buckets(seed, data, shared)
    merged = weibull_likelihood(merge([part for part, _ in parts]), merge_windows([part for _, part in parts]))
    whole = weibull_likelihood(data, shared)
    draw = np.random.default_rng(seed)
    rows, c, b = np.arange(N_STRATA).repeat(3), draw.normal(-1, 1, 9), draw.normal(0.5, 0.3, 9)
    for ours, theirs in zip(merged.evaluate(rows, c, b), whole.evaluate(rows, c, b), strict=True):
        assert ours == pytest.approx(theirs, rel=1e-10, abs=1e-10)


@quick
@given(seeds)
def test_errors_by_cluster_from_merged_buckets_are_those_of_the_whole_where_clusters_are_kept(seed):
    data, shared = a_shop(seed)
    parts = in_buckets(seed, data, shared)
    kept = {"keep_clusters": True}
    merged = merge([collapse(part, **kept) for part, _ in parts], **kept)
    windows = merge_windows([collapse_windows(part, **kept) for _, part in parts], **kept)
    ours, theirs = clustered_rates(merged, windows), clustered_rates(data, shared)
    assert_same(ours, theirs, ("dispersion", "se_log", "n_clusters", "n_clusters_failed"), 1e-9)
    ours, theirs = (robust_errors(fit_weibull(*of), *of) for of in ((merged, windows), (data, shared)))
    assert_same(ours.fits, theirs.fits, ("se_log_shape", "se_log_scale"), 1e-7)


def test_without_clusters_errors_by_cluster_say_that_there_is_only_one():
    data, _ = a_shop(3)
    errors = robust_errors(fit_weibull(collapse(data)), collapse(data))
    assert (errors.n_clusters == 1).all()
    assert np.isnan(errors.fits.se_log_shape).all()


# (0, 10] failed twice, weights 1 and 2; (0, 10] sound; (0, 10] taken out; (0, 10] failed after a sound look at 5.
def test_only_lives_alike_in_everything_are_merged():
    data = lives([0] * 5, [10] * 5, [1, 1, 0, 0, 1], weight=[1, 2, 1, -1, 1], left=[np.nan] * 4 + [5])
    merged = collapse(data)
    rows = zip(merged.event.tolist(), merged.weight.tolist(), np.nan_to_num(merged.left, nan=-1).tolist(), strict=True)
    assert sorted(rows) == [(False, -1, -1), (False, 1, -1), (True, 1, 5), (True, 3, -1)]
    assert collapse(data, keep_clusters=True).entry.size == 5


def test_a_window_without_a_cluster_stays_a_cluster_of_its_own():
    shared = shared_exposure([0, 0, 0], [0, 0, 0], [9, 9, 9], [0], [1], cluster=[-1, -1, 4])
    assert collapse_windows(shared).weight.tolist() == [3]
    assert collapse_windows(shared, keep_clusters=True).cluster.tolist() == [-1, -1, 4]


def test_buckets_without_vehicles_add_nothing():
    data = some_lives(1)
    empty = taken(data, np.zeros(0, int))
    assert collapse(empty).entry.size == 0
    assert_same_answers(merge([empty, data, empty]), data)


def test_buckets_that_do_not_belong_together_are_refused():
    one, other = lives([0], [9], [1], n_strata=2), lives([0], [9], [1], n_strata=3)
    with pytest.raises(LivesError, match=r"buckets: 2 of them have \[2, 3\] strata"):
        merge([one, other])
    with pytest.raises(LivesError, match="buckets: none was given"):
        merge([])
    with pytest.raises(LivesError, match="buckets: 1 of 1 clusters are in more than one bucket"):
        merge([one, one], keep_clusters=True)
    windows = [shared_exposure([0], [0], [9], [0], [copies]) for copies in (1, 2)]
    with pytest.raises(LivesError, match="in bucket 2 of 2 strata hold other groups"):
        merge_windows(windows)
    named = shared_exposure([0], [0], [9], [0], [1], cluster=[7])
    with pytest.raises(LivesError, match="first: 7"):
        merge_windows([named, named], keep_clusters=True)
