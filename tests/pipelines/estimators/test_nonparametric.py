from __future__ import annotations

import math

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.curve_reading import restricted_means, survival_at, survival_quantiles
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier


# Worked by hand; lives in thousand miles: (0, 10] failed; (0, 20] censored; (15, 30] failed.
# At 10 the third is not yet at risk: 2 at risk, S = 1/2 (counting it anyway: 2/3). At 30 it is alone: S = 0.
def test_late_entry_is_not_at_risk_before_entry():
    curve = kaplan_meier(lives([0, 0, 15], [10, 20, 30], [True, False, True]))
    assert curve.survival.tolist() == [0.5, 0.0]
    assert curve.at_risk.tolist() == [2, 1]
    assert curve.cumulative_hazard.tolist() == [0.5, 1.5]


# Two fail at 5, one is censored at 5 (still at risk there), one fails at 8: S = 2/4, then 0.
# Greenwood at 5: S^2 d / (n (n - d)) = 0.25 x 2 / (4 x 2) = 0.0625, so se = 0.25.
# Nelson-Aalen at 5: 2/4, variance 2/16; at 8 both grow by 1.
def test_ties_and_a_tie_of_failure_with_censoring():
    curve = kaplan_meier(lives([0, 0, 0, 0], [5, 5, 5, 8], [1, 1, 0, 1]))
    assert curve.t.tolist() == [5, 8]
    assert curve.at_risk.tolist() == [4, 1]
    assert curve.events.tolist() == [2, 1]
    assert curve.survival.tolist() == [0.5, 0.0]
    assert curve.se[0] == pytest.approx(0.25, rel=1e-15)
    assert curve.se_cumulative_hazard == pytest.approx([math.sqrt(2 / 16), math.sqrt(2 / 16 + 1)], rel=1e-15)


# With S = 0.5, se = 0.25, z = 1.959964: log-log S^exp(+-z se / (S |log S|)); plain 0.5 +- 0.489991;
# log 0.5 e^(+-0.979982), cut at 1.
def test_limits_by_their_formulas():
    data = lives([0, 0, 0, 0], [5, 5, 5, 8], [1, 1, 0, 1])
    spread = math.exp(1.959963984540054 * 0.25 / (0.5 * math.log(2)))
    curve = kaplan_meier(data)
    assert (curve.lower[0], curve.upper[0]) == pytest.approx((0.5**spread, 0.5 ** (1 / spread)), rel=1e-12)
    plain = kaplan_meier(data, transform="plain")
    assert (plain.lower[0], plain.upper[0]) == pytest.approx((0.5 - 0.4899909961350135, 0.9899909961350135), rel=1e-12)
    log = kaplan_meier(data, transform="log")
    assert (log.lower[0], log.upper[0]) == pytest.approx((0.5 * math.exp(-0.979981992270027), 1.0), rel=1e-12)


def test_limits_are_missing_where_nothing_defines_them():
    curve = kaplan_meier(lives([0, 0], [5, 8], [True, True]))
    assert curve.survival[-1] == 0
    assert np.isnan([curve.se[-1], curve.lower[-1], curve.upper[-1]]).all()
    before = survival_at(curve, 0, 3.0)
    assert (before.survival, before.cumulative_hazard, before.at_risk) == (1.0, 0.0, 2.0)
    assert np.isnan([before.lower, before.upper]).all()


def test_a_lone_censoring_and_an_empty_stratum_have_no_rows():
    curve = kaplan_meier(lives([0, 0], [5, 8], [False, True], [0, 2], n_strata=4))
    assert curve.start.tolist() == [0, 0, 0, 1, 1]
    assert curve.stratum.tolist() == [2]
    assert curve.largest[[0, 2]].tolist() == [5, 8]
    assert np.isnan(curve.largest[[1, 3]]).all()


def test_no_lives_at_all():
    curve = kaplan_meier(lives([], [], [], n_strata=2))
    assert curve.t.size == 0
    assert np.isnan(restricted_means(curve, 10.0).estimate).all()
    assert np.isnan(survival_quantiles(curve, 0.5).estimate).all()
    assert survival_at(curve, [0, 1], 5.0).survival.tolist() == [1, 1]


def test_weights_are_repetitions():
    once = kaplan_meier(lives([0, 3, 0], [5, 8, 8], [1, 1, 0], weight=[3, 2, 4]))
    again = kaplan_meier(lives([0] * 3 + [3] * 2 + [0] * 4, [5] * 3 + [8] * 6, [1] * 5 + [0] * 4))
    for name in ("t", "at_risk", "events", "survival", "se", "lower", "upper", "cumulative_hazard"):
        assert getattr(once, name).tolist() == getattr(again, name).tolist()


def test_an_interval_failure_is_entered_at_the_mileage_found():
    found = kaplan_meier(lives([0, 0], [5, 8], [True, False], left=[2, np.nan]))
    assert (found.t.tolist(), found.survival.tolist()) == ([5.0], [0.5])


# Vehicle 1 watched over (10, 50], vehicle 2 over (20, 60]; two sockets each. One socket of vehicle 1 fails
# at 30 and is renewed. At 30 (odometer and age): its failing socket, its other one, both of vehicle 2, so 4.
# At age 15: the renewed part and vehicle 1's two sockets (entry 10): 3.
def test_shared_windows_with_a_socket_taken_out():
    data = lives([10, 0, 10], [30, 20, 50], [True, False, False], weight=[1, 1, -1])
    shared = shared_exposure([0, 0], [10, 20], [50, 60], [0], [2])
    curve = kaplan_meier(data, shared)
    assert (curve.t.tolist(), curve.at_risk.tolist(), curve.survival.tolist()) == ([30], [4], [0.75])
    assert curve.sets.at_risk(0, [10.0, 10.5, 15, 20, 20.5, 30, 30.5, 50, 50.5, 60, 61]).tolist() == [
        1, 3, 3, 3, 4, 4, 3, 3, 2, 2, 0,
    ]  # fmt: skip
    assert curve.largest.tolist() == [60]


# Both sockets of vehicle 2 (the one with most miles) were renewed at 30: nobody is at risk past age 50.
def test_a_window_wholly_taken_out_is_not_the_largest_watched():
    data = lives([20, 20, 0, 0, 20], [30, 30, 30, 30, 60], [1, 1, 0, 0, 0], weight=[1, 1, 1, 1, -2])
    shared = shared_exposure([0, 0], [10, 20], [50, 60], [0], [2])
    curve = kaplan_meier(data, shared)
    assert curve.largest.tolist() == [50]
    assert restricted_means(curve, 55.0).beyond_last.tolist() == [True]


def test_taking_out_more_than_is_there_is_refused():
    data = lives([10, 10], [30, 50], [True, False], weight=[1, -2])
    with pytest.raises(LivesError, match="more fail than are at risk"):
        kaplan_meier(data, shared_exposure([0], [10], [50], [0], [1]))


def test_shared_windows_must_list_every_stratum():
    with pytest.raises(LivesError, match="lists 1 strata, the lives have 2"):
        kaplan_meier(lives([0, 0], [1, 2], [1, 1], [0, 1]), shared_exposure([0], [10], [50], [0], [1]))


# S = 3/4 at 2, 1/2 at 4, 1/4 at 6, then a censoring at 9: the step at exactly 1/2 runs from 4 to 6, so the
# median is 5; the one at 1/4 runs from 6 to the largest mileage watched, 9: 7.5. Survival never falls to 0.2.
def test_quantiles_average_a_step_that_lies_exactly_there():
    curve = kaplan_meier(lives([0] * 4, [2, 4, 6, 9], [1, 1, 1, 0]))
    assert survival_quantiles(curve, 0.5).estimate.tolist() == [5]
    assert survival_quantiles(curve, 0.75).estimate.tolist() == [7.5]
    assert survival_quantiles(curve, 0.4).estimate.tolist() == [4]
    assert np.isnan(survival_quantiles(curve, 0.8).estimate).all()


# Same curve to 8: 2 + 2 x 3/4 + 2 x 1/2 + 2 x 1/4 = 5. Variance: areas right of 2, 4, 6 are 3, 1.5, 0.5;
# 3^2 / (4 x 3) + 1.5^2 / (3 x 2) + 0.5^2 / (2 x 1) = 0.75 + 0.375 + 0.125 = 1.25.
def test_restricted_mean_by_hand():
    curve = kaplan_meier(lives([0] * 4, [2, 4, 6, 9], [1, 1, 1, 0]))
    mean = restricted_means(curve, 8.0)
    assert mean.estimate.tolist() == [5]
    assert mean.se[0] == pytest.approx(math.sqrt(1.25), rel=1e-15)
    assert not mean.beyond_last[0]
    assert restricted_means(curve, 1.0).estimate.tolist() == [1]
    assert restricted_means(curve, 10.0).beyond_last[0]


def test_restricted_mean_takes_a_horizon_per_stratum():
    curve = kaplan_meier(lives([0] * 4, [2, 4, 6, 9], [1, 1, 1, 0], [0, 0, 1, 1]))
    # Stratum 0: 2 + 1/2 x 1 to 3. Stratum 1 fails at 6 and keeps 1/2: 6 + 2 x 1/2 to 8.
    assert restricted_means(curve, [3.0, 8.0]).estimate.tolist() == [2.5, 7.0]


def test_counts_between_failures_and_at_the_next_end():
    curve = kaplan_meier(lives([0, 0, 12], [10, 20, 30], [True, False, True]))
    read = survival_at(curve, 0, [5, 10, 11, 12, 13, 30, 31])
    assert read.at_risk.tolist() == [2, 2, 1, 1, 2, 1, 0]
    assert read.at_risk_next.tolist() == [2, 2, 2, 2, 2, 1, 0]
    assert read.events.tolist() == [0, 1, 0, 0, 0, 1, 0]


def test_counts_stay_exact_where_32_bits_would_overflow():
    # n (n - d) = 10,000,000 x 9,999,999 = 10^14: past 2^31 by far. Greenwood se = sqrt((n - 1) / n^3).
    n = 10_000_000
    curve = kaplan_meier(lives([0, 0], [5, 8], [True, False], weight=[1, n - 1]))
    assert curve.at_risk.tolist() == [n]
    assert curve.se[0] == pytest.approx(math.sqrt((n - 1) / n**3), rel=1e-12)


def test_a_small_stratum_keeps_its_digits_behind_a_large_one():
    big = np.arange(1, 2001, dtype=float)
    data = lives(np.zeros(2002), [*big, 5, 6], np.ones(2002), [0] * 2000 + [1] * 2, [1] * 2000 + [1, 1e9])
    curve = kaplan_meier(data)
    assert curve.cumulative_hazard[2000] == 1 / (1e9 + 1)
