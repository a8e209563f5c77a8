"""Confidence: the chance that a coding is right, from what speaks for and against it, and where to draw the line.

A logistic curve over the signs of the first stage and the shares of the second (sigmoid calibration on several signs),
fitted to codings of lines that were kept from training. Source of the idea: Platt 1999, Probabilistic outputs for
support vector machines, in Advances in Large Margin Classifiers. Lines of one order are kept from training together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import LogisticRegression

Numbers = NDArray[np.float64]
STRENGTH = 0.3
"""Inverse of the penalty on the curve's weights, after each sign is brought to mean 0 and deviation 1."""

FEWEST_DECIDED = 30
"""Lines that must be decided for a threshold to be taken from them."""


@dataclass(frozen=True)
class Curve:
    """Confidence from signs: 1 / (1 + exp(-(base + sum of weight x (sign - middle) / spread)))."""

    names: tuple[str, ...]
    middle: Numbers
    spread: Numbers
    weights: Numbers
    base: float

    def confidence(self, signs: Numbers) -> Numbers:
        """Confidence for each row of signs, in the order of `names`."""
        scaled = (signs - self.middle) / self.spread
        return np.asarray(1.0 / (1.0 + np.exp(-(self.base + scaled @ self.weights))), np.float64)


def fitted(names: Sequence[str], signs: Numbers, is_right: NDArray[np.bool_]) -> Curve:
    """Curve from the signs of codings and whether each was right; all right or all wrong gives that share for all."""
    middle = signs.mean(axis=0)
    spread = signs.std(axis=0)
    spread[spread == 0] = 1.0
    if is_right.all() or not is_right.any():
        share = (is_right.sum() + 1.0) / (is_right.size + 2.0)
        return Curve(tuple(names), middle, spread, np.zeros(len(names)), float(np.log(share / (1 - share))))
    model = LogisticRegression(C=STRENGTH, max_iter=2_000).fit((signs - middle) / spread, is_right)
    return Curve(tuple(names), middle, spread, model.coef_[0].astype(np.float64), float(model.intercept_[0]))


def as_rows(names: Sequence[str], signs: Sequence[Mapping[str, float]]) -> Numbers:
    """Signs as a table, one row each, in the order of the names."""
    return np.array([[one[name] for name in names] for one in signs], dtype=np.float64).reshape(-1, len(names))


def threshold_for(confidence: Numbers, is_right: NDArray[np.bool_], target: float) -> float:
    """Lowest confidence from which on at least the target share was right; 1.0, which decides none, where none does."""
    order = np.argsort(-confidence, kind="stable")
    n = np.arange(1, order.size + 1)
    share = np.cumsum(is_right[order]) / n
    is_last_of_equal = np.append(np.diff(confidence[order]) != 0, True)
    fit = np.flatnonzero((share >= target) & (n >= FEWEST_DECIDED) & is_last_of_equal)
    return float(confidence[order[fit[-1]]]) if fit.size else 1.0


def folds(groups: Sequence[str], n_folds: int) -> NDArray[np.int64]:
    """Fold of each line; lines of one group share one, and groups go round in the order of their names."""
    place = {group: i % n_folds for i, group in enumerate(sorted(set(groups)))}
    return np.array([place[group] for group in groups], dtype=np.int64)
