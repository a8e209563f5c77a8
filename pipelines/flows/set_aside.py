"""What is set aside, into the quarantine: personal data masked, and withheld where it cannot be told whose it is."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.flows.landing import UNCLAIMED_ROWS, Landing
from longmile.pipelines.flows.part_rows import Part
from longmile.pipelines.maps.translate import UNCLAIMED
from longmile.pipelines.sql import column_list, literal
from longmile.pipelines.steps.personal import masked
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.store import QUARANTINED_ROW

UNREADABLE_LINE = "line.readable"
"""Rule name, after the table's, of a line that no reader could make a row of."""


def add_lines_aside(store: Store, landing: Landing, part: Part, table: Table) -> int:
    """Lines that no reader could make a row of, and rows that no table takes; how many.

    The text of a line that could not be read is withheld where the file has columns that are not loaded: which of it
    would be whose cannot be told.
    """
    text = "raw_text"
    if part.ignored:
        listed = literal(", ".join(part.ignored)[:200])
        text = (
            f"'withheld: the file has columns that are not loaded (' || {listed} || '); see line ' || row_number "
            "|| ' of the file'"
        )
    store.connection.register("bad_lines", part.source.bad_lines())
    lines = f"SELECT row_number, {_rule(table, UNREADABLE_LINE)} AS rules, reason, {text} AS raw_text FROM bad_lines"
    n_lines = add_quarantined(store, landing, part, table, lines)
    store.connection.unregister("bad_lines")
    rows = f"SELECT row_number, {_rule(table, UNCLAIMED)} AS rules, reason, raw_text FROM {UNCLAIMED_ROWS}"
    return n_lines + add_quarantined(store, landing, part, table, rows)


def _rule(table: Table, name: str) -> str:
    return literal(f"{table.name}.{name}")


def add_quarantined(store: Store, landing: Landing, part: Part, table: Table, select: str) -> int:
    """Rows of a SELECT (row_number, rules, reason, raw_text), their texts masked; how many."""
    columns = column_list(QUARANTINED_ROW.columns)
    shown = f"{masked('reason::VARCHAR')} AS reason, {masked('raw_text::VARCHAR')} AS raw_text"
    return int(
        store.value(
            f"""INSERT INTO quarantined_row ({columns})
            SELECT {columns} FROM (SELECT * REPLACE ({shown}), ? AS file_id, ? AS part_name, ? AS table_name,
              ? AS landed_at, NULL AS returned_at, NULL AS returned_by FROM ({select})) ORDER BY row_number""",
            (landing.file_id, part.name, table.name, landing.landed_at),
        )
    )


def add_masked(store: Store, table: Table, frame: pl.DataFrame, *columns: str) -> int:
    """Append rows with personal data in those columns masked; how many."""
    store.connection.register("masked_now", frame)
    changed = ", ".join(f"{masked(f'{column}::VARCHAR')} AS {column}" for column in columns)
    ready = store.frame(f"SELECT * REPLACE ({changed}) FROM masked_now")
    store.connection.unregister("masked_now")
    return store.append(table, ready)
