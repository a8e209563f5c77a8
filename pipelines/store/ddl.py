"""A table's declaration as DuckDB DDL."""

from __future__ import annotations

from collections.abc import Iterable

from longmile.pipelines.sql import quoted
from longmile.schemas.contract import Column, Table

DUCKDB_TYPES = {
    "text": "VARCHAR",
    "integer": "BIGINT",
    "decimal": "DOUBLE",
    "cents": "BIGINT",
    "date": "DATE",
    "moment": "TIMESTAMP",
    "boolean": "BOOLEAN",
}


def create_table(table: Table, extra: Iterable[Column] = ()) -> str:
    """`CREATE TABLE IF NOT EXISTS` for the table; `extra` columns come after its own unless it has them."""
    own = set(table.column_names)
    columns = (*table.columns, *(column for column in extra if column.name not in own))
    listed = ", ".join(f"{quoted(c.name)} {DUCKDB_TYPES[c.type]}{_not_null(c)}" for c in columns)
    return f"CREATE TABLE IF NOT EXISTS {quoted(table.name)} ({listed})"


def _not_null(column: Column) -> str:
    """NOT NULL where the contract requires a value; a trade column that only warns may still be empty."""
    return " NOT NULL" if column.is_required and column.severity == "quarantine" else ""
