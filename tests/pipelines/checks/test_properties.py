"""Random dirty files: both readings agree, and agree with the rules as Python states them."""

from __future__ import annotations

import duckdb
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.checks.broken_rules import broken_rules_sql
from longmile.pipelines.checks.gate import Gate
from longmile.pipelines.checks.run import check_rows

VALUES = {
    "order_no": ["A1", "A2", "A1234567", "é" * 6, "é" * 7, "a:b", None],
    "line_no": ["1", "2", "-1", "99", "100", "x", "9223372036854775807", None],
    "kind": ["labor", "part", "lunch", "{kind}", None],
    "part_number": ["AB-123", "AB-1234", "ab-123", "AB-123\n", "%s", None],
    "labor_hours": ["0", "24", "24.0001", "-0.0", "nan", "inf", "-inf", "1e400", "one", None],
    "price_cents": ["0", "5", "-1", "1.5", "$", None],
    "opened_on": ["2024-01-01", "2024-02-30", "infinity", None],
    "closed_on": ["2024-01-01", "2023-12-31", "soon", None],
}


@pytest.fixture(scope="module")
def lent():
    with duckdb.connect() as connection:
        yield connection, Gate(connection)


def _rows():
    return st.lists(
        st.fixed_dictionaries({name: st.sampled_from(values) for name, values in VALUES.items()}), max_size=12
    )


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(rows=_rows())
def test_readings_agree_on_any_file(lent, stage, job, rows):
    connection, gate = lent
    connection.begin()
    stage(connection, job, "staged_job", rows)
    outcome = check_rows(gate, job, "staged_job")  # raises where they do not
    listed = connection.execute(broken_rules_sql(job, "staged_job")).fetchall()
    connection.rollback()
    n_broken = sum(len(quarantine) + len(warn) for _, _, quarantine, warn, *_ in listed)
    assert sum(result.n_failed for result in outcome.rules) == n_broken
    assert all(len(broken) == len(quarantine) + len(warn) > 0 for _, broken, quarantine, warn, *_ in listed)
    told = {result.rule: result.n_failed for result in outcome.rules}
    assert told["job.order_no.required"] == sum(row["order_no"] is None for row in rows)
    assert told["job.order_no.length"] == sum(len(row["order_no"] or "") > 6 for row in rows)
    assert told["job.kind.one_of"] == sum(row["kind"] not in (None, "labor", "part") for row in rows)
    assert told["job.part_number.pattern"] == sum(row["part_number"] not in (None, "AB-123") for row in rows)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(rows=_rows(), order=st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_no_count(lent, stage, job, rows, order):
    connection, gate = lent
    mixed = list(rows)
    order.shuffle(mixed)
    counts = []
    for written in (rows, mixed):
        connection.begin()
        stage(connection, job, "staged_job", written)
        counts.append([result.n_failed for result in check_rows(gate, job, "staged_job").rules])
        connection.rollback()
    assert counts[0] == counts[1]
