from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.coding.calibration import FEWEST_DECIDED, fitted, folds, threshold_for


# 100 codings, the surest first; the 60 surest are right but for one: 59/60 = 0.983. The next 20 are right half the
# time: 69/80 = 0.8625 < 0.97. So the threshold for 0.97 lies at the last place with a share of 0.97 or more:
# after n more lines right and wrong in turn, (59 + ceil(n/2)) / (60 + n); n = 1: 60/61 = 0.984; n = 2: 60/62 = 0.968.
def test_threshold_is_the_lowest_confidence_that_holds_the_share():
    right = np.array([True] * 59 + [False] + [True, False] * 20)
    confidence = np.linspace(0.999, 0.5, right.size)
    assert threshold_for(confidence, right, 0.97) == confidence[60]


def test_lines_of_one_confidence_are_decided_together_or_not_at_all():
    right = np.array([True] * 40 + [False] * 40)
    assert threshold_for(np.full(80, 0.9), right, 0.97) == 1.0
    assert threshold_for(np.full(80, 0.9), right, 0.5) == 0.9


def test_no_threshold_is_taken_from_a_handful_of_lines():
    n = FEWEST_DECIDED - 1
    assert threshold_for(np.full(n, 0.9), np.ones(n, dtype=bool), 0.97) == 1.0


def test_confidence_follows_the_share_that_is_right():
    signs = np.repeat([[0.0], [1.0]], 500, axis=0)
    right = np.concatenate([np.arange(500) % 4 == 0, np.arange(500) % 10 != 0])  # 25 and 90 of 100
    low, high = fitted(("sign",), signs, right).confidence(np.array([[0.0], [1.0]]))
    assert low == pytest.approx(0.25, abs=0.02) and high == pytest.approx(0.90, abs=0.02)


def test_lines_that_are_all_right_are_not_taken_for_certain():
    curve = fitted(("sign",), np.zeros((8, 1)), np.ones(8, dtype=bool))
    assert curve.confidence(np.zeros((1, 1)))[0] == pytest.approx(9 / 10)  # (8 + 1) / (8 + 2)


def test_lines_of_one_order_are_in_one_fold_whatever_their_order():
    groups = ["b", "a", "b", "c", "a"]
    fold = folds(groups, 2)
    assert len({int(f) for f, g in zip(fold, groups, strict=True) if g == "b"}) == 1
    assert folds(groups[::-1], 2).tolist() == fold.tolist()[::-1]
