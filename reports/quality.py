"""Facts of the data-quality page: checks, reconciliation, what was set aside, what was used."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from longmile.reports.facts import Header, briefing
from longmile.reports.frames import ResultFrames
from longmile.reports.settled import ModelFacts, SettledGroup, model_facts, settled_groups
from longmile.reports.stratum import finite, shortened
from longmile.reports.trust import TrustFacts

MAX_EXAMPLES_PER_RULE = 5
Row = Mapping[str, Any]


@dataclass(frozen=True)
class CheckRow:
    """One rule of one table, over all files checked. observed: for a rule on a whole table, else None.

    examples: of the first of the files it was broken in.   n_failed_in_more: how many files come after that one.
    """

    rule: str
    severity: str
    sentence: str
    n_files: int
    n_checked: int
    n_failed: int
    observed: float | None
    is_failed: bool
    failed_in: tuple[str, ...]
    n_failed_in_more: int
    examples: str


@dataclass(frozen=True)
class CheckedTable:
    """The checks of one table, failing ones first."""

    table_name: str
    n_checks: int
    n_failed: int
    checks: tuple[CheckRow, ...]


@dataclass(frozen=True)
class PartRow:
    """Reconciliation of one file's table; difference is landed less everything it went to, and must be 0."""

    file_name: str
    part_name: str
    table_name: str
    n_landed: int
    n_kept: int
    n_quarantined: int
    n_repeats: int
    n_replaced: int
    n_withdrawn: int
    difference: int
    ignored_headers: str


@dataclass(frozen=True)
class QuarantineRow:
    """Rows set aside by one rule, with a few of them: (where, why, raw text)."""

    table_name: str
    rule: str
    n_rows: int
    examples: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class Quality:
    """All that the data-quality page states."""

    header: Header
    trust: TrustFacts
    tables: tuple[CheckedTable, ...]
    parts: tuple[PartRow, ...]
    n_unreconciled: int
    set_aside_files: tuple[tuple[str, str], ...]
    file_notes: tuple[tuple[str, str], ...]
    quarantined: tuple[QuarantineRow, ...]
    settled: tuple[SettledGroup, ...]
    model: ModelFacts | None
    line_uses: tuple[tuple[str, int], ...]
    visit_bases: tuple[tuple[str, int], ...]


def quality(frames: ResultFrames) -> Quality:
    """All facts of the data-quality page."""
    told = briefing(frames)
    files = frames.source_file
    parts = _parts(frames)
    aside = files.filter(pl.col("status") == "set_aside").sort("file_name")
    noted = files.filter(pl.col("notes").fill_null("") != "").sort("file_name")
    return Quality(
        header=told.header,
        trust=told.trust,
        tables=_tables(frames),
        parts=parts,
        n_unreconciled=sum(part.difference != 0 for part in parts),
        set_aside_files=tuple((r["file_name"], r["reason"] or "no reason kept") for r in aside.iter_rows(named=True)),
        file_notes=tuple((r["file_name"], r["notes"]) for r in noted.iter_rows(named=True)),
        quarantined=_quarantined(frames),
        settled=settled_groups(frames),
        model=model_facts(frames),
        line_uses=_counted(frames.line_use_count, "use", "n_lines"),
        visit_bases=_counted(frames.visit_basis_count, "basis", "n_visits"),
    )


def _counted(frame: pl.DataFrame, name: str, n: str) -> tuple[tuple[str, int], ...]:
    """Pairs of name and count, the largest first."""
    rows = frame.sort(n, name, descending=[True, False]).select(name, n).iter_rows()
    return tuple((str(key), int(value or 0)) for key, value in rows)


def _with_file(frame: pl.DataFrame, files: pl.DataFrame) -> pl.DataFrame:
    """The frame with file_name; a file that is not known keeps the start of its hash."""
    known = files.select("file_id", "file_name").unique("file_id", keep="first")
    return frame.join(known, on="file_id", how="left", maintain_order="left").with_columns(
        pl.coalesce("file_name", pl.col("file_id").str.slice(0, 12)).fill_null("")
    )


def _parts(frames: ResultFrames) -> tuple[PartRow, ...]:
    """Every file's tables, newest first."""
    rows = _with_file(frames.source_part, frames.source_file).sort(
        "landed_at", "file_name", "part_name", descending=[True, False, False], nulls_last=True
    )
    return tuple(_part_row(r) for r in rows.iter_rows(named=True))


def _part_row(r: Row) -> PartRow:
    """One line of the reconciliation."""
    return PartRow(
        file_name=r["file_name"],
        part_name=r["part_name"],
        table_name=r["table_name"],
        n_landed=r["n_landed"],
        n_kept=r["n_kept"],
        n_quarantined=r["n_quarantined"],
        n_repeats=r["n_repeats"],
        n_replaced=r["n_replaced"],
        n_withdrawn=r["n_withdrawn"],
        difference=r["n_landed"] - r["n_kept"] - r["n_quarantined"] - r["n_repeats"],
        ignored_headers=r["ignored_headers"] or "",
    )


def _tables(frames: ResultFrames) -> tuple[CheckedTable, ...]:
    """Checks by table; tables with failures first, and failures first within a table."""
    failed = pl.col("outcome") == "failed"
    rows = (
        _with_file(frames.check_result, frames.source_file)
        .group_by("table_name", "rule", maintain_order=True)
        .agg(
            pl.col("severity", "sentence").first(),
            pl.col("file_id").n_unique().alias("n_files"),
            pl.col("n_checked", "n_failed").sum(),
            pl.col("observed").filter(pl.col("file_id").is_null()).last(),
            failed.any().alias("is_failed"),
            pl.col("file_name")
            .filter(failed & pl.col("file_id").is_not_null())
            .unique(maintain_order=True)
            .alias("failed_in"),
            pl.col("examples").filter(failed).drop_nulls().first(),
        )
        .sort("is_failed", "rule", descending=[True, False])
    )
    tables = [
        CheckedTable(
            table_name=str(key[0]),
            n_checks=own.height,
            n_failed=own.filter(pl.col("is_failed")).height,
            checks=tuple(map(_check_row, own.iter_rows(named=True))),
        )
        for key, own in rows.group_by("table_name", maintain_order=True)
    ]
    return tuple(sorted(tables, key=lambda table: (table.n_failed == 0, table.table_name)))


def _check_row(r: Row) -> CheckRow:
    """One rule."""
    return CheckRow(
        rule=r["rule"],
        severity=r["severity"] or "",
        sentence=r["sentence"] or "",
        n_files=r["n_files"],
        n_checked=int(r["n_checked"] or 0),
        n_failed=int(r["n_failed"] or 0),
        observed=finite(r["observed"]),
        is_failed=bool(r["is_failed"]),
        failed_in=tuple(name for name in r["failed_in"] if name),
        n_failed_in_more=max(0, len([name for name in r["failed_in"] if name]) - 1),
        examples=examples_text(r["examples"]),
    )


def examples_text(stored: str | None) -> str:
    """The stored examples, JSON, as text: rows apart by a semicolon; what is no JSON stays as it is."""
    if not stored:
        return ""
    try:
        rows = json.loads(stored)
    except ValueError:
        return shortened(stored)
    return shortened("; ".join(_example(row) for row in (rows if isinstance(rows, list) else [rows])))


def _example(row: object) -> str:
    """One example row."""
    if isinstance(row, list) and len(row) == 2:
        return f"row {row[0]}: {_value(row[1])}"
    if isinstance(row, dict):
        return ", ".join(f"{key}: {_value(value)}" for key, value in row.items())
    return _value(row)


def _value(value: object) -> str:
    """One value of an example."""
    is_unknown = value is None or (isinstance(value, float) and not math.isfinite(value))
    return "(empty)" if is_unknown or value == "" else str(value)


def _quarantined(frames: ResultFrames) -> tuple[QuarantineRow, ...]:
    """Rules by the number of rows they set aside, with a few rows each."""
    sample = _with_file(frames.quarantined_row, frames.source_file).with_columns(
        pl.col("rules").str.split(",").alias("rule")
    )
    single = sample.explode("rule").with_columns(pl.col("rule").str.strip_chars())
    counts = frames.quarantine_count.sort("n_rows", "table_name", "rule", descending=[True, False, False])
    return tuple(
        QuarantineRow(r["table_name"], r["rule"], int(r["n_rows"]), _examples_of(single, r))
        for r in counts.iter_rows(named=True)
    )


def _examples_of(single: pl.DataFrame, r: Row) -> tuple[tuple[str, str, str], ...]:
    """Where, why and what of a few rows that broke this rule."""
    own = single.filter((pl.col("rule") == r["rule"]) & (pl.col("table_name") == r["table_name"]))
    return tuple(
        (f"{e['file_name']}, row {e['row_number']}", shortened(e["reason"]), shortened(e["raw_text"]))
        for e in own.head(MAX_EXAMPLES_PER_RULE).iter_rows(named=True)
    )
