"""A SQLAlchemy dialect that reads through a DuckDB connection somebody else owns, and does nothing else.

The checks run inside the loader's open transaction, on rows not yet committed, so they must use that very
connection: a second one, or a DuckDB cursor (a copy of the connection), would not see them. What SQLAlchemy
does of its own accord to a connection (begin, commit, roll back, close) is therefore made a no-op here, and
a statement that is not one SELECT is refused.

Why the published dialect is not used as it stands: it fetches rows after the result is gone, and reflects
columns through catalogue tables that DuckDB no longer has. Here each cursor reads its rows when it executes,
and columns come from `duckdb_columns()`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import duckdb
import duckdb_engine
from sqlalchemy import pool, types
from sqlalchemy.dialects import registry
from sqlalchemy.engine.interfaces import ReflectedColumn, ReflectedPrimaryKeyConstraint

from longmile.pipelines.errors import LongmileError

URL = "duckdb+borrowed://"

_COLUMNS = """
SELECT column_name, data_type, is_nullable
FROM duckdb_columns()
WHERE table_name = $1 AND database_name IN (current_database(), 'temp')
QUALIFY dense_rank() OVER (ORDER BY (database_name = 'temp') DESC) = 1
ORDER BY column_index
"""

_TYPES: dict[str, type[types.TypeEngine[Any]]] = {
    "VARCHAR": types.String,
    "BIGINT": types.BigInteger,
    "INTEGER": types.Integer,
    "DOUBLE": types.Float,
    "DATE": types.Date,
    "TIMESTAMP": types.DateTime,
    "BOOLEAN": types.Boolean,
}


class CheckWroteError(LongmileError):
    """Something other than one SELECT was about to run on the connection that the checks only borrow."""


class BorrowedCursor:
    """A DB-API cursor whose rows and description are read when the statement is executed."""

    arraysize = 1
    rowcount = -1

    def __init__(self, lent: duckdb.DuckDBPyConnection, connection: BorrowedConnection) -> None:
        self._lent = lent
        self.connection = connection
        self.description: list[tuple[Any, ...]] | None = None
        self._rows: list[tuple[Any, ...]] = []

    def execute(self, statement: str, parameters: Sequence[Any] | None = None, context: Any = None) -> None:
        """Run one SELECT and keep its rows; CheckWroteError for anything else."""
        try:
            _refuse_to_write(self._lent, statement)
            answer = self._lent.execute(statement, list(parameters) if parameters else None)
        except duckdb.Error as error:
            self.connection.failures.append((statement, str(error)))
            raise
        self.description = answer.description
        self._rows = answer.fetchall()

    def executemany(self, statement: str, parameters: Any = None, context: Any = None) -> None:
        """Nothing a check does needs this; always CheckWroteError."""
        raise CheckWroteError(f"checks: a repeated statement was about to run: {statement[:200]}")

    def fetchone(self) -> tuple[Any, ...] | None:
        """The next row, or None."""
        return self._rows.pop(0) if self._rows else None

    def fetchmany(self, size: int | None = None) -> list[tuple[Any, ...]]:
        """The next `size` rows."""
        taken, self._rows = self._rows[: size or self.arraysize], self._rows[size or self.arraysize :]
        return taken

    def fetchall(self) -> list[tuple[Any, ...]]:
        """All rows not yet taken."""
        taken, self._rows = self._rows, []
        return taken

    def close(self) -> None:
        """Forget the rows; the connection stays as it is."""
        self._rows = []


class BorrowedConnection:
    """A DB-API connection over a lent DuckDB one: it gives cursors and leaves transactions to the lender.

    `failures`: statement and message of every DuckDB error, in order. Only the first tells the cause: it may
    have aborted the transaction, and then every statement after it fails.
    """

    def __init__(self, lent: duckdb.DuckDBPyConnection) -> None:
        self._lent = lent
        self.notices: list[str] = []
        self.failures: list[tuple[str, str]] = []

    def cursor(self) -> BorrowedCursor:
        """A cursor that reads through the lent connection."""
        return BorrowedCursor(self._lent, self)

    def _leave_to_the_lender(self) -> None:
        """Do nothing: the transaction and the connection belong to the lender."""

    begin = commit = rollback = close = _leave_to_the_lender


class BorrowedDialect(duckdb_engine.Dialect):
    """The published dialect with buffered cursors, columns from `duckdb_columns()` and no transactions."""

    driver = "borrowed"
    supports_statement_cache = False

    @classmethod
    def get_pool_class(cls, url: Any) -> type[pool.Pool]:
        """One connection, the lent one."""
        return pool.StaticPool

    def do_begin(self, dbapi_connection: Any) -> None:
        """Leave the transaction to the lender."""

    def do_commit(self, dbapi_connection: Any) -> None:
        """Leave the transaction to the lender."""

    def do_rollback(self, dbapi_connection: Any) -> None:
        """Leave the transaction to the lender."""

    def do_close(self, dbapi_connection: Any) -> None:
        """Leave the connection to the lender."""

    def get_columns(
        self, connection: Any, table_name: str, schema: str | None = None, **kw: Any
    ) -> list[ReflectedColumn]:
        """Name, type and nullability of each column; a temporary table hides a kept one of the same name."""
        found = connection.exec_driver_sql(_COLUMNS, (str(table_name),)).fetchall()
        return [
            {"name": name, "type": _TYPES.get(kind, types.NullType)(), "nullable": nullable, "default": None}
            for name, kind, nullable in found
        ]

    def get_pk_constraint(
        self, connection: Any, table_name: str, schema: str | None = None, **kw: Any
    ) -> ReflectedPrimaryKeyConstraint:
        """No key: staging tables have none, and no check asks for one."""
        return {"constrained_columns": [], "name": None}

    def _none(self, connection: Any, *names: Any, **kw: Any) -> list[Any]:
        """Nothing of this kind; the checks read plain tables."""
        return []

    get_foreign_keys = get_indexes = get_unique_constraints = get_check_constraints = _none
    get_view_names = get_temp_view_names = get_temp_table_names = _none


def _refuse_to_write(lent: duckdb.DuckDBPyConnection, statement: str) -> None:
    """CheckWroteError unless the text is exactly one SELECT."""
    kinds = [parsed.type for parsed in lent.extract_statements(statement)]
    if kinds != [duckdb.StatementType.SELECT]:
        named = ", ".join(str(kind) for kind in kinds)
        raise CheckWroteError(
            f"checks: {len(kinds)} statement(s), {named}, were about to run on the loader's connection. "
            f"Expected one SELECT: checks only read. Statement: {statement[:200]}"
        )


registry.register("duckdb.borrowed", __name__, "BorrowedDialect")
