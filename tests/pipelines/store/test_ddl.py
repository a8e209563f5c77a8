"""DDL: every declared table runs in DuckDB, and DuckDB describes it as declared."""

from __future__ import annotations

import duckdb
import pytest

from longmile.pipelines.store.ddl import DUCKDB_TYPES, create_table
from longmile.schemas.contract import Column, Table
from longmile.schemas.registry import TABLES
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import VERSION_COLUMNS

# Written out here and not read from the code: what the contract's types are in DuckDB.
EXPECTED_TYPES = {
    "text": "VARCHAR",
    "integer": "BIGINT",
    "decimal": "DOUBLE",
    "cents": "BIGINT",
    "date": "DATE",
    "moment": "TIMESTAMP",
    "boolean": "BOOLEAN",
}


@pytest.fixture
def database():
    with duckdb.connect() as connection:
        yield connection


def described(connection: duckdb.DuckDBPyConnection, name: str) -> list[tuple[str, str, str]]:
    """(column, type, may be empty) as DuckDB says."""
    return [row[:3] for row in connection.execute(f'DESCRIBE "{name}"').fetchall()]


def declared(columns: tuple[Column, ...]) -> list[tuple[str, str, str]]:
    return [
        (c.name, EXPECTED_TYPES[c.type], "NO" if c.is_required and c.severity == "quarantine" else "YES")
        for c in columns
    ]


def test_every_type_of_the_contract_has_one_of_duckdb():
    assert DUCKDB_TYPES == EXPECTED_TYPES


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_declared_table_is_made_as_declared(database: duckdb.DuckDBPyConnection, table: Table):
    database.execute(create_table(table))
    assert described(database, table.name) == declared(table.columns)


@pytest.mark.parametrize("table", TRADE_TABLES, ids=lambda table: table.name)
def test_a_trade_table_gets_the_columns_of_its_versions_behind_its_own(
    database: duckdb.DuckDBPyConnection, table: Table
):
    database.execute(create_table(table, VERSION_COLUMNS))
    assert described(database, table.name) == declared((*table.columns, *VERSION_COLUMNS))


def test_a_column_the_table_has_already_is_not_added_twice(database: duckdb.DuckDBPyConnection):
    table = Table("t", "store", "A table.", (Column("x", "text", "X."),))
    database.execute(create_table(table, (Column("x", "integer", "Another."), Column("y", "date", "Y."))))
    assert described(database, "t") == [("x", "VARCHAR", "YES"), ("y", "DATE", "YES")]


def test_a_table_that_is_there_is_left_as_it_is(database: duckdb.DuckDBPyConnection):
    table = Table("t", "store", "A table.", (Column("x", "text", "X."),))
    database.execute(create_table(table))
    database.execute("INSERT INTO t VALUES ('kept')")
    database.execute(create_table(table))
    assert database.execute("SELECT x FROM t").fetchall() == [("kept",)]


def test_names_are_quoted(database: duckdb.DuckDBPyConnection):
    table = Table("select", "store", "A table.", (Column('a "b" from', "decimal", "A name that needs it."),))
    database.execute(create_table(table))
    assert described(database, "select") == [('a "b" from', "DOUBLE", "YES")]
