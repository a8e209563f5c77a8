from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.gray import gray_test
from longmile.pipelines.estimators.lives import lives
from longmile.pipelines.estimators.rank_tests import log_rank

REFERENCE = Path(__file__).parents[2] / "reference"
EXPECTED = json.loads((REFERENCE / "competing.json").read_text(encoding="utf-8"))


def columns(name):
    with (REFERENCE / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {key: np.array([float(row[key]) for row in rows]) for key in rows[0]}


def people(untied=False, late=False):
    read = columns("competing_ends")
    ran = read["exit_age"] - read["entry_age"] + (read["id"] / 10_000 if untied else 0)
    entry = read["entry_age"] if late else np.zeros(ran.size)
    codes = [read[key].astype(int) - 1 for key in ("sex", "age_group")]
    return lives(entry, entry + ran, read["cause"] > 0), read["cause"].astype(int), *codes


def both_causes(data, cause, group, block=None):
    return [gray_test(data, cause, group, of_cause, block).chi_square[0] for of_cause in (1, 2)]


# Group 0: (0, 1] cause 1, (0, 4] sound. Group 1: (0, 2] cause 2, (0, 3] cause 1.
# At 1 the risk sets are 2 and 2: 1/2 expected of group 0. At 3 one of each is left and S is 1/2 in both; group 0, with
# F = 1/2, weighs 1 x (1/2) / (1/2) = 1; group 1 weighs 1 x 1 / (1/2) = 2, the life that cause 2 ended still counting:
# 1/3 expected of group 0. Score 1 - 5/6 = 1/6.
# Variance: pooled incidence 1/4 after 1 and 1/2 after 3; pull of either group +-1 at both; later = +-1/3 at 1 and 2.
# Group 0: at 1 bend = (3/4) / (1/2), (1 + (1 - 3/2)/3)^2 / 8 = 100/1152; at 3 1/8 = 144/1152. Group 1: at 1 bend = 3/4,
# (1 + (1/4)/3)^2 / 8 = 169/1152; at 2, cause 2, (3/2 / 3)^2 / 4 = 72/1152; at 3 144/1152. Sum 629/1152.
def test_by_hand():
    made = gray_test(lives([0] * 4, [1, 4, 2, 3], [1, 0, 1, 1]), [1, 0, 2, 1], [0, 0, 1, 1])
    assert made.observed.tolist() == [[1, 1]]
    assert made.expected[0] == pytest.approx([5 / 6, 7 / 6], rel=1e-14)
    assert made.variance[0, 0, 0] == pytest.approx(629 / 1152, rel=1e-14)
    assert made.chi_square[0] == pytest.approx(32 / 629, rel=1e-12)
    assert made.chi_square[0] == pytest.approx(EXPECTED["hand_worked_gray"]["chi_square"], rel=1e-12)
    assert made.status.tolist() == ["thin"]


def test_people_with_ties_blocks_and_three_groups():
    answer = EXPECTED["competing_ends"]["gray"]
    data, cause, sex, age = people()
    assert both_causes(data, cause, sex) == pytest.approx(answer["sex"], rel=1e-9)
    assert both_causes(data, cause, sex, age) == pytest.approx(answer["sex_within_age_group"], rel=1e-9)
    assert both_causes(data, cause, age) == pytest.approx(answer["age_group"], rel=1e-9)
    assert both_causes(data, cause, age, sex) == pytest.approx(answer["age_group_within_sex"], rel=1e-9)
    assert gray_test(data, cause, age).degrees_of_freedom.tolist() == [2]


def test_people_without_ties():
    answer = EXPECTED["competing_ends"]["gray"]
    data, cause, sex, age = people(untied=True)
    assert both_causes(data, cause, sex) == pytest.approx(answer["sex_untied"], rel=1e-9)
    assert both_causes(data, cause, age, sex) == pytest.approx(answer["age_group_within_sex_untied"], rel=1e-9)


def test_shock_absorbers_of_odd_against_even_number():
    read = columns("shock_absorbers")
    data = lives(read["entry"], read["exit"], read["event"])
    answer = EXPECTED["shock_absorbers"]["gray_odd_against_even_id"]["chi_square"]
    assert both_causes(data, read["mode"], read["id"] % 2) == pytest.approx(answer, rel=1e-9)


# With nothing competing Y (1 - F) / S is Y: the score is the log-rank one. The variance is not: it lets the groups have
# the pooled incidence, where the log-rank test takes the numbers at risk as they came; 0.1 % in the chi-square here.
def test_one_cause_alone_has_the_log_rank_score():
    data, cause, _, age = people(untied=True)
    alone = (cause == 1).astype(int)
    made = gray_test(lives(data.entry, data.exit_, alone), alone, age)
    rank = log_rank(lives(data.entry, data.exit_, alone), age)
    assert made.observed.tolist() == rank.observed.tolist()
    assert made.expected[0] == pytest.approx(rank.expected[0], rel=1e-12)
    answer = EXPECTED["competing_ends"]["gray"]["age_group_untied_cause_1_alone"]
    assert made.chi_square == pytest.approx(answer, rel=1e-9)
    assert made.chi_square[0] == pytest.approx(rank.chi_square[0], rel=2e-3)
    assert made.chi_square[0] != pytest.approx(rank.chi_square[0], rel=1e-4)


def expected_by_weights(entry, exit_, cause, group):
    """Expected failures of cause 1 in group 0: lives that another cause ended stay with weight G H (Geskus 2011).

    G and H by the product limit within the group, life by life; no survival and no incidence is computed. A group of
    which nobody is at risk any more has no risk set (Gray's test ends there for the group).
    """
    at_risk = [lambda t, g=g: ((group == g) & (entry < t) & (t <= exit_)).sum() for g in (0, 1)]

    def kept(g, s, t):
        censored = exit_[(group == g) & (cause == 0) & (exit_ >= s) & (exit_ < t)]
        entered = entry[(group == g) & (entry >= s) & (entry < t)]
        still = np.prod([1 - 1 / at_risk[g](at) for at in censored])
        return still / np.prod([1 - 1 / (at_risk[g](at) + 1) for at in entered])

    total = 0.0
    for t in exit_[cause == 1]:
        sets = []
        for g in (0, 1):
            others = exit_[(group == g) & (cause > 1) & (exit_ < t)]
            sets.append((at_risk[g](t) > 0) * (at_risk[g](t) + sum(kept(g, s, t) for s in others)))
        total += sets[0] / sum(sets)
    return total


# Five lives of each group enter from new, so that no early risk set dies out; no two mileages are equal.
def test_the_risk_set_is_that_of_the_weighted_lives_with_late_entry():
    random = np.random.default_rng(11)
    n = 120
    entry = np.where(np.arange(n) < 10, 0.0, random.random(n))
    exit_ = np.where(np.arange(n) < 10, 1.2 + random.random(n), entry + random.random(n))
    cause, group = random.integers(0, 4, n), np.arange(n) % 2
    made = gray_test(lives(entry, exit_, cause > 0), cause, group)
    assert made.left_out.tolist() == [0]
    assert made.expected[0, 0] == pytest.approx(expected_by_weights(entry, exit_, cause, group), rel=1e-10)


# Group 0: one enters first and fails alone at 2, so its survival is 0 from there; its failure at 6 weighs nothing.
def test_failures_after_a_lone_early_one_are_left_out_and_counted():
    data = lives([1, 3, 0, 0], [2, 6, 7, 5], [1, 1, 1, 1])
    cause, group = [1, 1, 1, 1], [0, 0, 1, 1]
    made = gray_test(data, cause, group)
    assert made.left_out.tolist() == [1]
    assert made.status.tolist() == ["thin"]
    assert made.observed.tolist() == [[1, 2]]
    assert gray_test(data, cause, group, start=2.0).left_out.tolist() == [0]


# All of group 0 fail before any of group 1: the pooled incidence passes 1 among the second and the test ends there.
def test_groups_far_apart_end_the_test_when_the_pooled_incidence_is_one():
    data = lives([0] * 40, np.arange(1, 41), [1] * 40)
    made = gray_test(data, np.ones(40), np.repeat([0, 1], 20))
    assert made.left_out[0] > 0
    assert made.status.tolist() == ["thin"]
    assert made.p[0] < 1e-4
    assert (np.linalg.eigvalsh(made.variance[0]) > -1e-9).all()


def test_nothing_to_compare_has_a_status_and_no_number():
    data = lives([0, 0, 0, 0], [3, 4, 3, 4], [1, 1, 1, 0], [0, 0, 1, 1], n_strata=3)
    made = gray_test(data, [1, 1, 2, 0], [0, 0, 0, 1])
    assert made.status.tolist() == ["too_few_at_risk", "no_failures", "no_failures"]
    assert np.isnan(made.p).all()


def test_a_group_without_anyone_drops_out():
    data, cause, sex, _ = people()
    made = gray_test(data, cause, 2 * sex, n_groups=4)
    assert made.degrees_of_freedom.tolist() == [1]
    assert made.chi_square[0] == pytest.approx(EXPECTED["competing_ends"]["gray"]["sex"][0], rel=1e-9)


def test_a_cause_that_cannot_be_is_refused():
    with pytest.raises(LivesError, match="cause 0 was asked for"):
        gray_test(lives([0], [1], [1]), [1], [0], of_cause=0)


def shops(late, n_comparisons=2500, drawn=150, seed=20):
    """Two groups with one incidence of cause 1, 0.5 (1 - exp(-t)), but other rivals and censoring.

    Cause 2 comes at rate 0.5 in group 0, 3 in group 1; lives that ended before their entry were never seen.
    """
    random = np.random.default_rng(seed)
    n = n_comparisons * drawn
    comparison, group = np.repeat(np.arange(n_comparisons), drawn), random.integers(0, 2, n)
    first, waits = random.random(n) < 0.5, random.exponential(size=(n, 2))
    end = np.where(first, waits[:, 0], waits[:, 0] / np.where(group == 0, 0.5, 3.0))
    entry = late * random.random(n) * (random.random(n) < 0.7)
    watched = entry + waits[:, 1] * np.where(group == 0, 1.0, 3.0)
    cause = np.where(end <= watched, np.where(first, 1, 2), 0)
    seen = np.flatnonzero(end > entry)
    data = lives(entry[seen], np.minimum(end, watched)[seen], cause[seen] > 0, comparison[seen], n_strata=n_comparisons)
    return data, cause[seen], group[seen]


# 2,500 tests at the 5 % level: 5 % +- 3 x sqrt(0.05 x 0.95 / 2500) = 5 % +- 1.3 %. The log-rank test of cause 1, the
# other cause taken for censoring, asks another question and answers no: the hazards do differ.
@pytest.mark.parametrize("late", [0.0, 0.8])
def test_size_is_five_percent_where_only_the_rival_cause_differs(late):
    data, cause, group = shops(late)
    made = gray_test(data, cause, group)
    assert 0.037 < (made.p < 0.05).mean() < 0.063
    hazards = log_rank(lives(data.entry, data.exit_, cause == 1, data.stratum), group)
    assert (hazards.p < 0.05).mean() > 0.3
