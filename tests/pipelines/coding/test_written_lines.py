"""How well the held-out third of the labelled lines is read; what the lines are is said in `lines/README.md`.

The floors are what was measured (RESULTS.md), less one to two of 100. They lie below what is aimed at: 97 right of 100
decided, 15 of 100 undecided, 95 of 100 positions, actions and reasons right.
"""

from __future__ import annotations

from types import ModuleType

import pytest

from longmile.pipelines.coding.coder import Coder


@pytest.fixture(scope="module")
def total(lines_module: ModuleType, coder: Coder):
    held = lines_module.written(is_held_out=True)
    return lines_module.score(held, coder.codings([one.line for one in held]))


def test_there_are_1500_lines_and_a_third_is_held_out(lines_module: ModuleType):
    known, held = (len(lines_module.written(is_held_out)) for is_held_out in (False, True))
    assert known + held >= 1_500
    assert 0.3 < held / (known + held) < 0.37


def test_decided_lines_are_right(total):
    assert total.accuracy >= FLOORS["accuracy"]


def test_most_lines_are_decided(total):
    assert total.decided_share >= FLOORS["decided"]


@pytest.mark.parametrize("what", ["position", "action", "reason"])
def test_position_action_and_reason_are_right(total, what: str):
    assert total.share(what) >= FLOORS[what]


def test_the_accuracy_measured_on_known_lines_is_what_was_asked_for(coder: Coder):
    assert coder.accuracy is not None and coder.accuracy >= 0.97


FLOORS = {"accuracy": 0.88, "decided": 0.59, "position": 0.915, "action": 0.87, "reason": 0.82}
