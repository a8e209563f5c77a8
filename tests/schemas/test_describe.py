"""The data dictionary: the committed file is what the contract says, and every table and column is in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from longmile.schemas.contract import Table
from longmile.schemas.describe import data_dictionary
from longmile.schemas.registry import TABLES

COMMITTED = Path(__file__).parents[2] / "schemas" / "DATA_DICTIONARY.md"
DESCRIBED = [table for table in TABLES if not table.name.startswith("raw_")]


def section(name: str) -> str:
    return data_dictionary().split(f"\n### {name}\n")[1].split("\n##")[0]


def test_the_committed_dictionary_is_what_the_contract_says():
    assert COMMITTED.read_text(encoding="utf-8") == data_dictionary(), (
        "schemas/DATA_DICTIONARY.md is out of date; run: longmile dictionary > schemas/DATA_DICTIONARY.md"
    )


@pytest.mark.parametrize("table", DESCRIBED, ids=lambda table: table.name)
def test_every_column_has_one_row_of_five_cells(table: Table):
    rows = [line for line in section(table.name).splitlines() if line.startswith("| ")][1:]
    cells = [[cell.strip() for cell in re.split(r"(?<!\\)\|", row)[1:-1]] for row in rows]
    assert [len(row) for row in cells] == [5] * len(table.columns)
    assert [re.split(r"[* ]", row[0])[0] for row in cells] == list(table.column_names)
    assert [row[1:4] for row in cells] == [[c.type, c.unit, c.description] for c in table.columns]
    assert ["*" in row[0] for row in cells] == [c.is_required for c in table.columns]


def test_headers_that_differ_and_rules_that_only_warn_are_said():
    lines = section("repair_line")
    assert "| cost_cents (`cost`) | cents | cents | What the line cost the shop. |" in lines
    assert re.search(r"\| component_code .*\(warns\) \|", lines)
    assert "- Rule `repair_line.order_unknown` (warn): share of lines whose repair order has not landed" in lines


def test_landing_tables_are_explained_once_and_not_listed():
    said = data_dictionary()
    assert "### raw_" not in said
    assert said.count("`raw_`") == 1
