"""Runs the contract's rules on staged rows and on the store's tables; two readings must agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from longmile.pipelines.checks import broken_rules
from longmile.pipelines.checks.gate import CheckNotRunError, Gate
from longmile.pipelines.checks.results import Example, RowCheckOutcome, RowRuleResult, TableCheckResult
from longmile.pipelines.errors import CheckStoppedError, LongmileError
from longmile.pipelines.sql import quoted
from longmile.schemas.contract import Rule, Table

if TYPE_CHECKING:
    import duckdb

N_EXAMPLES = 5


class ReadingsDisagreeError(LongmileError):
    """Great Expectations and the statement that fills the quarantine count broken rows differently."""


def check_rows(gate: Gate, table: Table, staged: str, entries: str = "") -> RowCheckOutcome:
    """Every row rule of `table` against the staging table `staged`, in the open transaction of the gate.

    Counts are Great Expectations'; examples (up to five a rule, lowest row numbers first) come from
    `broken_rules.entries_sql`, whose counts must agree rule by rule. `n_checked` is the number of
    staged rows. entries: a SELECT of all those entries where the caller has made some of them already.
    Raises ReadingsDisagreeError where the counts do not agree, CheckNotRunError where a rule could not be run.
    """
    from longmile.pipelines.checks.expectations import ROW_COUNT, row_suite

    n_rows = _count(gate.connection, staged)
    found = gate.run_on_table(row_suite(table, n_rows), staged)
    seen = int(_answer(found, ROW_COUNT).result["observed_value"])
    if seen != n_rows:
        raise _disagreement(table.name, "its number of rows", seen, n_rows)
    listed = _listed(gate.connection, entries or broken_rules.entries_sql(table, staged, table.row_rules))
    return RowCheckOutcome(
        table.name,
        n_rows,
        tuple(_row_result(table, rule, n_rows, found, listed) for rule in table.row_rules),
    )


def check_table(gate: Gate, tables: Sequence[Table]) -> list[TableCheckResult]:
    """Every table rule of `tables`, in order, held against the store as the gate's connection sees it.

    The tables and views that the rules' queries name must exist. Nothing is raised for a broken rule, a
    `stop` rule included: see `raise_if_stopped`. Raises CheckNotRunError where a rule's query fails.
    """
    stated = [(table, rule) for table in tables for rule in table.table_rules]
    if not stated:
        return []
    from longmile.pipelines.checks.expectations import table_suite

    found = gate.run_on_store(table_suite(tuple(tables)))
    return [_table_result(table, rule, found) for table, rule in stated]


def raise_if_stopped(results: Sequence[TableCheckResult | RowRuleResult]) -> None:
    """CheckStoppedError naming every broken rule of severity `stop`; nothing where there is none."""
    stopped = [result for result in results if result.severity == "stop" and result.outcome == "failed"]
    if stopped:
        raise CheckStoppedError(
            f"checks: {len(stopped)} of {len(results)} rules stop the run: "
            + "; ".join(_stop_line(result) for result in stopped)
            + ". Nothing is published from such data; look at the files that were dropped, then run again."
        )


def _stop_line(result: TableCheckResult | RowRuleResult) -> str:
    """One broken rule in words."""
    if isinstance(result, RowRuleResult):
        return f"{result.rule} ({result.sentence}): {result.n_failed:,} of {result.n_checked:,} rows"
    observed = "no number" if result.observed is None else f"{result.observed:,.6g}"
    limits = [
        *([] if result.minimum is None else [f"at least {result.minimum:,.6g}"]),
        *([] if result.maximum is None else [f"at most {result.maximum:,.6g}"]),
    ]
    return f"{result.rule} ({result.sentence}): observed {observed}, expected {' and '.join(limits)}"


def _count(connection: duckdb.DuckDBPyConnection, staged: str) -> int:
    """Number of staged rows."""
    return int(connection.execute(f"SELECT count(*) FROM {quoted(staged)}").fetchall()[0][0])


def _listed(connection: duckdb.DuckDBPyConnection, entries: str) -> Mapping[str, tuple[int, tuple[Example, ...]]]:
    """Broken rule -> its number of rows and examples, by the statement that fills the quarantine."""
    rows = connection.execute(broken_rules.broken_counts_sql(entries, N_EXAMPLES)).fetchall()
    return {rule: (n, tuple(Example(e["row_number"], e["value"]) for e in told)) for rule, n, told in rows}


def _row_result(
    table: Table,
    rule: Rule,
    n_rows: int,
    found: Mapping[str, Any],
    listed: Mapping[str, tuple[int, tuple[Example, ...]]],
) -> RowRuleResult:
    """One rule's result, once both readings agree on it."""
    n_failed = int(_answer(found, rule.name).result["unexpected_count"] or 0)
    n_listed, examples = listed.get(rule.name, (0, ()))
    if n_failed != n_listed:
        raise _disagreement(table.name, rule.name, n_failed, n_listed)
    return RowRuleResult(table.name, rule.name, rule.severity, rule.sentence, n_rows, n_failed, examples)


def _table_result(table: Table, rule: Rule, found: Mapping[str, Any]) -> TableCheckResult:
    """One table rule's result."""
    answer = _answer(found, rule.name)
    return TableCheckResult(
        table_name=table.name,
        rule=rule.name,
        severity=rule.severity,
        sentence=rule.sentence,
        observed=answer.result["observed_value"],
        minimum=None if rule.check is None else rule.check.minimum,
        maximum=None if rule.check is None else rule.check.maximum,
        n_checked=answer.result["n_checked"],
        n_failed=answer.result["n_failed"],
        outcome="passed" if answer.success else "failed",
    )


def _answer(found: Mapping[str, Any], rule: str) -> Any:
    """What the library found for a rule; CheckNotRunError where it was skipped."""
    if rule not in found:
        raise CheckNotRunError(
            f"checks: rule {rule} was not run. Expected an answer for every rule the contract states; "
            f"{len(found)} were given: {', '.join(sorted(found))}."
        )
    return found[rule]


def _disagreement(table: str, rule: str, by_library: int, by_statement: int) -> ReadingsDisagreeError:
    """The two counts side by side."""
    return ReadingsDisagreeError(
        f"checks: {table}: for {rule}, Great Expectations counts {by_library:,} and the statement that fills "
        f"the quarantine counts {by_statement:,}. Expected the same: both are written from one contract. "
        "The file was not loaded; this is a fault of longmile, not of the file."
    )
