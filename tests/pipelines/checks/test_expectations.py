"""Rules as expectations: hostile names and values arrive in DuckDB as they were written."""

from __future__ import annotations

import pytest

from longmile.pipelines.checks.broken_rules import broken_rules_sql
from longmile.pipelines.checks.expectations import as_written, row_suite
from longmile.pipelines.checks.gate import CheckNotRunError
from longmile.pipelines.checks.run import check_rows, check_table
from longmile.schemas.contract import Check, Column, Table
from longmile.schemas.shop import TRADE_TABLES

HOSTILE = "x:y :z ::t 'q' \"d\" {a} {{b}} %(c)s %s 100% $1 ? \\:k \\ ; --"
ODD = "odd 'name' {x} :y 50%"


def _quoted(text):
    return "'" + text.replace("'", "''") + "'"


def test_values_with_braces_quotes_percent_and_colons_survive_in_every_kind_of_rule(connection, gate, stage):
    odd = Table(
        "odd",
        "trade",
        "Hostile names and values.",
        (
            Column("listed", "text", "Closed list.", allowed=(HOSTILE, "plain")),
            Column("matched", "text", "Pattern.", pattern=r"\d{2}:\d{2} :[a-z]{1,3}('|\")%?"),
            Column(ODD, "text", "Odd name.", is_required=True, max_length=5),
            Column("n", "integer", "Number.", minimum=0),
        ),
        key=(ODD, "n"),
        checks=(Check("said", "said", f"listed IS NULL OR listed <> {_quoted(HOSTILE)}", ("listed",)),),
    )
    rows = [
        {"listed": HOSTILE, "matched": "12:30 :ab'", ODD: "ok", "n": "1"},  # 1 said
        {"listed": HOSTILE + "!", "matched": '12:30 :abc"%', ODD: "ok", "n": "2"},  # 2 one_of
        {"listed": "plain", "matched": "12.30 :ab'", ODD: "toolong", "n": "-3"},  # 3 pattern, length, between
        {"listed": None, "matched": None, ODD: None, "n": "x"},  # 4 required, typed
        {"listed": "plain", "matched": "12:30 :ab'", ODD: "ok", "n": "1"},  # 5 unique
    ]
    staged = 'staged "odd" {x} %s'
    stage(connection, odd, staged, rows)
    told = {result.rule: [e.row_number for e in result.examples] for result in check_rows(gate, odd, staged).broken}
    assert told == {
        "odd.listed.one_of": [2],
        "odd.matched.pattern": [3],
        f"odd.{ODD}.required": [4],
        f"odd.{ODD}.length": [3],
        "odd.n.typed": [4],
        "odd.n.between": [3],
        "odd.key.unique": [5],
        "odd.said": [1],
    }
    first = connection.execute(
        f"SELECT first_value FROM ({broken_rules_sql(odd, staged)}) WHERE row_number = 2"
    ).fetchall()
    assert first == [(HOSTILE + "!",)]


def test_a_column_name_the_library_cannot_read_is_an_error_that_names_the_rule_never_a_wrong_count(
    connection, gate, stage
):
    # Its parser of conditions stops at a double quote. No column of the contract has one.
    odd = Table("odd", "trade", "O.", (Column('a "b"', "text", "Odd.", max_length=2),))
    stage(connection, odd, "staged", [{'a "b"': "long"}])
    with pytest.raises(CheckNotRunError, match=r'rule odd\.a "b"\.length could not be run'):
        check_rows(gate, odd, "staged")


def test_a_table_rule_may_hold_braces_colons_and_casts(connection, gate):
    query = f"SELECT (length({_quoted(HOSTILE)}))::DOUBLE, map_keys(MAP {{'a': 1}}).len(), 0 -- last: {{batch}}"
    table = Table("t", "trade", "T.", (Column("a", "text", "A."),), checks=(Check("odd", "odd", query, level="table"),))
    (told,) = check_table(gate, [table])
    assert (told.observed, told.n_checked) == (len(HOSTILE), 1)


def test_braces_are_doubled_and_colons_escaped():
    assert as_written("x::INT = '{:a}'") == "x\\:\\:INT = '{{\\:a}}'"


@pytest.mark.parametrize("table", TRADE_TABLES, ids=lambda table: table.name)
def test_every_row_rule_has_one_expectation_that_carries_its_name(table):
    named = [expectation.meta["rule"] for expectation in row_suite(table, 0).expectations]
    assert named == ["row_count", *(rule.name for rule in table.row_rules)]
