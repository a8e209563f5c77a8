"""Two plain tables, repairs and windows watched, turned into a checked history; faulty rows are set aside.

A window is (start, end] on a unit's odometer. Windows of a unit that overlap are one window if they are of the same
group, since nobody is watched twice; if they are of different groups none of them can be believed, and all of them are
set aside. A repair belongs to the group of the window that holds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.estimators.lives import Codes
from longmile.pipelines.estimators.repair_history import RepairHistory, containing_window, repair_history
from longmile.pipelines.steps.csv_rows import (
    CsvRows,
    asked_column,
    coded_groups,
    missing_columns,
    with_plain_names,
)

_WINDOW_NAMES = ("unit", "start", "end")
_REPAIR_NAMES = ("unit", "at")


@dataclass(frozen=True)
class ReadRows:
    """What became of the rows of one file: n_rows = n_kept + n_set_aside.

    set_aside: one entry per faulty cell (row, column, reason), row 1 being the first below the header.
    """

    n_rows: int
    n_kept: int
    n_set_aside: int
    set_aside: list[dict[str, Any]]
    ignored_columns: list[str]


@dataclass(frozen=True)
class WatchedWindows:
    """Windows that can be used: unit (name), group (code), start, end, rows (how many rows make it), in that order.

    by: the values of each group under the names asked for, by first appearance.
    """

    frame: pl.DataFrame
    by: list[dict[str, str | None]]
    read: ReadRows


@dataclass(frozen=True)
class RecurInput:
    """A history whose strata are the groups of the windows, and what became of the rows of both files."""

    history: RepairHistory
    by: list[dict[str, str | None]]
    repairs: ReadRows
    windows: ReadRows
    n_merged_windows: int


def read_windows(frame: pl.DataFrame, by: list[str]) -> WatchedWindows:
    """Checked windows from a frame whose columns are all text: unit, start, end, and the columns in by.

    Raises UnreadableFileError if a column is missing, ReconciliationError if rows do not add up.
    """
    frame = with_plain_names(frame, _WINDOW_NAMES)
    keys = [asked_column(frame, name, "--by, which takes columns of the windows file") for name in by]
    _check_columns(frame, _WINDOW_NAMES, "`unit`, `start` and `end`: a row per window (start, end] watched")
    rows = CsvRows(frame)
    unit = rows.name("unit")
    start = rows.checked_number("start", empty="empty; 0 stands for watched from new")
    end = rows.checked_number("end")
    rows.refuse("end", np.isfinite(start) & (start >= 0) & (end >= 0) & (end <= start), "not above start: {cell}")
    cells = pl.DataFrame({"unit": unit, "start": start, "end": end}).with_row_index("row")
    blocks = _blocks(cells.filter(~pl.Series(rows.is_bad())), frame, keys, by)
    rows.refuse("start", _is_mixed(blocks, frame.height), "overlaps a window of the same unit in another group")
    kept = np.flatnonzero(~rows.is_bad())
    group, groups = coded_groups(frame[kept], keys, by)
    merged = (
        blocks.join(pl.DataFrame({"row": kept, "group": group}).cast({"row": pl.UInt32}), on="row")
        .group_by("unit", "block", "group")
        .agg(pl.col("start").min(), pl.col("end").max(), rows=pl.len().cast(pl.Int64))
        .sort("unit", "start")
        .select("unit", "group", "start", "end", "rows")
    )
    ignored = [name for name in frame.columns if name not in (*_WINDOW_NAMES, *keys)]
    return WatchedWindows(merged, groups, _read(rows, int(merged["rows"].sum()), "windows", ignored))


def read_repairs(frame: pl.DataFrame, windows: WatchedWindows, cost: str | None = None) -> RecurInput:
    """Checked history from a frame whose columns are all text: unit, at, and the cost column if one is named.

    Raises UnreadableFileError if a column is missing, ReconciliationError if rows do not add up.
    """
    frame = with_plain_names(frame, _REPAIR_NAMES)
    spent_in = None if cost is None else asked_column(frame, cost, "--cost")
    _check_columns(frame, _REPAIR_NAMES, "`unit` and `at`: a row per repair")
    rows = CsvRows(frame)
    names, at = rows.name("unit"), rows.checked_number("at")
    spent = None if spent_in is None else rows.checked_number(spent_in)
    held = windows.frame.with_columns(code=pl.col("unit").rle_id().cast(pl.Int64))
    unit = _codes_of(names, held)
    known = unit >= 0
    rows.refuse("unit", ~known & (names != "").to_numpy(), "no window that can be used for this unit: {cell}")
    code, start, end, group = (held[name].to_numpy() for name in ("code", "start", "end", "group"))
    row = containing_window(unit, code, start, end, at)
    rows.refuse("at", known & np.isfinite(at) & (at >= 0) & (row < 0), "in no window (start, end] of its unit: {cell}")
    kept = np.flatnonzero(~rows.is_bad())
    history = repair_history(
        at[kept],
        unit[kept],
        code,
        start,
        end,
        cost=None if spent is None else spent[kept],
        stratum=group[row[kept]],
        group=group,
        stratum_group=np.arange(len(windows.by)),
    )
    ignored = [name for name in frame.columns if name not in (*_REPAIR_NAMES, spent_in)]
    read = _read(rows, history.at.size, "repairs", ignored)
    return RecurInput(history, windows.by, read, windows.read, windows.read.n_kept - held.height)


def _check_columns(frame: pl.DataFrame, wanted: tuple[str, ...], expected: str) -> None:
    absent = [name for name in wanted if name not in frame.columns]
    if absent:
        raise missing_columns(absent, frame.columns, expected)


def _blocks(cells: pl.DataFrame, frame: pl.DataFrame, keys: list[str], by: list[str]) -> pl.DataFrame:
    """The windows with a number for each run of windows of a unit that overlap, and the number of groups in it."""
    group, _ = coded_groups(frame[cells["row"].to_numpy()], keys, by)
    reach = pl.col("end").cum_max().shift(1).over("unit")
    return (
        cells.with_columns(pl.Series("group", group))
        .sort("unit", "start", "end", "row")
        .with_columns(block=(reach.is_null() | (pl.col("start") >= reach)).cum_sum())
        .with_columns(n_groups=pl.col("group").n_unique().over("block"))
        .drop("group")
    )


def _is_mixed(blocks: pl.DataFrame, n_rows: int) -> np.ndarray:
    mixed = np.zeros(n_rows, np.bool_)
    mixed[blocks.filter(pl.col("n_groups") > 1)["row"].to_numpy()] = True
    return mixed


def _codes_of(names: pl.Series, held: pl.DataFrame) -> Codes:
    """Code of each name's unit; -1 where it has no window."""
    known = held.select("unit", "code").unique()
    found = pl.DataFrame({"unit": names}).join(known, on="unit", how="left", maintain_order="left")
    return found["code"].fill_null(-1).to_numpy()


def _read(rows: CsvRows, n_used: int, what: str, ignored: list[str]) -> ReadRows:
    """The tally of a file's rows, checked: each is used or set aside."""
    n_rows, n_set_aside = rows.frame.height, int(rows.is_bad().sum())
    if n_used + n_set_aside != n_rows:
        raise ReconciliationError(
            f"{what}: {n_rows:,} rows, {n_used:,} used and {n_set_aside:,} set aside. Expected the two to add up; this "
            "is a fault of the program, please report it with the file."
        )
    return ReadRows(n_rows, n_used, n_set_aside, rows.set_aside().to_dicts(), ignored)
