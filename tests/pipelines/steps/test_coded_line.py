from __future__ import annotations

import json

import polars as pl
import pytest

from longmile.pipelines.coding.line_text import LineText, text_key
from longmile.pipelines.errors import LongmileError
from longmile.pipelines.steps.coded_line import coded_lines
from longmile.pipelines.store.frames import as_table
from longmile.schemas.coding import CODED_LINE, CODING_MODEL

TEXT = pl.String()
LINE = {
    "repair_order_id": TEXT, "line_no": pl.Int64(), "kind": TEXT, "component_code": TEXT, "position": TEXT,
    "action": TEXT, "reason": TEXT, "description": TEXT, "cause": TEXT, "correction": TEXT, "concern": TEXT,
}  # fmt: skip


def lines(*rows: dict) -> pl.DataFrame:
    given = [{"repair_order_id": "R1", "line_no": i, "kind": "labor"} | row for i, row in enumerate(rows, 1)]
    return pl.DataFrame(given, schema=LINE)


def decisions(**answers: object) -> pl.DataFrame:
    rows = [(subject, None if a is None else json.dumps({"mentions": a})) for subject, a in answers.items()]
    return pl.DataFrame(rows, schema={"subject": TEXT, "answer": TEXT}, orient="row")


def coded(frame: pl.DataFrame, *columns: str) -> list[tuple]:
    return frame.select("line_no", *columns).rows()


def test_rows_are_those_of_the_contract():
    made = coded_lines(lines({"description": "Replaced water pump"}), decisions())
    assert as_table(made.coded_line, CODED_LINE).height == 1
    assert as_table(made.coding_model, CODING_MODEL)["is_used"].to_list() == [False]


def test_a_plain_line_is_coded_and_lines_that_say_the_same_are_read_once():
    frame = lines({"correction": "Replaced water pump"}, {"correction": "Replaced water pump"})
    made = coded_lines(frame, decisions())
    assert made.n_read == 1
    assert coded(made.coded_line, "component_code", "action", "coding_state") == [
        (1, "water_pump", "replaced", "coded"),
        (2, "water_pump", "replaced", "coded"),
    ]


def test_several_components_are_several_rows_and_an_open_line_is_one():
    frame = lines({"correction": "Replaced water pump and thermostat"}, {"correction": "Replaced pump"})
    made = coded_lines(frame, decisions()).coded_line
    assert coded(made, "mention_no", "component_code", "coding_state") == [
        (1, 1, "water_pump", "coded"),
        (1, 2, "thermostat", "coded"),
        (2, 1, None, "unsure"),
    ]


def test_lines_without_text_are_counted_and_given_no_row():
    made = coded_lines(lines({}, {"description": " "}), decisions())
    assert (made.coded_line.height, made.n_without_text) == (0, 2)


def test_a_line_keeps_the_component_it_came_with_and_is_filled_where_it_is_empty():
    frame = lines(
        {"component_code": "wheel_bearing", "description": "Replaced LF wheel bearing, noisy"},
        {"component_code": "alternator", "action": "repaired", "reason": "worn", "description": "Replaced alternator"},
        {"component_code": "starter_motor", "description": "see notes"},
    )
    made = coded_lines(frame, decisions())
    assert coded(made.coded_line, "component_code", "position", "action", "reason") == [
        (1, "wheel_bearing", "lf", "replaced", "failed")
    ]
    assert made.n_filled == 1


def test_an_unknown_code_is_no_component_and_the_text_is_read():
    made = coded_lines(lines({"component_code": "WTRPMP", "description": "Replaced water pump"}), decisions())
    assert coded(made.coded_line, "component_code") == [(1, "water_pump")]


def test_a_decision_about_a_text_holds_for_all_lines_that_say_it():
    key = text_key(LineText("labor", "r&r pump", "", ""))
    frame = lines({"description": "R&R pump"}, {"description": "r&r  pump"}, {"description": "r&r alternator"})
    made = coded_lines(frame, decisions(**{f"text|{key}": [{"component": "fuel_pump", "action": "replaced"}]}))
    assert coded(made.coded_line, "component_code", "coding_stage") == [
        (1, "fuel_pump", "reviewed"),
        (2, "fuel_pump", "reviewed"),
        (3, "alternator", "vocabulary"),
    ]


def test_a_decision_about_a_line_stands_before_that_about_its_text_and_none_is_an_answer():
    key = text_key(LineText("labor", "r&r pump", "", ""))
    told = {f"text|{key}": [{"component": "fuel_pump"}], "line|R1|2": []}
    made = coded_lines(lines({"description": "r&r pump"}, {"description": "r&r pump"}), decisions(**told))
    assert coded(made.coded_line, "component_code", "coding_state") == [
        (1, "fuel_pump", "coded"),
        (2, None, "no_component"),
    ]


def test_a_decision_taken_back_counts_no_more():
    key = text_key(LineText("labor", "r&r pump", "", ""))
    made = coded_lines(lines({"description": "r&r pump"}), decisions(**{f"text|{key}": None}))
    assert coded(made.coded_line, "coding_state") == [(1, "unsure")]


def test_a_decision_that_names_no_component_is_refused_by_name():
    told = decisions(**{"line|R1|1": [{"component": "flux_capacitor"}]})
    with pytest.raises(LongmileError, match=r"line\|R1\|1: 'flux_capacitor' is no component"):
        coded_lines(lines({"description": "r&r pump"}), told)


def test_what_the_same_model_read_before_is_not_read_again():
    frame = lines({"description": "Replaced water pump"}, {"description": "Replaced pump"})
    first = coded_lines(frame, decisions())
    again = coded_lines(frame, decisions(), earlier=first.coded_line)
    assert again.n_read == 0
    assert again.coded_line.equals(first.coded_line)


def test_the_order_of_lines_makes_no_difference():
    frame = lines({"description": "Replaced water pump"}, {"description": "Replaced pump"}, {"description": "LOF"})
    assert coded_lines(frame.reverse(), decisions()).coded_line.equals(coded_lines(frame, decisions()).coded_line)
