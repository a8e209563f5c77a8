"""Facts of what was settled before lives were cut: how often, by what it is about, what was found, what was done."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from longmile.reports.frames import ResultFrames
from longmile.reports.settled_words import ABOUT_WORDS, KIND_WORDS, STATE_WORDS


@dataclass(frozen=True)
class SettledRow:
    """One thing found: in words, what was done about it, and how many times."""

    kind: str
    words: str
    done: str
    n: int


@dataclass(frozen=True)
class SettledGroup:
    """All that was found about one thing, most frequent first."""

    heading: str
    lead: str
    rows: tuple[SettledRow, ...]


def settled_groups(frames: ResultFrames) -> tuple[SettledGroup, ...]:
    """What was settled, in the order of `ABOUT_WORDS`; things about which nothing was found are left out."""
    counted = frames.settled_count.filter(pl.col("n") > 0).sort("n", "kind", "state", descending=[True, False, False])
    groups = []
    for about, (heading, lead) in ABOUT_WORDS.items():
        rows = counted.filter(pl.col("about") == about)
        if rows.height:
            groups.append(SettledGroup(heading, lead, tuple(_row(about, *r) for r in rows.drop("about").iter_rows())))
    return tuple(groups)


def _row(about: str, kind: str, state: str, n: int) -> SettledRow:
    """One row in words; a code without words is shown as it is, underscores as spaces."""
    words = KIND_WORDS.get((about, kind), kind.replace("_", " "))
    return SettledRow(kind, words, STATE_WORDS.get(state, state.replace("_", " ")), int(n))


@dataclass(frozen=True)
class ModelFacts:
    """The model that reads doubtful lines, and how it did on lines kept from it; shares from 0 to 1."""

    n_lines: int
    is_used: bool
    threshold: float | None
    accuracy: float | None
    decided_share: float | None


def model_facts(frames: ResultFrames) -> ModelFacts | None:
    """The model of this run; None where no line needed one."""
    if not frames.coding_model.height:
        return None
    row = frames.coding_model.row(0, named=True)
    return ModelFacts(*(row[name] for name in ("n_lines", "is_used", "threshold", "accuracy", "decided_share")))
