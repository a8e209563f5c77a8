"""The inbox into the store: each file copied untouched, read, typed, checked and joined, in one transaction a file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

import polars as pl

from longmile.pipelines.checks.broken_rules import broken_rules_sql
from longmile.pipelines.checks.gate import Gate
from longmile.pipelines.checks.run import check_rows
from longmile.pipelines.errors import ReconciliationError, UnreadableFileError
from longmile.pipelines.sources.landing import file_digest, keep_copy
from longmile.pipelines.sources.neutral import Match, match_table, to_contract_rows
from longmile.pipelines.sources.read import read_file
from longmile.pipelines.sources.shape import RawTable
from longmile.pipelines.sql import literal
from longmile.pipelines.steps.staged import staged_sql
from longmile.pipelines.steps.versions import add_sql, compared_sql, replace_sql, withdraw_sql
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import CHECK_RESULT, QUARANTINED_ROW, SOURCE_FILE, SOURCE_PART, raw_table

Clock = Callable[[], datetime]
Say = Callable[[str], None]

UNREADABLE_LINE = "line.readable"
"""Rule name, after the table's, of a line that no reader could make a row of."""


@dataclass
class Intake:
    """What happened to the files of the inbox, file names in order."""

    loaded: list[str] = field(default_factory=list)
    set_aside: list[tuple[str, str]] = field(default_factory=list)
    seen_before: list[str] = field(default_factory=list)
    still_set_aside: list[tuple[str, str]] = field(default_factory=list)
    n_kept: int = 0
    n_quarantined: int = 0
    n_repeats: int = 0
    n_replaced: int = 0
    n_withdrawn: int = 0


@dataclass(frozen=True)
class Landing:
    """One file on its way in."""

    path: Path
    file_id: str
    landed_at: datetime
    run_id: int


class InboxLoader:
    """Loads files into a store; makes the gate (an import of seconds) only when there is a file to check."""

    def __init__(self, store: Store, run_id: int, clock: Clock) -> None:
        self.store = store
        self.run_id = run_id
        self.clock = clock
        self._gate: Gate | None = None

    def load(self, inbox: Path, landed: Path, say: Say) -> Intake:
        """Load every file of the inbox, in order of name.

        A file seen before is skipped, one that cannot be read set aside.
        """
        done = Intake()
        for path in sorted(p for p in inbox.iterdir() if not p.name.startswith(".")):
            self._load_one(path, landed, done, say)
        return done

    def _load_one(self, path: Path, landed: Path, done: Intake, say: Say) -> None:
        """One file: skipped, loaded or set aside; said, counted and kept in the store's books."""
        name = _name(path)
        try:
            file_id = file_digest(path)
        except UnreadableFileError as refused:
            done.still_set_aside.append((name, str(refused)))
            say(f"{name}: not taken in. {refused}")
            return
        seen = self.store.rows("SELECT status, reason FROM source_file WHERE file_id = ?", (file_id,))
        if seen:
            self._say_seen(name, seen[0], done, say)
            return
        landing = Landing(path, file_id, self._next_moment(), self.run_id)
        keep_copy(path, landed)
        try:
            parts, notes = _matched(path, name)
        except UnreadableFileError as refused:
            self._set_aside(landing, str(refused))
            done.set_aside.append((name, str(refused)))
            say(f"{name}: set aside. {refused}")
            return
        with self.store.transaction():
            counts = [self._load_part(landing, raw, match) for raw, match in parts]
            self._book_file(landing, "loaded", None, notes)
        done.loaded.append(name)
        for total in ("n_kept", "n_quarantined", "n_repeats", "n_replaced", "n_withdrawn"):
            setattr(done, total, getattr(done, total) + sum(count[total] for count in counts))
        say(_loaded_sentence(name, counts))
        for note in notes:
            say(f"{name}: {note}")

    def _say_seen(self, name: str, seen: tuple[str, str | None], done: Intake, say: Say) -> None:
        if seen[0] == "set_aside":
            done.still_set_aside.append((name, seen[1] or ""))
            say(f"{name}: set aside before, and unchanged. {seen[1]}")
            return
        done.seen_before.append(name)
        say(f"{name}: seen before, skipped.")

    def _next_moment(self) -> datetime:
        """The clock's moment, later than every earlier landing: no two files land at once."""
        latest = self.store.value("SELECT max(landed_at) FROM source_file")
        now = self.clock()
        return now if latest is None else max(now, latest + timedelta(microseconds=1))

    def _set_aside(self, landing: Landing, reason: str) -> None:
        with self.store.transaction():
            self._book_file(landing, "set_aside", reason, ())

    def _book_file(self, landing: Landing, status: str, reason: str | None, notes: tuple[str, ...]) -> None:
        row = {
            "file_id": landing.file_id,
            "file_name": _name(landing.path),
            "n_bytes": landing.path.stat().st_size,
            "landed_at": landing.landed_at,
            "status": status,
            "reason": reason,
            "notes": "\n".join(notes) or None,
            "maps_known": None,
        }
        self.store.append(SOURCE_FILE, pl.DataFrame([row]))

    def _load_part(self, landing: Landing, raw: RawTable, match: Match) -> dict[str, int]:
        """One table of a file, inside the file's transaction: landed, staged, checked, joined, reconciled."""
        table, staged = match.table, f"staged_{match.table.name}"
        self._land(landing, raw, match)
        self.store.run(staged_sql(table, staged), (landing.file_id, raw.name))
        self.store.run(
            f"CREATE OR REPLACE TEMP VIEW distinct_{table.name} AS SELECT * FROM {staged} WHERE repeat_no = 1"
        )
        outcome = check_rows(self._ready_gate(), table, f"distinct_{table.name}")
        rows = [
            {**row, "run_id": landing.run_id, "file_id": landing.file_id, "part_name": raw.name}
            for row in outcome.as_rows()
        ]
        self.store.append(CHECK_RESULT, pl.DataFrame(rows, infer_schema_length=None))
        n_quarantined = self._quarantine(landing, raw, table)
        counts = self._join(landing, table, staged)
        counts.update(n_landed=raw.n_physical, n_quarantined=n_quarantined)
        self._book_part(landing, raw, match, counts)
        return counts

    def _ready_gate(self) -> Gate:
        if self._gate is None:
            self._gate = Gate(self.store.connection)
        return self._gate

    def _land(self, landing: Landing, raw: RawTable, match: Match) -> None:
        """The rows as they came, as text."""
        rows = to_contract_rows(raw, match).with_columns(
            file_id=pl.lit(landing.file_id), part_name=pl.lit(raw.name), landed_at=pl.lit(landing.landed_at)
        )
        self.store.append(raw_table(match.table), rows)

    def _quarantine(self, landing: Landing, raw: RawTable, table: Table) -> int:
        """Rows that broke a rule, and lines that could not be read, into `quarantined_row`; returns how many."""
        self.store.run(_quarantined_now_sql(table))
        broken = self.store.frame("SELECT * FROM quarantined_now ORDER BY row_number")
        lines = raw.bad_lines.select(
            "row_number", "reason", "raw_text", rules=pl.lit(f"{table.name}.{UNREADABLE_LINE}")
        )
        both = pl.concat([broken, lines.select(broken.columns)], how="vertical_relaxed").with_columns(
            file_id=pl.lit(landing.file_id),
            part_name=pl.lit(raw.name),
            table_name=pl.lit(table.name),
            landed_at=pl.lit(landing.landed_at),
            returned_at=pl.lit(None),
            returned_by=pl.lit(None),
        )
        return self.store.append(QUARANTINED_ROW, both)

    def _join(self, landing: Landing, table: Table, staged: str) -> dict[str, int]:
        """Sound rows joined to what is known; counts of kept, repeated, replaced and withdrawn rows."""
        sound = f"sound_{table.name}"
        self.store.run(compared_sql(table, staged, sound))
        moment = (landing.landed_at, landing.file_id)
        n_withdrawn = 0
        if table.order_column and table.key != (table.order_column,):
            n_withdrawn = self._changed(withdraw_sql(table, staged), (*moment, landing.file_id))
        n_replaced = self._changed(replace_sql(table, sound), moment)
        n_kept = self._changed(add_sql(table, sound), ())
        n_repeats = self.store.value(
            f"SELECT (SELECT count(*) FROM {staged} WHERE repeat_no > 1) + "
            f"(SELECT count(*) FROM {sound} WHERE standing = 'same')"
        )
        return {
            "n_kept": n_kept,
            "n_repeats": n_repeats,
            "n_replaced": n_replaced,
            "n_withdrawn": n_withdrawn,
        }

    def _changed(self, sql: str, parameters: tuple[object, ...]) -> int:
        """Rows that an INSERT or UPDATE touched."""
        return int(self.store.value(sql, parameters))

    def _book_part(self, landing: Landing, raw: RawTable, match: Match, counts: dict[str, int]) -> None:
        """The part's reconciliation, checked and kept."""
        accounted = counts["n_kept"] + counts["n_quarantined"] + counts["n_repeats"]
        if counts["n_landed"] != accounted:
            raise ReconciliationError(
                f"{_name(landing.path)} ({raw.name}): {counts['n_landed']:,} rows landed, but {counts['n_kept']:,} "
                f"kept + {counts['n_quarantined']:,} quarantined + {counts['n_repeats']:,} repeats = {accounted:,}. "
                "Expected both to be the same. Nothing of this file was loaded; this is a fault of the program, please "
                "report it with the file."
            )
        row = {
            "file_id": landing.file_id,
            "part_name": raw.name,
            "table_name": match.table.name,
            "landed_at": landing.landed_at,
            **counts,
            "ignored_headers": ", ".join(match.ignored_headers) or None,
            "map_name": None,
        }
        self.store.append(SOURCE_PART, pl.DataFrame([row]))


def _name(path: Path) -> str:
    """The file's name as text; bytes that are no text, as in names from other systems, in escapes."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def _matched(path: Path, name: str) -> tuple[list[tuple[RawTable, Match]], tuple[str, ...]]:
    """The parts of a file with their tables, and what is to be noted; UnreadableFileError where no part has a table."""
    parts: list[tuple[RawTable, Match]] = []
    notes: list[str] = []
    refusals: list[UnreadableFileError] = []
    for raw in read_file(path, name):
        notes.extend(raw.notes)
        try:
            parts.append((raw, match_table(raw, TRADE_TABLES)))
        except UnreadableFileError as refused:
            refusals.append(refused)
    if not parts:
        raise refusals[0]
    notes.extend(f"part not loaded: {refused}" for refused in refusals)
    return parts, tuple(notes)


def _quarantined_now_sql(table: Table) -> str:
    """Statement making `quarantined_now`: rows that must be set aside, with their rules, reasons and raw text."""
    sentences = ", ".join(f"({literal(rule.name)}, {literal(rule.sentence)})" for rule in table.row_rules)
    texts = ", ".join(f"{literal(c.incoming)}: text_{c.name}" for c in table.columns)
    return f"""
        CREATE OR REPLACE TEMP TABLE quarantined_now AS
        WITH sentence(rule, sentence) AS (VALUES {sentences}),
        entries AS (
          SELECT row_number, unnest(broken) AS entry, generate_subscripts(broken, 1) AS place
          FROM ({broken_rules_sql(table, f"distinct_{table.name}")}) WHERE len(quarantine) > 0)
        SELECT e.row_number, string_agg(entry.rule, ', ' ORDER BY place) AS rules,
          string_agg(sentence || ' (found ' || coalesce('"' || left(entry.value, 200) || '"', 'nothing') || ' in '
            || entry.columns || ')', '; ' ORDER BY place) AS reason,
          any_value(left(to_json({{{texts}}})::VARCHAR, 10000)) AS raw_text
        FROM entries e JOIN sentence s ON s.rule = entry.rule JOIN staged_{table.name} USING (row_number)
        GROUP BY e.row_number"""


def _loaded_sentence(name: str, counts: list[dict[str, int]]) -> str:
    total = {key: sum(count[key] for count in counts) for key in counts[0]}
    extra = f", {total['n_replaced']:,} replaced" if total["n_replaced"] else ""
    extra += f", {total['n_withdrawn']:,} withdrawn" if total["n_withdrawn"] else ""
    return (
        f"{name}: {total['n_landed']:,} landed = {total['n_kept']:,} kept + {total['n_quarantined']:,} quarantined + "
        f"{total['n_repeats']:,} repeats{extra}."
    )
