"""The quarantine as a place to work: what is set aside by rule, and a workbook to mend it in and drop back.

The workbook has a sheet for each table. Its columns are those of the neutral layout, so that it is an export file like
any other; `longmile_row` says which quarantined row each one mends, and beside a cell that broke a rule stands why.
A row that comes back is taken in as if new: kept, or set aside again. The one it mends is then marked as returned.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.spreadsheet import write_table
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

RETURN_HEADER = "longmile_row"
"""Header of the column that names the quarantined row a returning row mends."""

WHY = "why"
_UNREADABLE = "line.readable"

_STANDING = "SELECT * FROM quarantined_row WHERE returned_at IS NULL"
_COUNTS_SQL = f"""
    SELECT q.table_name, rule, count(*) AS n_rows, count(DISTINCT q.file_id) AS n_files,
      arg_min(f.file_name, (q.landed_at, q.row_number)) AS file_name,
      arg_min(q.row_number, (q.landed_at, q.row_number)) AS row_number,
      arg_min(q.reason, (q.landed_at, q.row_number)) AS reason
    FROM (SELECT *, unnest(string_split(rules, ', ')) AS rule FROM ({_STANDING})) q JOIN source_file f USING (file_id)
    GROUP BY ALL ORDER BY n_rows DESC, q.table_name, rule"""
_KEY = "q.table_name, q.file_id, q.part_name, q.row_number, f.file_name, q.rules"
_LINES_SQL = f"""
    SELECT {_KEY}, q.reason, q.raw_text FROM ({_STANDING}) q JOIN source_file f USING (file_id)
    WHERE contains(q.rules, '{_UNREADABLE}') ORDER BY q.table_name, q.landed_at, q.part_name, q.row_number"""


@dataclass(frozen=True)
class BrokenRule:
    """Rows that broke one rule and are still set aside, with the first of them."""

    table_name: str
    rule: str
    n_rows: int
    n_files: int
    first_file: str
    first_row: int
    reason: str


@dataclass(frozen=True)
class Quarantine:
    """What is set aside: by rule (a row that broke several is counted for each), and rows in all."""

    rules: tuple[BrokenRule, ...]
    n_rows: int
    n_returned: int


def quarantine(store: Store) -> Quarantine:
    """What is set aside now, most frequent rule first."""
    standing, returned = store.rows(
        "SELECT count(*) FILTER (returned_at IS NULL), count(*) FILTER (returned_at IS NOT NULL) FROM quarantined_row"
    )[0]
    return Quarantine(tuple(BrokenRule(*row) for row in store.rows(_COUNTS_SQL)), standing, returned)


def export_quarantine(store: Store, path: Path) -> dict[str, int]:
    """Write the workbook; rows by sheet. Raises LongmileError where nothing is set aside or it cannot be written."""
    sheets = {}
    for table in TRADE_TABLES:
        rows = store.rows(_rows_sql(table))
        if rows:
            sheets[table.name] = _sheet(table, rows)
    lines = store.rows(_LINES_SQL)
    if not sheets and not lines:
        raise LongmileError("quarantine: no row is set aside. Expected at least one; there is nothing to mend.")
    if lines:
        sheets["lines not read"] = (
            [RETURN_HEADER, "file", "line", "for table", "reason", "raw line"],
            [[_key(row), row[4], str(row[3]), row[0], row[6], row[7]] for row in lines],
        )
    write_table(path, sheets, _NOTES)
    return {name: len(rows) for name, (_, rows) in sheets.items()}


def _rows_sql(table: Table) -> str:
    """SELECT for the standing rows of a table: their key, and every cell as it landed."""
    texts = ", ".join(f'r."text_{name}"' for name in table.column_names)
    return f"""
        SELECT {_KEY}, {texts} FROM ({_STANDING} AND table_name = '{table.name}') q
        JOIN source_file f USING (file_id) JOIN raw_{table.name} r USING (file_id, part_name, row_number)
        ORDER BY q.landed_at, q.part_name, q.row_number"""


_NOTES = {
    RETURN_HEADER: "Which set-aside row this line mends. Leave it as it is. Delete whole lines that are to stay aside.",
}


def _key(row: Sequence[Any]) -> str:
    """How a quarantined row is named in `longmile_row`."""
    return json.dumps([row[0], row[1], row[2], row[3]], ensure_ascii=False, separators=(",", ":"))


def _sheet(table: Table, rows: Sequence[Sequence[Any]]) -> tuple[list[str], list[list[str | None]]]:
    """Header and rows of one table; a column of reasons beside each column that broke a rule somewhere."""
    by_rule = {rule.name: rule for rule in table.row_rules}
    reasons = [_reasons(table, by_rule, row[5]) for row in rows]
    told = [name for name in table.column_names if any(name in why for why in reasons)]
    header = [RETURN_HEADER, "file", "line"]
    for column in table.columns:
        header += [column.incoming, f"{WHY}: {column.incoming}"] if column.name in told else [column.incoming]
    body = []
    for row, why in zip(rows, reasons, strict=True):
        cells: list[str | None] = [_key(row), row[4], str(row[3])]
        for column, text in zip(table.columns, row[6:], strict=True):
            cells += [text, why.get(column.name, "")] if column.name in told else [text]
        body.append(cells)
    return header, body


def _reasons(table: Table, by_rule: Mapping[str, Any], rules: str) -> dict[str, str]:
    """Column name -> why its cell, or it together with others, was not accepted."""
    found: dict[str, list[str]] = {}
    for name in rules.split(", "):
        rule = by_rule.get(name)
        columns = rule.columns if rule and rule.columns else table.key[:1]
        for column in columns:
            found.setdefault(column, []).append(rule.sentence if rule else name)
    return {column: "; ".join(sentences) for column, sentences in found.items()}


def returned_rows(keys: Sequence[str]) -> list[tuple[str, str, str, int]]:
    """(table, file_id, part, row number) of the rows that `longmile_row` cells name; unreadable cells name none."""
    found = []
    for key in dict.fromkeys(keys):
        try:
            table, file_id, part, number = json.loads(key)
            found.append((str(table), str(file_id), str(part), int(number)))
        except (ValueError, TypeError):
            continue
    return found
