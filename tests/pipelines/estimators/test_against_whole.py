"""A part against the rest of its whole: the same as the log-rank test of two groups."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chi2

from longmile.pipelines.estimators.against_whole import against_whole
from longmile.pipelines.estimators.lives import lives, shared_exposure
from longmile.pipelines.estimators.rank_tests import log_rank


# Part: failed at 10, running to 30. Rest: failed at 20, running to 40.
# At 10: 2 of 4 at risk are the part's, 1/2 expected, variance 1/4. At 20: 1 of 3, 1/3 expected, variance 2/9.
# Observed 1, expected 5/6, variance 17/36: chi-square (1/6)^2 / (17/36) = 1/17.
def test_hand_worked():
    data = lives([0] * 6, [10, 30, 10, 30, 20, 40], [1, 0, 1, 0, 1, 0], [0, 0, 1, 1, 1, 1])
    found = against_whole(data, None, [0], [1])
    assert found.observed[0] == 1
    assert found.expected[0] == pytest.approx(5 / 6, rel=1e-12)
    assert found.chi_square[0] == pytest.approx(1 / 17, rel=1e-12)
    assert found.p[0] == pytest.approx(chi2.sf(1 / 17, 1), rel=1e-12)
    assert found.status[0] == "thin"


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_equal_to_the_log_rank_test_of_two_groups(seed: int):
    rng = np.random.default_rng(seed)
    n, families = 40, 3
    family = rng.integers(0, families, n)
    entry = rng.integers(0, 20, n).astype(float)
    exit_, event = entry + rng.integers(1, 30, n), rng.random(n) < 0.6
    whole = np.full(n, families)
    twice = lives(
        np.tile(entry, 2), np.tile(exit_, 2), np.tile(event, 2), np.append(family, whole), n_strata=families + 1
    )
    found = against_whole(twice, None, np.arange(families), np.full(families, families))
    for f in range(families):
        test = log_rank(lives(entry, exit_, event), (family != f).astype(int))
        if test.status[0] == "too_few_at_risk":
            continue
        assert found.expected[f] == pytest.approx(test.expected[0, 0], rel=1e-9)
        assert found.chi_square[f] == pytest.approx(test.chi_square[0], rel=1e-9, abs=1e-12)


# Untouched sockets of family 0 as windows shared by its stratum and by that of both families.
def test_shared_windows_count_as_lives_written_out():
    own = {"entry": [0, 5, 0, 5], "exit_": [12, 30, 12, 30], "event": [1, 1, 1, 1], "stratum": [0, 1, 2, 2]}
    shared = shared_exposure([0, 0, 1, 1], [0, 3, 0, 3], [40, 50, 40, 50], [0, -1, 1], [2, 0, 2])
    copies = ([0, 0, 3, 3] * 2, [40, 40, 50, 50] * 2, [0] * 8, [0] * 4 + [2] * 4)
    written = lives(*(list(values) + list(copy) for values, copy in zip(own.values(), copies, strict=True)))
    held = lives(**own)
    a, b = against_whole(held, shared, [0, 1], [2, 2]), against_whole(written, None, [0, 1], [2, 2])
    np.testing.assert_allclose(a.chi_square, b.chi_square, rtol=1e-12)
    np.testing.assert_allclose(a.expected, b.expected, rtol=1e-12)
    assert a.expected.sum() == pytest.approx(2.0, rel=1e-12)


def test_a_whole_without_a_failure_has_no_test():
    data = lives([0, 0], [10, 10], [0, 0], [0, 1])
    found = against_whole(data, None, [0], [1])
    assert found.status[0] == "no_failures"
    assert np.isnan(found.p[0])


# The only family there is: nobody to compare it with.
def test_a_part_that_is_the_whole_has_no_test():
    data = lives([0, 0, 0, 0], [10, 20, 10, 20], [1, 0, 1, 0], [0, 0, 1, 1])
    assert against_whole(data, None, [0], [1]).status[0] == "too_few_at_risk"
