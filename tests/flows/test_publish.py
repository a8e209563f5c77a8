"""The published folder: switched in whole, the same for the same inputs, its tables those of the store."""

from __future__ import annotations

import csv
from pathlib import Path

import polars as pl
import pytest

from longmile.pipelines.flows import publish
from longmile.pipelines.flows.publish import PAGES, PUBLISHED_TABLES, switch_in

ORDER = "repair_order_id,vehicle_id,opened_on,odometer_in"
LINE = "repair_order_id,line_no,kind,component_code,action,reason"
# A spreadsheet program takes a cell that begins so for a formula (a tab or carriage return before it is skipped).
FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1+1", "\r=1+1"]
HARMLESS = ["1-1", "'=1", " =1+1"]
SIGNS = ("=", "+", "-", "@", "\t", "\r")


def fill(shop) -> None:
    """Two families, failures, a walk-in, quarantined rows."""
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4), ("Oak", 6)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [(v, "Elm" if v % 2 else "Oak") for v in range(20)])
    orders = [(f"{v}-{y}", v, f"202{y}-03-01", 20_000 + 9_000 * y + 700 * v) for v in range(20) for y in range(4)]
    shop.write("repair_order.csv", ORDER, [*orders, ("bad", 1, "2020-02-30", 1)])
    lines = [(f"{v}-{v % 4}", 1, "labor", "water_pump", "replaced", "failed") for v in range(20)]
    shop.write("repair_line.csv", LINE, [*lines, ("0-1", 2, "wages", "water_pump", "replaced", "failed")])


@pytest.fixture(scope="module")
def published(shop_at, tmp_path_factory):
    """A shop with hostile cells whose job ran once over the leftovers of an earlier, killed publish."""
    shop = shop_at(tmp_path_factory.mktemp("published") / "shop")
    fill(shop)
    families = [(cell, 4) for cell in (*FORMULAS, *HARMLESS)]
    shop.write("engine_family_more.csv", "engine_family,cylinders", families)
    vehicles = [(f"h{number}", family) for number, (family, _) in enumerate(families)]
    shop.write("vehicle_more.csv", "vehicle_id,engine_family", vehicles)
    orders = [(f"h{n}-{y}", f"h{n}", f"202{y}-04-01", 50_000 + y) for n in range(len(families)) for y in range(2)]
    shop.write("repair_order_more.csv", ORDER, orders)
    removed = [(f"{v}-3", 3, "labor", "thermostat", "replaced", "preventive") for v in range(6)]
    shop.write("repair_line_more.csv", LINE, removed)
    for leftover in (".published.new", ".published.old"):
        (shop.folder / leftover / "tables").mkdir(parents=True)
        (shop.folder / leftover / "tables" / "half.csv").write_text("half", encoding="utf-8")
    (shop.workspace.published / "of-an-earlier-run.html").write_text("earlier", encoding="utf-8")
    shop.run()
    return shop


def files_of(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def rows_of_csv(shop, table: str) -> list[list[str]]:
    path = shop.workspace.published / "tables" / f"{table}.csv"
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.reader(stream))


# --- the folder


def test_the_published_folder_holds_the_pages_and_tables_and_nothing_else(published):
    tables = {f"tables/{name}.{kind}" for name in PUBLISHED_TABLES for kind in ("csv", "parquet")}
    assert set(files_of(published.workspace.published)) == tables | set(PAGES)


def test_no_leftover_stays_in_the_workspace(published):
    assert not list(published.folder.glob(".published*"))


@pytest.mark.parametrize("stands_there", ["nothing", "folder", "file", "link", "broken link"])
def test_switch_in_takes_the_place_of_whatever_stands_there(tmp_path, stands_there: str):
    target, elsewhere = tmp_path / "published", tmp_path / "elsewhere"
    for folder in (elsewhere, target) if stands_there == "folder" else (elsewhere,):
        folder.mkdir()
        (folder / "kept.txt").write_text("kept", encoding="utf-8")
    if stands_there == "file":
        target.write_text("a file", encoding="utf-8")
    if stands_there.endswith("link"):
        target.symlink_to(elsewhere if stands_there == "link" else tmp_path / "nosuch")
    for number in ("first", "second"):
        fresh = tmp_path / ".published.new"
        fresh.mkdir()
        (fresh / "page.html").write_text(number, encoding="utf-8")
        switch_in(fresh, target)
        assert not target.is_symlink()
        assert files_of(target) == {"page.html": number.encode()}
        assert not list(tmp_path.glob(".published*"))
    # What a link led to is not the job's to remove.
    assert files_of(elsewhere) == {"kept.txt": b"kept"}


def test_until_the_switch_the_earlier_pages_stand_and_a_failed_publish_is_made_up_for(shop, monkeypatch):
    fill(shop)
    shop.run()
    earlier = files_of(shop.workspace.published)
    shop.write("repair_order_later.csv", ORDER, [("late", 1, "2024-01-01", 90_000)])

    def interrupted(fresh: Path, target: Path) -> None:
        assert files_of(target) == earlier
        assert set(files_of(fresh)) == set(earlier)
        raise InterruptedError("killed before the switch")

    with monkeypatch.context() as patched:
        patched.setattr(publish, "switch_in", interrupted)
        with pytest.raises(InterruptedError):
            shop.run()
    assert files_of(shop.workspace.published) == earlier
    # Not booked as done, so the next run does not take itself for up to date.
    job = shop.run()
    assert not job.is_up_to_date
    assert files_of(shop.workspace.published).keys() == earlier.keys()
    assert files_of(shop.workspace.published)["briefing.html"] != earlier["briefing.html"]
    assert not list(shop.folder.glob(".published*"))


def test_pages_that_were_deleted_are_made_again(shop):
    fill(shop)
    shop.run()
    (shop.workspace.published / "briefing.html").unlink()
    assert not shop.run().is_up_to_date
    assert (shop.workspace.published / "briefing.html").is_file()


# --- the tables


@pytest.mark.parametrize("table", PUBLISHED_TABLES)
def test_the_parquet_file_holds_the_rows_of_the_store(published, table: str):
    frame = pl.read_parquet(published.workspace.published / "tables" / f"{table}.parquet")
    assert frame.rows() == published.query(f"SELECT * FROM {table} ORDER BY ALL")
    # A component is compared by part and vehicle from 30 failures on; this shop has fewer.
    assert frame.height > 0 or table == "covariate_effect"


@pytest.mark.parametrize("table", PUBLISHED_TABLES)
def test_the_csv_file_holds_the_rows_of_the_store(published, table: str):
    header, *rows = rows_of_csv(published, table)
    described = published.query(f"SELECT column_name, column_type FROM (DESCRIBE {table})")
    assert header == [name for name, _ in described]
    as_text = ", ".join(f"coalesce(\"{name}\"::VARCHAR, '')" for name in header)
    expected = published.query(f"SELECT {as_text} FROM (SELECT * FROM {table} ORDER BY ALL)")
    is_text = [kind == "VARCHAR" for _, kind in described]
    assert rows == [[shown(*pair) for pair in zip(row, is_text, strict=True)] for row in expected]


def shown(cell: str, is_text: bool) -> str:
    """As it must stand in CSV: text that begins like a formula has a quote before it."""
    return f"'{cell}" if is_text and cell.startswith(SIGNS) else cell


def test_a_cell_that_looks_like_a_formula_is_harmless_in_csv_and_itself_in_parquet(published):
    # Leading and trailing blanks of a cell are stripped when it is taken in, so those cells come as their formula.
    header, *rows = rows_of_csv(published, "estimate")
    families = {row[header.index("engine_family")] for row in rows}
    assert {"'=1+1", "'+1", "'-1", "'@SUM(A1)", "1-1", "'=1", "Elm", "Oak"} <= families
    assert not [family for family in families if family.startswith(SIGNS)]
    frame = pl.read_parquet(published.workspace.published / "tables" / "estimate.parquet")
    assert {"=1+1", "+1", "-1", "@SUM(A1)", "1-1", "'=1"} <= set(frame["engine_family"])


def test_negative_numbers_stay_numbers_in_csv(published):
    from longmile.pipelines.store.store import Store

    with Store(published.workspace.store) as store:
        store.run("CREATE OR REPLACE TEMP TABLE signs (label VARCHAR, amount DOUBLE)")
        store.run("INSERT INTO signs VALUES ('-1', -1), (chr(9) || '=1', -2.5), (chr(13) || '=1', 3), (NULL, NULL)")
        folder = published.folder / "signs"
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(publish, "PUBLISHED_TABLES", ("signs",))
            publish._write_tables(store, folder, is_vin_shown=False)
    with (folder / "signs.csv").open(encoding="utf-8", newline="") as stream:
        rows = sorted(csv.reader(stream))
    # Python's order of text: the empty row, a quote before a tab, a carriage return, a minus sign; then the header.
    assert rows == [["", ""], ["'\t=1", "-2.5"], ["'\r=1", "3.0"], ["'-1", "-1.0"], ["label", "amount"]]


# --- the same inputs


def test_the_same_files_and_clock_give_the_same_bytes_in_another_folder(shop_at, tmp_path):
    made = []
    for folder in ("here", "there, in a folder of another name"):
        shop = shop_at(tmp_path / folder)
        fill(shop)
        shop.run()
        made.append(files_of(shop.workspace.published))
    assert made[0].keys() == made[1].keys()
    assert [name for name in made[0] if made[0][name] != made[1][name]] == []
