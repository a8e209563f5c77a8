from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.competing import cumulative_incidence
from longmile.pipelines.estimators.incidence_reading import clustered_incidence, incidence_at
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier

REFERENCE = Path(__file__).parents[2] / "reference"
EXPECTED = json.loads((REFERENCE / "competing.json").read_text(encoding="utf-8"))


def columns(name):
    with (REFERENCE / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {key: np.array([float(row[key]) for row in rows]) for key in rows[0]}


def people(late):
    read = columns("competing_ends")
    entry, exit_ = read["entry_age"], read["exit_age"]
    cause = read["cause"].astype(int)
    return lives(entry if late else 0 * entry, exit_ if late else exit_ - entry, cause > 0), cause


def shocks():
    read = columns("shock_absorbers")
    return lives(read["entry"], read["exit"], read["event"]), read["mode"].astype(int)


# Thousand miles: A (0, 10] cause 1; B (0, 20] cause 2; C (0, 20] sound; D (15, 30] cause 1.
# At 10 three are at risk (D is not yet): F1 = 1/3, S = 2/3. At 20 B, C, D: F2 = 2/3 x 1/3 = 2/9, S = 4/9. At 30 D is
# alone: F1 = 1/3 + 4/9 = 7/9. One minus Kaplan-Meier of cause 1 alone would say 1.
SMALL = lives([0, 0, 0, 15], [10, 20, 20, 30], [1, 1, 0, 1])
SMALL_CAUSE = [1, 2, 0, 1]


def test_incidences_by_hand_with_late_entry_and_a_tie_with_censoring():
    made = cumulative_incidence(SMALL, SMALL_CAUSE)
    assert made.curves.t.tolist() == [10, 20, 30]
    assert made.events.tolist() == [[1, 0], [0, 1], [1, 0]]
    assert made.incidence[:, 0] == pytest.approx([1 / 3, 1 / 3, 7 / 9], rel=1e-15)
    assert made.incidence[:, 1] == pytest.approx([0, 2 / 9, 2 / 9], rel=1e-15)
    assert kaplan_meier(lives(SMALL.entry, SMALL.exit_, [1, 0, 0, 1])).survival[-1] == 0


# With weights a, b, c, d: F2(20) = (b + c) / (a + b + c) x b / (b + c + d). At weights of 1 its slopes are 2/9 x
# (-1/3, 5/6, -1/6, -1/3); their squares add up to 4/81 x 34/36 = 34/729. Delta method: (2/9)^2 / (3 x 2) from 10 and
# (2/3)^2 x 2 / 27 from 20: 30/729.
def test_variances_by_hand():
    assert cumulative_incidence(SMALL, SMALL_CAUSE).se[1, 1] == pytest.approx(math.sqrt(34) / 27, rel=1e-14)
    delta = cumulative_incidence(SMALL, SMALL_CAUSE, variance="greenwood")
    assert delta.se[1, 1] == pytest.approx(math.sqrt(30) / 27, rel=1e-14)


# Four lives at 5: cause 1, cause 2 and a sound one; the fourth is struck by 1 at 8. F1 = 1/4 and 1/4 + 1/2, F2 = 1/4.
# Without late entry and censoring before 8 F1(5) is a share of 4: variance 1/4 x 3/4 / 4. Aalen's has 3 for the last 4.
def test_causes_tied_at_one_mileage():
    data, cause = lives([0] * 4, [5, 5, 5, 8], [1, 1, 0, 1]), [1, 2, 0, 1]
    made = cumulative_incidence(data, cause)
    assert made.incidence.tolist() == [[0.25, 0.25], [0.75, 0.25]]
    assert made.se[0] == pytest.approx([math.sqrt(3 / 64)] * 2, rel=1e-14)
    assert cumulative_incidence(data, cause, variance="aalen").se[0, 0] == pytest.approx(math.sqrt(3 / 48), rel=1e-14)


@pytest.mark.parametrize(("variance", "rel"), [("jackknife", 1e-6), ("greenwood", 1e-6)])
def test_shock_absorbers_two_modes(variance, rel):
    answer = EXPECTED["shock_absorbers"]
    read = incidence_at(cumulative_incidence(*shocks(), variance=variance), 0, answer["time"])
    for k in (0, 1):
        assert read.incidence[:, k] == pytest.approx(answer[f"cif_mode{k + 1}"], rel=1e-12)
        assert read.se[:, k] == pytest.approx(answer[f"se_ij_mode{k + 1}"], rel=rel)


# Both variances are legitimate; the errors of Aalen's, which cmprsk gives, are 2 % to 16 % wider among so few.
def test_shock_absorbers_by_aalens_variance():
    answer = EXPECTED["shock_absorbers"]
    read = incidence_at(cumulative_incidence(*shocks(), variance="aalen"), 0, answer["time"])
    for k in (0, 1):
        assert read.se[:, k] ** 2 == pytest.approx(answer[f"variance_aalen_mode{k + 1}"], rel=1e-9)


# lifelines 0.30.3 moves tied mileages apart at random, so its incidences depend on the seed (up to 2 % in months).
@pytest.mark.parametrize("name", ["from_new", "late_entry"])
def test_people_with_two_ends(name):
    answer = EXPECTED["competing_ends"][name]
    read = incidence_at(cumulative_incidence(*people(name == "late_entry")), 0, answer["t"])
    assert read.incidence.ravel() == pytest.approx(np.ravel(answer["incidence"]), rel=1e-12)
    assert read.se.ravel() == pytest.approx(np.ravel(answer["se_jackknife"]), rel=1e-6)


def test_people_by_aalens_variance():
    answer = EXPECTED["competing_ends"]["from_new"]
    read = incidence_at(cumulative_incidence(*people(False), variance="aalen"), 0, answer["t"])
    assert read.se.ravel() ** 2 == pytest.approx(np.ravel(answer["variance_aalen"]["values"]), rel=1e-9)


def test_one_cause_taken_for_the_only_one_overstates_it():
    data, cause = people(False)
    naive = kaplan_meier(lives(data.entry, data.exit_, cause == 1))
    wrong = EXPECTED["competing_ends"]["from_new"]["one_minus_kaplan_meier_of_cause_1_at_300_WRONG"]
    assert 1 - naive.survival[naive.t <= 300][-1] == pytest.approx(wrong, rel=1e-12)
    right = incidence_at(cumulative_incidence(data, cause), 0, 300).incidence[0]
    assert (round(wrong, 3), round(right, 3)) == (0.261, 0.109)


@pytest.mark.parametrize("late", [False, True])
def test_incidences_add_up_to_one_minus_survival(late):
    made = cumulative_incidence(*people(late))
    assert made.incidence.sum(axis=1) == pytest.approx(1 - made.curves.survival, rel=1e-12)


@pytest.mark.parametrize("name", ["shock_absorbers", "left_truncated_residents"])
def test_one_cause_alone_is_one_minus_kaplan_meier(name, life_data):
    data = life_data(name)
    made, curve = cumulative_incidence(data, data.event, variance="greenwood"), kaplan_meier(data)
    assert made.incidence[:, 0] == pytest.approx(1 - curve.survival, rel=1e-12)
    some = curve.survival > 0
    # Greenwood's; the jackknife is the same where nobody enters late, and not among the residents.
    assert made.se[some, 0] == pytest.approx(curve.se[some], rel=1e-11)
    assert made.upper[some, 0] == pytest.approx(1 - curve.lower[some], rel=1e-9)
    jackknife = cumulative_incidence(data, data.event).se[some, 0]
    same = jackknife == pytest.approx(curve.se[some], rel=1e-9)
    assert same == (name == "shock_absorbers")


def incidence_by_loop(data, cause, weight, t, n_causes):
    """Incidences at t from the definition, one mileage after another; shares no code with the estimator."""
    survival, incidence = 1.0, np.zeros(n_causes)
    for at in np.unique(data.exit_[(cause > 0) & (data.exit_ <= t)]):
        at_risk = weight[(data.entry < at) & (at <= data.exit_)].sum()
        hit = np.array([weight[(data.exit_ == at) & (cause == k + 1)].sum() for k in range(n_causes)])
        incidence += survival * hit / at_risk
        survival *= 1 - hit.sum() / at_risk
    return incidence


def slopes_by_difference(data, cause, t, n_causes, step=1e-5):
    made = []
    for i in range(data.entry.size):
        ends = [incidence_by_loop(data, cause, data.weight + way * (np.arange(data.entry.size) == i), t, n_causes)
                for way in (step, -step)]  # fmt: skip
        made.append((ends[0] - ends[1]) / (2 * step))
    return np.array(made)


def drawn(n=60, n_causes=3, seed=4):
    random = np.random.default_rng(seed)
    entry = random.integers(0, 30, n) * (random.random(n) < 0.6)
    exit_ = entry + random.integers(1, 25, n)
    cause = random.integers(0, n_causes + 1, n)
    return lives(entry, exit_, cause > 0, weight=random.integers(1, 4, n), cluster=random.integers(0, 20, n)), cause


# The first mileages have tiny risk sets, and weights, ties and three causes are in it.
def test_jackknife_is_the_sum_of_squared_slopes():
    data, cause = drawn()
    made = cumulative_incidence(data, cause, 3)
    for row in range(0, made.curves.t.size, 5):
        slopes = slopes_by_difference(data, cause, made.curves.t[row], 3)
        squares = (data.weight[:, None] * slopes**2).sum(axis=0)
        assert made.se[row] ** 2 == pytest.approx(squares, rel=1e-6, abs=1e-12)


def test_clustered_errors_add_up_slopes_within_a_cluster():
    data, cause = drawn()
    made = cumulative_incidence(data, cause, 3)
    read = clustered_incidence(made, data, cause, None, 0, [10.5, 24.0])
    for place, t in enumerate((10.5, 24.0)):
        slopes = data.weight[:, None] * slopes_by_difference(data, cause, t, 3)
        total = np.stack([np.bincount(data.cluster, column) for column in slopes.T], axis=1)
        assert read.se[place] == pytest.approx(np.sqrt((total**2).sum(axis=0)), rel=1e-6)
        assert read.n_clusters_struck[place] == np.unique(data.cluster[(cause > 0) & (data.exit_ <= t)]).size


# Every life written down twice in one cluster says no more than once: the errors of the single lives come back.
def test_copies_in_one_cluster_add_no_certainty():
    data, cause = people(True)
    answer = EXPECTED["competing_ends"]["late_entry"]
    n = np.arange(cause.size)
    doubled = lives(*(np.tile(x, 2) for x in (data.entry, data.exit_, data.event)), cluster=np.tile(n, 2))
    twice = np.tile(cause, 2)
    made = cumulative_incidence(doubled, twice)
    read = clustered_incidence(made, doubled, twice, None, 0, answer["t"])
    assert read.se.ravel() == pytest.approx(np.ravel(answer["se_jackknife"]), rel=1e-6)
    assert (read.se_independent < 0.8 * read.se).all()
    assert read.upper == pytest.approx(1 - np.exp(np.log1p(-read.incidence) * np.exp(
        1.959963984540054 * read.se / ((1 - read.incidence) * -np.log1p(-read.incidence)))), rel=1e-9)  # fmt: skip


def test_one_struck_cluster_has_no_clustered_error():
    data = lives([0, 0, 0], [5, 6, 9], [1, 1, 0], cluster=[0, 0, 1])
    read = clustered_incidence(cumulative_incidence(data, [1, 2, 0]), data, [1, 2, 0], None, 0, [5.0, 8.0])
    assert np.isnan(read.se).all()
    assert (read.upper[1] > read.incidence[1]).all()


def test_before_the_first_row_nothing_has_happened():
    made = cumulative_incidence(SMALL, SMALL_CAUSE)
    read = incidence_at(made, 0, [0.0, 9.9, 10.0, 500.0])
    assert read.incidence[:, 0] == pytest.approx([0, 0, 1 / 3, 7 / 9], rel=1e-15)
    assert read.se[:2].tolist() == [[0, 0], [0, 0]]
    assert np.isnan(read.lower[:2]).all()


# Of SMALL beyond 10: B, C and D are left. At 20 F2 = 1/3, at 30 F1 = 2/3.
def test_a_later_start_gives_the_incidence_of_lives_that_reached_it():
    made = cumulative_incidence(SMALL, SMALL_CAUSE, start=10.0)
    assert made.incidence.ravel() == pytest.approx([0, 1 / 3, 2 / 3, 1 / 3], rel=1e-15)
    # With weights b, c, d: b / (b + c + d), slopes 2/9, -1/9, -1/9.
    assert made.se[0, 1] == pytest.approx(math.sqrt(6) / 9, rel=1e-14)
    read = incidence_at(made, 0, [5.0, 10.0])
    assert np.isnan(read.incidence[0]).all()
    assert read.incidence[1].tolist() == [0, 0]


def test_strata_without_the_cause_or_without_lives_say_so():
    data = lives([0, 0, 0], [5, 6, 7], [1, 0, 0], [0, 0, 1], n_strata=3)
    made = cumulative_incidence(data, [2, 0, 0], n_causes=2)
    assert made.status.tolist() == [["no_failures", "ok"], ["no_failures"] * 2, ["too_few_at_risk"] * 2]
    assert np.isnan(incidence_at(made, [0, 1, 2], 9.0).lower[:, 0]).all()


def test_no_lives_at_all():
    made = cumulative_incidence(lives([], [], [], n_strata=2), [])
    assert made.incidence.shape == (0, 1)
    assert incidence_at(made, [0, 1], 5.0).incidence.tolist() == [[0], [0]]


def test_a_removal_may_have_a_cause_without_being_an_event():
    failures = lives([0, 0, 0], [5, 6, 7], [1, 0, 0])
    ends = lives([0, 0, 0], [5, 6, 7], [1, 1, 0])
    one, other = (cumulative_incidence(data, [1, 2, 0]) for data in (failures, ends))
    assert one.incidence.tolist() == other.incidence.tolist()


# Vehicle 1 is watched over (10, 50], vehicle 2 over (20, 60], two sockets each; one socket of vehicle 1 fails at 30.
def test_shared_windows_equal_the_lives_written_out():
    data = lives([10, 0, 10], [30, 20, 50], [1, 0, 0], weight=[1, 1, -1], cluster=[1, 1, 1])
    shared = shared_exposure([0, 0], [10, 20], [50, 60], [0], [2], cluster=[1, 2])
    plain = lives([10, 0, 10, 20], [30, 20, 50, 60], [1, 0, 0, 0], weight=[1, 1, 1, 2], cluster=[1, 1, 1, 2])
    one, other = cumulative_incidence(data, [1, 0, 0], shared=shared), cumulative_incidence(plain, [1, 0, 0, 0])
    assert one.incidence.tolist() == other.incidence.tolist() == [[0.25]]
    # A share of four: 1/4 x 3/4 / 4. By vehicle: slopes 3/16 - 1/16 and -2/16.
    assert one.se[0, 0] == pytest.approx(math.sqrt(3 / 64), rel=1e-12)
    data = lives([10, 0, 10, 20], [30, 20, 50, 40], [1, 0, 0, 1], weight=[1, 1, -1, 1], cluster=[1, 1, 1, 2])
    made = cumulative_incidence(data, [1, 0, 0, 1], shared=shared)
    read = clustered_incidence(made, data, [1, 0, 0, 1], shared, 0, 60.0)
    assert made.curves.at_risk.tolist() == [5, 4]
    # F = 1 - (n - a) / n x (m - b) / m, n = 5 and m = 4 at risk, a and b the failures of 30 and 40. Slopes in weight:
    # failed at 30: 3/4 x 4/25; the socket left in vehicle 1 and those of 2 (3 lives): -(3/4 / 25 + 4/5 / 16) each;
    # failed at 40: -(3/4) / 25 + 4/5 x 3/16.
    kept = -(0.75 / 25 + 0.8 / 16)
    total = np.array([0.75 * 4 / 25 + kept, 2 * kept - 0.75 / 25 + 0.8 * 3 / 16])
    assert read.incidence[0] == pytest.approx(0.4, rel=1e-14)
    assert read.se[0] == pytest.approx(math.sqrt((total**2).sum()), rel=1e-12)


@pytest.mark.parametrize(
    ("cause", "message"),
    [
        ([1, 2], "2 codes for 4 lives"),
        ([1, 2, 0, 3], "Expected 0 for a life that ended sound, else 1..2"),
        ([1, 2, 0, -1], "1 of 4 codes cannot be"),
        ([1, 0, 0, 1], "a cause of every life that is an event"),
        ([1, 2, 0.5, 1], "whole numbers"),
        ([1, 2, math.nan, 1], "whole numbers"),
    ],
)
def test_causes_that_cannot_be_are_refused(cause, message):
    with pytest.raises(LivesError, match=message):
        cumulative_incidence(SMALL, cause, n_causes=2)


def test_lives_taken_back_have_no_cause():
    with pytest.raises(LivesError, match="weigh less than nothing"):
        cumulative_incidence(lives([0, 0], [5, 9], [1, 0], weight=[1, -1]), [1, 1])
