"""The contract: every kind of rule derived once, in order, in words; declarations that cannot be are refused."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from longmile.schemas.contract import Check, Column, ColumnType, Stage, Table
from longmile.schemas.shop import TRADE_TABLES

COLUMNS = (
    Column("job", "text", "A number.", is_required=True, max_length=8, pattern="[A-Z]+"),
    Column("wheel", "text", "A place.", allowed=("front", "rear"), severity="warn"),
    Column("paid_cents", "cents", "Money.", header="paid", is_required=True, minimum=0, maximum=20_000),
    Column("done_on", "date", "A date."),
)
WORN = Check("worn_first", "paid must be 0 where the wheel is rear", "wheel <> 'rear' OR paid_cents = 0", ("wheel",))
MANY = Check("many", "at least one job", "SELECT 1, 1, 0", level="table", severity="stop", minimum=1)


def jobs(**given: object) -> Table:
    declared: dict = {"key": ("job",), "order_column": "job", "checks": (WORN, MANY), "columns": COLUMNS, **given}
    return Table("jobs", "trade", "Jobs.", **declared)


def test_every_kind_of_rule_is_derived_once_in_order_of_declaration():
    assert [(rule.name, rule.kind, rule.columns, rule.severity) for rule in jobs().rules] == [
        ("jobs.job.required", "required", ("job",), "quarantine"),
        ("jobs.job.pattern", "pattern", ("job",), "quarantine"),
        ("jobs.job.length", "length", ("job",), "quarantine"),
        ("jobs.wheel.one_of", "one_of", ("wheel",), "warn"),
        ("jobs.paid_cents.required", "required", ("paid_cents",), "quarantine"),
        ("jobs.paid_cents.typed", "typed", ("paid_cents",), "quarantine"),
        ("jobs.paid_cents.between", "between", ("paid_cents",), "quarantine"),
        ("jobs.done_on.typed", "typed", ("done_on",), "quarantine"),
        ("jobs.key.unique", "unique", ("job",), "quarantine"),
        ("jobs.worn_first", "row", ("wheel",), "quarantine"),
        ("jobs.many", "table", (), "stop"),
    ]


def test_the_sentences_speak_of_headers_and_of_what_is_expected():
    assert [rule.sentence for rule in jobs().rules] == [
        "job must be filled in",
        "job must look like [A-Z]+",
        "job may have at most 8 characters",
        "wheel must be one of front, rear",
        "paid must be filled in",
        "paid must be an amount of money such as 1234.50",
        "paid must lie between 0 and 20,000",
        "done_on must be a date written YYYY-MM-DD",
        "two rows of one file with the same job must say the same",
        "paid must be 0 where the wheel is rear",
        "at least one job",
    ]


@pytest.mark.parametrize(
    ("minimum", "maximum", "words"),
    [
        (1900, 2100, "x must lie between 1900 and 2100"),  # a year is written without a comma
        (0, 3_000_000, "x must lie between 0 and 3,000,000"),
        (-100_000_000.0, 100_000_000.0, "x must lie between -100,000,000 and 100,000,000"),
        (0.5, 0.999, "x must lie between 0.5 and 0.999"),  # not rounded to "0 and 1"
        (0.5, None, "x must be at least 0.5"),
        (None, 9_999, "x must be at most 9999"),
        (None, 10_000, "x must be at most 10,000"),
    ],
)
def test_bounds_are_said_as_people_write_them(minimum: float | None, maximum: float | None, words: str):
    table = Table("t", "store", "A table.", (Column("x", "decimal", "X.", minimum=minimum, maximum=maximum),))
    assert [rule.sentence for rule in table.rules if rule.kind == "between"] == [words]


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("integer", "x must be a whole number"),
        ("decimal", "x must be a number"),
        ("cents", "x must be an amount of money such as 1234.50"),
        ("date", "x must be a date written YYYY-MM-DD"),
        ("moment", "x must be a moment in UTC"),
        ("boolean", "x must be true or false"),
    ],
)
def test_every_type_but_text_is_a_rule(kind: ColumnType, words: str):
    assert [r.sentence for r in Table("t", "store", "A table.", (Column("x", kind, "X."),)).rules] == [words]


def test_text_alone_states_no_rule():
    assert Table("t", "store", "A table.", (Column("x", "text", "X."),)).rules == ()


def test_a_long_closed_list_is_counted_and_not_listed():
    codes = tuple(f"code_{i}" for i in range(11))
    listed = Table("t", "store", "A table.", (Column("x", "text", "X.", allowed=codes[:10]),)).rules[0]
    counted = Table("t", "store", "A table.", (Column("x", "text", "X.", allowed=codes),)).rules[0]
    assert listed.sentence == f"x must be one of {', '.join(codes[:10])}"
    assert counted.sentence == "x must be one of the 11 codes of the vocabulary"


@pytest.mark.parametrize("stage", ["store", "life", "result"])
def test_only_trade_tables_state_their_key_as_a_rule(stage: Stage):
    table = Table("t", stage, "A table.", (Column("x", "text", "X."),), key=("x",))
    assert [rule.kind for rule in table.rules] == []


def test_row_and_table_rules_part_the_rules():
    table = jobs()
    assert sorted((*table.row_rules, *table.table_rules), key=table.rules.index) == list(table.rules)
    assert [rule.name for rule in table.table_rules] == ["jobs.many"]


def test_a_rule_knows_the_column_or_the_check_that_states_it():
    table = jobs()
    assert all(rule.column is table.column(rule.columns[0]) for rule in table.rules[:8])
    assert [rule.check for rule in table.rules[8:]] == [None, WORN, MANY]


@pytest.mark.parametrize(
    "given",
    [
        {"key": ("job", "axle")},
        {"order_column": "axle"},
        {"checks": (Check("c", "axle must be there", "axle > 0", ("job", "axle")),)},
    ],
    ids=["key", "order", "check"],
)
def test_an_unknown_column_in_a_key_an_order_or_a_check_is_refused(given: dict):
    with pytest.raises(ValueError, match=r"table jobs: .*unknown columns: axle$"):
        jobs(**given)


def test_a_column_declared_twice_is_refused():
    with pytest.raises(ValueError, match=r"table jobs: declared twice: wheel$"):
        jobs(columns=(*COLUMNS, COLUMNS[1]))


def test_an_unknown_column_asked_for_names_those_there_are():
    with pytest.raises(KeyError, match="table jobs has no column 'axle'; it has job, wheel, paid_cents, done_on"):
        jobs().column("axle")


def test_declarations_cannot_be_changed():
    with pytest.raises(FrozenInstanceError):
        jobs().name = "work"  # type: ignore[misc]


@pytest.mark.parametrize("table", TRADE_TABLES, ids=lambda table: table.name)
def test_no_two_columns_of_a_trade_table_come_under_one_header(table: Table):
    headers = [column.incoming for column in table.columns]
    assert len(set(headers)) == len(headers)
