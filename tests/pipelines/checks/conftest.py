"""A small table with one rule of every kind, and the staging of hand-written rows as the loader does it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import duckdb
import pytest

from longmile.pipelines.checks.gate import Gate
from longmile.schemas.contract import Check, Column, Table

Stage = Callable[[duckdb.DuckDBPyConnection, Table, str, Sequence[Mapping[str, str | None]]], None]

_TYPES = {
    "text": "VARCHAR",
    "integer": "BIGINT",
    "decimal": "DOUBLE",
    "cents": "BIGINT",
    "date": "DATE",
    "moment": "TIMESTAMP",
    "boolean": "BOOLEAN",
}

JOB = Table(
    "job",
    "trade",
    "One job, with a rule of every kind.",
    (
        Column("order_no", "text", "Order.", is_required=True, max_length=6),
        Column("line_no", "integer", "Line.", is_required=True, minimum=0, maximum=99),
        Column("kind", "text", "Kind.", allowed=("labor", "part")),
        Column("part_number", "text", "Part.", pattern=r"[A-Z]{2}-\d{3}", severity="warn"),
        Column("labor_hours", "decimal", "Hours.", header="hours", minimum=0, maximum=24),
        Column("price_cents", "cents", "Price.", header="price", minimum=0),
        Column("opened_on", "date", "In."),
        Column("closed_on", "date", "Out."),
    ),
    key=("order_no", "line_no"),
    checks=(
        Check(
            "closed_not_before_opened",
            "closed_on must not be before opened_on",
            "closed_on >= opened_on",
            ("opened_on", "closed_on"),
        ),
        Check(
            "hours_have_a_price",
            "hours without a price",
            "price_cents > 0",
            ("price_cents",),
            severity="warn",
        ),
    ),
)


def stage_rows(
    connection: duckdb.DuckDBPyConnection,
    table: Table,
    staged: str,
    rows: Sequence[Mapping[str, str | None]],
) -> None:
    """Create the staging table: row_number from 1, landed_at, and a text and a typed column of each."""
    quoted = {c.name: '"' + c.name.replace('"', '""') + '"' for c in table.columns}
    text = {c.name: '"text_' + c.name.replace('"', '""') + '"' for c in table.columns}
    name = '"' + staged.replace('"', '""') + '"'
    columns = ", ".join(
        f"{text[c.name]} VARCHAR, {quoted[c.name]} {_TYPES[c.type]} "
        f"GENERATED ALWAYS AS (TRY_CAST({text[c.name]} AS {_TYPES[c.type]}))"
        for c in table.columns
    )
    connection.execute(f"CREATE TABLE kept_text (row_number BIGINT, landed_at TIMESTAMP, {columns})")
    marks = ", ".join("?" for _ in range(len(table.columns) + 2))
    filled = [[i, "2024-06-01", *(row.get(c.name) for c in table.columns)] for i, row in enumerate(rows, 1)]
    if filled:
        connection.executemany(f"INSERT INTO kept_text VALUES ({marks})", filled)
    # Plain columns, as the loader makes them: a generated column is only a short way to write the casts.
    connection.execute(f"CREATE TABLE {name} AS SELECT * FROM kept_text")
    connection.execute("DROP TABLE kept_text")


@pytest.fixture(scope="session")
def stage() -> Stage:
    return stage_rows


@pytest.fixture(scope="session")
def job() -> Table:
    return JOB


@pytest.fixture
def connection() -> Iterator[duckdb.DuckDBPyConnection]:
    with duckdb.connect() as opened:
        yield opened


@pytest.fixture
def gate(connection: duckdb.DuckDBPyConnection) -> Gate:
    return Gate(connection)


@pytest.fixture
def dirty_rows() -> list[dict[str, str | None]]:
    """Twelve rows; what each breaks stands beside it (opened 2024-01-02, closed 2024-01-03 unless said)."""
    sound: dict[str, str | None] = {
        "order_no": "A1",
        "kind": "part",
        "part_number": "AB-123",
        "labor_hours": "1.5",
        "price_cents": "1000",
        "opened_on": "2024-01-02",
        "closed_on": "2024-01-03",
    }
    return [
        {**sound, "line_no": "1"},  # 1 sound
        {**sound, "line_no": "2", "order_no": None},  # 2 order_no required
        {**sound, "line_no": "x"},  # 3 line_no typed
        {**sound, "line_no": "3", "kind": "lunch"},  # 4 kind one_of
        {**sound, "line_no": "100"},  # 5 line_no between
        {**sound, "line_no": "5", "part_number": "ab-1"},  # 6 part_number pattern (warn)
        {**sound, "line_no": "6", "order_no": "A234567"},  # 7 order_no length: 7 > 6
        {**sound, "line_no": "1", "kind": "labor"},  # 8 key unique: A1, 1 again
        {**sound, "line_no": "8", "closed_on": "2024-01-01"},  # 9 closed before opened
        {
            **sound,
            "line_no": "9",
            "labor_hours": "nan",
        },  # 10 hours typed; DuckDB: NaN above every maximum, between
        {  # 11 six at once: required, between, one_of, closed before opened; pattern and price warn
            "line_no": "-1",
            "kind": "lunch",
            "part_number": "zz",
            "price_cents": "0",
            "opened_on": "2024-02-01",
            "closed_on": "2024-01-01",
        },
        {"order_no": "A1", "line_no": "12"},  # 12 sound: everything that may be empty is
    ]
