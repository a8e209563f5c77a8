"""The labelled lines of `lines/`, a coder trained on those that are not held out, and how well it does on others."""

from __future__ import annotations

import csv
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from longmile.pipelines.coding.coder import Coder, Coding
from longmile.pipelines.coding.line_text import LineText
from longmile.pipelines.coding.training import TARGET, Known, trained
from longmile.schemas.vocabulary import ALL_POSITIONS, BY_CODE, SOCKET_SCHEMES

FOLDER = Path(__file__).parent / "lines"
_BANKS = ("bank_1", "bank_2")


@dataclass(frozen=True)
class Written:
    """One labelled line.   mentions: component, position, action and reason of each."""

    line_id: str
    voice: str
    line: LineText
    mentions: tuple[tuple[str, str, str, str], ...]

    @property
    def components(self) -> frozenset[str]:
        return frozenset(mention[0] for mention in self.mentions)


@dataclass
class Score:
    """Counts of lines and of mentions whose component is right, by what else of them is right."""

    n_lines: int = 0
    n_decided: int = 0
    n_right: int = 0
    n_mentions: int = 0
    right: Counter[str] = field(default_factory=Counter)
    pairs: Counter[tuple[str, str]] = field(default_factory=Counter)
    actions: Counter[tuple[str, str]] = field(default_factory=Counter)
    reasons: Counter[tuple[str, str]] = field(default_factory=Counter)

    @property
    def decided_share(self) -> float:
        return self.n_decided / self.n_lines

    @property
    def accuracy(self) -> float:
        return self.n_right / max(self.n_decided, 1)

    def share(self, what: str) -> float:
        """Share of position, action or reason right, of the mentions whose component is."""
        return self.right[what] / max(self.n_mentions, 1)


def written(is_held_out: bool) -> list[Written]:
    """Labelled lines, the held-out third or the other two."""
    return [_written(row) for row in _rows() if (row["held_out"] == "1") is is_held_out]


def _rows() -> Iterator[dict[str, str]]:
    for path in sorted(FOLDER.glob("lines_*.csv"), key=lambda path: (len(path.name), path.name)):
        with path.open(encoding="utf-8", newline="") as file:
            yield from csv.DictReader(file)


def _written(row: dict[str, str]) -> Written:
    line = LineText(row["kind"], row["description"], row["cause"], row["correction"], row["concern"])
    keys = ("component", "position", "action", "reason")
    mentions = tuple(tuple(one[key] for key in keys) for one in json.loads(row["mentions"]))
    return Written(row["line_id"], row["voice"], line, mentions)


def trained_on(lines: Sequence[Written], target: float = TARGET) -> Coder:
    """A coder that learned from labelled lines as from reviewed ones."""
    return trained([Known(one.line, one.components, True, one.line_id) for one in lines], target)


def score(lines: Sequence[Written], codings: Sequence[Coding]) -> Score:
    """How well codings do; mentions are counted whether or not their line was decided."""
    total = Score(n_lines=len(lines))
    for one, coding in zip(lines, codings, strict=True):
        read = frozenset(mention.component_code for mention in coding.mentions)
        if coding.state != "unsure":
            total.n_decided += 1
            total.n_right += read == one.components
            total.pairs.update(_confused(one.components, read))
        _score_mentions(total, one, coding)
    return total


def _score_mentions(total: Score, one: Written, coding: Coding) -> None:
    named = Counter(mention[0] for mention in one.mentions)
    for mention in coding.mentions:
        if named[mention.component_code] != 1:
            continue
        code, position, action, reason = next(told for told in one.mentions if told[0] == mention.component_code)
        total.n_mentions += 1
        total.right["position"] += sockets(code, position) == sockets(code, mention.position)
        total.right["action"] += action == mention.action
        total.right["reason"] += reason == mention.reason
        total.actions[action, mention.action or "none"] += 1
        total.reasons[reason, mention.reason] += 1


def _confused(told: frozenset[str], read: frozenset[str]) -> Iterator[tuple[str, str]]:
    missed, extra = sorted(told - read), sorted(read - told)
    for i in range(max(len(missed), len(extra))):
        yield (missed[i] if i < len(missed) else "nothing", extra[i] if i < len(extra) else "nothing")


def sockets(code: str, position: str) -> frozenset[str]:
    """Positions named; every one of a scheme that is the same on every vehicle, and both banks, are `all`."""
    named = frozenset(position.split(",")) - {""}
    scheme = BY_CODE[code].sockets
    every = _BANKS if scheme == "per_bank" else SOCKET_SCHEMES[scheme].positions
    return frozenset({ALL_POSITIONS}) if every and named >= set(every) and scheme != "one" else named
