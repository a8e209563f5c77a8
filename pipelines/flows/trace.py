"""What became of one repair order: from file and line, row by row, to the lives its work ended or began."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

_MOST_NEAR = 3


@dataclass(frozen=True)
class TracedRow:
    """One row of one file, and what became of it.

    fate: kept and standing; replaced or withdrawn by another file; a repeat; set aside, and perhaps returned since.
    """

    table_name: str
    file_name: str
    part_name: str
    row_number: int
    landed_at: datetime
    fate: str
    why: str
    cells: Mapping[str, str]


@dataclass(frozen=True)
class Trace:
    """All that is known of one order: its rows, and by heading what the last run made of it."""

    repair_order_id: str
    rows: tuple[TracedRow, ...]
    then: Mapping[str, tuple[Mapping[str, Any], ...]]

    def as_dict(self) -> dict[str, Any]:
        """The same as plain values, for JSON."""
        return {
            "repair_order": self.repair_order_id,
            "rows": [
                {**vars(row), "landed_at": row.landed_at.isoformat(), "cells": dict(row.cells)} for row in self.rows
            ],
            "then": {heading: [_plain(one) for one in told] for heading, told in self.then.items()},
        }


_AT_ORDER = "WHERE repair_order_id = $order"
_THEN: Mapping[str, str] = {
    "counts for": """SELECT o.vehicle_id AS vehicle, i.joined_vehicle_id AS counts_as, i.join_basis AS basis,
        i.vin_state
        FROM current_repair_order o JOIN vehicle_identity i USING (vehicle_id) WHERE o.repair_order_id = $order""",
    "linked orders": """SELECT repair_order_id AS "order", earlier_order_id AS earlier, link_kind AS kind,
        link_state AS state, because
        FROM order_link WHERE $order IN (repair_order_id, earlier_order_id) ORDER BY ALL""",
    "odometer": f"SELECT * EXCLUDE (repair_order_id) FROM odometer_reading {_AT_ORDER} ORDER BY which",
    "placed at": f"SELECT opened_on, odometer_miles, basis FROM visit {_AT_ORDER}",
    "read from text": f"SELECT * EXCLUDE (repair_order_id) FROM coded_line {_AT_ORDER} ORDER BY line_no, mention_no",
    "lines used as": f"SELECT * EXCLUDE (repair_order_id) FROM line_use {_AT_ORDER} ORDER BY ALL",
    "lives ended": """SELECT component_code, position, is_position_known, entry_miles, exit_miles, outcome, reason
        FROM life WHERE end_order_id = $order AND unit = 'socket' ORDER BY ALL""",
    "lives begun": """SELECT component_code, position, is_position_known, start_miles, exit_miles, outcome,
        end_order_id
        FROM life WHERE install_order_id = $order AND unit = 'socket' ORDER BY ALL""",
    "walk-ins": f"SELECT component_code, position, odometer_miles, reason FROM walk_in {_AT_ORDER} ORDER BY ALL",
    "came back": """SELECT repair_order_id AS "order", component_code, position, earlier_order_id AS earlier,
        days_apart, miles_apart, chain_no
        FROM comeback WHERE $order IN (repair_order_id, earlier_order_id) ORDER BY ALL""",
    "decisions": """SELECT decided_at, decision_kind AS kind, subject, answer, decided_by, note FROM decision
        WHERE split_part(subject, '|', 1) = $order OR split_part(subject, '|', 2) = $order ORDER BY decision_no""",
}
"""Heading -> query on the tables of the last run; $order is the repair order's number."""


def trace(store: Store, repair_order_id: str) -> Trace:
    """The history of an order; LongmileError naming the nearest numbers where no row has that one.

    The store must have been asked (`Store.ask`): what counts is as known then, the rows are all there are.
    """
    rows = tuple(row for table in TRADE_TABLES if table.order_column for row in _traced(store, table, repair_order_id))
    if not rows:
        raise _unknown(store, repair_order_id)
    then = {}
    for heading, query in _THEN.items():
        found = store.connection.execute(query, {"order": repair_order_id})
        names = [column[0] for column in found.description]
        told = tuple(dict(zip(names, row, strict=True)) for row in found.fetchall())
        if told:
            then[heading] = told
    return Trace(repair_order_id, rows, then)


def _traced(store: Store, table: Table, order: str) -> list[TracedRow]:
    """The order's rows of one table, in the order in which they landed."""
    texts = ", ".join(f'r."text_{name}"' for name in table.column_names)
    found = store.rows(
        f"""
        SELECT f.file_name, r.part_name, r.row_number, r.landed_at, q.rules IS NOT NULL, q.reason, q.returned_at,
          b.file_name, t.file_id IS NOT NULL, t.superseded_at, s.file_name, {texts}
        FROM raw_{table.name} r JOIN source_file f USING (file_id)
        LEFT JOIN quarantined_row q ON q.file_id = r.file_id AND q.part_name = r.part_name
          AND q.table_name = '{table.name}' AND q.row_number = r.row_number
        LEFT JOIN source_file b ON b.file_id = q.returned_by
        LEFT JOIN "{table.name}" t ON t.file_id = r.file_id AND t.part_name = r.part_name
          AND t.row_number = r.row_number
        LEFT JOIN source_file s ON s.file_id = t.superseded_by
        WHERE r.text_{table.order_column} = ? ORDER BY r.landed_at, r.part_name, r.row_number""",
        (order,),
    )
    incoming = [column.incoming for column in table.columns]
    return [_traced_row(table.name, incoming, row) for row in found]


def _traced_row(table_name: str, incoming: Sequence[str], row: Sequence[Any]) -> TracedRow:
    """One row as selected: where it is, what became of it, its cells."""
    file_name, part_name, row_number, landed_at, *state = row[:11]
    fate, why = _fate(*state)
    cells = {name: text for name, text in zip(incoming, row[11:], strict=True) if text is not None}
    return TracedRow(table_name, file_name, part_name, row_number, landed_at, fate, why, cells)


def _fate(
    is_aside: bool,
    reason: str | None,
    returned_at: datetime | None,
    returned_by: str | None,
    is_kept: bool,
    superseded_at: datetime | None,
    superseded_by: str | None,
) -> tuple[str, str]:
    """What became of a row, and why."""
    if is_aside and returned_at:
        return "set aside, returned since", f"{reason}; came back in {returned_by}"
    if is_aside:
        return "set aside", reason or ""
    if not is_kept:
        return "repeat", "says what was known already"
    if superseded_at:
        return "replaced or withdrawn", f"by {superseded_by}"
    return "kept", ""


def _unknown(store: Store, asked: str) -> LongmileError:
    near = store.rows(
        "SELECT DISTINCT text_repair_order_id FROM raw_repair_order WHERE text_repair_order_id IS NOT NULL "
        "ORDER BY jaro_winkler_similarity(text_repair_order_id, ?) DESC, 1 LIMIT ?",
        (asked, _MOST_NEAR),
    )
    hint = f" Nearest: {', '.join(number for (number,) in near)}." if near else ""
    return LongmileError(
        f"trace: no row of any file has the repair order {asked!r}. Expected its number as exported.{hint}"
    )


def _plain(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value.isoformat() if isinstance(value, date | datetime) else value for name, value in row.items()}
