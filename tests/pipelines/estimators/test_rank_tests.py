from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.rank_tests import log_rank

REFERENCE = Path(__file__).parents[2] / "reference"
EXPECTED = json.loads((REFERENCE / "competing.json").read_text(encoding="utf-8"))


def rows_of(name):
    with (REFERENCE / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {key: np.array([row[key] for row in rows]) for key in rows[0]}


def litters():
    read = rows_of("clustered_litters")
    data = lives(read["entry"].astype(float), read["exit"].astype(float), read["event"] == "1")
    return data, read["treated"].astype(int), (read["sex"] == "m").astype(int)


def by_age():
    read = {key: values.astype(float) for key, values in rows_of("competing_ends").items()}
    data = lives(np.zeros(read["id"].size), read["exit_age"] - read["entry_age"], read["cause"] > 0)
    return data, read["age_group"].astype(int) - 1, read["sex"].astype(int) - 1


# Group 0: (0, 2] and (0, 4] failed. Group 1: (0, 2] failed, (3, 5] sound. At 2 two of (2, 1) at risk fail: expected 4/3
# of group 0, variance 2 x 1/2 x 2/3 x 1/3 = 2/9. At 4 one of (1, 1): 1/2 and 1/4. Sum 11/6 against 2, variance 17/36:
# chi-square (1/6)^2 / (17/36) = 1/17.
HAND = lives([0, 0, 0, 3], [2, 4, 2, 5], [1, 1, 1, 0])
HAND_GROUP = [0, 0, 1, 1]


def test_by_hand_with_a_tie_and_late_entry():
    made = log_rank(HAND, HAND_GROUP)
    assert made.observed.tolist() == [[2, 1]]
    assert made.expected[0] == pytest.approx([11 / 6, 7 / 6], rel=1e-15)
    assert made.variance[0] == pytest.approx(np.array([[17, -17], [-17, 17]]) / 36, rel=1e-14)
    assert made.chi_square == pytest.approx([1 / 17], rel=1e-13)
    assert made.degrees_of_freedom.tolist() == [1]
    assert made.status.tolist() == ["thin"]


def test_litters_all_stratified_and_females():
    data, treated, male = litters()
    answer = EXPECTED["clustered_litters"]
    # One call: comparison 0 all animals, 1 all within sex, 2 the females.
    copies = [np.arange(male.size), np.arange(male.size), np.flatnonzero(male == 0)]
    at = np.concatenate(copies)
    comparison = np.repeat([0, 1, 2], [copy.size for copy in copies])
    whole = lives(data.entry[at], data.exit_[at], data.event[at], comparison)
    made = log_rank(whole, treated[at], np.where(comparison == 1, male[at], 0))
    for place, theirs in ((0, answer["all"]["logrank"]), (2, answer["females"]["logrank"])):
        assert made.observed[place].tolist() == theirs["observed"]
        assert made.expected[place] == pytest.approx(theirs["expected"], rel=1e-12)
        assert made.chi_square[place] == pytest.approx(theirs["chisq"], rel=1e-12)
        assert made.p[place] == pytest.approx(theirs["p"], rel=1e-9)
    stratified = answer["all"]["logrank_stratified"]
    assert made.chi_square[1] == pytest.approx(stratified["chisq"], rel=1e-12)
    assert made.p[1] == pytest.approx(stratified["p"], rel=1e-9)
    assert made.status.tolist() == ["ok"] * 3


def test_residents_who_enter_late():
    read = rows_of("left_truncated_residents")
    data = lives(read["entry"].astype(float), read["exit"].astype(float), read["event"] == "1")
    made = log_rank(data, (read["sex"] == "1").astype(int))
    answer = EXPECTED["left_truncated_residents"]["logrank_by_hand"]
    assert abs((made.observed - made.expected)[0, 0]) == pytest.approx(abs(answer["U"]), rel=1e-12)
    assert made.variance[0, 0, 0] == pytest.approx(answer["V"], rel=1e-12)
    assert made.chi_square[0] == pytest.approx(answer["chisq"], rel=1e-9)


def test_three_groups_and_blocks():
    data, group, sex = by_age()
    answer = EXPECTED["competing_ends"]["log_rank"]
    made = log_rank(data, group)
    assert made.observed[0].tolist() == answer["observed"]
    assert made.expected[0] == pytest.approx(answer["expected"], rel=1e-12)
    assert made.variance[0].ravel() == pytest.approx(np.ravel(answer["variance"]), rel=1e-12)
    assert made.chi_square[0] == pytest.approx(answer["chi_square"], rel=1e-12)
    assert made.degrees_of_freedom.tolist() == [2]
    assert log_rank(data, group, sex).chi_square[0] == pytest.approx(answer["chi_square_within_sex"], rel=1e-12)


def test_a_group_without_anyone_takes_its_degree_of_freedom_along():
    data, group, _ = by_age()
    two = np.where(group == 2, 3, group)
    made = log_rank(data, two, n_groups=5)
    assert made.degrees_of_freedom.tolist() == [2]
    assert made.expected[0, [2, 4]].tolist() == [0, 0]
    assert made.chi_square[0] == pytest.approx(log_rank(data, group).chi_square[0], rel=1e-12)


# Groups 0 and 1 are watched to 10, 2 and 3 from 10 on: two comparisons of two groups each in one.
def test_groups_that_never_meet_are_compared_where_they_do():
    early, late = [0] * 4, [10] * 4
    data = lives(early + late, [1, 2, 3, 4, 11, 12, 13, 14], [1] * 8)
    group = [0, 0, 1, 1, 2, 3, 2, 3]
    both = log_rank(data, group)
    apart = [log_rank(lives(early, [1, 2, 3, 4], [1] * 4), [0, 0, 1, 1]),
             log_rank(lives(early, [1, 2, 3, 4], [1] * 4), [0, 1, 0, 1])]  # fmt: skip
    assert both.degrees_of_freedom.tolist() == [2]
    assert both.chi_square[0] == pytest.approx(sum(one.chi_square[0] for one in apart), rel=1e-12)


def test_nothing_to_compare_has_a_status_and_no_number():
    # Comparison 0: one group only; 1: nothing failed; 2: no lives; 3: the groups never meet at a failure.
    data = lives([0, 0, 0, 0, 0, 5], [3, 4, 3, 4, 4, 9], [1, 1, 0, 0, 1, 1], [0, 0, 1, 1, 3, 3], n_strata=4)
    made = log_rank(data, [0, 0, 0, 1, 0, 1])
    assert made.status.tolist() == ["too_few_at_risk", "no_failures", "no_failures", "too_few_at_risk"]
    assert np.isnan(made.chi_square).all()
    assert np.isnan(made.p).all()
    assert made.degrees_of_freedom.tolist() == [0, 0, 0, 0]


def test_what_fractional_weights_leave_by_rounding_is_nobody():
    data = lives([0, 0, 0, 0], [2, 3, 5, 6], [1, 1, 1, 1], weight=[0.1, 0.2, 0.3, 0.7])
    made = log_rank(data, [0, 0, 1, 2], n_groups=4)
    assert made.degrees_of_freedom[0] <= 2
    assert made.expected[0, 3] == 0


# Without the failures at 2, which leave nothing of group 1 until 3: at 4 one of (1, 1).
def test_a_later_start_leaves_earlier_failures_out():
    made = log_rank(HAND, HAND_GROUP, start=2.0)
    assert (made.observed.tolist(), made.expected.tolist(), made.variance[0, 0, 0]) == ([[1, 0]], [[0.5, 0.5]], 0.25)
    with pytest.raises(LivesError, match="1 of 1 starts cannot be"):
        log_rank(HAND, HAND_GROUP, start=np.nan)


# Comparison 0 has one block; cells 0 (this family) and 1 (the others) hold windows of groups 0 and 1.
def test_shared_windows_equal_the_lives_written_out():
    windows = ([0, 0, 1, 1, 1], [10, 20, 0, 15, 30], [50, 60, 40, 70, 80])
    shared = shared_exposure(*windows, stratum_group=[0, 1], multiplicity=[2, 2])
    data = lives([10, 10, 15, 15], [30, 50, 45, 70], [1, 0, 1, 0], weight=[1, -1, 1, -1])
    plain = lives(
        [10, 10, 20, 0, 15, 15, 30], [30, 50, 60, 40, 45, 70, 80], [1, 0, 0, 0, 1, 0, 0], weight=[1, 1, 2, 2, 1, 1, 2]
    )
    one, other = log_rank(data, [0, 0, 1, 1], shared=shared), log_rank(plain, [0, 0, 0, 1, 1, 1, 1])
    assert one.expected.tolist() == other.expected.tolist()
    assert one.chi_square.tolist() == other.chi_square.tolist()


def test_more_failures_than_at_risk_are_refused():
    with pytest.raises(LivesError, match="more of a group fail at a mileage than are at risk"):
        log_rank(lives([0, 0], [5, 9], [1, 0], weight=[1, -1]), [0, 0])


@pytest.mark.parametrize(
    ("group", "block", "message"),
    [([0, 1], None, "2 codes for 4"), ([0, 1, 2, 1], None, r"0\.\.1"), ([0, 1, 1, 1], [0, 0, 0, -1], "0 or more")],
)
def test_codes_that_cannot_be_are_refused(group, block, message):
    with pytest.raises(LivesError, match=message):
        log_rank(HAND, group, block, n_groups=2)
