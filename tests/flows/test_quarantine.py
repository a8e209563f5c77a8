"""The quarantine as a place to work: listed, written out, mended, dropped back; and the history of an order."""

from __future__ import annotations

import json
from pathlib import Path

import openpyxl
import pytest

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.last_run import last_run, opened
from longmile.pipelines.flows.quarantine import RETURN_HEADER, export_quarantine, quarantine
from longmile.pipelines.flows.trace import trace

ORDERS = "repair_order_id,vehicle_id,opened_on,odometer_in,concern"
LINES = "repair_order_id,line_no,kind,component_code,action,reason,price"


@pytest.fixture
def broken(shop):
    """One vehicle, four orders of which two are broken, three lines of which one is, and a line of the wrong length."""
    shop.write("engine_family.csv", "engine_family,cylinders", [["Elm", 4]])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [["V1", "Elm"]])
    path = shop.write(
        "repair_order.csv",
        ORDERS,
        [
            ["R1", "V1", "2021-01-01", 10_000, "noise"],
            ["R2", "V1", "2022-31-01", 20_000, "=1+1"],
            ["R3", "V1", "2023-01-01", "12x", "-leak"],
            ["R4", "V1", "2024-01-01", 40_000, None],
        ],
    )
    with path.open("a") as file:
        file.write("R5,V1\n")
    shop.write(
        "repair_line.csv",
        LINES,
        [
            ["R1", 1, "labor", "water_pump", "replaced", "failed", "-12.50"],
            ["R4", 1, "labour", "water_pump", "replaced", "failed", "-12.50"],
            ["R4", 2, "part", "water_pump", "replaced", "failed", "80"],
        ],
    )
    shop.run()
    return shop


def mended(path: Path, sheet: str, **cells: tuple[str, str]) -> None:
    """Change cells of a workbook: column -> (row by its repair order, new text)."""
    book = openpyxl.load_workbook(path)
    header = {cell.value: cell.column for cell in book[sheet][1]}
    for column, (order, text) in cells.items():
        for row in range(2, book[sheet].max_row + 1):
            if book[sheet].cell(row, header["repair_order_id"]).value == order:
                book[sheet].cell(row, header[column]).value = text
    book.save(path)


def test_rows_set_aside_are_listed_by_rule_with_counts_and_the_first_of_them(broken):
    with opened(broken.folder) as (store, _):
        found = quarantine(store)
    assert (found.n_rows, found.n_returned) == (4, 0)
    rules = {(r.rule, r.n_rows, r.first_file, r.first_row) for r in found.rules}
    assert rules == {
        ("repair_order.opened_on.typed", 1, "repair_order.csv", 3),
        ("repair_order.odometer_in.typed", 1, "repair_order.csv", 4),
        ("repair_order.line.readable", 1, "repair_order.csv", 6),
        ("repair_line.kind.one_of", 1, "repair_line.csv", 3),
    }


def test_the_workbook_has_the_reason_beside_the_cell_and_no_formula(broken, tmp_path: Path):
    path = tmp_path / "aside.xlsx"
    with opened(broken.folder) as (store, _):
        assert export_quarantine(store, path) == {"repair_order": 2, "repair_line": 1, "lines not read": 1}
    book = openpyxl.load_workbook(path)
    header = [cell.value for cell in book["repair_order"][1]]
    rows = [
        dict(zip(header, (c.value or "" for c in row), strict=True))
        for row in book["repair_order"].iter_rows(min_row=2)
    ]
    assert header[header.index("opened_on") + 1] == "why: opened_on"
    assert (
        rows[0]["why: opened_on"] == "opened_on must be a date written YYYY-MM-DD" and rows[0]["why: odometer_in"] == ""
    )
    assert rows[1]["why: odometer_in"] == "odometer_in must be a number" and rows[1]["odometer_in"] == "12x"
    assert rows[0]["concern"] == "'=1+1" and rows[1]["concern"] == "'-leak"
    assert all(cell.data_type == "s" for sheet in book for row in sheet.iter_rows() for cell in row if cell.value)


def test_mended_rows_come_back_and_are_counted(broken, tmp_path: Path):
    path = tmp_path / "aside.xlsx"
    with opened(broken.folder) as (store, _):
        export_quarantine(store, path)
    mended(path, "repair_order", opened_on=("R2", "2022-01-31"), odometer_in=("R3", "still 30000"))
    mended(path, "repair_line", kind=("R4", "labor"))
    path.rename(broken.workspace.inbox / "aside.xlsx")
    broken.run()
    assert broken.query("SELECT opened_on::VARCHAR, concern FROM repair_order WHERE repair_order_id = 'R2'") == [
        ("2022-01-31", "=1+1")
    ], "the apostrophe is taken away again"
    assert broken.query("SELECT line_no, price_cents FROM repair_line WHERE repair_order_id = 'R4' ORDER BY 1") == [
        (1, -1250),
        (2, 8000),
    ], "the line that was sound all along is not withdrawn"
    with opened(broken.folder) as (store, _):
        found = quarantine(store)
    # R2, R3 and the line came back; R3 is set aside again, the unreadable line still is.
    assert (found.n_rows, found.n_returned) == (2, 3)
    booked = broken.query(
        "SELECT n_landed, n_kept, n_quarantined, n_withdrawn FROM source_part "
        "WHERE table_name = 'repair_order' ORDER BY landed_at DESC LIMIT 1"
    )
    assert booked == [(2, 1, 1, 0)]


def test_a_file_that_names_no_row_of_the_quarantine_is_an_export_like_any_other(broken):
    key = json.dumps(["repair_order", "0" * 64, "repair_order", 3])
    broken.write("repair_order_again.csv", f"{RETURN_HEADER},{ORDERS}", [
        [key, "R7", "V1", "2024-05-01", 45_000, None], ["nonsense", "R8", "V1", "2024-06-01", 46_000, None],
    ])  # fmt: skip
    broken.run()
    assert broken.query("SELECT count(*) FROM repair_order WHERE repair_order_id IN ('R7', 'R8')") == [(2,)]
    assert broken.query("SELECT count(*) FROM quarantined_row WHERE returned_at IS NOT NULL") == [(0,)]


def test_nothing_set_aside_is_nothing_to_write(shop, tmp_path: Path):
    shop.write("engine_family.csv", "engine_family,cylinders", [["Elm", 4]])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [["V1", "Elm"]])
    shop.write("repair_order.csv", ORDERS, [["R1", "V1", "2021-01-01", 10_000, None]])
    shop.run()
    with opened(shop.folder) as (store, _), pytest.raises(LongmileError, match="no row is set aside"):
        export_quarantine(store, tmp_path / "aside.xlsx")


def test_an_order_is_traced_from_file_and_line_to_what_became_of_it(broken):
    broken.write("repair_order_b.csv", ORDERS, [["R1", "V1", "2021-01-01", 10_000, "noise"]])
    broken.write("repair_order_c.csv", ORDERS, [["R1", "V1", "2021-01-01", 10_500, "noise"]])
    broken.run()
    with last_run(broken.folder) as (store, _):
        first, second, broken_one = trace(store, "R1"), trace(store, "R4"), trace(store, "R3")
    fates = [(row.file_name, row.row_number, row.fate) for row in first.rows if row.table_name == "repair_order"]
    assert fates == [
        ("repair_order.csv", 2, "replaced or withdrawn"),
        ("repair_order_b.csv", 2, "repeat"),
        ("repair_order_c.csv", 2, "kept"),
    ]
    assert first.then["odometer"][0]["odometer_miles"] == 10_500.0
    assert second.then["lives ended"][0]["component_code"] == "water_pump"
    assert [row.fate for row in second.rows if row.table_name == "repair_line"] == ["set aside", "kept"]
    assert (broken_one.rows[0].fate, "odometer_in must be a number" in broken_one.rows[0].why) == ("set aside", True)
    json.dumps(first.as_dict())


def test_an_unknown_order_names_the_nearest(broken):
    with last_run(broken.folder) as (store, _), pytest.raises(LongmileError, match="Nearest: R1"):
        trace(store, "R11")
