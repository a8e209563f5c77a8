"""What was settled or corrected about vehicles, orders and odometers, listed with the name by which it is undone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.spreadsheet import write_table
from longmile.pipelines.steps.odometer_reading import odometer_faults_sql
from longmile.pipelines.steps.personal import shortened_vins
from longmile.pipelines.store.store import Store

Listed = Mapping[str, tuple[tuple[str, ...], list[tuple[Any, ...]]]]
"""Kind of decision -> (header, rows); the first column of each row is the subject of a decision on it."""

_KEEP = "vin_state NOT IN ('absent', 'sound', 'check_digit_differs') OR NOT coalesce(is_year_agreeing, true)"


def _vehicles_sql(is_vin_shown: bool) -> str:
    vin = "vin_as_written" if is_vin_shown else shortened_vins("vin_as_written")
    return f"""
        SELECT vehicle_id AS subject, joined_vehicle_id AS counts_as, join_basis AS because, {vin} AS vin,
          vin_state,
          CASE is_year_agreeing WHEN false THEN 'differs' WHEN true THEN 'agrees' ELSE 'not told' END AS model_year
        FROM vehicle_identity WHERE join_basis <> 'alone' OR {_KEEP}
        ORDER BY joined_vehicle_id, vehicle_id"""


_ORDERS_SQL = """
    SELECT repair_order_id || '|' || earlier_order_id AS subject, link_kind AS kind, link_state AS state,
      likeness, because
    FROM order_link WHERE link_state <> 'noted'
    ORDER BY CASE link_state WHEN 'proposed' THEN 1 ELSE 2 END, likeness DESC, subject"""


def corrections(store: Store, is_vin_shown: bool) -> Listed:
    """All corrections and proposals of the last run, by kind of decision; kinds without any are there with no rows."""
    queries = {"vehicle": _vehicles_sql(is_vin_shown), "odometer": odometer_faults_sql(), "order_link": _ORDERS_SQL}
    listed = {}
    for kind, query in queries.items():
        found = store.connection.execute(query)
        listed[kind] = (tuple(column[0] for column in found.description or ()), found.fetchall())
    return listed


def export_corrections(listed: Listed, path: Path) -> int:
    """Write the list as a workbook with an empty column `answer` to fill in; returns the number of rows.

    Raises LongmileError where there is nothing to list or the file cannot be written.
    """
    sheets: dict[str, tuple[Sequence[str], Sequence[Sequence[str | None]]]] = {
        kind: (
            (*header[:1], "answer", "note", *header[1:]),
            [[_text(row[0]), None, None, *map(_text, row[1:])] for row in rows],
        )
        for kind, (header, rows) in listed.items()
        if rows
    }
    if not sheets:
        raise LongmileError("corrections: there is none. Expected at least one; nothing was written.")
    write_table(path, sheets, {})
    return sum(len(rows) for _, rows in sheets.values())


def _text(value: Any) -> str | None:
    return None if value is None else str(value)


def brief(
    kind: str, header: Sequence[str], rows: Sequence[Sequence[Any]]
) -> tuple[tuple[str, ...], list[tuple[Any, ...]]]:
    """The list as a terminal can show it: the same rows, columns that belong together in one."""
    if kind != "odometer":
        return tuple(header), [tuple(row) for row in rows]
    named = [dict(zip(header, row, strict=True)) for row in rows]
    return ("subject", "vehicle", "day", "written", "used (miles)", "what", "between (miles)"), [
        (
            row["subject"],
            row["vehicle_id"],
            str(row["read_on"]),
            f"{row['written']:,.0f} {row['unit']}",
            "left out" if row["used_miles"] is None else f"{row['used_miles']:,.0f}",
            row["fault"].replace("_", " "),
            f"{_miles(row['prior_miles'])} and {_miles(row['next_miles'])}",
        )
        for row in named
    ]


def _miles(value: float | None) -> str:
    return "none" if value is None else f"{value:,.0f}"
