"""Competing ends, groups compared and interval curves of a plain table of lives, as parts of a JSON answer."""

from __future__ import annotations

from typing import Any

import numpy as np

from longmile.pipelines.estimators.comparison_rows import GroupTest
from longmile.pipelines.estimators.competing import CumulativeIncidence, cumulative_incidence
from longmile.pipelines.estimators.gray import gray_test
from longmile.pipelines.estimators.incidence_reading import incidence_at
from longmile.pipelines.estimators.rank_tests import log_rank
from longmile.pipelines.estimators.turnbull import IntervalCurves, turnbull
from longmile.pipelines.steps.fit_input import FitInput
from longmile.pipelines.steps.json_numbers import number


def incidence_parts(found: FitInput, at: list[float], confidence: float) -> list[list[dict[str, Any]]]:
    """Cumulative incidence of every cause, a list per stratum; empty where no life was removed for another reason.

    at: ages to read it at; empty: every age at which anything struck.
    """
    n_strata = found.data.n_strata
    if not (found.cause > 1).any():
        return [[] for _ in range(n_strata)]
    made = cumulative_incidence(found.data, found.cause, confidence=confidence)
    cell = np.repeat(np.arange(n_strata), len(at)) if at else made.curves.stratum
    t = np.tile(np.asarray(at, np.float64), n_strata) if at else made.curves.t
    return _incidence_rows(made, cell, t)


def _incidence_rows(made: CumulativeIncidence, cell: np.ndarray, t: np.ndarray) -> list[list[dict[str, Any]]]:
    read = incidence_at(made, cell, t)
    rows: list[list[dict[str, Any]]] = [[] for _ in range(made.status.shape[0])]
    for i in range(cell.size):
        for k in range(made.n_causes):
            rows[cell[i]].append(
                {
                    "cause": k + 1,
                    "t": number(t[i]),
                    "incidence": number(read.incidence[i, k]),
                    "se": number(read.se[i, k]),
                    "lower": number(read.lower[i, k]),
                    "upper": number(read.upper[i, k]),
                    "status": str(made.status[cell[i], k]),
                    "variance": made.variance,
                }
            )
    return rows


def comparison_parts(found: FitInput) -> list[dict[str, Any] | None]:
    """Tests of the groups asked for, within each stratum; None where no groups were asked for."""
    if found.groups is None:
        return [None] * found.data.n_strata
    group, labels = found.groups
    block = None if found.blocks is None else found.blocks[0]
    rank = log_rank(found.data, group, block, n_groups=max(len(labels), 2))
    tests = {"log_rank": rank}
    if (found.cause > 1).any():
        causes = range(1, int(found.cause.max()) + 1)
        tests |= {
            f"gray_cause_{k}": gray_test(found.data, found.cause, group, k, block, max(len(labels), 2)) for k in causes
        }
    return [{name: _test(test, labels, s) for name, test in tests.items()} for s in range(found.data.n_strata)]


def _test(test: GroupTest, labels: list[str], s: int) -> dict[str, Any]:
    groups = [
        {"group": label, "observed": number(test.observed[s, g]), "expected": number(test.expected[s, g])}
        for g, label in enumerate(labels)
    ]
    return {
        "status": str(test.status[s]),
        "groups": groups,
        "chi_square": number(test.chi_square[s]),
        "degrees_of_freedom": int(test.degrees_of_freedom[s]),
        "p": number(test.p[s]),
        "left_out": number(test.left_out[s]),
    }


def interval_parts(found: FitInput) -> list[dict[str, Any] | None]:
    """The curve without a model of lives that failed within intervals; None where all failures are exactly known."""
    if not (found.data.event & ~np.isnan(found.data.left)).any():
        return [None] * found.data.n_strata
    curves = turnbull(found.data)
    return [_interval(curves, s) for s in range(found.data.n_strata)]


def _interval(curves: IntervalCurves, s: int) -> dict[str, Any]:
    own = range(int(curves.start[s]), int(curves.start[s + 1]))
    return {
        "status": str(curves.status[s]),
        "reason": str(curves.reason[s]) or None,
        "from": number(curves.from_age[s]),
        "log_likelihood": number(curves.log_likelihood[s]),
        "gap": number(curves.gap[s]),
        "support": [
            {
                "left": number(curves.left[i]),
                "right": number(curves.right[i]),
                "mass": number(curves.mass[i]),
                "survival": number(curves.survival[i]),
            }
            for i in own
        ],
    }
