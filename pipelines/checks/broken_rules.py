"""One DuckDB statement, written from a table's rules, that lists every staged row breaking one.

This is the reading of the contract that the quarantine is filled from. `expectations` is the other; `run`
refuses to go on where the two count differently, so neither borrows its conditions from the other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from longmile.pipelines.checks.sql_text import incoming_names, number_literal, text_column, typed_column
from longmile.pipelines.sql import literal, quoted
from longmile.schemas.contract import Column, Rule, RuleKind, Table

_NO_ENTRIES = """SELECT row_number, 0 AS place, NULL::VARCHAR AS rule, NULL::VARCHAR AS severity,
  NULL::VARCHAR AS columns, NULL::VARCHAR AS value
FROM {staged} WHERE FALSE"""


def broken_rules_sql(table: Table, staged: str) -> str:
    """A SELECT with one row per staged row that breaks a row rule of `table`, in no order.

    Columns: `row_number` BIGINT; `broken` STRUCT(rule, severity, columns, value)[], rules that set the row
    aside first, each in the order of declaration; `quarantine` and `warn` VARCHAR[], the names of the broken
    rules that set the row aside and of those that only count it (a row is kept where `quarantine` is empty);
    `first_rule`, `first_columns`, `first_value`: of the first of `broken`, for a message. `columns` are
    headers of the neutral layout; `value` is the text as it came, NULL where the cell was empty. `staged`:
    name of the staging table; it is quoted here.
    """
    return f"""WITH entry AS ({entries_sql(table, staged, rules_by_weight(table))}
), listed AS (
  SELECT row_number,
    list({{'rule': rule, 'severity': severity, 'columns': columns, 'value': value}} ORDER BY place) AS broken
  FROM entry GROUP BY row_number
)
SELECT row_number, broken,
  list_transform(list_filter(broken, lambda e: e.severity <> 'warn'), lambda e: e.rule) AS quarantine,
  list_transform(list_filter(broken, lambda e: e.severity = 'warn'), lambda e: e.rule) AS warn,
  broken[1].rule AS first_rule, broken[1].columns AS first_columns, broken[1].value AS first_value
FROM listed"""


def entries_sql(table: Table, staged: str, rules: Sequence[Rule]) -> str:
    """A SELECT with one row per staged row and rule of `rules` that it breaks, in no order.

    Columns: `row_number`; `place` of the rule in `rules_by_weight`; `rule`, `severity`, `columns`, `value` as in
    `broken_rules_sql`. One scan for each rule: it reads the columns of that rule only, and DuckDB can tell from what
    it keeps about blocks of rows that most of them break none.
    """
    places = {rule.name: place for place, rule in enumerate(rules_by_weight(table))}
    listed = [_entry(table, rule, places[rule.name], staged) for rule in rules]
    return "\nUNION ALL\n".join(listed) or _NO_ENTRIES.format(staged=quoted(staged))


def broken_counts_sql(entries: str, n_examples: int) -> str:
    """A SELECT giving for each rule broken at least once: rule, number of rows, the first as examples.

    entries: a SELECT as `entries_sql` gives. An example is STRUCT(row_number, value); the examples are those with the
    lowest row numbers.
    """
    return f"""SELECT rule, count(*),
  arg_min({{'row_number': row_number, 'value': value}}, row_number, {n_examples})
FROM ({entries}) GROUP BY rule"""


def rules_by_weight(table: Table) -> tuple[Rule, ...]:
    """The row rules, those that set a row aside before those that only count it."""
    return tuple(sorted(table.row_rules, key=lambda rule: rule.severity == "warn"))


def condition(rule: Rule) -> str:
    """A DuckDB expression over the staging table, TRUE where the row breaks the rule, else FALSE or NULL."""
    return _CONDITIONS[rule.kind](rule)


def _entry(table: Table, rule: Rule, place: int, staged: str) -> str:
    """SELECT for the rows that break one rule, and what is told of it."""
    columns = literal(incoming_names(table, rule))
    told = (
        f"SELECT row_number, {place} AS place, {literal(rule.name)} AS rule, {literal(rule.severity)} AS severity, "
        f"{columns} AS columns, {_value(rule)} AS value FROM"
    )
    if rule.kind != "unique":
        return f"{told} {quoted(staged)} WHERE {condition(rule)}"
    key = ", ".join(quoted(name) for name in rule.columns)
    # A row whose key is alone in its hash needs no look at other rows; the window is over the few that are left.
    shared = f"SELECT hash({key}) AS h FROM {quoted(staged)} GROUP BY h HAVING count(*) > 1"
    several = f"SELECT *, {condition(rule)} AS is_later FROM {quoted(staged)} WHERE hash({key}) IN ({shared})"
    return f"{told} ({several}) WHERE is_later"


def _value(rule: Rule) -> str:
    """The text that came, several columns separated by a comma."""
    texts = [quoted(text_column(name)) for name in rule.columns]
    if not texts:
        return "NULL::VARCHAR"
    if len(texts) == 1:
        return texts[0]
    filled = ", ".join(f"coalesce({text}, '')" for text in texts)
    return f"concat_ws(', ', {filled})"


def _required(rule: Rule) -> str:
    return f"{quoted(text_column(rule.columns[0]))} IS NULL"


def _typed(rule: Rule) -> str:
    column = quoted(rule.columns[0])
    sound = f"isfinite({column})" if _stated(rule).type == "decimal" else f"{column} IS NOT NULL"
    return f"{quoted(text_column(rule.columns[0]))} IS NOT NULL AND NOT coalesce({sound}, FALSE)"


def _one_of(rule: Rule) -> str:
    listed = ", ".join(literal(value) for value in _stated(rule).allowed)
    # A list of any length is looked up, not gone through: one comparison a row in place of hundreds.
    return f"{quoted(typed_column(rule))} NOT IN (SELECT unnest([{listed}]))"


def _between(rule: Rule) -> str:
    column, stated = quoted(rule.columns[0]), _stated(rule)
    if stated.minimum is not None and stated.maximum is not None:
        return f"{column} NOT BETWEEN {number_literal(stated.minimum)} AND {number_literal(stated.maximum)}"
    below = [] if stated.minimum is None else [f"{column} < {number_literal(stated.minimum)}"]
    above = [] if stated.maximum is None else [f"{column} > {number_literal(stated.maximum)}"]
    return f"({' OR '.join([*below, *above])})"


def _pattern(rule: Rule) -> str:
    return f"NOT regexp_full_match({quoted(typed_column(rule))}, {literal(_stated(rule).pattern)})"


def _length(rule: Rule) -> str:
    return f"length({quoted(typed_column(rule))}) > {_stated(rule).max_length}"


def _unique(rule: Rule) -> str:
    key = ", ".join(quoted(name) for name in rule.columns)
    return f"row_number() OVER (PARTITION BY {key} ORDER BY row_number) > 1"


def _row(rule: Rule) -> str:
    predicate = "" if rule.check is None else rule.check.predicate
    return f"NOT (\n{predicate}\n)"


def _stated(rule: Rule) -> Column:
    """The column that states the rule; ValueError for a rule that no column states."""
    if rule.column is None:
        raise ValueError(f"rule {rule.name} of kind {rule.kind} has no column")
    return rule.column


_CONDITIONS: Mapping[RuleKind, Callable[[Rule], str]] = {
    "required": _required,
    "typed": _typed,
    "one_of": _one_of,
    "between": _between,
    "pattern": _pattern,
    "length": _length,
    "unique": _unique,
    "row": _row,
}
