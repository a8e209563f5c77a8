"""The second stage: components by the likeness of a text to lines that the shop coded or reviewed itself.

Character and word n-grams weighed by tf-idf, with what the first stage read as further words; a complement naive Bayes
model over them, which is linear in the weighed counts, has no start value and takes seconds.
Source: Rennie, Shih, Teevan & Karger 2003, Tackling the poor assumptions of naive Bayes text classifiers, ICML 20.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix, hstack
from sklearn.feature_extraction.text import TfidfVectorizer
from sklearn.naive_bayes import ComplementNB

from longmile.pipelines.coding.line_text import LineText
from longmile.pipelines.coding.mentions import Reading

NONE = "none"
"""Class of lines that are about no component."""

SMOOTHING = 0.1
Shares = NDArray[np.float64]


@dataclass(frozen=True)
class LikeLines:
    """A trained second stage.   classes: component codes and `NONE`, in the order of the columns of `shares`."""

    classes: tuple[str, ...]
    _weighers: tuple[TfidfVectorizer, ...]
    _model: ComplementNB

    def shares(self, lines: Sequence[LineText], readings: Sequence[Reading]) -> Shares:
        """Share of each class for each line, shape (lines, classes); rows sum to 1."""
        return np.asarray(self._model.predict_proba(_weighed(self._weighers, lines, readings)), np.float64)


def train(lines: Sequence[LineText], readings: Sequence[Reading], components: Sequence[frozenset[str]]) -> LikeLines:
    """Second stage from lines whose components are known; an empty set: about none. The order of lines is kept."""
    weighers = _weighers()
    _weighed(weighers, lines, readings, fit=True)
    weighed = _weighed(weighers, lines, readings)
    rows = [i for i, codes in enumerate(components) for _ in codes or (NONE,)]
    classes = [code for codes in components for code in sorted(codes or (NONE,))]
    model = ComplementNB(alpha=SMOOTHING).fit(weighed[rows], classes)
    return LikeLines(tuple(str(name) for name in model.classes_), weighers, model)


def _weighers() -> tuple[TfidfVectorizer, ...]:
    """Weighers of letters, of words and of what the first stage read."""
    return (
        TfidfVectorizer(analyzer="char_wb", ngram_range=(2, 4), sublinear_tf=True),
        TfidfVectorizer(token_pattern=r"\S+", ngram_range=(1, 2), sublinear_tf=True),
        TfidfVectorizer(token_pattern=r"\S+"),
    )


def _weighed(
    weighers: Sequence[TfidfVectorizer], lines: Sequence[LineText], readings: Sequence[Reading], fit: bool = False
) -> csr_matrix:
    """Weighed counts, one row per line; `fit` first learns the words from these lines."""
    documents = (
        [line.own_text.lower() or "-" for line in lines],
        [reading.plain_text or "-" for reading in readings],
        [_read_words(line, reading) for line, reading in zip(lines, readings, strict=True)],
    )
    parts = [w.fit_transform(d) if fit else w.transform(d) for w, d in zip(weighers, documents, strict=True)]
    return csr_matrix(hstack(parts))


def _read_words(line: LineText, reading: Reading) -> str:
    """What the first stage read, as words."""
    codes = " ".join(f"read:{mention.component_code}" for mention in reading.mentions)
    return f"kind:{line.kind} outcome:{reading.outcome} {codes}"
