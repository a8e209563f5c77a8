"""A delimited file read by DuckDB itself lands as by the other readers, and where it is not believed they take over."""

from __future__ import annotations

import csv
from datetime import datetime
from pathlib import Path

import pytest

from longmile.pipelines.flows import incoming
from longmile.pipelines.flows.intake import InboxLoader
from longmile.pipelines.maps.match import Maps
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.store import store as store_module
from longmile.pipelines.store.store import Store

HEADER = ("repair_order_id", "line_no", "kind", "component_code", "quantity", "price", "cause", "colour")
NEVER = 1 << 62
TABLES = ("raw_repair_line", "repair_line", "quarantined_row", "check_result", "source_file", "source_part")


def write(path: Path, rows: list[tuple[str, ...]]) -> None:
    with path.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerows(rows)


def load(folder: Path, files: dict[str, bytes], bulk_from: int, maps: Maps | None = None) -> dict[str, list[tuple]]:
    """Every table that a load fills, rows in a fixed order, and what was said."""
    inbox = folder / "inbox"
    inbox.mkdir(parents=True)
    said: list[str] = []
    with Store(folder / "shop.duckdb") as store:
        for number, (name, data) in enumerate(files.items()):
            (inbox / name).write_bytes(data)
            loader = InboxLoader(store, 1, lambda n=number: datetime(2025, 1, 1 + n), maps, bulk_from=bulk_from)
            loader.load(inbox, folder / "landed", said.append)
        found = {name: store.rows(f"SELECT * FROM {name} ORDER BY ALL") for name in TABLES}
    return found | {"said": [(sentence,) for sentence in said]}


@pytest.fixture
def small_groups(monkeypatch):
    """Chunks of two rows, so that a small file comes in many."""
    monkeypatch.setattr(store_module, "_ROW_GROUP", 1)
    monkeypatch.setattr(incoming, "BULK_GROUPS", 2)


def dirty(path: Path) -> bytes:
    """Line ends and quotes inside, padding, a repeat, a key twice, a total, rows that break a rule, other columns."""
    rows = [
        HEADER,
        ("A", "1", "labor", "water_pump", "1", "10.50", 'two\nlines, and "more"', "red"),
        ("A", " 2 ", "part ", "no_such_part", "two", "9.999", " padded\n", ""),
        ("A", "3", "labor", "", "", "", "call 555-123-4567", "red"),
        ("A", "3", "labor", "", "", "", "call 555-123-4567", "red"),
        ("A", "3", "part", "", "", "", "", ""),
        ("Total", "", "", "", "", "20.00", "", ""),
        ("", "1", "wages", "", "", "1,000", "", ""),
        ("B", "1", "Labor", "Water_Pump", "1.5", "-3", '12" rotor', ""),
    ]
    write(path, rows)
    return path.read_bytes()


def test_the_same_tables_come_of_it_by_either_way(tmp_path, small_groups, monkeypatch):
    data = dirty(tmp_path / "made.csv")
    again = data.replace(b"10.50", b"11.50")  # a re-export: one row changed, the others as known
    files = {"repair_line_1.csv": data, "repair_line_2.csv": again}
    careful = load(tmp_path / "careful", files, NEVER)
    read_otherwise = []
    monkeypatch.setattr(InboxLoader, "_load_as_read", lambda self, landing: read_otherwise.append(landing))
    assert load(tmp_path / "bulk", files, 0) == careful
    assert read_otherwise == []
    # By hand, of the first: kept A 1, B 1 and the first A 3; aside A 2 (quantity and price), A 3 again in other
    # words, the total, the row without an order; A 3 to the letter is a repeat. Of the second: A 1 is replaced, two
    # rows are known, one is a repeat, four are set aside again.
    counts = [row[4:10] for row in sorted(careful["source_part"], key=lambda row: row[3])]
    assert counts == [(8, 3, 4, 1, 0, 0), (8, 1, 4, 3, 1, 0)]
    assert careful["raw_repair_line"][0][2] == 2


@pytest.mark.parametrize("bad", [b"A,9,labor\n", b'A,9,labor,"open,,,,\n', b"A,9,labor,,,,x\0,\n"])
def test_a_file_with_a_line_that_is_none_is_read_by_the_others(tmp_path, bad):
    files = {"repair_line.csv": dirty(tmp_path / "made.csv") + bad}
    careful = load(tmp_path / "careful", files, NEVER)
    assert load(tmp_path / "bulk", files, 0) == careful
    assert "repair_line.line.readable" in {row[5] for row in careful["quarantined_row"]}


@pytest.mark.parametrize("fill_down", [(), ("RO",)])
def test_a_file_read_by_a_map_lands_the_same_whether_or_not_its_rows_need_each_other(tmp_path, small_groups, fill_down):
    how = SourceMap(
        name="invented",
        headers=("RO", "No", "What", "Car", "In", "Miles"),
        tables=(
            TableMap(
                "repair_order",
                (
                    ColumnMap("repair_order_id", ("RO",)),
                    ColumnMap("vehicle_id", ("Car",)),
                    ColumnMap("opened_on", ("In",)),
                    ColumnMap("odometer_in", ("Miles",)),
                ),
                ("Car", ()),
            ),
            TableMap(
                "repair_line",
                (
                    ColumnMap("repair_order_id", ("RO",)),
                    ColumnMap("line_no", ("No",)),
                    ColumnMap("kind", ("What",), values=(("work", "labor"),)),
                ),
                ("What", ("work", "part")),
            ),
        ),
        is_accepted=True,
        fill_down=fill_down,
    )
    rows = [
        how.headers,
        ("A", "1", "work", "v1", "2024-01-02", "1000"),
        ("", "2", "part", "", "", ""),
        ("", "3", "lunch", "", "", ""),
        ("B", "1", "work", "v2", "2024-01-03", "2000"),
        ("", "2", "work", "", "", ""),
    ]
    write(tmp_path / "made.csv", rows)
    files = {"export.csv": (tmp_path / "made.csv").read_bytes()}
    careful = load(tmp_path / "careful", files, NEVER, Maps((how,)))
    assert load(tmp_path / "bulk", files, 0, Maps((how,))) == careful
    # Lunch is claimed by no table; without filling down two lines more have no order, and so the same key.
    aside = {(row[3], row[5]) for row in careful["quarantined_row"]}
    required, unique = "repair_line.repair_order_id.required", "repair_line.key.unique"
    nameless = set() if fill_down else {(3, required), (6, f"{required}, {unique}")}
    assert aside == {(4, "repair_order.line.claimed")} | nameless
    assert len(careful["repair_line"]) == (4 if fill_down else 2)
