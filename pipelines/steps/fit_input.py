"""A plain table of lives, all text, turned into checked lives; faulty rows are set aside with the reason.

What belongs here: reading of cells. Two layouts: `entry, exit, event` and `left, right`. No estimate is made
here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
import polars as pl

from longmile.pipelines.estimators.lives import Codes, Floats, Lives, lives, weighed
from longmile.pipelines.steps.csv_rows import (
    CsvRows,
    asked_column,
    coded_groups,
    missing_columns,
    with_plain_names,
)

_EXPECTED = "`exit` and `event` (with `entry` where a life was not watched from 0), or `left` and `right`"
_OPTIONAL = ("entry", "count", "cluster")
_NAMES = ("exit", "event", "left", "right", *_OPTIONAL)


Coded: TypeAlias = tuple[Codes, list[str]]
"""Code of each life's value in a column, and the values that the codes stand for."""


@dataclass(frozen=True)
class FitInput:
    """Lives by stratum, and what became of the rows.

    by: one dict per stratum, ordered by first appearance.   removals, clusters: per stratum; clusters is None
    without a `cluster` column.   cause: per life, what ended it: 0 nothing, 1 failure, 2 and up other removals.
    groups, blocks: the columns to compare by and within; None where not asked.   set_aside: one entry per faulty
    cell, row 1 being the first below the header.
    """

    data: Lives
    by: list[dict[str, str | None]]
    removals: Floats
    cause: Codes
    clusters: Codes | None
    groups: Coded | None
    blocks: Coded | None
    layout: str
    n_rows: int
    n_set_aside: int
    set_aside: list[dict[str, Any]]
    ignored_columns: list[str]


def read_fit_input(
    frame: pl.DataFrame, by: list[str], compare: str | None = None, within: str | None = None
) -> FitInput:
    """Checked lives from a frame whose columns are all text.

    compare, within: columns of the groups to compare, and of the blocks to compare them within.
    Raises UnreadableFileError if the columns of neither layout are there, or one named in `by` is not.
    """
    frame = with_plain_names(frame, _NAMES)
    keys = [asked_column(frame, name, "--by") for name in by]
    sides = {f"--{option}": name for option, name in (("compare", compare), ("within", within)) if name}
    asked = {option: asked_column(frame, name, option) for option, name in sides.items()}
    layout = _layout(frame, keys)
    rows = CsvRows(frame)
    columns = _exact(rows) if layout == "exact" else _interval(rows)
    weight = rows.checked_number("count") if "count" in frame.columns else np.ones(frame.height)
    if "count" in frame.columns:
        rows.refuse("count", weight == 0, "0 lives")
    bad = rows.is_bad()
    kept = np.flatnonzero(~bad)
    stratum, groups = coded_groups(frame[kept], keys, by)
    entry, exit_, event, left = (column[kept] for column in columns)
    cluster = _coded(frame[kept], "cluster")[0] if "cluster" in frame.columns else None
    data = lives(entry, exit_, event == 1, stratum, weight[kept], left, n_strata=len(groups), cluster=cluster)
    coded = {option: _coded(frame[kept], column) for option, column in asked.items()}
    return FitInput(
        data=data,
        by=groups,
        removals=weighed(stratum, weight[kept] * (event > 1), len(groups)),
        cause=event.astype(np.int64),
        clusters=None if cluster is None else _n_distinct(cluster, stratum, len(groups)),
        groups=coded.get("--compare"),
        blocks=coded.get("--within"),
        layout=layout,
        n_rows=frame.height,
        n_set_aside=int(bad.sum()),
        set_aside=rows.set_aside().to_dicts(),
        ignored_columns=_ignored(frame, [*keys, *asked.values()], layout),
    )


def _layout(frame: pl.DataFrame, keys: list[str]) -> str:
    """`exact` or `interval`."""
    columns = set(frame.columns) - set(keys)
    if {"exit", "event"} <= columns:
        return "exact"
    if {"left", "right"} <= columns and "exit" not in columns:
        return "interval"
    wanted = ("left", "right") if columns & {"left", "right"} and "exit" not in columns else ("exit", "event")
    raise missing_columns([name for name in wanted if name not in columns], frame.columns, _EXPECTED)


def _exact(rows: CsvRows) -> tuple[Floats, Floats, Floats, Floats]:
    """entry, exit_, event (0, 1, 2 and up), left (none) of the layout with exact ends."""
    entry, exit_ = _entry(rows), rows.checked_number("exit")
    event = rows.checked_number("event")
    rows.refuse("event", (event >= 0) & np.isfinite(event) & (event != np.floor(event)), "not a whole number: {cell}")
    rows.refuse("exit", np.isfinite(entry) & (exit_ >= 0) & (exit_ <= entry), "not above entry: {cell}")
    return entry, exit_, event, np.full(entry.size, np.nan)


def _interval(rows: CsvRows) -> tuple[Floats, Floats, Floats, Floats]:
    """entry, exit_, event, left of the layout in which a failure is known to lie in (left, right]."""
    entry = _entry(rows)
    left = rows.checked_number("left", empty="empty; 0 stands for before the first look")
    right, running = rows.number("right"), rows.missing("right")
    running |= np.isposinf(right)
    rows.refuse("right", ~running & np.isnan(right), "not a number: {cell}")
    rows.refuse("right", ~running & (right < left), "below left: {cell}")
    # Left 0 means before the first look; a life first watched later was sound at its entry.
    left = np.where(left == 0, np.where(entry > 0, entry, 0.0), left)
    rows.refuse("left", left < entry, "below entry: {cell}")
    rows.refuse("left", running & (left <= entry), "not above entry, and not yet failed: no mile was watched")
    rows.refuse("right", ~running & (right <= entry), "not above entry: {cell}")
    exactly = ~running & (left == right)
    exit_ = np.where(running, left, right)
    return entry, exit_, (~running).astype(np.float64), np.where(running | exactly, np.nan, left)


def _entry(rows: CsvRows) -> Floats:
    if "entry" not in rows.frame.columns:
        return np.zeros(rows.frame.height)
    return rows.checked_number("entry", empty="empty; 0 stands for watched from new")


def _coded(frame: pl.DataFrame, column: str) -> Coded:
    codes, groups = coded_groups(frame, [column], [column])
    return codes, [group[column] or "" for group in groups]


def _n_distinct(cluster: Codes, stratum: Codes, n_strata: int) -> Codes:
    """How many clusters each stratum has."""
    pairs = pl.DataFrame({"stratum": stratum, "cluster": cluster}).unique()
    return np.bincount(pairs["stratum"].to_numpy(), minlength=n_strata).astype(np.int64)


def _ignored(frame: pl.DataFrame, keys: list[str], layout: str) -> list[str]:
    used = {*keys, *_OPTIONAL, *(("exit", "event") if layout == "exact" else ("left", "right"))}
    return [name for name in frame.columns if name not in used]
