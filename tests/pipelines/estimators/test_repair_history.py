from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.repair_history import (
    miles_watched,
    n_repairs,
    n_units,
    n_units_repaired,
    repair_history,
)
from longmile.pipelines.estimators.unwatched import unwatched_miles


def two_groups():
    """Windows as below; strata 0 and 1 on group 0, stratum 2 on group 1, stratum 3 on group 2, which has no window.

    | group | unit | windows           | repairs: stratum and mileage |
    |-------|------|-------------------|------------------------------|
    | 0     | 0    | 0-10, 20-30       | 0 at 5, 0 at 25, 1 at 25     |
    | 0     | 1    | 4-12              | 0 at 12                      |
    | 1     | 2    | 3-6, 6-9          | 2 at 6, 2 at 6               |
    """
    return repair_history(
        [5, 25, 25, 12, 6, 6],
        [0, 0, 0, 1, 2, 2],
        [2, 0, 1, 0, 2],
        [6, 20, 4, 0, 3],
        [9, 30, 12, 10, 6],
        stratum=[0, 0, 1, 0, 2, 2],
        group=[1, 0, 0, 0, 1],
        stratum_group=[0, 0, 1, 2],
    )


def test_counts_by_stratum_with_windows_shared():
    data = two_groups()
    assert n_repairs(data).tolist() == [3, 1, 2, 0]
    assert n_units(data).tolist() == [2, 2, 1, 0]
    assert n_units_repaired(data).tolist() == [2, 1, 1, 0]
    # 10 + 10 + 8 miles; 3 + 3.
    assert miles_watched(data).tolist() == [28, 28, 6, 0]
    assert data.largest[:3].tolist() == [30, 30, 9]
    assert np.isnan(data.largest[3])


def test_a_repair_at_the_end_of_a_window_belongs_to_it_and_not_to_the_next():
    data = two_groups()
    mine = data.window[data.stratum == 2]
    assert data.end[mine].tolist() == [6, 6]


def test_miles_over_which_nobody_was_watched():
    # Group 0: 0-12 and 20-30 are watched, group 1: 3-9.
    found = unwatched_miles(two_groups(), [[0], [2], [3]], [2, 12, 16, 25, 40])
    assert found.tolist() == [[0, 0, 4, 8, 18], [2, 6, 10, 19, 34], [2, 12, 16, 25, 40]]


def test_nothing_at_all_is_no_error():
    data = repair_history([], [], [], [], [], stratum_group=[0])
    assert (n_repairs(data).tolist(), n_units(data).tolist()) == ([0], [0])
    assert unwatched_miles(data, 0, [7.0]).tolist() == [7.0]


WINDOW = {"window_unit": [0], "start": [0], "end": [10]}


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"at": [11], "unit": [0], **WINDOW}, "in a window"),
        ({"at": [0], "unit": [0], **WINDOW}, "in a window"),
        ({"at": [5], "unit": [1], **WINDOW}, "in a window"),
        ({"at": [5, 6], "unit": [0], **WINDOW}, "one number for each of 2 rows"),
        ({"at": [np.nan], "unit": [0], **WINDOW}, "finite"),
        ({"at": ["far"], "unit": [0], **WINDOW}, "not a number"),
        ({"at": [5], "unit": [0.5], **WINDOW}, "whole numbers"),
        ({"at": [5], "unit": [0], "cost": [np.inf], **WINDOW}, "finite"),
        ({"at": [5], "unit": [0], "stratum": [3], "stratum_group": [0], **WINDOW}, "Expected 0 to 0"),
        ({"at": [], "unit": [], "window_unit": [0], "start": [5], "end": [5]}, "start < end"),
        ({"at": [], "unit": [], "window_unit": [0, 0], "start": [0, 4], "end": [5, 9]}, "do not overlap"),
    ],
)
def test_histories_that_cannot_be_are_refused(asked, words):
    with pytest.raises(LivesError, match=words):
        repair_history(**asked)


def test_units_of_another_group_may_have_the_same_code():
    data = repair_history([5], [0], [0, 0], [0, 0], [9, 9], stratum=[1], group=[0, 1])
    assert data.group[data.window].tolist() == [1]
