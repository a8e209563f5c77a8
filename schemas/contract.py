"""Column, Table, Check and the rules they state: the one way a table is declared.

Frozen dataclasses and the derivation of rules from them; nothing that reads, writes or runs a rule. Four readers
turn a declaration into something else: the store's DDL, the frame types, the expectations, the data dictionary.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

ColumnType = Literal["text", "integer", "decimal", "cents", "date", "moment", "boolean"]
Severity = Literal["quarantine", "warn", "stop"]
Stage = Literal["trade", "store", "life", "result"]
RuleKind = Literal["required", "typed", "one_of", "between", "pattern", "length", "unique", "row", "table"]

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Column:
    """One column: what it holds, in which unit, whether it may be empty, and what a value must satisfy.

    `header` is the name the column has in the neutral layout where that differs from `name` (money comes as decimal
    text under `cost` and is kept in integer cents under `cost_cents`). `allowed` is a closed list; `pattern` a regular
    expression for the whole value. `severity` is that of the column's own rules: `quarantine` sets the row aside,
    `warn` counts it and keeps it.
    """

    name: str
    type: ColumnType
    description: str
    unit: str = ""
    is_required: bool = False
    header: str = ""
    allowed: tuple[str, ...] = ()
    minimum: float | None = None
    maximum: float | None = None
    pattern: str = ""
    max_length: int = 0
    severity: Severity = "quarantine"
    source: str = COMMON_PRACTICE

    @property
    def incoming(self) -> str:
        """The header this column has in a file of the neutral layout."""
        return self.header or self.name


@dataclass(frozen=True)
class Check:
    """A rule over several columns of a row (`level="row"`) or over a whole table (`level="table"`).

    Row level: `predicate` is a DuckDB boolean expression over the table's columns that is TRUE or NULL for a sound row.
    Table level: `predicate` is a DuckDB SELECT giving one row (observed DOUBLE, n_checked BIGINT, n_failed BIGINT); it
    may name any table of the store; the check holds where observed lies in [minimum, maximum].
    """

    name: str
    description: str
    predicate: str
    columns: tuple[str, ...] = ()
    level: Literal["row", "table"] = "row"
    severity: Severity = "quarantine"
    minimum: float | None = None
    maximum: float | None = None
    source: str = COMMON_PRACTICE


@dataclass(frozen=True)
class Rule:
    """One thing a row or a table must satisfy, as derived from a Table; `name` is `table.column.kind`."""

    name: str
    kind: RuleKind
    columns: tuple[str, ...]
    severity: Severity
    sentence: str
    column: Column | None = None
    check: Check | None = None


@dataclass(frozen=True)
class Table:
    """One table: its columns in order, its key, the rows it is replaced by, and its checks.

    `key`: the columns that name one row. `order_column`: for tables that belong to a repair order, the column by which
    a later export of the same order replaces the earlier one.
    """

    name: str
    stage: Stage
    description: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    order_column: str = ""
    checks: tuple[Check, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a key, an order or a check on a column that the table does not have, and a column declared twice."""
        names = [column.name for column in self.columns]
        repeated = sorted({name for name in names if names.count(name) > 1})
        if repeated:
            raise ValueError(f"table {self.name}: declared twice: {', '.join(repeated)}")
        ordered = (self.order_column,) if self.order_column else ()
        named = (*self.key, *ordered, *(c for check in self.checks for c in check.columns))
        unknown = sorted({name for name in named if name not in names})
        if unknown:
            listed = ", ".join(unknown)
            raise ValueError(f"table {self.name}: a key, an order or a check names unknown columns: {listed}")

    def column(self, name: str) -> Column:
        """The column of that name; KeyError naming the table's columns where there is none."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(f"table {self.name} has no column {name!r}; it has {', '.join(self.column_names)}")

    @property
    def column_names(self) -> tuple[str, ...]:
        """Names of the columns, in order."""
        return tuple(column.name for column in self.columns)

    @property
    def rules(self) -> tuple[Rule, ...]:
        """Every rule the table states, columns first, in the order of declaration."""
        per_column = tuple(rule for column in self.columns for rule in _column_rules(self.name, column))
        key = (_key_rule(self),) if self.key and self.stage == "trade" else ()
        return (*per_column, *key, *(_check_rule(self.name, check) for check in self.checks))

    @property
    def row_rules(self) -> tuple[Rule, ...]:
        """The rules that speak of single rows."""
        return tuple(rule for rule in self.rules if rule.kind != "table")

    @property
    def table_rules(self) -> tuple[Rule, ...]:
        """The rules that speak of the whole table."""
        return tuple(rule for rule in self.rules if rule.kind == "table")


_TYPE_WORDS = {
    "text": "text",
    "integer": "a whole number",
    "decimal": "a number",
    "cents": "an amount of money such as 1234.50",
    "date": "a date written YYYY-MM-DD",
    "moment": "a moment in UTC",
    "boolean": "true or false",
}


def _column_rules(table: str, column: Column) -> tuple[Rule, ...]:
    """The rules one column states about itself."""
    stated: list[tuple[RuleKind, str]] = []
    if column.is_required:
        stated.append(("required", f"{column.incoming} must be filled in"))
    if column.type != "text":
        stated.append(("typed", f"{column.incoming} must be {_TYPE_WORDS[column.type]}"))
    if column.allowed:
        stated.append(("one_of", _one_of_sentence(column)))
    if column.minimum is not None or column.maximum is not None:
        stated.append(("between", _between_sentence(column)))
    if column.pattern:
        stated.append(("pattern", f"{column.incoming} must look like {column.pattern}"))
    if column.max_length:
        stated.append(("length", f"{column.incoming} may have at most {column.max_length:,} characters"))
    return tuple(
        Rule(f"{table}.{column.name}.{kind}", kind, (column.name,), column.severity, sentence, column=column)
        for kind, sentence in stated
    )


def _one_of_sentence(column: Column) -> str:
    """What a closed list expects; a long list is named by its description."""
    if len(column.allowed) <= 10:
        return f"{column.incoming} must be one of {', '.join(column.allowed)}"
    return f"{column.incoming} must be one of the {len(column.allowed)} codes of the vocabulary"


def _between_sentence(column: Column) -> str:
    """What a range expects, in words."""
    if column.maximum is None:
        return f"{column.incoming} must be at least {_in_words(column.minimum)}"
    if column.minimum is None:
        return f"{column.incoming} must be at most {_in_words(column.maximum)}"
    return f"{column.incoming} must lie between {_in_words(column.minimum)} and {_in_words(column.maximum)}"


def _in_words(bound: float | None) -> str:
    """A bound as people write it: every decimal it has, commas from 10,000 on, so that a year stays 1900."""
    if bound is None:
        return "no bound"
    return f"{bound:,.10g}" if abs(bound) >= 10_000 else f"{bound:.10g}"


def _key_rule(table: Table) -> Rule:
    """One row per key within a file."""
    words = " + ".join(table.key)
    sentence = f"two rows of one file with the same {words} must say the same"
    return Rule(f"{table.name}.key.unique", "unique", table.key, "quarantine", sentence)


def _check_rule(table: str, check: Check) -> Rule:
    """A declared check as a rule."""
    return Rule(f"{table}.{check.name}", check.level, check.columns, check.severity, check.description, check=check)
