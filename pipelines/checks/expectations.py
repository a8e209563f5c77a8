"""A table's rules as Great Expectations suites. Each expectation carries its rule's name in `meta`.

Where the library has an expectation that is pushed down into DuckDB, that is used; the rest (typed, pattern,
unique, rules over several columns) are row queries. Imports the library: only where rules are run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from longmile.pipelines.checks import library
from longmile.pipelines.checks.sql_text import text_column, typed_column
from longmile.pipelines.sql import literal, quoted
from longmile.schemas.contract import Check, Column, Rule, RuleKind, Table

_LONG_LIST = 20

ROW_COUNT = "row_count"
"""The name, in `meta`, of the one expectation that no rule states: both readings must see as many rows."""


class NoRowsReturned(library.UnexpectedRowsExpectation):
    """Holds where a query for broken rows returns none; only their number is asked for."""

    metric_dependencies: ClassVar[tuple[str, ...]] = ("unexpected_rows_query.row_count",)

    def _validate(
        self, metrics: dict[str, Any], runtime_configuration: Any = None, execution_engine: Any = None
    ) -> dict[str, Any]:
        """The number of rows, and whether it is none."""
        n_failed = metrics["unexpected_rows_query.row_count"]
        return {"success": n_failed == 0, "result": {"unexpected_count": n_failed}}


class _OnlyCounted:
    """For an expectation on a column: the library's metrics without the values it would fetch as examples.

    Each would be a scan of its own; the examples come from the statement that fills the quarantine.
    """

    def get_validation_dependencies(self, *given: Any, **named: Any) -> Any:
        """What the library computes for it."""
        asked = super().get_validation_dependencies(*given, **named)  # type: ignore[misc]
        asked.metric_configurations.pop(f"{self.map_metric}.unexpected_values", None)  # type: ignore[attr-defined]
        return asked


class NoNulls(_OnlyCounted, library.ExpectColumnValuesToNotBeNull):
    """Holds where the column has no NULL."""


class AllWithin(_OnlyCounted, library.ExpectColumnValuesToBeBetween):
    """Holds where every value lies within the limits."""


class AllListed(_OnlyCounted, library.ExpectColumnValuesToBeInSet):
    """Holds where every value is one of the list."""


class AllShort(_OnlyCounted, library.ExpectColumnValueLengthsToBeBetween):
    """Holds where every text has at most so many characters."""


class ObservedWithin(library.UnexpectedRowsExpectation):
    """Holds where the query's one row (observed, n_checked, n_failed) has observed within [minimum, maximum].

    An observed value that is NULL or not a number does not hold. Anything but one row of three is an error.
    """

    minimum: float | None = None
    maximum: float | None = None
    metric_dependencies: ClassVar[tuple[str, ...]] = ("unexpected_rows_query.table",)

    def _validate(
        self, metrics: dict[str, Any], runtime_configuration: Any = None, execution_engine: Any = None
    ) -> dict[str, Any]:
        """The three numbers, and whether the first is within its limits."""
        rows = [tuple(row.values()) for row in metrics["unexpected_rows_query.table"]]
        if len(rows) != 1 or rows[0][1] is None or rows[0][2] is None:
            raise ValueError(f"expected one row (observed, n_checked, n_failed), got {rows[:3]}")
        observed, n_checked, n_failed = _finite(rows[0][0]), int(rows[0][1]), int(rows[0][2])
        result = {"observed_value": observed, "n_checked": n_checked, "n_failed": n_failed}
        return {"success": _lies_within(observed, self.minimum, self.maximum), "result": result}


def row_suite(table: Table, n_rows: int) -> library.ExpectationSuite:
    """Every row rule of the table, and one expectation that the staging table has `n_rows` rows."""
    counted = library.ExpectTableRowCountToEqual(value=n_rows, meta={"rule": ROW_COUNT})
    return library.ExpectationSuite(
        name=f"{table.name} rows",
        expectations=[counted, *(row_expectation(rule) for rule in table.row_rules)],
    )


def table_suite(tables: tuple[Table, ...]) -> library.ExpectationSuite:
    """Every table rule of the tables."""
    return library.ExpectationSuite(
        name="tables",
        expectations=[table_expectation(rule) for table in tables for rule in table.table_rules],
    )


def row_expectation(rule: Rule) -> Any:
    """One rule about single rows as an expectation."""
    return _EXPECTATIONS[rule.kind](rule)


def table_expectation(rule: Rule) -> ObservedWithin:
    """One rule about a whole table as an expectation."""
    check = _check(rule)
    # A check names the tables it reads itself. The library wants to find the batch in the query; a comment
    # will do.
    stated = f"(\n{as_written(check.predicate)}\n) AS stated(observed, n_checked, n_failed)"
    query = f"{_named(rule)} /* {{batch}} */ SELECT * FROM {stated}"
    return ObservedWithin(
        unexpected_rows_query=query, minimum=check.minimum, maximum=check.maximum, meta={"rule": rule.name}
    )


def as_written(sql: str) -> str:
    """SQL that arrives in DuckDB as it stands here.

    The library fills in braces and SQLAlchemy takes `:word` for a value to be bound, inside text literals
    too.
    """
    return sql.replace("{", "{{").replace("}", "}}").replace(":", "\\:")


def _query(rule: Rule, where: str) -> NoRowsReturned:
    """A row query for the rows where the condition is TRUE."""
    query = f"{_named(rule)} SELECT row_number FROM {{batch}} WHERE {as_written(where)}"
    return NoRowsReturned(unexpected_rows_query=query, meta={"rule": rule.name})


def _named(rule: Rule) -> str:
    """The rule's name as a comment, so that a statement DuckDB refuses says whose it is."""
    return f"/* rule {as_written(rule.name.replace('*/', '* /'))} */"


def _required(rule: Rule) -> Any:
    return NoNulls(column=text_column(rule.columns[0]), meta={"rule": rule.name})


def _typed(rule: Rule) -> Any:
    column = quoted(rule.columns[0])
    # DuckDB takes 'nan' and 'inf' for numbers; no reading, price or hour is one.
    unsound = f"{column} IS NULL" + (f" OR NOT isfinite({column})" if _column(rule).type == "decimal" else "")
    return _query(rule, f"{quoted(text_column(rule.columns[0]))} IS NOT NULL AND ({unsound})")


def _one_of(rule: Rule) -> Any:
    column, allowed = typed_column(rule), _column(rule).allowed
    if len(allowed) <= _LONG_LIST:
        return AllListed(column=column, value_set=list(allowed), meta={"rule": rule.name})
    # The library compares with one value after another, many times slower than finding the values that are not listed.
    listed = ", ".join(literal(value) for value in allowed)
    others = f"SELECT {as_written(quoted(column))} FROM {{batch}} EXCEPT SELECT unnest([{as_written(listed)}])"
    query = f"{_named(rule)} SELECT row_number FROM {{batch}} WHERE {as_written(quoted(column))} IN ({others})"
    return NoRowsReturned(unexpected_rows_query=query, meta={"rule": rule.name})


def _between(rule: Rule) -> Any:
    stated = _column(rule)
    return AllWithin(
        column=rule.columns[0],
        min_value=stated.minimum,
        max_value=stated.maximum,
        meta={"rule": rule.name},
    )


def _pattern(rule: Rule) -> Any:
    column = quoted(typed_column(rule))
    matched = f"regexp_full_match({column}, {literal(_column(rule).pattern)})"
    return _query(rule, f"{column} IS NOT NULL AND NOT {matched}")


def _length(rule: Rule) -> Any:
    return AllShort(column=typed_column(rule), max_value=_column(rule).max_length, meta={"rule": rule.name})


def _unique(rule: Rule) -> Any:
    key = ", ".join(quoted(name) for name in rule.columns)
    # One row for each but the first of a key: their number is all that is asked for.
    query = (
        f"{_named(rule)} SELECT unnest(range(count(*) - 1)) FROM {{batch}} GROUP BY {as_written(key)} "
        "HAVING count(*) > 1"
    )
    return NoRowsReturned(unexpected_rows_query=query, meta={"rule": rule.name})


def _row(rule: Rule) -> Any:
    return _query(rule, f"(\n{_check(rule).predicate}\n) IS FALSE")


def _column(rule: Rule) -> Column:
    """The column that states the rule; ValueError for a rule that no column states."""
    if rule.column is None:
        raise ValueError(f"rule {rule.name} of kind {rule.kind} has no column")
    return rule.column


def _check(rule: Rule) -> Check:
    """The check that states the rule; ValueError for a rule that no check states."""
    if rule.check is None:
        raise ValueError(f"rule {rule.name} of kind {rule.kind} has no check")
    return rule.check


def _finite(value: Any) -> float | None:
    """The value as a number; None where there is none or it is not finite."""
    number = None if value is None else float(value)
    return number if number is not None and math.isfinite(number) else None


def _lies_within(observed: float | None, minimum: float | None, maximum: float | None) -> bool:
    """Whether there is a number and it is within the limits."""
    if observed is None:
        return False
    return (minimum is None or observed >= minimum) and (maximum is None or observed <= maximum)


_EXPECTATIONS: Mapping[RuleKind, Callable[[Rule], Any]] = {
    "required": _required,
    "typed": _typed,
    "one_of": _one_of,
    "between": _between,
    "pattern": _pattern,
    "length": _length,
    "unique": _unique,
    "row": _row,
}
