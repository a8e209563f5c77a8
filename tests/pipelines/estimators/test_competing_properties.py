"""What holds for any lives, whatever they are, of incidences and of tests of groups."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.estimators.competing import cumulative_incidence
from longmile.pipelines.estimators.gray import gray_test
from longmile.pipelines.estimators.incidence_reading import clustered_incidence, incidence_at
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.rank_tests import log_rank

quick = settings(max_examples=30, deadline=None)
TESTS = ("observed", "expected", "variance", "chi_square", "left_out")
INCIDENCES = ("events", "incidence", "se", "lower", "upper")


@st.composite
def some_ends(draw, latest=20):
    """Columns entry, miles run, cause, stratum, group, weight of whole numbers, so that ties happen."""
    column = st.tuples(
        st.integers(0, latest), st.integers(1, 20), st.integers(0, 2), st.integers(0, 1), st.integers(0, 2),
        st.integers(1, 3),
    )  # fmt: skip
    rows = draw(st.lists(column, min_size=1, max_size=25))
    return np.array(rows)


def built(rows, factor=1.0):
    entry, ran, cause, stratum, group, weight = rows.T
    return lives(entry * factor, (entry + ran) * factor, cause > 0, stratum, weight, n_strata=2), cause, group


def answers(rows, factor=1.0):
    data, cause, group = built(rows, factor)
    tests = [log_rank(data, group, n_groups=3), gray_test(data, cause, group, n_groups=3)]
    return cumulative_incidence(data, cause, 2), tests


def assert_same_incidences(one, other):
    for name in INCIDENCES:
        # Errors are compared squared: where nothing is uncertain rounding leaves 1e-16 of the square.
        power = 2 if name == "se" else 1
        mine, theirs = getattr(one, name) ** power, getattr(other, name) ** power
        assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-12, nan_ok=True), name


def assert_same(one, other, rel=1e-9):
    assert_same_incidences(one[0], other[0])
    for mine, theirs in zip(one[1], other[1], strict=True):
        assert mine.status.tolist() == theirs.status.tolist()
        assert mine.degrees_of_freedom.tolist() == theirs.degrees_of_freedom.tolist()
        for name in TESTS:
            assert getattr(mine, name) == pytest.approx(getattr(theirs, name), rel=rel, abs=1e-9, nan_ok=True), name


@quick
@given(some_ends(), st.randoms(use_true_random=False))
def test_row_order_never_matters(rows, random):
    order = list(range(len(rows)))
    random.shuffle(order)
    assert_same(answers(rows), answers(rows[order]))


@quick
@given(some_ends(), st.sampled_from([0.001, 1.609344, 1000.0]))
def test_scaling_the_miles_changes_no_chance(rows, factor):
    assert_same(answers(rows), answers(rows, factor))


@quick
@given(some_ends())
def test_weights_are_repetitions(rows):
    again = np.repeat(rows, rows[:, 5], axis=0)
    again[:, 5] = 1
    assert_same(answers(rows), answers(again))


# Nobody ends before 21, so entering anywhere up to there is entering from new.
@quick
@given(some_ends())
def test_entry_before_any_end_equals_no_entry(rows):
    late, new = rows.copy(), rows.copy()
    late[:, 1] += 20 + rows[:, 1] - rows[:, 0]
    new[:, 1] = late[:, 0] + late[:, 1]
    new[:, 0] = 0
    assert_same(answers(late), answers(new))


@quick
@given(some_ends())
def test_incidences_add_up_to_one_minus_survival_and_never_fall(rows):
    data, cause, _ = built(rows)
    made = cumulative_incidence(data, cause, 2)
    assert made.incidence.sum(axis=1) == pytest.approx(1 - kaplan_meier(data).survival, rel=1e-12, abs=1e-12)
    same = np.flatnonzero(np.diff(made.curves.stratum) == 0)
    assert (made.incidence[same + 1] >= made.incidence[same] - 1e-15).all()
    inside = ~np.isnan(made.lower)
    assert (made.lower[inside] <= made.incidence[inside]).all()
    assert (made.incidence[inside] <= made.upper[inside]).all()
    assert (np.isnan(made.lower) == ((made.incidence <= 0) | (made.incidence > 1 - 1e-12))).all()


# Without late entry the jackknife is the delta method, and with one cause both are Greenwood's.
@quick
@given(some_ends(latest=0))
def test_without_late_entry_jackknife_and_delta_method_agree(rows):
    data, cause, _ = built(rows)
    one, other = (cumulative_incidence(data, cause, 2, variance=name) for name in ("jackknife", "greenwood"))
    assert one.se**2 == pytest.approx(other.se**2, rel=1e-9, abs=1e-14)
    curve, alone = kaplan_meier(data), cumulative_incidence(data, cause > 0)
    some = curve.survival > 0
    assert alone.se[some, 0] ** 2 == pytest.approx(curve.se[some] ** 2, rel=1e-9, abs=1e-14)


@quick
@given(some_ends())
def test_a_cluster_a_life_gives_the_jackknife(rows):
    rows[:, 5] = 1
    data, cause, _ = built(rows)
    made = cumulative_incidence(data, cause, 2)
    t = np.array([5.0, 12.5, 30.0])
    read = clustered_incidence(made, data, cause, None, [[0], [1]], t)
    naive = incidence_at(made, [[0], [1]], t)
    some = read.n_clusters_struck >= 2
    assert read.se[some] ** 2 == pytest.approx(naive.se[some] ** 2, rel=1e-9, abs=1e-12)


@quick
@given(some_ends())
def test_shared_windows_equal_the_lives_written_out(rows):
    data, cause, group = built(rows)
    n = min(len(rows), 6)
    low, high = rows[:n, 0], rows[:n, 0] + 2 * rows[:n, 1]
    shared = shared_exposure(rows[:n, 3], low, high, [0, 1], [2, 3])
    held = rows[:n, 3]
    plain = lives(
        np.r_[data.entry, low],
        np.r_[data.exit_, high],
        np.r_[data.event, np.zeros(n, bool)],
        np.r_[data.stratum, held],
        np.r_[data.weight, np.array([2, 3])[held]],
        n_strata=2,
    )
    one = cumulative_incidence(data, cause, 2, shared)
    other = cumulative_incidence(plain, np.r_[cause, np.zeros(n, int)], 2)
    assert_same_incidences(one, other)
    # In the tests, whose cells are comparison x 3 + group, group 1 of each comparison holds the windows.
    cells = np.full(6, -1)
    cells[[1, 4]] = [0, 1]
    held_by = shared_exposure(rows[:n, 3], low, high, cells, [0, 2, 0, 0, 3, 0])
    ones = np.r_[group, np.ones(n, int)]
    left = log_rank(data, group, n_groups=3, shared=held_by)
    right = log_rank(plain, ones, n_groups=3)
    assert left.variance == pytest.approx(right.variance, rel=1e-12, abs=1e-12)
    left = gray_test(data, cause, group, n_groups=3, shared=held_by)
    right = gray_test(plain, np.r_[cause, np.zeros(n, int)], ones, n_groups=3)
    assert left.variance == pytest.approx(right.variance, rel=1e-9, abs=1e-12)


@quick
@given(some_ends())
def test_scores_add_up_to_nothing_and_variances_are_not_negative(rows):
    for made in answers(rows)[1]:
        assert (made.observed - made.expected).sum(axis=1) == pytest.approx(np.zeros(2), abs=1e-12)
        assert made.variance.sum(axis=2) == pytest.approx(np.zeros((2, 3)), abs=1e-9)
        assert (np.linalg.eigvalsh(made.variance) > -1e-9).all()
