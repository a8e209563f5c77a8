"""Coders from lines whose components are known: those the shop coded itself and those that were reviewed.

How well a coder does is measured on lines kept from its training: in five parts, the lines of an order together. The
same lines in any order give the same coder.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from longmile.pipelines.coding import learned
from longmile.pipelines.coding.calibration import Numbers, fitted, folds, threshold_for
from longmile.pipelines.coding.coder import Coder, Second
from longmile.pipelines.coding.learned import NONE, Shares
from longmile.pipelines.coding.line_text import LineText, text_key
from longmile.pipelines.coding.mentions import Reading, read_line
from longmile.pipelines.coding.prior_curve import PRIOR_CURVE, PRIOR_THRESHOLD
from longmile.pipelines.coding.signs import AGREEMENT, LIKELIEST_NAMES, likeliest_signs, reading_signs
from longmile.schemas.vocabulary import COMPONENTS

TARGET = 0.97
"""Share of the decided lines that shall be right."""

FEWEST_LINES = 300
"""Known texts from which the second stage is used; with fewer it knows too few components."""

MOST_LINES = 10_000
"""Known texts that are learned from, the last by order number."""

N_FOLDS = 5
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Known:
    """A line whose components are known.   is_whole: these are all of them, as a reviewer says; a line that came with
    its code has one, and may speak of more.   group: its order, kept together when the confidence is measured.
    """

    line: LineText
    components: frozenset[str]
    is_whole: bool
    group: str


def trained(known: Sequence[Known], target: float = TARGET, driver: str = "left") -> Coder:
    """Coder from known lines in whatever order they come; with fewer than `FEWEST_LINES` texts the vocabulary alone."""
    kept = distinct(known)
    name = _version(kept, target, driver)
    if len(kept) < FEWEST_LINES:
        return Coder(name, len(kept), PRIOR_CURVE, PRIOR_THRESHOLD, None, None, None, driver)
    readings = [read_line(one.line.kind, one.line.texts, driver) for one in kept]
    shares, classes = _kept_apart(kept, readings)
    fold = folds([one.group for one in kept], N_FOLDS)
    names = (*sorted(readings[0].signs), "is_open", "is_nothing", *AGREEMENT)
    usable = np.array([_can_be_judged(one, reading) for one, reading in zip(kept, readings, strict=True)])
    right = np.array([_is_right(one, reading) for one, reading in zip(kept, readings, strict=True)])
    signs = reading_signs(names, readings, shares, classes)
    sure = _cross_fitted(names, signs, right, usable, fold)
    threshold = threshold_for(sure[usable], right[usable], target)
    first = usable & (sure >= threshold)
    like_signs = likeliest_signs(readings, shares, classes)
    like_right = _likeliest_right(kept, shares, classes)
    like = _cross_fitted(LIKELIEST_NAMES, like_signs, like_right, usable, fold)
    left_over = usable & ~first
    like_threshold = threshold_for(like[left_over], like_right[left_over], target)
    second = left_over & (like >= like_threshold)
    n_decided = int(first.sum() + second.sum())
    n_right = int(right[first].sum() + like_right[second].sum())
    model = learned.train([one.line for one in kept], readings, [one.components for one in kept])
    return Coder(
        name,
        len(kept),
        fitted(names, signs[usable], right[usable]),
        threshold,
        n_right / n_decided if n_decided else None,
        n_decided / max(int(usable.sum()), 1),
        Second(model, fitted(LIKELIEST_NAMES, like_signs[usable], like_right[usable]), like_threshold),
        driver,
    )


def distinct(known: Sequence[Known]) -> list[Known]:
    """Each text once, in the order of its key; of one text with several answers a reviewer's, then the first."""
    by_key: dict[str, Known] = {}
    for one in sorted(known, key=lambda k: (not k.is_whole, k.group, _said(k))):
        by_key.setdefault(text_key(one.line), one)
    last = sorted(by_key, key=lambda key: (by_key[key].is_whole, by_key[key].group, key))[-MOST_LINES:]
    return [by_key[key] for key in sorted(last)]


def _cross_fitted(
    names: Sequence[str], signs: Numbers, right: Flags, usable: Flags, fold: NDArray[np.int64]
) -> Numbers:
    """Confidence of each line by curves that were fitted without its order."""
    found = np.zeros(right.size)
    for i in range(N_FOLDS):
        rest, own = usable & (fold != i), fold == i
        if rest.any() and own.any():
            found[own] = fitted(names, signs[rest], right[rest]).confidence(signs[own])
    return found


def _kept_apart(kept: Sequence[Known], readings: Sequence[Reading]) -> tuple[Shares, tuple[str, ...]]:
    """Shares of each line by models that were not trained on its order, and the classes of the columns."""
    classes = tuple(sorted({code for one in kept for code in one.components or (NONE,)}))
    column = {code: i for i, code in enumerate(classes)}
    fold = folds([one.group for one in kept], N_FOLDS)
    shares = np.zeros((len(kept), len(classes)))
    for i in range(N_FOLDS):
        rest, own = np.flatnonzero(fold != i).tolist(), np.flatnonzero(fold == i).tolist()
        if rest and own:
            lines = [kept[j].line for j in rest]
            model = learned.train(lines, [readings[j] for j in rest], [kept[j].components for j in rest])
            found = model.shares([kept[j].line for j in own], [readings[j] for j in own])
            shares[np.ix_(own, [column[name] for name in model.classes])] = found
    return shares, classes


def _can_be_judged(one: Known, reading: Reading) -> bool:
    """Whether it can be said if a reading is right: a line's one code says nothing of further components read."""
    read = {mention.component_code for mention in reading.mentions}
    return one.is_whole or not (len(read) > 1 and one.components <= read)


def _is_right(one: Known, reading: Reading) -> bool:
    """Whether exactly the known components were read."""
    return {mention.component_code for mention in reading.mentions} == one.components


def _likeliest_right(kept: Sequence[Known], shares: Shares, classes: Sequence[str]) -> Flags:
    """Whether the second stage's likeliest class is all that a line is about."""
    best = [classes[i] for i in shares.argmax(axis=1)]
    return np.array([frozenset({code} - {NONE}) == one.components for code, one in zip(best, kept, strict=True)])


def _said(one: Known) -> str:
    """A known line in one text, for the version."""
    return f"{text_key(one.line)}={'+'.join(sorted(one.components))}{'!' if one.is_whole else ''}@{one.group}"


def _version(kept: Sequence[Known], target: float, driver: str) -> str:
    """Hash of everything that codings depend on."""
    made = (rules_version(), str(target), driver, *(_said(one) for one in kept))
    return sha256("|".join(made).encode("utf-8")).hexdigest()[:16]


@cache
def rules_version() -> str:
    """Hash of what codings depend on beside the known lines: this package, the vocabulary, the libraries."""
    digest = sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(path.read_bytes())
    digest.update(repr(COMPONENTS).encode("utf-8"))
    digest.update("|".join(version(name) for name in ("rapidfuzz", "scikit-learn", "numpy", "scipy")).encode("utf-8"))
    return digest.hexdigest()
