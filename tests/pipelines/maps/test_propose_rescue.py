"""Columns whose header says nothing, told by their values; taken with little confidence and asked about. Invented rows.

One header of a readable table is renamed at a time: it must be found, and the others must not suffer from it.
"""

from __future__ import annotations

from datetime import date, timedelta

import polars as pl
import pytest

from longmile.pipelines.maps.propose import Proposal, propose_map
from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable, bad_lines_frame

TODAY = date(2026, 3, 1)
SAID = ("Noise when cold", "Battery light stays on", "Won't start in the morning", "Vibration when braking")
FOUND = ("Pads worn to 2 mm", "Belt cracked and loose", "Battery weak, 9 volt", "Hose leaking at the clamp")
DONE = ("Fitted new pads, bled system", "Replaced belt", "Installed and tested unit", "Changed hose, refilled")
PARTS = ("Brake pads", "Drive belt", "Battery", "Radiator hose")
NONSENSE = "Qxv"


def table() -> dict[str, list[str | None]]:
    """Forty orders of ten vehicles, two lines each: labor, then a part."""
    columns: dict[str, list[str | None]] = {}

    def add(**cells: object) -> None:
        for name, cell in cells.items():
            columns.setdefault(name.replace("_", " "), []).append(None if cell is None else str(cell))

    for order in range(40):
        opened = date(2022, 1, 3) + timedelta(days=9 * order)
        reading = 40_000 + 7_000 * (order * 3 % 10) + 900 * order + 137 * (order * 7 % 11)
        for line in (1, 2):
            pieces, each = 1 + (order + line) % 4, 12.35 + 3.17 * (order * 5 % 13)
            is_part = line == 2
            add(
                Order_No=f"A{4000 + order}",
                Date_In=opened,
                Date_Out=opened + timedelta(days=order % 4),
                Vehicle_No=f"V{order * 3 % 10 + 10}",
                Odometer_In=reading,
                Odometer_Out=reading + order % 7,
                Complaint=SAID[order % 4],
                Line=line,
                Type="Part" if is_part else "Labor",
                Description=PARTS[order % 4] if is_part else PARTS[(order + 1) % 4],
                Part_No=f"K{order % 90 + 10}-{1000 + 37 * order}" if is_part else None,
                Qty=pieces,
                Hours=None if is_part else 0.3 + 0.4 * (order % 5),
                Unit_Price=f"{each:.2f}",
                Line_Total=f"{pieces * round(each, 2):.2f}",
                Cost=f"{pieces * round(each, 2) * (0.5 + 0.02 * (order % 10)):.2f}",
                Findings=None if is_part else FOUND[order % 4],
                Correction=None if is_part else DONE[order % 4],
            )
    return columns


FILLS = {
    "Order No": "repair_order_id",
    "Date In": "opened_on",
    "Date Out": "closed_on",
    "Vehicle No": "vehicle_id",
    "Odometer In": "odometer_in",
    "Odometer Out": "odometer_out",
    "Complaint": "concern",
    "Line": "line_no",
    "Type": "kind",
    "Description": "description",
    "Part No": "part_number",
    "Qty": "quantity",
    "Hours": "hours",
    "Line Total": "price",
    "Cost": "cost",
    "Findings": "cause",
    "Correction": "correction",
}


def proposed(columns: dict[str, list[str | None]]) -> Proposal:
    n = len(next(iter(columns.values())))
    numbers = pl.Series(ROW_NUMBER, range(2, n + 2), dtype=pl.Int64)
    frame = pl.DataFrame(columns, schema=dict.fromkeys(columns, pl.String)).insert_column(0, numbers)
    return propose_map(RawTable("export", frame, bad_lines_frame([]), n), "mine", TODAY)


def found(proposal: Proposal) -> dict[str, str]:
    """Header -> the contract column it fills."""
    return {h: one.column for table in proposal.map.tables for one in table.columns for h in one.headers}


def renamed(header: str, to: str) -> dict[str, list[str | None]]:
    return {to if name == header else name: cells for name, cells in table().items()}


def test_all_columns_are_found_where_headers_name_them_and_the_price_of_one_piece_is_not_taken():
    assert found(proposed(table())) == FILLS


@pytest.mark.parametrize("header", FILLS)
def test_a_column_without_a_name_is_found_by_its_values_and_asked_about(header: str):
    proposal = proposed(renamed(header, NONSENSE))
    assert found(proposal) == {NONSENSE if name == header else name: column for name, column in FILLS.items()}
    sure = [c.confidence for t in proposal.map.tables for c in t.columns if NONSENSE in c.headers]
    assert max(sure) < 0.85, "values alone are no proof"


@pytest.mark.parametrize("cells", [SAID, FOUND, DONE])
def test_sentences_beside_known_ones_are_not_taken_twice(cells: tuple[str, ...]):
    columns = table()
    columns[NONSENSE] = [cells[place // 2 % 4] for place in range(80)]
    assert found(proposed(columns)) == FILLS


@pytest.mark.parametrize(
    "cells",
    [
        [f"{1 + place // 2 % 6}" for place in range(80)],
        [f"555-01{place // 2 % 10}0" for place in range(80)],
        [f"Customer {place // 2 % 10:04}" for place in range(80)],
        [f"{2.31 + 0.2 * (place % 9):.2f}" for place in range(80)],
    ],
    ids=["bay", "telephone", "customer", "tax"],
)
def test_what_is_not_of_the_contract_is_not_taken_by_its_values(cells: list[str | None]):
    assert found(proposed({**table(), NONSENSE: cells})) == FILLS


def test_headers_that_read_as_patterns_or_as_names_of_our_own_do_no_harm():
    columns = {{"Qty": "count", "Line": "^.*$", "Cost": "n"}.get(name, name): cells for name, cells in table().items()}
    assert found(proposed(columns))["count"] == "quantity"
    assert found(proposed(columns))["^.*$"] == "line_no"
