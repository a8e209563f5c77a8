"""Results as rows of the table that keeps them."""

from __future__ import annotations

import json

from longmile.pipelines.checks.results import Example, RowRuleResult, TableCheckResult

DDL = """CREATE TABLE check_result (table_name TEXT, rule TEXT, severity TEXT, sentence TEXT,
    n_checked BIGINT, n_failed BIGINT, observed DOUBLE, outcome TEXT, examples TEXT)"""


def test_both_kinds_of_result_fill_the_same_table(connection):
    of_rows = RowRuleResult(
        "job", "job.a.typed", "warn", "a must be a number", 8, 2, (Example(3, 'é"'), Example(5, None))
    )
    of_table = TableCheckResult("job", "job.share", "stop", "share", None, 0.1, 0.2, 9, 1, "failed")
    connection.execute(DDL)
    for result in (of_rows, of_table):
        row = result.as_row()
        names, marks = ", ".join(row), ", ".join(f"${name}" for name in row)
        connection.execute(f"INSERT INTO check_result ({names}) VALUES ({marks})", row)
    kept = connection.execute("FROM check_result").fetchall()
    assert kept[0][:8] == ("job", "job.a.typed", "warn", "a must be a number", 8, 2, 0.25, "failed")  # 2 / 8
    assert json.loads(kept[0][8]) == [[3, 'é"'], [5, None]]
    assert kept[1] == ("job", "job.share", "stop", "share", 9, 1, None, "failed", "[]")


def test_a_rule_that_no_row_broke_has_passed():
    assert RowRuleResult("job", "job.a.typed", "warn", "a must be a number", 8, 0).outcome == "passed"
