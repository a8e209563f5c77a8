"""Lines to codings by both stages. Only what its threshold allows is `coded` or `no_component`; the rest is `unsure`.

First what the vocabulary reads, where its confidence reaches the threshold; else the likeliest component by likeness to
the shop's own lines, where that reaches its own; else unsure, with the reading, or the likeliest, beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from longmile.pipelines.coding.calibration import Curve
from longmile.pipelines.coding.learned import NONE, LikeLines
from longmile.pipelines.coding.line_text import LineText
from longmile.pipelines.coding.mentions import Mention, Reading, mention_of, read_line
from longmile.pipelines.coding.signs import likeliest_signs, reading_signs

AT_ONCE = 5_000
"""Lines that are held in memory with their weighed words."""

State = Literal["coded", "unsure", "no_component"]
Stage = Literal["vocabulary", "learned", "reviewed"]


@dataclass(frozen=True)
class Coding:
    """Coding of one line.   confidence: chance that its components are right, all of them and no others."""

    state: State
    stage: Stage
    mentions: tuple[Mention, ...]
    confidence: float
    because: str


@dataclass(frozen=True)
class Second:
    """The second stage with the curve and threshold of its own codings."""

    like_lines: LikeLines
    curve: Curve
    threshold: float


@dataclass(frozen=True)
class Coder:
    """Both stages, ready to code.   version: hash of the rules and of the lines learned from.   n_lines: known lines.
    accuracy, decided_share: by lines kept from training; None where too few are known.   second: None where the
    vocabulary alone decides.   driver: the side a driver sits on, left or right, or "" where that is not known.
    """

    version: str
    n_lines: int
    curve: Curve
    threshold: float
    accuracy: float | None
    decided_share: float | None
    second: Second | None
    driver: str = "left"

    def codings(self, lines: Sequence[LineText]) -> list[Coding]:
        """Coding of each line."""
        starts = range(0, len(lines), AT_ONCE)
        return [coding for start in starts for coding in self._codings(lines[start : start + AT_ONCE])]

    def _codings(self, lines: Sequence[LineText]) -> list[Coding]:
        """Coding of each of a few lines."""
        readings = [read_line(line.kind, line.texts, self.driver) for line in lines]
        if self.second is None:
            sure = self.curve.confidence(reading_signs(self.curve.names, readings, None, ()))
            return [self._read(reading, float(own)) for reading, own in zip(readings, sure, strict=True)]
        shares = self.second.like_lines.shares(lines, readings)
        classes = self.second.like_lines.classes
        sure = self.curve.confidence(reading_signs(self.curve.names, readings, shares, classes))
        like = self.second.curve.confidence(likeliest_signs(readings, shares, classes))
        best = [classes[i] for i in np.argmax(shares, axis=1)]
        return [
            self._decided(line, reading, float(own), code, float(other))
            for line, reading, own, code, other in zip(lines, readings, sure, best, like, strict=True)
        ]

    def _read(self, reading: Reading, confidence: float) -> Coding:
        """Coding by the vocabulary alone."""
        is_sure = confidence >= self.threshold and reading.outcome != "open"
        return Coding(
            _state(is_sure, bool(reading.mentions)), "vocabulary", reading.mentions, confidence, reading.because
        )

    def _decided(self, line: LineText, reading: Reading, confidence: float, code: str, likeness: float) -> Coding:
        """Coding by both stages."""
        first = self._read(reading, confidence)
        if first.state != "unsure" or self.second is None:
            return first
        is_sure = likeness >= self.second.threshold
        if not is_sure and (reading.mentions or code == NONE):
            return first
        mentions = () if code == NONE else (mention_of(code, line.kind, line.texts, self.driver),)
        because = f"like lines known to be about {'no component' if code == NONE else code}"
        return Coding(_state(is_sure, bool(mentions)), "learned", mentions, likeness, because)


def _state(is_sure: bool, has_mentions: bool) -> State:
    """State of a coding."""
    return "unsure" if not is_sure else "coded" if has_mentions else "no_component"
