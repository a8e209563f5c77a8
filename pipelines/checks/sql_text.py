"""Numbers, staged columns and headers as the rules' SQL writes them; what is asked of a row is said elsewhere."""

from __future__ import annotations

from longmile.schemas.contract import Rule, Table


def number_literal(value: float) -> str:
    """The number as a DOUBLE: a bare 1900.0 would be a DECIMAL, too narrow for some BIGINT."""
    return f"{float(value)!r}::DOUBLE"


def typed_column(rule: Rule) -> str:
    """The staged column a rule on text reads: the typed one for text, else the text as it came."""
    column = rule.columns[0]
    is_text = rule.column is None or rule.column.type == "text"
    return column if is_text else text_column(column)


def text_column(name: str) -> str:
    """The staged column holding the trimmed text that came for `name`."""
    return f"text_{name}"


def incoming_names(table: Table, rule: Rule) -> str:
    """The headers a rule speaks of, as they stand in a file of the neutral layout."""
    return ", ".join(table.column(name).incoming for name in rule.columns)
