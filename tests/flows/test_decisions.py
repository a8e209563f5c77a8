"""Decisions as typed and as filled in, kept in the store; lists written for spreadsheets; originals purged."""

from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.answers import answer_of
from longmile.pipelines.flows.decide import Decided, take_decisions
from longmile.pipelines.flows.decision_file import read_decisions
from longmile.pipelines.flows.purge import purge_originals
from longmile.pipelines.flows.spreadsheet import harmless, plain, write_table
from longmile.pipelines.store.store import Store


@pytest.mark.parametrize(
    ("kind", "words", "answer"),
    [
        ("vehicle", "apart", {"apart": True}),
        ("vehicle", "join V0001 B", {"join": "V0001 B"}),
        ("odometer", "52,310", {"miles": 52_310.0}),
        ("odometer", "Leave_Out", {"use": "leave_out"}),
        ("odometer", "as_written", {"use": "as_written"}),
        ("order_link", "ACCEPT", {"link": "accept"}),
        ("order_link", "undo", None),
        ("vehicle", "Undo", None),
    ],
)
def test_words_become_answers(kind: str, words: str, answer: object):
    assert answer_of(kind, words) == answer


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("vehicle", "join"),
        ("vehicle", "yes"),
        ("odometer", "-1"),
        ("odometer", "nan"),
        ("odometer", "soon"),
        ("order_link", ""),
    ],
)
def test_what_is_no_answer_is_refused_with_what_may_be(kind: str, words: str):
    with pytest.raises(LongmileError, match=r"is no answer for .* Expected .*undo"):
        answer_of(kind, words)


def test_an_unknown_kind_names_the_nearest():
    with pytest.raises(LongmileError, match="Nearest is vehicle"):
        answer_of("vehicles", "apart")


def test_decisions_are_appended_numbered_and_each_later_than_the_one_before(tmp_path: Path):
    with Store(tmp_path / "s.duckdb") as store:
        noon = datetime(2025, 3, 1, 12)
        assert take_decisions(store, [Decided("vehicle", "V1", {"apart": True}, "KD", "two cars")], noon) == 1
        assert (
            take_decisions(store, [Decided("vehicle", "V1", None), Decided("odometer", "7|in", {"miles": 1.0})], noon)
            == 2
        )
        assert take_decisions(store, [], noon) == 0
        rows = store.rows("SELECT decision_no, decided_at, subject, answer, decided_by, note FROM decision ORDER BY 1")
    assert [row[0] for row in rows] == [1, 2, 3]
    assert rows[0][2:] == ("V1", '{"apart": true}', "KD", "two cars") and rows[1][2:4] == ("V1", "null")
    assert noon == rows[0][1] < rows[1][1] < rows[2][1]


@pytest.mark.parametrize("name", ["list.xlsx", "vehicle.csv"])
def test_a_list_filled_in_comes_back_with_open_and_wrong_rows_counted(tmp_path: Path, name: str):
    path = tmp_path / name
    rows = [["V1", "apart", "=two"], ["V2", None, None], ["V3", "perhaps", None], ["-V4", "join V1", None]]
    write_table(path, {"vehicle": (("subject", "answer", "note"), rows)}, {"subject": "which one"})
    read = read_decisions(path, "KD")
    assert read.made == (
        Decided("vehicle", "V1", {"apart": True}, "KD", "=two"),
        Decided("vehicle", "-V4", {"join": "V1"}, "KD", ""),
    )
    assert read.n_open == 1 and [(sheet, row) for sheet, row, _ in read.refused] == [("vehicle", 4)]


def test_a_list_without_its_columns_or_kind_is_refused(tmp_path: Path):
    for name, header in (("vehicle.csv", "subject,what"), ("other.csv", "subject,answer")):
        (tmp_path / name).write_text(f"{header}\nV1,apart\n")
        with pytest.raises(LongmileError, match="Expected a list as"):
            read_decisions(tmp_path / name, "")


# Cells that spreadsheet programs take for formulas: OWASP, "CSV Injection" (= + - @, tab, carriage return).
@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_cell_written_begins_like_a_formula(tmp_path: Path, cell: str):
    for name in ("t.xlsx", "t.csv"):
        write_table(tmp_path / name, {"t": (("a",), [[cell]])}, {})
    sheet = openpyxl.load_workbook(tmp_path / "t.xlsx").active
    assert sheet is not None and sheet["A2"].data_type == "s" and str(sheet["A2"].value).startswith("'")
    assert (tmp_path / "t.csv").read_bytes().splitlines()[1].lstrip(b'"').startswith(b"'")


@given(st.text(max_size=20))
def test_what_was_made_harmless_comes_back_as_it_was(text: str):
    once = harmless(text)
    assert not once.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert plain(once) == text or text.startswith("'")


def test_a_table_that_cannot_be_written_says_why(tmp_path: Path):
    with pytest.raises(LongmileError, match=r"Expected a name ending in .xlsx or .csv"):
        write_table(tmp_path / "t.ods", {"t": (("a",), [])}, {})
    with pytest.raises(LongmileError, match="cannot be written"):
        write_table(tmp_path / "no" / "t.xlsx", {"t": (("a",), [])}, {})


def test_originals_are_purged_all_or_by_day(tmp_path: Path):
    import os

    for name, day in (("old.csv", 1), ("new.csv", 20)):
        (tmp_path / name).write_text("123")
        moment = datetime(2025, 3, day, 12).timestamp()
        os.utime(tmp_path / name, (moment, moment))
    done = purge_originals(tmp_path, date(2025, 3, 20))
    assert (done.n_files, done.n_bytes, done.n_kept) == (1, 3, 1) and [p.name for p in tmp_path.iterdir()] == [
        "new.csv"
    ]
    assert purge_originals(tmp_path, None).n_files == 1 and not list(tmp_path.iterdir())
