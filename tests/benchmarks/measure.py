"""Seconds, in turn: every act once per round, so that a busy minute on the machine meets all of them."""

from __future__ import annotations

import contextlib
import statistics
import time
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from simulated import Stratum

ROUNDS = 5


def seconds(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


def in_turn(acts: Mapping[str, Callable[[], object]], rounds: int = ROUNDS) -> dict[str, float]:
    """Median seconds of each act; run each once before, so that all are warm."""
    taken: dict[str, list[float]] = {name: [] for name in acts}
    for _ in range(rounds):
        for name, act in acts.items():
            taken[name].append(seconds(act))
    return {name: statistics.median(times) for name, times in taken.items()}


@dataclass(frozen=True)
class Asked:
    """What a peer made of each stratum: None where it raised, with the first message.   n_warned: strata at which it
    warned.
    """

    made: list[Any]
    n_warned: int
    first_problem: str

    @property
    def n_raised(self) -> int:
        return sum(one is None for one in self.made)


def ask(act: Callable[[Stratum], Any], strata: list[Stratum]) -> Asked:
    """Every answer, with warnings and exceptions listened to; not timed, and the warm-up of what is."""
    made: list[Any] = []
    problems: list[str] = []
    n_warned = 0
    for stratum in strata:
        with warnings.catch_warnings(record=True) as heard:
            warnings.simplefilter("always")
            try:
                made.append(act(stratum))
            except Exception as problem:  # whatever a peer raises is an answer that it did not give, and is counted
                made.append(None)
                problems.append(f"{type(problem).__name__}: {problem}"[:80])
        n_warned += bool(heard)
    return Asked(made, n_warned, problems[0] if problems else "")


def looped(act: Callable[[Stratum], Any], strata: list[Stratum]) -> Callable[[], object]:
    """The same, to be timed."""

    def run() -> None:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for stratum in strata:
                with contextlib.suppress(Exception):  # counted by `ask`
                    act(stratum)

    return run
