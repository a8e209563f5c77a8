"""`longmile map`: a map proposed and written, seen at work, accepted. The proposal itself is a fake here."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from datetime import date, datetime
from io import StringIO
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import xlsxwriter
from rich.console import Console

from longmile.pipelines.errors import MapError, UnreadableFileError, WorkspaceError
from longmile.pipelines.flows.map import accept_file, map_file
from longmile.pipelines.flows.map_check import check_file
from longmile.pipelines.flows.map_words import (
    accepted_json,
    accepted_words,
    check_json,
    check_words,
    map_json,
    map_words,
)
from longmile.pipelines.maps.map_file import read_map
from longmile.pipelines.maps.match import read_maps
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.workspace import create_workspace

TODAY = date(2025, 6, 1)
NOW = datetime(2025, 6, 1)
HEADERS = ("Auftrag", "Art", "Datum", "km-Stand", "Fahrzeug", "Text", "Betrag", "Kunde")
ORDER = TableMap(
    "repair_order",
    (
        ColumnMap("repair_order_id", ("Auftrag",), confidence=0.6, because="numbers written once a group"),
        ColumnMap("vehicle_id", ("Fahrzeug",)),
        ColumnMap("opened_on", ("Datum",)),
        ColumnMap("odometer_in", ("km-Stand",), part="number"),
        ColumnMap("odometer_unit", ("km-Stand",), part="unit", constant="km"),
        ColumnMap("status", constant="closed"),
    ),
    ("Auftrag", ()),
)
LINES = TableMap(
    "repair_line",
    (
        ColumnMap("repair_order_id", ("Auftrag",)),
        ColumnMap("line_no", numbered_within=("Auftrag",)),
        ColumnMap("kind", ("Art",), values=(("L", "labor"), ("T", "part"))),
        ColumnMap("description", ("Text",)),
        ColumnMap("price", ("Betrag",)),
    ),
    ("Art", ("L", "T", "X")),
)
MAP = SourceMap(
    "any",
    HEADERS,
    (ORDER, LINES),
    dates=("%d.%m.%y",),
    two_digit_years_to=2025,
    decimal=",",
    thousands=".",
    fill_down=("Auftrag",),
)
ROWS = [
    ("A1", "L", "03.02.20", "123.456 km", "V1", "Bremse, Tel. 0171/1234567", "1.234,50 €", "Invented Name"),
    ("", "T", "", "", "", "Scheibe", "12,-", ""),
    ("A2", "T", "31.02.20", "98.765 mi", "V2", "Pumpe", "(5,00)", "Invented Name"),
    ("", "X", "", "", "", "Pumpe", "1.5", ""),
    ("", "S", "", "", "", "Summe", "9,00", ""),
]


class Proposer:
    """Proposes MAP under the name and headers asked for, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, date, SourceMap | None]] = []

    def __call__(self, raw: Any, name: str, today: date, earlier: SourceMap | None = None) -> Any:
        self.asked.append((name, today, earlier))
        made = replace(MAP, name=name, headers=raw.headers)
        return SimpleNamespace(map=made, not_mapped=(("Kunde", "names are not loaded"),), questions=("Is it km?",))


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    return create_workspace(tmp_path / "shop").folder


@pytest.fixture
def export(tmp_path: Path) -> Path:
    return write(tmp_path / "Aufträge 2020.csv", HEADERS, ROWS)


def write(path: Path, headers: tuple[str, ...], rows: list[tuple[str, ...]]) -> Path:
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream, delimiter=";")
        writer.writerow(headers)
        writer.writerows(rows)
    return path


def printed(words: Any, width: int = 150) -> str:
    console = Console(file=StringIO(), width=width)
    console.print(words)
    return console.file.getvalue()  # type: ignore[attr-defined]


# --- proposing


def test_a_map_is_proposed_and_written_and_nothing_is_accepted(workspace: Path, export: Path):
    proposer = Proposer()
    (part,) = map_file(export, workspace, TODAY, propose=proposer)
    assert part.path == workspace / "sources" / "aufträge_2020.toml"
    assert (part.state, part.missing, part.questions) == ("proposed", (), ("Is it km?",))
    assert read_map(part.path) == part.map == replace(MAP, name="aufträge_2020")
    assert proposer.asked == [("aufträge_2020", TODAY, None)]
    assert "# - Is it km?" in part.path.read_text(encoding="utf-8")


def test_a_map_that_is_there_is_left_as_a_person_edited_it(workspace: Path, export: Path):
    (first,) = map_file(export, workspace, TODAY, propose=Proposer())
    edited = first.path.read_text(encoding="utf-8").replace('value = "closed"', 'value = "open"')
    first.path.write_text(edited, encoding="utf-8")
    (second,) = map_file(export, workspace, TODAY, propose=Proposer())
    assert second.state == "was there" and second.not_loaded == (("Kunde", "names are not loaded"),)
    assert first.path.read_text(encoding="utf-8") == edited


def test_a_map_proposed_anew_keeps_every_old_one_beside_it(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    (accepted,) = accept_file(export, workspace)
    proposer = Proposer()
    (part,) = map_file(export, workspace, TODAY, renew=True, propose=proposer)
    assert part.state == "renewed" and proposer.asked[0][2] == accepted
    assert read_map(part.path.rename(part.path.with_name("new.toml"))).is_accepted is False
    old = part.path.with_name(f"{part.path.name}.bak")
    assert read_map(old.rename(part.path)) == accepted
    for expected in (".bak", ".bak2"):
        part.path.with_name("new.toml").unlink(missing_ok=True)
        map_file(export, workspace, TODAY, renew=True, propose=Proposer())
        assert part.path.with_name(f"{part.path.name}{expected}").exists()


def test_changed_columns_get_a_map_of_their_own_and_the_old_one_stays(workspace: Path, export: Path):
    """Files of the older shape may still lie in the inbox: their map must not go."""
    (first,) = map_file(export, workspace, TODAY, propose=Proposer())
    write(export, (*HEADERS, "Filiale"), [(*row, "Ost") for row in ROWS])
    proposer = Proposer()
    (second,) = map_file(export, workspace, TODAY, propose=proposer)
    assert second.path.name == "aufträge_2020_2.toml" and second.earlier == "aufträge_2020"
    assert proposer.asked == [("aufträge_2020_2", TODAY, first.map)]
    assert len(read_maps(workspace / "sources").maps) == 2


def test_each_sheet_with_other_columns_gets_its_own_map_and_an_empty_one_none(workspace: Path, tmp_path: Path):
    path = tmp_path / "book.v2.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for name, headers in (("2019", HEADERS), ("2020", HEADERS), ("Nord / Süd", (*HEADERS, "Filiale"))):
            sheet = book.add_worksheet(name.replace("/", "+"))
            sheet.write_row(0, 0, headers)
            sheet.write_row(1, 0, (*ROWS[0], "x")[: len(headers)])
    parts = map_file(path, workspace, TODAY, propose=Proposer())
    assert [part.path.name for part in parts] == ["book_2019.toml", "book_nord_süd.toml"]


def test_a_file_that_cannot_be_mapped_says_why(workspace: Path, tmp_path: Path, export: Path):
    (tmp_path / "empty.csv").write_bytes(b"")
    with pytest.raises(UnreadableFileError):
        map_file(tmp_path / "empty.csv", workspace, TODAY, propose=Proposer())
    with pytest.raises(MapError, match="has no rows to look at"):
        map_file(write(tmp_path / "header.csv", HEADERS, []), workspace, TODAY, propose=Proposer())
    with pytest.raises(WorkspaceError):
        map_file(export, tmp_path / "nowhere", TODAY, propose=Proposer())
    with pytest.raises(MapError, match="no source map is made for these columns"):
        check_file(export, workspace, NOW)
    with pytest.raises(MapError, match="no source map is made for these columns"):
        accept_file(export, workspace)


# --- seeing it at work


def test_the_check_counts_every_row_and_shows_them_as_they_would_land(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    (part,) = check_file(export, workspace, NOW)
    assert (part.n_rows, part.n_bad_lines, part.n_unclaimed, part.is_accepted) == (5, 0, 1, False)
    assert part.unclaimed[0][0] == 6 and 'Art is "S"' in part.unclaimed[0][1]
    orders, lines = part.tables
    assert (orders.table, orders.n_rows, orders.n_kept, orders.n_quarantined, orders.n_repeats) == (
        "repair_order",
        2,
        1,
        1,
        0,
    )
    assert orders.first_rows == ((2, ("A1", "V1", "2020-02-03", "123456", "km", "closed")),)
    assert (lines.table, lines.n_rows, lines.n_kept, lines.n_quarantined, lines.n_repeats) == (
        "repair_line",
        4,
        3,
        1,
        0,
    )
    assert [texts[2:] for _, texts in lines.first_rows] == [
        ("labor", "Bremse, Tel. [phone]", "1234.50"),
        ("part", "Scheibe", "12"),
        ("part", "Pumpe", "-5.00"),
    ]


def test_the_check_names_every_broken_rule_with_its_rows(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    orders, lines = check_file(export, workspace, NOW)[0].tables
    assert [(rule.rule, rule.n_rows, rule.is_set_aside) for rule in orders.broken] == [
        ("repair_order.opened_on.typed", 1, True)
    ]
    assert orders.broken[0].examples == ((4, "opened_on", "not as mapped: 31.02.20"),)
    assert {(rule.rule, *rule.examples) for rule in lines.broken} == {
        ("repair_line.kind.one_of", (5, "kind", "X")),
        ("repair_line.price_cents.typed", (5, "price", "not as mapped: 1.5")),
    }


def test_rows_that_say_the_same_twice_are_repeats(workspace: Path, tmp_path: Path):
    path = write(tmp_path / "twice.csv", HEADERS, [ROWS[0], ROWS[0]])
    map_file(path, workspace, TODAY, propose=Proposer())
    orders = check_file(path, workspace, NOW)[0].tables[0]
    assert (orders.n_rows, orders.n_kept, orders.n_repeats) == (2, 1, 1)


def test_the_check_touches_nothing_of_the_workspace(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    before = {path: path.stat().st_mtime_ns for path in workspace.rglob("*")}
    check_file(export, workspace, NOW)
    assert {path: path.stat().st_mtime_ns for path in workspace.rglob("*")} == before


# --- accepting


def test_accepting_sets_the_maps_of_the_file_to_accepted(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    (accepted,) = accept_file(export, workspace)
    assert accepted.is_accepted and read_maps(workspace / "sources").maps == (accepted,)
    assert check_file(export, workspace, NOW)[0].is_accepted


def test_nothing_is_accepted_where_a_required_column_is_missing(workspace: Path, export: Path):
    (part,) = map_file(export, workspace, TODAY, propose=Proposer())
    text = part.path.read_text(encoding="utf-8").replace(
        '[repair_order.vehicle_id]\nfrom = ["Fahrzeug"]\nconfidence = 1.0\n', ""
    )
    part.path.write_text(text, encoding="utf-8")
    with pytest.raises(MapError, match=r"\[repair_order\] vehicle_id must be filled and is not mapped"):
        accept_file(export, workspace)
    assert not read_map(part.path).is_accepted
    assert "vehicle_id must be filled" in printed(check_words(check_file(export, workspace, NOW)))


# --- what is said


def test_the_words_name_what_fills_what_and_what_to_do_next(workspace: Path, export: Path):
    said = printed(map_words(map_file(export, workspace, TODAY, propose=Proposer())))
    for words in ("aufträge_2020.toml", "km-Stand (its unit)", "counted within Auftrag", "always 'closed'", "60% ?"):
        assert words in said
    for words in (
        "not loaded: 'Kunde': names are not loaded",
        "please look at: Is it km?",
        "longmile map FILE --check",
    ):
        assert words in said


def test_the_words_of_the_check_show_rows_and_reasons(workspace: Path, export: Path):
    map_file(export, workspace, TODAY, propose=Proposer())
    said = printed(check_words(check_file(export, workspace, NOW)))
    assert "repair_order: 2 rows = 1 would be kept + 1 quarantined + 0 repeats" in said
    assert "1 quarantined: opened_on must be a date written YYYY-MM-DD" in said
    assert "row 4: opened_on is 'not as mapped: 31.02.20'" in said
    assert "1 row would be quarantined because no table takes it" in said
    assert "Invented Name" not in said


def test_columns_that_are_not_mapped_are_shown_nowhere(workspace: Path, export: Path):
    parts = map_file(export, workspace, TODAY, propose=Proposer())
    checked = check_file(export, workspace, NOW)
    told = [
        printed(map_words(parts)),
        printed(check_words(checked)),
        json.dumps([map_json(parts), check_json(checked)]),
    ]
    assert not any("Invented Name" in text for text in told)


def test_the_same_is_given_as_json(workspace: Path, export: Path):
    parts = json.loads(json.dumps(map_json(map_file(export, workspace, TODAY, propose=Proposer()))))
    assert parts[0]["state"] == "proposed" and parts[0]["not_loaded"] == {"Kunde": "names are not loaded"}
    checked = json.loads(json.dumps(check_json(check_file(export, workspace, NOW))))
    assert checked[0]["tables"][0]["n_quarantined"] == 1
    maps = accept_file(export, workspace)
    assert accepted_json(maps) == [{"map": "aufträge_2020", "accepted": True}]
    assert "Accepted: aufträge_2020" in printed(accepted_words(maps))


def test_signs_that_a_terminal_would_obey_are_shown_in_escapes(workspace: Path, tmp_path: Path):
    path = write(tmp_path / "evil.csv", HEADERS, [("\x1b[31mA1", *ROWS[0][1:])])
    map_file(path, workspace, TODAY, propose=Proposer())
    said = printed(check_words(check_file(path, workspace, NOW)))
    assert "\x1b" not in said and "\\x1b[31mA1" in said


def test_nothing_is_written_where_the_proposal_is_no_map(workspace: Path, export: Path):
    """A broken file in `sources/` would stop every later run."""

    def propose(*_: Any) -> Any:
        return SimpleNamespace(map=replace(MAP, headers=(*HEADERS, "TEXT")), not_mapped=(), questions=())

    with pytest.raises(MapError, match="'text' stands there twice"):
        map_file(export, workspace, TODAY, propose=propose)
    assert not list((workspace / "sources").iterdir())
