"""A plain table of lives, all text, turned into checked lives; faulty rows are set aside with the reason.

What belongs here: reading of cells. Two layouts: `entry, exit, event` and `left, right`. No estimate is made
here.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, lives, weighed

_MISSING = ("", "na", "n/a", "nan", "null", "none")
_EXPECTED = "`exit` and `event` (with `entry` where a life was not watched from 0), or `left` and `right`"
_OPTIONAL = ("entry", "count", "cluster")


@dataclass(frozen=True)
class FitInput:
    """Lives by stratum, and what became of the rows.

    by: one dict per stratum, ordered by first appearance.   removals, clusters: per stratum; clusters is None
    without a `cluster` column.   set_aside: one entry per faulty cell, row 1 being the first below the
    header.
    """

    data: Lives
    by: list[dict[str, str | None]]
    removals: Floats
    clusters: Codes | None
    layout: str
    n_rows: int
    n_set_aside: int
    set_aside: list[dict[str, Any]]
    ignored_columns: list[str]


@dataclass
class _Rows:
    """Cells of the file as numbers, and the faults found so far."""

    frame: pl.DataFrame
    faults: list[pl.DataFrame]

    def number(self, column: str) -> Floats:
        """Column as numbers, NaN where the cell is empty or not a number."""
        cells = pl.col(column).str.strip_chars()
        return self.frame.select(cells.cast(pl.Float64, strict=False)).to_series().fill_null(np.nan).to_numpy()

    def missing(self, column: str) -> Flags:
        """True where the cell is empty or says so."""
        cells = pl.col(column).str.strip_chars().str.to_lowercase().fill_null("")
        return self.frame.select(cells.is_in(list(_MISSING))).to_series().to_numpy()

    def refuse(self, column: str, wrong: Flags, reason: str) -> None:
        """Sets aside the rows marked wrong; a {cell} in the reason is filled with what the cell holds."""
        rows = np.flatnonzero(wrong)
        if not rows.size:
            return
        before, _, after = reason.partition("{cell}")
        shown = self.frame[column].fill_null("")[rows] if "{cell}" in reason else pl.Series([""] * rows.size)
        text = pl.Series([before] * rows.size) + shown.str.slice(0, 40) + after
        self.faults.append(pl.DataFrame({"row": rows + 1, "column": [column] * rows.size, "reason": text}))

    def checked_number(self, column: str, *, empty: str = "empty") -> Floats:
        """Column as numbers of 0 or more; other rows are set aside."""
        value, missing = self.number(column), self.missing(column)
        self.refuse(column, missing, empty)
        self.refuse(column, ~missing & ~np.isfinite(value), "not a number: {cell}")
        self.refuse(column, value < 0, "below 0: {cell}")
        return value


def read_fit_input(frame: pl.DataFrame, by: list[str]) -> FitInput:
    """Checked lives from a frame whose columns are all text.

    Raises UnreadableFileError if the columns of neither layout are there, or one named in `by` is not.
    """
    frame = _named(frame)
    keys = [_found(frame, name) for name in by]
    layout = _layout(frame, keys)
    rows = _Rows(frame, [])
    columns = _exact(rows) if layout == "exact" else _interval(rows)
    weight = rows.checked_number("count") if "count" in frame.columns else np.ones(frame.height)
    if "count" in frame.columns:
        rows.refuse("count", weight == 0, "0 lives")
    set_aside = _listed(rows)
    bad = np.zeros(frame.height, np.bool_)
    bad[set_aside["row"].to_numpy() - 1] = True
    kept = np.flatnonzero(~bad)
    stratum, groups = _strata(frame[kept], keys, by)
    entry, exit_, event, left = (column[kept] for column in columns)
    data = lives(entry, exit_, event == 1, stratum, weight[kept], left, n_strata=len(groups))
    return FitInput(
        data=data,
        by=groups,
        removals=weighed(stratum, weight[kept] * (event > 1), len(groups)),
        clusters=_clusters(frame[kept], stratum, len(groups)),
        layout=layout,
        n_rows=frame.height,
        n_set_aside=int(bad.sum()),
        set_aside=set_aside.to_dicts(),
        ignored_columns=_ignored(frame, keys, layout),
    )


def _named(frame: pl.DataFrame) -> pl.DataFrame:
    """Headers without surrounding blanks; the names this file expects in any case."""
    expected = ("exit", "event", "left", "right", *_OPTIONAL)
    plain = {name: name.strip() for name in frame.columns}
    known = {name: text.lower() if text.lower() in expected else text for name, text in plain.items()}
    if len(set(known.values())) < len(known):
        raise UnreadableFileError(
            f"two columns have the same name (found: {', '.join(frame.columns)}). Expected each name once."
        )
    return frame.rename(known).cast(pl.String)


def _found(frame: pl.DataFrame, name: str) -> str:
    """The column a --by name means."""
    if name.strip() in frame.columns:
        return name.strip()
    near = difflib.get_close_matches(name, frame.columns, n=1)
    hint = f" Nearest: {near[0]}." if near else ""
    raise UnreadableFileError(f"no column `{name}` (asked by --by). Found: {', '.join(frame.columns)}.{hint}")


def _layout(frame: pl.DataFrame, keys: list[str]) -> str:
    """`exact` or `interval`."""
    columns = set(frame.columns) - set(keys)
    if {"exit", "event"} <= columns:
        return "exact"
    if {"left", "right"} <= columns and "exit" not in columns:
        return "interval"
    wanted = ("left", "right") if columns & {"left", "right"} and "exit" not in columns else ("exit", "event")
    absent = [name for name in wanted if name not in columns]
    near = [match for name in absent for match in difflib.get_close_matches(name, sorted(columns), n=1)]
    hint = f" Nearest to what is missing: {', '.join(near)}." if near else ""
    raise UnreadableFileError(
        f"missing column{'s' if len(absent) > 1 else ''} {', '.join(absent)}. "
        f"Found: {', '.join(frame.columns) or 'none'}. Expected {_EXPECTED}, separated by commas.{hint}"
    )


def _exact(rows: _Rows) -> tuple[Floats, Floats, Floats, Floats]:
    """entry, exit_, event (0, 1, 2 and up), left (none) of the layout with exact ends."""
    entry, exit_ = _entry(rows), rows.checked_number("exit")
    event = rows.checked_number("event")
    rows.refuse("event", (event >= 0) & np.isfinite(event) & (event != np.floor(event)), "not a whole number: {cell}")
    rows.refuse("exit", np.isfinite(entry) & (exit_ >= 0) & (exit_ <= entry), "not above entry: {cell}")
    return entry, exit_, event, np.full(entry.size, np.nan)


def _interval(rows: _Rows) -> tuple[Floats, Floats, Floats, Floats]:
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


def _entry(rows: _Rows) -> Floats:
    if "entry" not in rows.frame.columns:
        return np.zeros(rows.frame.height)
    return rows.checked_number("entry", empty="empty; 0 stands for watched from new")


def _listed(rows: _Rows) -> pl.DataFrame:
    empty = pl.DataFrame(schema={"row": pl.Int64, "column": pl.String, "reason": pl.String})
    return pl.concat([empty, *rows.faults]).sort("row", maintain_order=True)


def _strata(frame: pl.DataFrame, keys: list[str], by: list[str]) -> tuple[Codes, list[dict[str, str | None]]]:
    """Stratum code of each row, and the group values of each stratum under the names asked for."""
    if not keys:
        return np.zeros(frame.height, np.int64), [{}] if frame.height else []
    cells = frame.select(pl.col(key).str.strip_chars().alias(name) for key, name in zip(keys, by, strict=True))
    groups = cells.unique(maintain_order=True).with_row_index("_stratum")
    coded = cells.join(groups, on=by, how="left", nulls_equal=True, maintain_order="left")
    return coded["_stratum"].cast(pl.Int64).to_numpy(), groups.drop("_stratum").to_dicts()


def _clusters(frame: pl.DataFrame, stratum: Codes, n_strata: int) -> Codes | None:
    if "cluster" not in frame.columns:
        return None
    pairs = pl.DataFrame({"stratum": stratum, "cluster": frame["cluster"]}).unique()
    return np.bincount(pairs["stratum"].to_numpy(), minlength=n_strata).astype(np.int64)


def _ignored(frame: pl.DataFrame, keys: list[str], layout: str) -> list[str]:
    used = {*keys, *_OPTIONAL, *(("exit", "event") if layout == "exact" else ("left", "right"))}
    return [name for name in frame.columns if name not in used]
