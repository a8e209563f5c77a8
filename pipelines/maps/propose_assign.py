"""Which header is which meaning: all headers and meanings weighed together, each meaning to one header at most."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from longmile.pipelines.maps.propose_scores import Scores
from longmile.pipelines.maps.words_meanings import MEANINGS
from longmile.pipelines.maps.words_meanings_refused import REFUSED

THRESHOLD = 0.45
NEAR = 0.12
VALUES_SPEAK = 0.6
STRONG_FIRST = 1.5
"""Above 1: one strong agreement is worth more than two weak ones."""


@dataclass(frozen=True)
class Assigned:
    """header_of: meaning -> header.   score: meaning -> its agreement.   runner_up: meaning -> a header nearly as good.

    by_values: meanings that values alone told, no header naming them.
    """

    header_of: dict[str, str]
    score: dict[str, float]
    runner_up: dict[str, str]
    by_values: tuple[str, ...] = ()

    @property
    def meaning_of(self) -> dict[str, str]:
        """Header -> meaning."""
        return {header: meaning for meaning, header in self.header_of.items()}


def refused_score(scores: Scores, header: str) -> tuple[str, float]:
    """The meaning that is never taken which fits the header best, and how well: less where values speak for ours."""
    found = {one.name: scores.total[header].get(one.name, 0.0) for one in REFUSED}
    best = max(found, key=lambda name: found[name])
    said = scores.says[header] if scores.says[header] > VALUES_SPEAK else 0.0
    return best, found[best] * (1 - 0.5 * said)


def assign(scores: Scores, allowed: Collection[str]) -> Assigned:
    """The assignment with the greatest agreement over all headers, above what speaks for leaving each out."""
    headers = [header for header in scores.total if scores.values[header].filled]
    names = [meaning.name for meaning in MEANINGS if meaning.name in allowed]
    if not headers or not names:
        return Assigned({}, {}, {})
    least = np.array([max(THRESHOLD, refused_score(scores, header)[1]) for header in headers])
    agreed = np.array([[scores.total[header].get(name, 0.0) for name in names] for header in headers])
    above = np.maximum(agreed - 0.5 * least[:, None], 0.0) ** STRONG_FIRST
    gain = np.where(agreed > least[:, None], above, 0.0)
    rows, columns = linear_sum_assignment(gain, maximize=True)
    taken = [
        (headers[row], names[column], agreed[row, column])
        for row, column in zip(rows, columns, strict=True)
        if gain[row, column] > 0
    ]
    header_of = {name: header for header, name, _ in taken}
    return Assigned(header_of, {name: float(one) for _, name, one in taken}, _runners_up(scores, header_of))


def _runners_up(scores: Scores, header_of: dict[str, str]) -> dict[str, str]:
    """For each meaning a header left over that fits it nearly as well."""
    used = set(header_of.values())
    left = [header for header in scores.total if header not in used and scores.values[header].filled]
    found = {}
    for name, header in header_of.items():
        best = max(left, key=lambda one: scores.total[one].get(name, 0.0), default="")
        agreed = scores.total[best].get(name, 0.0) if best else 0.0
        if best and agreed > scores.total[header][name] - NEAR and agreed > refused_score(scores, best)[1]:
            found[name] = best
    return found
