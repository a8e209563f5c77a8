"""The store: one DuckDB file, one writing process, one transaction at a time. No business rule."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import duckdb
import pyarrow as pa

from longmile.pipelines.errors import LongmileError, StoreBusyError
from longmile.pipelines.sql import column_list, literal, quoted
from longmile.pipelines.store.ddl import DUCKDB_TYPES, create_table
from longmile.pipelines.store.frames import as_table
from longmile.schemas.contract import Table
from longmile.schemas.lives import LIFE_TABLES
from longmile.schemas.results import RESULT_TABLES
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import STORE_TABLES, VERSION_COLUMNS

if TYPE_CHECKING:
    import polars as pl

_MOST_MEMORY = 5 << 29
_ROW_GROUP = 122_880
"""Rows that DuckDB stores together; what comes in batches of just so many is not put together again."""


class Store:
    """An open store. Use as a context manager; `connection` is handed only to steps and checks of this process."""

    def __init__(self, path: Path, *, read_only: bool = False) -> None:
        """Open the DuckDB file, making it and its tables where they are missing.

        Raises StoreBusyError where another process holds it, naming that process if DuckDB does; LongmileError where
        the file is no DuckDB database.
        """
        self.path = path
        self.connection = _connect(path, read_only)
        self.connection.execute("SET TimeZone = 'UTC'")
        self.connection.execute("SET enable_progress_bar = false")
        self._bound_memory()
        if not read_only:
            self._create_tables()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file and let go of the lock."""
        self.connection.close()

    def _bound_memory(self) -> None:
        """At most half the machine's memory and never more than 2.5 GiB; beyond that DuckDB goes to disk, beside us."""
        at_most = min(_MOST_MEMORY, _machine_memory() // 2)
        self.connection.execute(f"SET memory_limit = '{at_most // 1024} KiB'")
        if str(self.path) != ":memory:":
            self.connection.execute(f"SET temp_directory = {literal(f'{self.path}.tmp')}")

    def _create_tables(self) -> None:
        with self.transaction():
            for table in (*LIFE_TABLES, *RESULT_TABLES):
                if self._is_outdated(table):
                    self.connection.execute(f"DROP TABLE {quoted(table.name)}")
            for table in (*STORE_TABLES, *LIFE_TABLES, *RESULT_TABLES):
                self.connection.execute(create_table(table))
            for table in TRADE_TABLES:
                self.connection.execute(create_table(table, VERSION_COLUMNS))
            for table in STORE_TABLES:
                self._add_missing_columns(table)

    def _add_missing_columns(self, table: Table) -> None:
        """A table kept from an earlier version gains the columns that came later, empty."""
        found = {
            name
            for (name,) in self.rows("SELECT column_name FROM duckdb_columns() WHERE table_name = ?", (table.name,))
        }
        for column in table.columns:
            if column.name not in found:
                kind = DUCKDB_TYPES[column.type]
                self.connection.execute(f"ALTER TABLE {quoted(table.name)} ADD COLUMN {quoted(column.name)} {kind}")

    def _is_outdated(self, table: Table) -> bool:
        """Whether a table that every run rebuilds stands there with the columns of another version."""
        found = self.rows("SELECT column_name FROM duckdb_columns() WHERE table_name = ? ORDER BY 1", (table.name,))
        return bool(found) and [name for (name,) in found] != sorted(table.column_names)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Everything inside happens, or nothing does."""
        self.connection.execute("BEGIN TRANSACTION")
        try:
            yield
        except BaseException:
            self.connection.execute("ROLLBACK")
            raise
        self.connection.execute("COMMIT")

    def run(self, sql: str, parameters: Sequence[Any] = ()) -> None:
        """Run one statement for its effect."""
        self.connection.execute(sql, list(parameters))

    def rows(self, sql: str, parameters: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query."""
        return self.connection.execute(sql, list(parameters)).fetchall()

    def value(self, sql: str, parameters: Sequence[Any] = ()) -> Any:
        """The single value of a query that gives one row of one column."""
        return self.rows(sql, parameters)[0][0]

    def frame(self, sql: str, parameters: Sequence[Any] = ()) -> pl.DataFrame:
        """A query's rows as a polars frame."""
        found: pl.DataFrame = self.connection.sql(sql, params=list(parameters)).pl()
        return found

    def stream(self, sql: str, n_groups: int) -> Iterator[pa.Table]:
        """A query's rows in order, that many row groups at a time (the last has what is left).

        It sees only what is committed; other statements may run in between.
        """
        n_rows = n_groups * _ROW_GROUP
        cursor = self.connection.cursor()
        try:
            held: list[pa.RecordBatch] = []
            for batch in cursor.sql(sql).to_arrow_reader(_ROW_GROUP):
                held.append(batch)
                if sum(one.num_rows for one in held) >= n_rows:
                    whole = pa.Table.from_batches(held)
                    held = whole.slice(n_rows).to_batches()
                    yield _in_row_groups(whole.slice(0, n_rows))
            if held:
                yield _in_row_groups(pa.Table.from_batches(held))
        finally:
            cursor.close()

    def change_from(self, sql: str, parameters: Sequence[Any], source_rows: object) -> int:
        """Run an INSERT that may read `source_rows`, a frame or Arrow table, by that name; how many rows it wrote.

        DuckDB finds it as the variable of this function. What is registered instead stays in memory until the
        transaction ends, even when it is taken back.
        """
        return int(self.connection.execute(sql, list(parameters)).fetchall()[0][0])

    def append(self, table: Table, frame: pl.DataFrame) -> int:
        """Add the frame's rows to the table, columns checked against the contract; returns how many."""
        ready = as_table(frame, table)
        self.connection.register("appended_frame", ready)
        columns = column_list(table.columns)
        self.connection.execute(f"INSERT INTO {quoted(table.name)} ({columns}) SELECT {columns} FROM appended_frame")
        self.connection.unregister("appended_frame")
        return ready.height

    def replace(self, table: Table, frame: pl.DataFrame) -> int:
        """Make the table hold just the frame's rows; returns how many. Other columns: nothing is deleted."""
        ready = as_table(frame, table)
        self.connection.execute(f"DELETE FROM {quoted(table.name)}")
        return self.append(table, ready)

    def replace_from(self, table: Table, select: str) -> int:
        """Make the table hold just the rows of a SELECT that gives its columns by name; returns how many."""
        columns = column_list(table.columns)
        self.connection.execute(f"DELETE FROM {quoted(table.name)}")
        self.connection.execute(f"INSERT INTO {quoted(table.name)} ({columns}) SELECT {columns} FROM ({select})")
        return int(self.value(f"SELECT count(*) FROM {quoted(table.name)}"))

    def ask(self, as_of: date, known_at: datetime) -> None:
        """Set what is asked: `current_<table>` views show the rows as known at that moment, `asked` holds both."""
        moment = f"TIMESTAMP {literal(known_at.isoformat(sep=' '))}"
        self.run("CREATE OR REPLACE TEMP TABLE asked (as_of DATE, known_at TIMESTAMP)")
        self.run("INSERT INTO asked VALUES (?, ?)", (as_of, known_at))
        for table in TRADE_TABLES:
            self.run(
                f"CREATE OR REPLACE TEMP VIEW current_{table.name} AS SELECT * FROM {quoted(table.name)} "
                f"WHERE landed_at <= {moment} AND (superseded_at IS NULL OR superseded_at > {moment})"
            )


def _connect(path: Path, read_only: bool) -> duckdb.DuckDBPyConnection:
    """Open the file; DuckDB's own words about a lock or a foreign file become ours."""
    try:
        return duckdb.connect(str(path), read_only=read_only)
    except duckdb.IOException as error:
        if "set lock on file" in str(error) or "used by another process" in str(error):  # Linux and macOS; Windows
            raise StoreBusyError(
                f"{path}: another process is using the store ({_holder(str(error))}). Expected to be the only one. "
                "Wait until it has finished, or stop it, and run again."
            ) from error
        raise LongmileError(f"{path}: cannot be opened as the store ({_first_line(error)}).") from error


def _in_row_groups(table: pa.Table) -> pa.Table:
    """The table in batches of a row group each."""
    return pa.Table.from_batches(table.combine_chunks().to_batches(_ROW_GROUP), table.schema)


def _machine_memory() -> int:
    """Bytes of memory of this machine; where the system does not tell, as on Windows, enough for the most we take."""
    if not hasattr(os, "sysconf"):
        return 2 * _MOST_MEMORY
    return os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")


def _holder(message: str) -> str:
    """The part of DuckDB's message that names the process holding the lock."""
    start = message.find("Conflicting lock is held in ")
    if start < 0:
        return "which one is not known"
    return message[start + len("Conflicting lock is held in ") :].split(". ", maxsplit=1)[0]


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0]
