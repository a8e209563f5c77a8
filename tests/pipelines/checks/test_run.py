"""Rules run through Great Expectations, and the two readings of one contract held against each other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from longmile.pipelines.checks import broken_rules, expectations, run
from longmile.pipelines.checks.gate import CheckNotRunError
from longmile.pipelines.checks.results import Example
from longmile.pipelines.checks.run import ReadingsDisagreeError, check_rows, check_table, raise_if_stopped
from longmile.pipelines.errors import CheckStoppedError, LongmileError
from longmile.schemas.contract import Check, Column, Table
from longmile.schemas.shop import TRADE_TABLES


def test_each_rule_is_counted_as_often_as_it_is_broken_by_hand(connection, gate, stage, job, dirty_rows):
    stage(connection, job, "staged_job", dirty_rows)
    outcome = check_rows(gate, job, "staged_job")
    # Counted from the comments beside `dirty_rows`; row 11 adds one to six of them.
    assert {told.rule: told.n_failed for told in outcome.broken} == {
        "job.order_no.required": 2,  # rows 2, 11
        "job.order_no.length": 1,  # 7
        "job.line_no.typed": 1,  # 3
        "job.line_no.between": 2,  # 5, 11
        "job.kind.one_of": 2,  # 4, 11
        "job.part_number.pattern": 2,  # 6, 11
        "job.labor_hours.typed": 1,  # 10
        "job.labor_hours.between": 1,  # 10
        "job.key.unique": 1,  # 8
        "job.closed_not_before_opened": 2,  # 9, 11
        "job.hours_have_a_price": 1,  # 11
    }
    assert outcome.n_rows == 12
    assert {told.n_checked for told in outcome.rules} == {12}


def test_examples_name_the_row_and_the_text_that_came(connection, gate, stage, job, dirty_rows):
    stage(connection, job, "staged_job", dirty_rows)
    told = {result.rule: result.examples for result in check_rows(gate, job, "staged_job").rules}
    assert told["job.part_number.pattern"] == (Example(6, "ab-1"), Example(11, "zz"))
    assert told["job.order_no.required"] == (Example(2, None), Example(11, None))
    assert told["job.price_cents.typed"] == ()


def test_at_most_five_examples_are_given_the_first_of_the_file(connection, gate, stage, job):
    stage(connection, job, "staged_job", [{"order_no": "A", "line_no": f"{100 + n}"} for n in range(9)])
    between = next(r for r in check_rows(gate, job, "staged_job").rules if r.rule == "job.line_no.between")
    assert between.n_failed == 9
    assert [example.row_number for example in between.examples] == [1, 2, 3, 4, 5]


@pytest.mark.parametrize("table", TRADE_TABLES, ids=lambda table: table.name)
def test_no_rule_that_the_contract_states_is_skipped(connection, gate, stage, table):
    # One row of nonsense and one empty row: every text "?", which is text and nothing else.
    nonsense = {column.name: "?" for column in table.columns}
    stage(connection, table, "staged", [nonsense, {}])
    outcome = check_rows(gate, table, "staged")
    assert [told.rule for told in outcome.rules] == [rule.name for rule in table.row_rules]
    broken = {told.rule for told in outcome.broken}
    expected = {rule.name for rule in table.row_rules if rule.kind in ("required", "typed", "one_of")}
    assert broken == expected


def test_an_empty_file_breaks_nothing(connection, gate, stage, job):
    stage(connection, job, "staged_job", [])
    outcome = check_rows(gate, job, "staged_job")
    assert outcome.n_rows == 0
    assert outcome.broken == ()
    assert outcome.as_rows()[0]["observed"] is None


@pytest.mark.parametrize("kind", ["required", "typed", "one_of", "between", "pattern", "length", "unique", "row"])
def test_readings_that_disagree_on_a_rule_are_refused_and_both_counts_are_told(
    connection, gate, stage, job, dirty_rows, monkeypatch, kind
):
    sound = broken_rules.condition
    monkeypatch.setattr(broken_rules, "condition", lambda r: "FALSE" if r.kind == kind else sound(r))
    stage(connection, job, "staged_job", dirty_rows)
    with pytest.raises(ReadingsDisagreeError, match=r"Great Expectations counts [12] and .* counts 0"):
        check_rows(gate, job, "staged_job")
    assert issubclass(ReadingsDisagreeError, LongmileError)


def test_readings_of_a_different_number_of_rows_are_refused(connection, gate, stage, job, monkeypatch):
    stage(connection, job, "staged_job", [{"order_no": "A", "line_no": "1"}])
    monkeypatch.setattr(run, "_count", lambda connection, staged: 2)
    with pytest.raises(ReadingsDisagreeError, match="its number of rows, Great Expectations counts 1 and"):
        check_rows(gate, job, "staged_job")


def test_a_rule_left_out_of_the_suite_is_noticed(connection, gate, stage, job, monkeypatch):
    whole = expectations.row_suite

    def short(table, n_rows):
        suite = whole(table, n_rows)
        suite.expectations.pop()
        return suite

    monkeypatch.setattr(expectations, "row_suite", short)
    stage(connection, job, "staged_job", [{"order_no": "A", "line_no": "1"}])
    with pytest.raises(CheckNotRunError, match=r"rule job\.hours_have_a_price was not run"):
        check_rows(gate, job, "staged_job")


def test_a_predicate_that_cannot_be_run_is_named(connection, gate, stage, job):
    faulty = replace(job, checks=(Check("odd", "odd", "no_such_column > 1"),))
    stage(connection, faulty, "staged_job", [{"order_no": "A", "line_no": "1"}])
    with pytest.raises(CheckNotRunError, match=r"(?s)no_such_column.*/\* rule job\.odd \*/"):
        check_rows(gate, faulty, "staged_job")


def test_an_error_that_aborts_the_transaction_is_told_not_the_ones_that_follow_from_it(
    connection, gate, stage, job, capfd
):
    # Text that is no number fails only while running, and DuckDB then refuses everything until a rollback.
    faulty = replace(job, checks=(Check("odd", "odd", "CAST('x' || order_no AS INTEGER) > 1"), *job.checks))
    connection.begin()
    stage(connection, faulty, "staged_job", [{"order_no": "A", "line_no": "1"}])
    with pytest.raises(CheckNotRunError, match=r"(?s)Could not convert string 'xA'.*/\* rule job\.odd \*/"):
        check_rows(gate, faulty, "staged_job")
    connection.rollback()
    assert capfd.readouterr() == ("", "")


def _share(name, **limits):
    # Three rows, one of them TRUE: observed 1/3, checked 3, failed 1.
    query = "SELECT avg(missing::INT), count(*), count(*) FILTER (missing) FROM seen"
    return Check(name, f"{name} in words", query, level="table", **limits)


@pytest.fixture
def seen(connection):
    connection.execute("CREATE TABLE seen AS SELECT * FROM (VALUES (TRUE), (FALSE), (FALSE)) AS t(missing)")


def _table(*checks):
    return Table("visit", "trade", "A visit.", (Column("visit_id", "text", "Number."),), checks=checks)


@pytest.mark.parametrize(
    ("limits", "outcome"),
    [
        ({"maximum": 0.3}, "failed"),
        ({"maximum": 0.34}, "passed"),
        ({"minimum": 0.34}, "failed"),
        ({"minimum": 0.3}, "passed"),
        ({"minimum": 0.3, "maximum": 0.34}, "passed"),
        ({"minimum": 0.4, "maximum": 0.5}, "failed"),
    ],
)
def test_a_table_rule_holds_where_the_observed_value_lies_within_its_limits(gate, seen, limits, outcome):
    (told,) = check_table(gate, [_table(_share("unknown", severity="warn", **limits))])
    assert told.rule == "visit.unknown"
    assert told.observed == pytest.approx(1 / 3, abs=1e-15)
    assert (told.n_checked, told.n_failed, told.outcome) == (3, 1, outcome)
    assert (told.minimum, told.maximum) == (limits.get("minimum"), limits.get("maximum"))


def test_the_limits_themselves_are_within(connection, gate):
    check = Check("two", "two", "SELECT 2, 2, 0", level="table", minimum=2, maximum=2)
    assert check_table(gate, [_table(check)])[0].outcome == "passed"


@pytest.mark.parametrize("observed", ["NULL", "'nan'::DOUBLE", "'inf'::DOUBLE"])
def test_a_table_rule_without_a_finite_number_has_failed_and_says_so(gate, observed):
    check = Check("odd", "odd", f"SELECT {observed}, 4, 0", level="table", maximum=1e9)
    (told,) = check_table(gate, [_table(check)])
    assert (told.outcome, told.observed, told.n_checked) == ("failed", None, 4)


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("SELECT 1, 1, 0 WHERE FALSE", "got \\[\\]"),
        ("SELECT * FROM (VALUES (1, 1, 0), (2, 2, 0))", "expected one row"),
        ("SELECT 1, NULL, 0", "expected one row"),
        ("SELECT count(*), 1, 0 FROM not_there", "not_there"),
    ],
)
def test_a_table_rule_that_gives_no_answer_is_named(gate, query, told):
    with pytest.raises(CheckNotRunError, match=rf"(?s)rule.* could not be run: .*{told}"):
        check_table(gate, [_table(Check("odd", "odd", query, level="table"))])


def test_a_stop_rule_is_reported_and_then_stops_naming_all_of_them(gate, seen):
    results = check_table(
        gate,
        [
            _table(
                _share("first", severity="stop", maximum=0.1),
                _share("second", severity="stop", minimum=0.5),
                _share("kept", severity="warn", maximum=0.1),
                _share("sound", severity="stop", maximum=0.9),
            )
        ],
    )
    assert [told.outcome for told in results] == ["failed", "failed", "failed", "passed"]
    with pytest.raises(CheckStoppedError) as stopped:
        raise_if_stopped(results)
    message = str(stopped.value)
    assert "2 of 4 rules stop the run" in message
    assert "visit.first (first in words): observed 0.333333, expected at most 0.1" in message
    assert "visit.second (second in words): observed 0.333333, expected at least 0.5" in message
    assert "kept" not in message
    assert "sound" not in message


def test_warnings_alone_do_not_stop_a_run(gate, seen):
    raise_if_stopped(check_table(gate, [_table(_share("kept", severity="warn", maximum=0.1))]))


def test_no_table_rules_give_no_results(gate):
    assert check_table(gate, [_table()]) == []


def test_the_shops_own_table_rules_run_against_tables_of_the_names_they_use(connection, gate):
    # Four vehicles, families e1, e1, e2 and none known for the fourth; two orders, the second of an unknown
    # vehicle; two replaced lines, one with a known component; as-of 100 days after the newest order.
    connection.execute("""
        CREATE TABLE current_engine_family AS SELECT * FROM (VALUES ('e1'), ('e2')) t(engine_family);
        CREATE TABLE current_vehicle AS
          SELECT * FROM (VALUES ('v1', 'e1'), ('v2', 'e1'), ('v3', 'e2'), ('v4', 'e9'))
          t(vehicle_id, engine_family);
        CREATE TABLE current_repair_order AS SELECT * FROM (VALUES
          ('r1', 'v1', DATE '2024-01-01', 1000.0), ('r2', 'v9', DATE '2024-01-11', 3000.0)
        ) t(repair_order_id, vehicle_id, opened_on, odometer_in);
        CREATE TABLE current_repair_line AS SELECT * FROM (VALUES
          ('r1', 'pump', 'replaced'), ('r1', NULL, 'replaced'), ('r3', NULL, 'inspected')
        ) t(repair_order_id, component_code, action);
        CREATE TABLE component AS SELECT 'pump' AS component_code;
        CREATE TABLE asked AS SELECT DATE '2024-04-20' AS as_of;
    """)
    told = {result.rule: result for result in check_table(gate, TRADE_TABLES)}
    assert list(told) == [rule.name for table in TRADE_TABLES for rule in table.table_rules]
    assert told["vehicle.family_unknown"].observed == 0.25  # v4: 1 of 4
    assert told["repair_order.any_rows"].observed == 2
    assert told["repair_order.vehicle_unknown"].observed == 0.5  # r2: 1 of 2
    assert told["repair_order.freshness"].observed == 100  # 11 Jan to 20 Apr 2024: 20 + 29 + 31 + 20
    assert told["repair_order.odometer_drift"].observed == 1  # no order in the 12 months before: no drift to see
    assert told["repair_line.component_unknown"].observed == 0.5  # 1 of the 2 replaced
    assert told["repair_line.order_unknown"].observed == pytest.approx(1 / 3, abs=1e-15)  # r3: 1 of 3
    assert [name for name, result in told.items() if result.outcome == "failed"] == [
        "vehicle.family_unknown",
        "repair_order.vehicle_unknown",
        "repair_order.freshness",
        "repair_line.component_unknown",
        "repair_line.order_unknown",
    ]
    raise_if_stopped(list(told.values()))


def test_a_shop_without_orders_is_stopped(connection, gate):
    order = next(table for table in TRADE_TABLES if table.name == "repair_order")
    only = replace(order, checks=tuple(check for check in order.checks if check.name == "any_rows"))
    connection.execute("CREATE TABLE current_repair_order (repair_order_id VARCHAR)")
    with pytest.raises(CheckStoppedError, match=r"repair_order\.any_rows .*observed 0, expected at least 1"):
        raise_if_stopped(check_table(gate, [only]))
