"""Curves that speak from a later age on, and where too few are at risk early."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators import risk_steps as steps_module
from longmile.pipelines.estimators.curve_reading import restricted_means, survival_at, survival_quantiles
from longmile.pipelines.estimators.curve_start import curve_start, started_curves
from longmile.pipelines.estimators.lives import Lives, lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import conditional_curves, kaplan_meier
from longmile.pipelines.estimators.risk_steps import risk_steps

REFERENCE = Path(__file__).parents[2] / "reference"
CURVE = ("stratum", "t", "at_risk", "events", "survival", "se", "lower", "upper", "cumulative_hazard")
quick = settings(max_examples=25, deadline=None)


def lone_entrant(n_strata=1):
    """Thousand miles: (0, 5] failed; (10, 20] failed; (10, 30], (10, 40] still sound."""
    return lives([0, 10, 10, 10], [5, 20, 30, 40], [1, 1, 0, 0], n_strata=n_strata)


def residents(from_month=0) -> Lives:
    with (REFERENCE / "left_truncated_residents.csv").open(newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if float(row["entry"]) >= from_month]
    return lives(*([float(row[name]) for row in rows] for name in ("entry", "exit", "event")))


def cut_at(data: Lives, age) -> Lives:
    """The lives that run beyond the age, watched from it on."""
    beyond = data.exit_ > age
    return lives(
        np.maximum(data.entry, age)[beyond],
        data.exit_[beyond],
        data.event[beyond],
        data.stratum[beyond],
        data.weight[beyond],
        n_strata=data.n_strata,
    )


@st.composite
def late_lives(draw, n_strata=2):
    """Lives of whole miles that enter at any age."""
    column = st.tuples(st.integers(0, 20), st.integers(1, 20), st.booleans(), st.integers(0, n_strata - 1))
    entry, ran, event, stratum = np.array(draw(st.lists(column, min_size=1, max_size=40))).T
    return lives(entry, entry + ran, event, stratum, n_strata=n_strata)


# At 5 one is at risk and fails: S = 0 for good. From 10 on three are at risk: S = 2/3 at 20.
def test_a_lone_late_entrant_that_fails_does_not_take_the_curve_to_zero():
    plain = kaplan_meier(lone_entrant())
    assert plain.survival.tolist() == [0, 0]
    assert curve_start(plain).tolist() == [10]
    curve = started_curves(plain)
    assert (curve.t.tolist(), curve.at_risk.tolist(), curve.survival.tolist()) == ([20], [3], [pytest.approx(2 / 3)])
    assert (curve.from_age.tolist(), curve.failures_before.tolist()) == ([10], [1])
    # Greenwood with one of three failed: S^2 x 1 / (3 x 2).
    assert curve.se[0] == pytest.approx(2 / 3 / math.sqrt(6), rel=1e-15)
    assert curve.cumulative_hazard.tolist() == [1 / 3]


def test_nothing_is_said_below_the_start():
    read = survival_at(started_curves(kaplan_meier(lone_entrant())), 0, [5, 9, 10, 15, 20])
    assert np.isnan([read.survival[:2], read.cumulative_hazard[:2], read.se[:2], read.lower[:2], read.upper[:2]]).all()
    assert read.survival[2:].tolist() == [1, 1, pytest.approx(2 / 3)]
    # Failures at or below the start are not the curve's; numbers at risk are as they were.
    assert np.isnan(read.events[:3]).all()
    assert read.events[3:].tolist() == [0, 1]
    assert read.at_risk.tolist() == [1, 0, 0, 3, 3]


# From 10: 10 miles at 1 and 10 at 2/3 to 30. Area right of 20 is 20/3: variance (20/3)^2 x 1 / (3 x 2).
def test_restricted_mean_counts_from_the_start():
    curve = started_curves(kaplan_meier(lone_entrant()))
    mean = restricted_means(curve, 30.0)
    assert mean.estimate[0] == pytest.approx(10 + 20 / 3, rel=1e-15)
    assert mean.se[0] == pytest.approx(20 / 3 / math.sqrt(6), rel=1e-15)
    assert mean.upper[0] <= 20
    assert restricted_means(curve, 10.0).estimate.tolist() == [0]
    assert np.isnan(restricted_means(curve, 9.0).estimate).all()
    assert np.isnan(restricted_means(conditional_curves(curve, 40.0), 50.0).estimate).all()
    assert survival_quantiles(curve, 0.3).estimate.tolist() == [20]


# Twelve from new, failing one after the other: the last ones among few, which is ordinary.
def test_a_thin_end_moves_nothing():
    assert curve_start(kaplan_meier(lives(np.zeros(12), np.arange(1, 13), np.ones(12)))).tolist() == [0]


# Thirty from new; when three are left, two more enter and one of those fails at once among five.
def test_a_late_bump_in_the_number_at_risk_is_still_the_end():
    entry = np.r_[np.zeros(30), 27.5, 27.5]
    exit_ = np.r_[np.arange(1, 31), 27.8, 40]
    assert curve_start(kaplan_meier(lives(entry, exit_, np.ones(32)))).tolist() == [0]


# Thirty enter at 50, after a lone one that ran from 3 to 60 unharmed: few at risk early, but nothing failed there.
def test_few_at_risk_without_a_failure_is_no_trouble():
    data = lives(np.r_[3, np.full(30, 50.0)], np.r_[60, np.arange(61, 91)], np.ones(31))
    assert curve_start(kaplan_meier(data)).tolist() == [0]


# The only failure is that of a lone entrant; the thirty sound ones are seen only in the numbers at risk.
def test_later_lives_count_though_none_of_them_fails():
    data = lives(np.r_[0, np.full(30, 10.0)], np.r_[5, np.arange(61, 91)], np.r_[1, np.zeros(30)])
    curve = started_curves(kaplan_meier(data))
    assert (curve.from_age.tolist(), curve.t.size, curve.failures_before.tolist()) == ([10], 0, [1])
    assert survival_at(curve, 0, 50.0).survival == 1


# A failure among 4 of a later 8 is not too few (half the peak); among 3 it is. Twice `least` = 20 and more: 10.
@pytest.mark.parametrize(("early", "later", "start"), [(4, 4, 0), (3, 5, 10), (9, 30, 10), (10, 30, 0)])
def test_how_few_are_too_few(early, later, start):
    entry = np.r_[np.zeros(early), np.full(later, 10.0)]
    exit_ = np.r_[5, np.full(early + later - 1, 40.0)]
    event = np.r_[1, np.zeros(early + later - 1)]
    # After the failure one fewer is at risk: with later entrants the peak is early + later - 1, reached at 10.
    assert curve_start(kaplan_meier(lives(entry, exit_, event))).tolist() == [start]


# Months: 11 are at risk at the first two deaths, 777 and 781, which take 17 % off; 22 at the third, at 804.
def test_a_higher_least_moves_the_start_of_the_residents():
    plain = kaplan_meier(residents())
    assert curve_start(plain).tolist() == [0]
    [start] = curve_start(plain, least=20)
    # Counted in the file: 18 with entry < 802 <= exit, 22 with entry < 803 <= exit.
    assert (start, plain.sets.at_risk(0, [802, 803]).tolist()) == (802, [18, 22])


# R 4.2.2, survival 3.5-3, on those who entered at 800 months or later.
@pytest.mark.parametrize("transform", ["plain", "log", "loglog"])
def test_residents_who_entered_from_800_months_on(transform):
    table = json.loads((REFERENCE / "curves.json").read_text(encoding="utf-8"))["residents_from_800"]["rows"]
    read = survival_at(kaplan_meier(residents(800), transform=transform, start=800), 0, [row["time"] for row in table])
    names = {
        "at_risk_next": "at_risk_just_before",
        "survival": "S",
        "se": "se_greenwood",
        "cumulative_hazard": "H_nelson_aalen",
        "se_cumulative_hazard": "se_H_nelson_aalen",
        "lower": f"lo_{transform}",
        "upper": f"hi_{transform}",
    }
    for ours, theirs in names.items():
        assert getattr(read, ours) == pytest.approx([row[theirs] for row in table], rel=1e-12), theirs


# Those who entered before 800 and lived on are watched beyond 800 too: 87 at risk at 850 and not 73 (counted by
# entry < 850 <= exit in the file, all of them and those entering from 800 on).
def test_lives_that_entered_before_the_start_count_beyond_it():
    data = residents()
    curve = kaplan_meier(data, start=800)
    assert curve.sets.at_risk(0, 850) == 87
    assert kaplan_meier(residents(800)).sets.at_risk(0, 850) == 73
    cut = kaplan_meier(cut_at(data, 800))
    for name in CURVE:
        assert getattr(curve, name) == pytest.approx(getattr(cut, name), rel=1e-13, nan_ok=True), name


@quick
@given(late_lives(), st.integers(0, 25))
def test_a_start_is_the_same_as_lives_watched_from_it(data, age):
    curve, cut = kaplan_meier(data, start=age), kaplan_meier(cut_at(data, age))
    for name in CURVE:
        assert getattr(curve, name) == pytest.approx(getattr(cut, name), rel=1e-12, nan_ok=True), name
    later = conditional_curves(kaplan_meier(data), np.full(2, float(age)))
    assert later.survival.tolist() == curve.survival.tolist()
    total = np.bincount(data.stratum, weights=data.event, minlength=2)
    kept = np.bincount(curve.stratum, weights=curve.events, minlength=2)
    assert (curve.failures_before + kept).tolist() == total.tolist()


# Written as the rule says, mile by mile (all miles are whole, so half miles see every number at risk).
@quick
@given(late_lives(), st.sampled_from([2.0, 4.0, 10.0]))
def test_the_start_is_what_the_rule_says(data, least):
    curve = kaplan_meier(data)
    found = curve_start(curve, least)
    t = np.arange(0.5, 42)
    for s in range(2):
        at_risk = curve.sets.at_risk(np.full(t.size, s), t)
        peak = at_risk.max()
        enough = min(least, max(min(2, peak), peak / 2))
        early = np.arange(t.size) < np.argmax(at_risk == peak)
        thin = np.flatnonzero(early & (at_risk < enough))
        ready = t[thin[-1]] + 0.5 if thin.size else 0.0
        troubled = (curve.stratum == s) & (curve.t <= ready) & (curve.at_risk < enough)
        assert found[s] == (ready if troubled.any() else 0.0)


@quick
@given(late_lives(), st.sampled_from([0.5, 1000.0]), st.randoms(use_true_random=False))
def test_starts_scale_with_the_miles_and_do_not_depend_on_order_or_on_weights_written_out(data, factor, random):
    order = list(range(data.entry.size)) * 2
    random.shuffle(order)
    twice = lives(
        data.entry[order] * factor, data.exit_[order] * factor, data.event[order], data.stratum[order], n_strata=2
    )
    weighed = lives(data.entry, data.exit_, data.event, data.stratum, np.full(data.entry.size, 2), n_strata=2)
    assert curve_start(kaplan_meier(twice)) == pytest.approx(curve_start(kaplan_meier(weighed)) * factor, rel=1e-12)


@quick
@given(late_lives(), st.lists(st.tuples(st.integers(0, 20), st.integers(1, 20)), min_size=1, max_size=12))
def test_shared_windows_equal_lives_written_out(data, windows):
    entry, ran = np.array(windows, dtype=float).T
    shared = shared_exposure(np.zeros(entry.size), entry, entry + ran, [0, -1], [2, 1])
    plain = lives(
        np.r_[data.entry, entry],
        np.r_[data.exit_, entry + ran],
        np.r_[data.event, np.zeros(entry.size)],
        np.r_[data.stratum, np.zeros(entry.size)],
        np.r_[data.weight, np.full(entry.size, 2)],
        n_strata=2,
    )
    assert curve_start(kaplan_meier(data, shared)).tolist() == curve_start(kaplan_meier(plain)).tolist()


def test_the_size_of_a_chunk_changes_nothing(monkeypatch):
    rng = np.random.default_rng(4)
    entry = rng.integers(0, 50, 400)
    curve = kaplan_meier(lives(entry, entry + rng.integers(1, 50, 400), rng.random(400) < 0.5, np.arange(400) % 40))
    whole = curve_start(curve)
    monkeypatch.setattr(steps_module, "_CHUNK", 30)
    assert len(list(risk_steps(curve.sets, np.arange(40)))) > 10
    assert curve_start(curve).tolist() == whole.tolist()
    assert (whole > 0).any()


def test_starts_that_cannot_be_are_refused():
    curve = kaplan_meier(lone_entrant(2), start=[10, 0])
    with pytest.raises(LivesError, match=r"1 of 2 starts cannot be .*stratum 0, 5.0 miles"):
        conditional_curves(curve, [5, 0])
    for wrong in (-1, np.nan, np.inf):
        with pytest.raises(LivesError, match="starts cannot be"):
            kaplan_meier(lone_entrant(), start=wrong)
