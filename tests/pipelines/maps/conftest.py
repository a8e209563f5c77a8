"""A DuckDB connection, and cells read by an expression."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import duckdb
import pytest


@pytest.fixture(scope="session")
def connection() -> Iterator[duckdb.DuckDBPyConnection]:
    with duckdb.connect() as opened:
        yield opened


@pytest.fixture(scope="session")
def read(connection) -> Callable[[str, Sequence[str | None]], list[str | None]]:
    """`read(expression, cells)`: the expression over the column `cell`, for each cell."""

    def read(expression: str, cells: Sequence[str | None]) -> list[str | None]:
        rows = connection.execute(
            f"SELECT {expression} FROM (SELECT unnest($cells::VARCHAR[]) AS cell, "
            "generate_subscripts($cells::VARCHAR[], 1) AS place) ORDER BY place",
            {"cells": list(cells)},
        )
        return [text for (text,) in rows.fetchall()]

    return read
