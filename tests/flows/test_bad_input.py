"""Files with everything wrong, through the whole job: the run goes on, nothing is lost, and each is told why."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from html import unescape
from io import BytesIO
from pathlib import Path

import openpyxl
import polars as pl
import pytest
import xlsxwriter

ORDER = "repair_order_id,vehicle_id,opened_on,odometer_in"
CONCERN = ORDER + ",concern"
HEADERS = ORDER.split(",")


def damaged_copies(shop) -> None:
    """A workbook and a Parquet file, each sound but for its end being missing; a picture; nothing at all."""
    book, parquet = BytesIO(), BytesIO()
    sheet = openpyxl.Workbook()
    sheet.active.title = "repair_order"
    for row in (HEADERS, ["X1", "1", "2020-02-01", 11_000]):
        sheet.active.append(row)
    sheet.save(book)
    pl.DataFrame([["P1", "1", "2020-02-02", "11500"]], schema=HEADERS, orient="row").write_parquet(parquet)
    inbox = shop.workspace.inbox
    (inbox / "repair_order_cut.xlsx").write_bytes(book.getvalue()[: len(book.getvalue()) // 2])
    (inbox / "repair_order_cut.parquet").write_bytes(parquet.getvalue()[:-20])
    (inbox / "repair_order_picture.csv").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 4)
    (inbox / "repair_order_empty.csv").write_bytes(b"")


def wrong_headers(shop) -> None:
    shop.write("photos.csv", "colour,size", [("red", 1)])
    shop.write("repair_order_misspelt.csv", ORDER.replace("odometer_in", "odometer_inn"), [("M1", 1, "2020-01-01", 5)])
    shop.write("repair_order_twice.csv", ORDER + ",odometer_in", [("D1", 1, "2020-01-01", 5, 6)])
    shop.write("repair_order_header_only.csv", ORDER, [])


def encodings(shop) -> None:
    inbox = shop.workspace.inbox
    western = f"{CONCERN}\nW1,1,2020-03-01,12000,Geräusch für 5 €\nW2,1,2020-03-02,12010,none\n"
    (inbox / "repair_order_1252.csv").write_bytes(western.encode("cp1252"))
    wide = f"{CONCERN}\r\nU1,1,2020-04-01,13000,Geräusch\r\nU2,1,2020-04-02,13010,none\r\n"
    (inbox / "repair_order_utf16.csv").write_bytes(wide.encode("utf-16"))
    mixed = f"{CONCERN}\nB1,1,2020-05-01,14000,für\nB2,1,2020-05-02,14010,hält\n".encode()
    mixed += b"B3,1,2020-05-03,14020,f\xfcr\nB4,1,2020-05-04,14030,none\n"
    (inbox / "repair_order_mixed.csv").write_bytes(mixed)


def wrong_values(shop) -> None:
    rows = [
        ("V1", "1", "2020-06-01", -5),
        ("V2", "1", "2020-06-02", "15O00"),
        ("V3", None, "2020-06-03", 15_010),
        ("V4", "1", "2021-02-29", 15_020),
        ("V5", "1", "2020-06-05", 15_030),
    ]
    shop.write("repair_order_values.csv", ORDER, rows)
    conflict = [("K1", 1, "2020-07-01", 16_000), ("K1", 1, "2020-07-01", 16_500), ("K2", 1, "2020-07-02", 16_010)]
    shop.write("repair_order_conflict.csv", ORDER, conflict)
    quote = 'Q1,1,2020-08-01,17000,a\nQ2,1,2020-08-02,17010,"never closed\nQ3,1,2020-08-03,17020,c\n'
    (shop.workspace.inbox / "repair_order_quote.csv").write_text(f"{CONCERN}\n{quote}", encoding="utf-8")


def workbooks(shop) -> None:
    """Formulas without computed values (openpyxl writes none) and with one; a sheet that is no table."""
    plain = openpyxl.Workbook()
    plain.active.title = "repair_order"
    for row in (HEADERS, ["F1", "1", "2020-09-01", 18_000], ["F2", "1", "2020-09-02", "=D2+10"]):
        plain.active.append(row)
    plain.save(shop.workspace.inbox / "formula_without_value.xlsx")
    with xlsxwriter.Workbook(shop.workspace.inbox / "formula_with_value.xlsx") as book:
        orders, notes = book.add_worksheet("repair_order"), book.add_worksheet("Remarks")
        orders.write_row(0, 0, HEADERS)
        orders.write_row(1, 0, ["C1", "1", "2020-09-03"])
        orders.write_formula(1, 3, "=18000+20", None, 18_020)
        notes.write_column(0, 0, ["remark", "not an order"])


@pytest.fixture(scope="module")
def bad(shop_at, tmp_path_factory):
    """One shop with all of it in its inbox, and the job run once; `sent` holds the bytes that were dropped in."""
    shop = shop_at(tmp_path_factory.mktemp("bad") / "shop")
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [("1", "Elm")])
    shop.write("repair_order_good.csv", ORDER, [("G1", 1, "2020-01-01", 10_000), ("G2", 1, "2020-12-31", 20_000)])
    shop.write(
        "repair_line_good.csv",
        "repair_order_id,line_no,kind,component_code,action,reason",
        [("G2", 1, "labor", "water_pump", "replaced", "failed")],
    )
    for drop in (damaged_copies, wrong_headers, encodings, wrong_values, workbooks):
        drop(shop)
    shop.sent = {path.name: path.read_bytes() for path in shop.workspace.inbox.iterdir()}
    shop.job = shop.run()
    page = (shop.workspace.published / "data-quality.html").read_text(encoding="utf-8")
    shop.page = " ".join(unescape(page).split())
    return shop


def quarantined(shop, file_name: str) -> list[tuple]:
    return shop.query(
        "SELECT row_number, rules, q.reason FROM quarantined_row q JOIN source_file USING (file_id) WHERE file_name = ?"
        " ORDER BY row_number",
        file_name,
    )


def orders_of(shop, file_name: str) -> list[str]:
    found = shop.query(
        "SELECT repair_order_id FROM repair_order JOIN source_file USING (file_id) WHERE file_name = ? ORDER BY 1",
        file_name,
    )
    return [order for (order,) in found]


def notes_of(shop, file_name: str) -> str:
    return shop.query("SELECT notes FROM source_file WHERE file_name = ?", file_name)[0][0]


# --- what holds of every file


def test_the_job_ends_normally_and_its_pages_are_there(bad):
    assert [title for title, _ in bad.job.summary][-1] == "Writing pages"
    assert {path.name for path in bad.workspace.published.iterdir()} >= {"briefing.html", "data-quality.html"}
    # 20,000 - 10,000 miles, one failure: what is sound is estimated as if nothing bad had been there.
    assert bad.query(
        "SELECT n_failures, miles_at_risk FROM estimate WHERE component_code = 'water_pump' AND unit = 'socket' "
        "AND engine_family = 'Elm'"
    ) == [(1, 10_000)]


def test_every_file_of_the_inbox_is_in_the_books_and_said(bad):
    booked = [name for (name,) in bad.query("SELECT file_name FROM source_file")]
    assert sorted(booked) == sorted(bad.sent)
    for name in bad.sent:
        assert any(sentence.startswith(f"{name}: ") for sentence in bad.said), name


def test_the_untouched_copies_have_the_same_bytes(bad):
    copies = {path.name: path.read_bytes() for path in bad.workspace.landed.iterdir()}
    expected = {hashlib.sha256(data).hexdigest() + Path(name).suffix: data for name, data in bad.sent.items()}
    assert copies == expected


def test_the_inbox_itself_is_left_as_it_was(bad):
    assert {path.name: path.read_bytes() for path in bad.workspace.inbox.iterdir()} == bad.sent


def test_landed_is_kept_and_quarantined_and_repeats_in_every_part(bad):
    parts = bad.query("SELECT n_landed, n_kept, n_quarantined, n_repeats FROM source_part")
    # 4 good, 3 encodings, values, conflict, quote, header only, 2 workbooks with one loaded sheet each.
    assert len(parts) == 13
    assert all(landed == kept + aside + repeats for landed, kept, aside, repeats in parts)


def test_the_raw_rows_and_the_lines_that_could_not_be_read_are_all_that_landed(bad):
    landed, raw, unread = bad.query(
        "SELECT (SELECT sum(n_landed) FROM source_part WHERE table_name = 'repair_order'), "
        "(SELECT count(*) FROM raw_repair_order), "
        "(SELECT count(*) FROM quarantined_row WHERE rules = 'repair_order.line.readable')"
    )[0]
    # good 2, Windows-1252 2, UTF-16 2, mixed 4, values 5, conflict 3, quote 3, workbooks 2 + 1.
    assert landed == 2 + 2 + 2 + 4 + 5 + 3 + 3 + 2 + 1
    # The mixed line, the open quote, the formula without a value.
    assert (raw, unread) == (landed - 3, 3)


# --- files that cannot be read at all


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("repair_order_empty.csv", ["0 bytes", "Expected one of CSV"]),
        ("repair_order_cut.xlsx", ["damaged or cut short", "Expected a complete workbook"]),
        ("repair_order_cut.parquet", ["no end", "Expected a complete Parquet file"]),
        ("repair_order_picture.csv", ["a PNG picture", "Expected one of CSV"]),
        ("photos.csv", ["colour, size", "Expected one of the tables engine_family, vehicle, repair_order"]),
        ("repair_order_misspelt.csv", ["lacks the required column odometer_in", "odometer_inn may be odometer_in"]),
        (
            "repair_order_twice.csv",
            ["the column 'odometer_in' is there more than once", "Expected every column of the table once"],
        ),
    ],
)
def test_a_file_that_cannot_be_read_is_set_aside_with_its_reason(bad, name: str, words: list[str]):
    ((status, reason),) = bad.query("SELECT status, reason FROM source_file WHERE file_name = ?", name)
    assert status == "set_aside"
    assert reason.startswith(Path(name).stem)
    for word in words:
        assert word in reason
        assert word in bad.page
    assert (name, reason) in bad.job.intake.set_aside
    assert name in bad.page
    assert orders_of(bad, name) == []


def test_nothing_else_is_set_aside(bad):
    assert len(bad.job.intake.set_aside) == 7
    assert bad.query("SELECT count(*) FROM source_file WHERE status = 'set_aside'") == [(7,)]


def test_a_file_with_only_a_header_is_loaded_and_noted(bad):
    name = "repair_order_header_only.csv"
    assert notes_of(bad, name) == "the file has a header and no data rows"
    assert bad.query("SELECT n_landed FROM source_part JOIN source_file USING (file_id) WHERE file_name = ?", name) == [
        (0,)
    ]


# --- encodings


@pytest.mark.parametrize(
    ("name", "encoding", "order", "concern"),
    [
        ("repair_order_1252.csv", "Windows-1252", "W1", "Geräusch für 5 €"),
        ("repair_order_utf16.csv", "UTF-16", "U1", "Geräusch"),
    ],
)
def test_another_encoding_is_recognised_and_said(bad, name: str, encoding: str, order: str, concern: str):
    assert notes_of(bad, name) == f"the text is in {encoding} and was decoded as such"
    assert f"the text is in {encoding} and was decoded as such" in bad.page
    assert bad.query("SELECT concern FROM repair_order WHERE repair_order_id = ?", order) == [(concern,)]
    assert len(orders_of(bad, name)) == 2


def test_one_line_in_another_encoding_is_quarantined_and_the_others_keep_their_accents(bad):
    ((row, rules, reason),) = quarantined(bad, "repair_order_mixed.csv")
    assert (row, rules) == (4, "repair_order.line.readable")
    assert "bytes that are not UTF-8" in reason
    assert orders_of(bad, "repair_order_mixed.csv") == ["B1", "B2", "B4"]
    assert bad.query("SELECT concern FROM repair_order WHERE repair_order_id = 'B2'") == [("hält",)]


# --- values


@pytest.mark.parametrize(
    ("row", "rule", "reason"),
    [
        (2, "odometer_in.between", 'odometer_in must lie between 0 and 3,000,000 (found "-5" in odometer_in)'),
        (3, "odometer_in.typed", 'odometer_in must be a number (found "15O00" in odometer_in)'),
        (4, "vehicle_id.required", "vehicle_id must be filled in (found nothing in vehicle_id)"),
        # 2021 is no leap year.
        (5, "opened_on.typed", 'opened_on must be a date written YYYY-MM-DD (found "2021-02-29" in opened_on)'),
    ],
)
def test_a_wrong_value_is_quarantined_with_its_row_its_column_and_what_was_found(bad, row: int, rule: str, reason: str):
    assert (row, f"repair_order.{rule}", reason) in quarantined(bad, "repair_order_values.csv")
    assert f"repair_order_values.csv, row {row}" in bad.page
    assert reason in bad.page


def test_the_sound_row_beside_them_is_kept(bad):
    assert len(quarantined(bad, "repair_order_values.csv")) == 4
    assert orders_of(bad, "repair_order_values.csv") == ["V5"]


def test_the_row_as_it_came_is_kept_beside_the_reason(bad):
    (raw,) = bad.query("SELECT raw_text FROM quarantined_row WHERE rules = 'repair_order.odometer_in.typed'")[0]
    assert '"repair_order_id":"V2"' in raw
    assert '"odometer_in":"15O00"' in raw


def test_of_two_rows_with_one_key_that_differ_the_second_is_quarantined(bad):
    ((row, rules, reason),) = quarantined(bad, "repair_order_conflict.csv")
    assert (row, rules) == (3, "repair_order.key.unique")
    assert (
        reason == 'two rows of one file with the same repair_order_id must say the same (found "K1" in repair_order_id)'
    )
    assert orders_of(bad, "repair_order_conflict.csv") == ["K1", "K2"]
    assert bad.query("SELECT odometer_in FROM repair_order WHERE repair_order_id = 'K1'") == [(16_000,)]
    assert reason in bad.page


def test_a_quote_never_closed_costs_its_own_line_only(bad):
    ((row, rules, reason),) = quarantined(bad, "repair_order_quote.csv")
    assert (row, rules) == (3, "repair_order.line.readable")
    assert "a quote that is not closed" in reason
    assert orders_of(bad, "repair_order_quote.csv") == ["Q1", "Q3"]
    assert "repair_order_quote.csv, row 3" in bad.page


# --- workbooks


def test_a_formula_without_a_computed_value_is_quarantined_by_its_cell(bad):
    name = "formula_without_value.xlsx"
    assert quarantined(bad, name) == [
        (3, "repair_order.line.readable", "cell D3 holds a formula without a computed value")
    ]
    assert orders_of(bad, name) == ["F1"]
    assert f"{name}, row 3" in bad.page


def test_a_formula_with_a_computed_value_is_loaded_and_noted(bad):
    assert bad.query("SELECT odometer_in FROM repair_order WHERE repair_order_id = 'C1'") == [(18_020,)]
    assert "cell D2 holds a formula, its last computed value was used" in notes_of(bad, "formula_with_value.xlsx")


def test_a_sheet_that_is_no_table_is_said_and_the_others_are_loaded(bad):
    noted = notes_of(bad, "formula_with_value.xlsx")
    assert "part not loaded: Remarks: neither the name nor the columns (remark) are those of a table" in noted
    assert "part not loaded: Remarks" in bad.page
    assert orders_of(bad, "formula_with_value.xlsx") == ["C1"]


# --- a line without end

MEGABYTES = 200
MEASURED_RUN = """
import resource, sys
from pathlib import Path
from longmile.pipelines.flows.run import run_job
run_job(Path(sys.argv[1]), say=print)
print("peak", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def test_a_line_of_200_megabytes_is_quarantined_in_bounded_memory(shop):
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [("1", "Elm")])
    with (shop.workspace.inbox / "repair_order.csv").open("wb") as stream:
        stream.write(f"{CONCERN}\nA1,1,2020-01-01,10000,none\nA2,1,2020-01-02,10010,".encode())
        for _ in range(MEGABYTES):
            stream.write(b"x" * 1_000_000)
        stream.write(b"\nA3,1,2020-01-03,10020,none\n")
    command = [sys.executable, "-c", MEASURED_RUN, str(shop.folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr
    ((row, rules, reason),) = quarantined(shop, "repair_order.csv")
    assert (row, rules) == (3, "repair_order.line.readable")
    # 22 characters, "A2,1,2020-01-02,10010,", before the 200 million.
    assert "200,000,022 bytes long" in reason
    assert orders_of(shop, "repair_order.csv") == ["A1", "A3"]
    peak_in_kib = int(done.stdout.split("peak ")[1])
    # Linux counts in KiB, macOS in bytes.
    assert peak_in_kib / (1024 if sys.platform == "darwin" else 1) < 1_500_000
