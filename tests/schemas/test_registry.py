"""All declared tables together: one meaning for one name, and every table and column described."""

from __future__ import annotations

import pytest

from longmile.schemas.contract import Column, ColumnType, Table
from longmile.schemas.registry import TABLES, refuse_double_meanings, table
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import VERSION_COLUMNS


def one_column(name: str, kind: ColumnType = "decimal", unit: str = "miles", of: str = "tyre") -> Table:
    return Table(of, "store", "A table for this test.", (Column(name, kind, "A column.", unit=unit),))


def test_the_declared_tables_have_one_meaning_for_one_name():
    refuse_double_meanings(TABLES)
    assert len({declared.name for declared in TABLES}) == len(TABLES)


def test_two_types_for_one_name_are_refused_with_both_places():
    with pytest.raises(ValueError, match=r"column tread: decimal in 'miles' in tyre, but integer in 'miles' in rim"):
        refuse_double_meanings((one_column("tread"), one_column("tread", kind="integer", of="rim")))


def test_two_units_for_one_name_are_refused_with_both_places():
    with pytest.raises(ValueError, match=r"column tread: decimal in 'miles' in tyre, but decimal in 'days' in rim"):
        refuse_double_meanings((one_column("tread"), one_column("tread", unit="days", of="rim")))


def test_the_same_meaning_twice_is_allowed():
    refuse_double_meanings((one_column("tread"), one_column("tread", of="rim")))


def test_a_unit_that_is_not_on_the_list_is_refused():
    with pytest.raises(ValueError, match=r"tyre\.tread: unit 'furlongs' is not in units\.UNITS"):
        refuse_double_meanings((one_column("tread", unit="furlongs"),))


def test_the_store_adds_no_column_that_means_something_else_in_a_trade_table():
    added = Table("added", "store", "What the store adds.", VERSION_COLUMNS)
    refuse_double_meanings((*TRADE_TABLES, added))
    assert not {c.name for c in VERSION_COLUMNS} & {n for trade in TRADE_TABLES for n in trade.column_names}


def test_a_table_is_found_by_name_and_a_misspelt_one_names_the_nearest():
    assert table("repair_line").name == "repair_line"
    with pytest.raises(KeyError, match="no table 'repair_lines'; nearest is 'repair_line'"):
        table("repair_lines")


@pytest.mark.parametrize("declared", TABLES, ids=lambda declared: declared.name)
def test_every_table_and_column_is_described_in_whole_sentences(declared: Table):
    described = {"": declared.description, **{c.name: c.description for c in declared.columns}}
    wrong = [name for name, words in described.items() if len(words) < 4 or not words.endswith(".") or "\n" in words]
    assert wrong == []


@pytest.mark.parametrize("declared", TABLES, ids=lambda declared: declared.name)
def test_every_rule_has_its_own_name_and_a_sentence_without_a_full_stop(declared: Table):
    # The places that show a rule's sentence put the full stop, or what was found, behind it.
    names = [rule.name for rule in declared.rules]
    assert len(set(names)) == len(names)
    assert [r.name for r in declared.rules if r.sentence.endswith(".") or len(r.sentence.split()) < 4] == []
