from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from longmile.pipelines.estimators.curve_reading import restricted_means, survival_at
from longmile.pipelines.estimators.lives import (
    Lives,
    SharedExposure,
    lives,
    miles_at_risk,
    n_lives,
    shared_exposure,
)
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import life_by, mean_life, wald_limits
from longmile.pipelines.estimators.weibull import fit_weibull

CURVE = ("stratum", "t", "at_risk", "events", "survival", "se", "lower", "upper", "cumulative_hazard")
quick = settings(max_examples=60, deadline=None)


@st.composite
def some_lives(draw, n_strata=3, most=25):
    """Lives of whole miles, so that ties happen; some enter late, some fail within an interval."""
    n = draw(st.integers(1, most))
    columns = draw(
        st.lists(
            st.tuples(
                st.integers(0, 30),
                st.integers(1, 30),
                st.booleans(),
                st.integers(0, n_strata - 1),
                st.integers(1, 3),
            ),
            min_size=n,
            max_size=n,
        )
    )
    entry, ran, event, stratum, weight = (np.array(column) for column in zip(*columns, strict=True))
    return lives(entry, entry + ran, event, stratum, weight, n_strata=n_strata)


@st.composite
def a_shop(draw):
    """Windows of two groups, three strata (one on no group), and sockets that failed and were renewed."""
    n = draw(st.integers(1, 8))
    entry = np.array(draw(st.lists(st.integers(0, 40), min_size=n, max_size=n)))
    exit_ = entry + np.array(draw(st.lists(st.integers(2, 40), min_size=n, max_size=n)))
    group = np.array(draw(st.lists(st.integers(0, 1), min_size=n, max_size=n)))
    multiplicity = [draw(st.integers(1, 3)), draw(st.integers(1, 3)), 2]
    shared = shared_exposure(group, entry, exit_, [0, 1, -1], multiplicity)
    touched = draw(st.lists(st.tuples(st.integers(0, n - 1), st.integers(1, 40)), max_size=6, unique_by=lambda x: x[0]))
    rows = [(0, 9, 1, 2, 1), (3, 12, 0, 2, 1)]
    for vehicle, after in touched:
        low, high, s = int(entry[vehicle]), int(exit_[vehicle]), int(group[vehicle])
        at = min(low + after, high)
        rows += [(low, at, 1, s, 1), (low, high, 0, s, -1)]
        rows += [(0, high - at, 0, s, 1)] if high > at else []
    return lives(*np.array(rows, dtype=float).T, n_strata=3), shared


def written_out(data: Lives, shared: SharedExposure) -> Lives:
    """The same lives with every shared window copied into every stratum that holds it."""
    held = [(s, i) for s, g in enumerate(shared.stratum_group) for i in np.flatnonzero(shared.group == g)]
    s, i = np.array(held, dtype=int).reshape(-1, 2).T
    return lives(
        np.r_[data.entry, shared.entry[i]],
        np.r_[data.exit_, shared.exit_[i]],
        np.r_[data.event, np.zeros(i.size, bool)],
        np.r_[data.stratum, s],
        np.r_[data.weight, shared.multiplicity[s]],
        n_strata=data.n_strata,
    )


def reordered(data: Lives, order) -> Lives:
    keys = ("entry", "exit_", "event", "stratum", "weight", "left")
    return lives(*(getattr(data, key)[order] for key in keys), n_strata=data.n_strata)


def assert_same_curves(one, other, names=CURVE, rel=1e-12):
    for name in names:
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=rel, nan_ok=True), name


def assert_same_fits(one, other, factor=1.0, rel=1e-6):
    """Fits agree where both are ok and say anything about the shape."""
    both = one.ok & other.ok
    settled = ~both | (one.se_log_shape < 5)
    both &= settled
    assert one.shape[both] == pytest.approx(other.shape[both], rel=rel)
    assert one.scale[both] * factor == pytest.approx(other.scale[both], rel=rel)


@quick
@given(some_lives(), st.randoms(use_true_random=False))
def test_row_order_never_matters(data, random):
    order = list(range(data.entry.size))
    random.shuffle(order)
    other = reordered(data, order)
    assert_same_curves(kaplan_meier(data), kaplan_meier(other))
    assert fit_weibull(data).status.tolist() == fit_weibull(other).status.tolist()
    assert_same_fits(fit_weibull(data), fit_weibull(other))


@quick
@given(some_lives())
def test_survival_never_rises_and_stays_a_chance(data):
    curve = kaplan_meier(data)
    assert ((curve.survival >= 0) & (curve.survival <= 1)).all()
    same = np.flatnonzero(curve.stratum[1:] == curve.stratum[:-1])
    assert (curve.survival[same + 1] <= curve.survival[same]).all()
    assert (curve.cumulative_hazard[same + 1] > curve.cumulative_hazard[same]).all()
    inside = ~np.isnan(curve.lower)
    assert (curve.lower[inside] <= curve.survival[inside]).all()
    assert (curve.survival[inside] <= curve.upper[inside]).all()


@quick
@given(some_lives(), st.sampled_from([0.001, 1.609344, 1000.0]))
def test_scaling_the_miles_scales_the_answers(data, factor):
    scaled = lives(data.entry * factor, data.exit_ * factor, data.event, data.stratum, data.weight, n_strata=3)
    one, other = kaplan_meier(data), kaplan_meier(scaled)
    assert_same_curves(one, other, ("survival", "lower", "upper", "cumulative_hazard", "at_risk"))
    assert one.t * factor == pytest.approx(other.t, rel=1e-12)
    mean, longer = restricted_means(one, 25.0), restricted_means(other, 25.0 * factor)
    assert mean.estimate * factor == pytest.approx(longer.estimate, rel=1e-9, nan_ok=True)
    assert_same_fits(fit_weibull(data), fit_weibull(scaled), factor)


@quick
@given(some_lives())
def test_weights_are_repetitions(data):
    again = reordered(data, np.repeat(np.arange(data.entry.size), data.weight.astype(int)))
    again = lives(again.entry, again.exit_, again.event, again.stratum, n_strata=3)
    assert_same_curves(kaplan_meier(data), kaplan_meier(again))
    assert_same_fits(fit_weibull(data), fit_weibull(again))


@quick
@given(some_lives())
def test_at_risk_is_what_counting_says(data):
    t = np.arange(0.5, 62, 0.5)
    read = survival_at(kaplan_meier(data), np.arange(3)[:, None], t)
    member = (data.entry[:, None] < t) & (t <= data.exit_[:, None])
    counted = np.stack([(data.weight[:, None] * member)[data.stratum == s].sum(axis=0) for s in range(3)])
    assert (read.at_risk == counted).all()


@quick
@given(a_shop())
def test_shared_windows_equal_the_lives_written_out(shop):
    data, shared = shop
    plain = written_out(data, shared)
    assert (n_lives(data, shared) == n_lives(plain)).all()
    assert (miles_at_risk(data, shared) == miles_at_risk(plain)).all()
    one, other = kaplan_meier(data, shared), kaplan_meier(plain)
    assert_same_curves(one, other)
    ours, theirs = fit_weibull(data, shared), fit_weibull(plain)
    assert ours.status.tolist() == theirs.status.tolist()
    assert_same_fits(ours, theirs)


@quick
@given(some_lives(n_strata=1), st.floats(0.001, 0.01))
def test_a_narrowing_interval_tends_to_the_exact_failure(data, narrow):
    exact = fit_weibull(data)
    assume(exact.ok[0] and exact.se_log_shape[0] < 2)
    left = np.where(data.event, data.exit_ - narrow * 1e-3, np.nan)
    within = lives(data.entry, data.exit_, data.event, weight=data.weight, left=left)
    assert fit_weibull(within).shape == pytest.approx(exact.shape, rel=1e-2)


@quick
@given(some_lives(n_strata=1))
def test_limits_enclose_the_estimate_and_come_closer_to_it_with_less_confidence(data):
    fits = fit_weibull(data)
    assume(fits.ok[0])
    for quantity in (mean_life(), life_by(0.1)):
        for make in (wald_limits, profile_limits):
            wide, narrow = make(fits, quantity, 0.95), make(fits, quantity, 0.5)
            assert 0 <= wide.lower[0] <= narrow.lower[0] <= wide.estimate[0] <= narrow.upper[0] <= wide.upper[0]
