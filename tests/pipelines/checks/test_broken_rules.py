"""The statement that lists each row's broken rules, on rows written by hand."""

from __future__ import annotations

from dataclasses import replace

from longmile.pipelines.checks.broken_rules import broken_rules_sql
from longmile.schemas.contract import Column, Table

# From the comments beside `dirty_rows` in conftest: row -> (rules that set it aside, rules that warn).
EXPECTED = {
    2: (["job.order_no.required"], []),
    3: (["job.line_no.typed"], []),
    4: (["job.kind.one_of"], []),
    5: (["job.line_no.between"], []),
    6: ([], ["job.part_number.pattern"]),
    7: (["job.order_no.length"], []),
    8: (["job.key.unique"], []),
    9: (["job.closed_not_before_opened"], []),
    10: (["job.labor_hours.typed", "job.labor_hours.between"], []),
    11: (
        [
            "job.order_no.required",
            "job.line_no.between",
            "job.kind.one_of",
            "job.closed_not_before_opened",
        ],
        ["job.part_number.pattern", "job.hours_have_a_price"],
    ),
}


def listed(connection, table, staged="staged_job"):
    rows = connection.execute(f"{broken_rules_sql(table, staged)} ORDER BY row_number").fetchall()
    return {row[0]: row[1:] for row in rows}


def test_every_broken_rule_of_a_row_is_listed_by_what_it_does_to_the_row(connection, stage, job, dirty_rows):
    stage(connection, job, "staged_job", dirty_rows)
    found = listed(connection, job)
    assert {row: (told[1], told[2]) for row, told in found.items()} == EXPECTED


def test_each_broken_rule_names_its_columns_as_the_file_does_and_the_text_that_came(connection, stage, job, dirty_rows):
    stage(connection, job, "staged_job", dirty_rows)
    broken = listed(connection, job)[11][0]
    assert [(told["severity"], told["columns"], told["value"]) for told in broken] == [
        ("quarantine", "order_no", None),
        ("quarantine", "line_no", "-1"),
        ("quarantine", "kind", "lunch"),
        ("quarantine", "opened_on, closed_on", "2024-02-01, 2024-01-01"),
        ("warn", "part_number", "zz"),
        ("warn", "price", "0"),
    ]


def test_the_first_broken_rule_is_one_that_sets_the_row_aside_even_where_a_warning_is_declared_before_it(
    connection, stage, job
):
    # part_number (warn) is declared before hours; both are broken.
    stage(
        connection,
        job,
        "staged_job",
        [{"order_no": "A1", "line_no": "1", "part_number": "?", "labor_hours": "25"}],
    )
    assert listed(connection, job)[1][3:] == ("job.labor_hours.between", "hours", "25")


def test_empty_parts_of_a_key_are_equal_and_only_the_lowest_row_number_is_kept(connection, stage, job):
    stage(
        connection,
        job,
        "staged_job",
        [
            {"order_no": "B", "line_no": None, "kind": "part"},
            {"order_no": "B", "line_no": None, "kind": "labor"},
            {"order_no": "B", "line_no": None},
        ],
    )
    repeated = [row for row, told in listed(connection, job).items() if "job.key.unique" in told[1]]
    assert repeated == [2, 3]


def test_a_number_that_is_not_finite_is_not_a_number(connection, stage):
    reading = Table("reading", "trade", "A reading.", (Column("value", "decimal", "Reading."),))
    stage(connection, reading, "staged", [{"value": v} for v in ("1e3", "nan", "inf", "-inf", None, "1,5")])
    assert sorted(listed(connection, reading, "staged")) == [2, 3, 4, 6]


def test_a_sound_file_lists_nothing_and_so_does_an_empty_one(connection, stage, job):
    stage(connection, job, "staged_job", [{"order_no": "A1", "line_no": "1"}])
    stage(connection, job, "staged_none", [])
    assert listed(connection, job) == {}
    assert listed(connection, job, "staged_none") == {}


def test_a_table_without_row_rules_lists_nothing_under_the_same_columns(connection, stage, job, dirty_rows):
    bare = Table("job", "trade", "Free text.", tuple(Column(c.name, "text", "Any.") for c in job.columns))
    stage(connection, job, "staged_job", dirty_rows)
    without = connection.execute(broken_rules_sql(bare, "staged_job"))
    names = [told[:2] for told in without.description]
    assert without.fetchall() == []
    with_rules = connection.execute(broken_rules_sql(job, "staged_job"))
    assert [told[:2] for told in with_rules.description] == names
    with_rules.fetchall()


def test_a_row_rule_that_stops_the_run_also_sets_the_row_aside(connection, stage, job):
    strict = replace(job, checks=(replace(job.checks[0], severity="stop"),))
    row = {"order_no": "A1", "line_no": "1", "opened_on": "2024-01-02", "closed_on": "2024-01-01"}
    stage(connection, strict, "staged_job", [row])
    assert listed(connection, strict)[1][1] == ["job.closed_not_before_opened"]


def test_integers_wider_than_a_decimal_are_compared_not_refused(connection, stage, job):
    stage(connection, job, "staged_job", [{"order_no": "A1", "line_no": "9223372036854775807"}])
    assert listed(connection, job)[1][1] == ["job.line_no.between"]
