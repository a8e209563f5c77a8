from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import (
    lives,
    lives_at,
    miles_at_risk,
    n_failures,
    n_lives,
    no_shared_exposure,
    shared_exposure,
)


def test_sums_per_stratum_count_weights_and_shared_windows():
    # Stratum 0: two windows of 40 miles held twice, one socket taken out (-1) and its two lives put in.
    # Miles: 2 x 80 - 40 + 20 + 20 = 160. Lives: 4 - 1 + 2 = 5. Stratum 1, no group: one life of 7, weight 3.
    data = lives([10, 0, 10, 0], [30, 20, 50, 7], [1, 0, 0, 1], [0, 0, 0, 1], [1, 1, -1, 3])
    shared = shared_exposure([0, 0], [10, 20], [50, 60], [0, -1], [2, 5])
    assert miles_at_risk(data, shared).tolist() == [160, 21]
    assert n_lives(data, shared).tolist() == [5, 3]
    assert n_failures(data).tolist() == [1, 3]


def test_nothing_shared_adds_nothing():
    data = lives([0, 5], [10, 20], [True, False], [0, 2], n_strata=4)
    assert miles_at_risk(data, no_shared_exposure(4)).tolist() == miles_at_risk(data).tolist() == [10, 0, 15, 0]


def test_message_says_how_many_the_first_and_what_was_expected():
    with pytest.raises(LivesError) as error:
        lives([0, 30, 20], [10, 20, 20], [True, True, False])
    assert str(error.value) == "lives: 2 of 3 cannot be (first: number 2, 30.0 and 20.0). Expected 0 <= entry < exit."


@pytest.mark.parametrize(
    "columns",
    [
        {"entry": [0.0], "exit_": [1.0, 2.0], "event": [True, True]},
        {"entry": [-1.0], "exit_": [1.0], "event": [True]},
        {"entry": [np.nan], "exit_": [1.0], "event": [True]},
        {"entry": [0.0], "exit_": [np.inf], "event": [False]},
        {"entry": ["a"], "exit_": [1.0], "event": [False]},
        {"entry": [[0.0]], "exit_": [[1.0]], "event": [[False]]},
        {"entry": [0.0], "exit_": [1.0], "event": [True], "left": [1.0]},
        {"entry": [0.5], "exit_": [1.0], "event": [True], "left": [0.2]},
        {"entry": [0.0], "exit_": [1.0], "event": [False], "left": [0.5]},
        {"entry": [0.0], "exit_": [1.0], "event": [True], "weight": [-1.0]},
        {"entry": [0.0], "exit_": [1.0], "event": [True], "stratum": [2], "n_strata": 2},
        {"entry": [0.0], "exit_": [1.0], "event": [True], "stratum": [-1]},
        {"entry": [0.0], "exit_": [1.0], "event": [True], "stratum": [0.5]},
    ],
)
def test_lives_that_cannot_be_are_refused(columns):
    with pytest.raises(LivesError):
        lives(**columns)


@pytest.mark.parametrize(
    "columns",
    [
        ([0, 1], [0.0], [1.0], [0], [1]),
        ([0], [0.0], [1.0], [0, 1], [1]),
        ([0], [1.0], [1.0], [0], [1]),
        ([-1], [0.0], [1.0], [0], [1]),
        ([0], [0.0], [np.nan], [0], [1]),
        ([0], [0.0], [1.0], [0], [-1]),
    ],
)
def test_windows_that_cannot_be_are_refused(columns):
    with pytest.raises(LivesError):
        shared_exposure(*columns)


def test_no_lives_are_lives_too():
    data = lives([], [], [], n_strata=2)
    assert n_lives(data).tolist() == [0, 0]


def test_lives_at_places_keep_all_but_their_stratum():
    data = lives([0, 5, 2], [9, 8, 7], [1, 0, 1], [0, 1, 1], [1, 2, 3], [4, np.nan, np.nan], cluster=[6, 7, 8])
    found = lives_at(data, np.array([2, 0]), np.array([0, 0]), 1)
    assert (found.entry.tolist(), found.exit_.tolist(), found.event.tolist()) == ([2, 0], [7, 9], [True, True])
    assert (found.weight.tolist(), found.cluster.tolist(), found.n_strata) == ([3, 1], [8, 6], 1)
    assert np.isnan(found.left[0]) and found.left[1] == 4
    assert lives_at(data, np.array([0]), np.array([0]), 1, np.array([False])).event.tolist() == [False]
