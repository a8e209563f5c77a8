"""Names and texts written safely into SQL; importable by every module of pipelines, as `errors` is."""

from __future__ import annotations

from collections.abc import Iterable

from longmile.schemas.contract import Column


def quoted(name: str) -> str:
    """The name as a DuckDB identifier."""
    return '"' + name.replace('"', '""') + '"'


def literal(text: str) -> str:
    """The text as a DuckDB string literal."""
    return "'" + text.replace("'", "''") + "'"


def literals(texts: Iterable[str]) -> str:
    """The texts as a parenthesised list of DuckDB string literals."""
    return "(" + ", ".join(literal(text) for text in texts) + ")"


def column_list(columns: Iterable[Column], prefix: str = "") -> str:
    """The columns' names, quoted, separated by commas."""
    return ", ".join(prefix + quoted(column.name) for column in columns)
