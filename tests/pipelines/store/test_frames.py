"""Frame types and DDL are two readings of one declaration: what goes in through one comes back as the other."""

from __future__ import annotations

from datetime import date, datetime

import duckdb
import polars as pl
import pytest

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.sql import column_list
from longmile.pipelines.store.ddl import create_table
from longmile.pipelines.store.frames import as_table, frame_schema
from longmile.schemas.contract import Column, Table
from longmile.schemas.registry import TABLES

ONE = {
    "text": "a 'quoted' ä",
    "integer": 2**53 + 1,  # the first whole number a DOUBLE cannot hold (IEEE 754: 53 bits of significand)
    "decimal": 0.1,
    "cents": -(2**53) - 1,
    "date": date(2024, 2, 29),
    "moment": datetime(2024, 2, 29, 23, 59, 59, 999_999),
    "boolean": True,
}
JOBS = Table(
    "jobs",
    "store",
    "Jobs.",
    (Column("job", "text", "A number."), Column("hours", "decimal", "Hours."), Column("n_jobs", "integer", "Count.")),
)


def one_row(table: Table) -> pl.DataFrame:
    return pl.DataFrame({c.name: [ONE[c.type]] for c in table.columns}, schema=frame_schema(table))


@pytest.mark.parametrize("n_rows", [0, 1])
@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_frame_comes_back_from_duckdb_as_it_went_in(table: Table, n_rows: int):
    frame = as_table(one_row(table).head(n_rows), table)
    with duckdb.connect() as database:
        database.execute(create_table(table))
        database.register("incoming", frame)
        columns = column_list(table.columns)
        database.execute(f'INSERT INTO "{table.name}" ({columns}) SELECT {columns} FROM incoming')
        back = database.sql(f'SELECT * FROM "{table.name}"').pl()
    assert dict(back.schema) == frame_schema(table)
    assert back.rows() == frame.rows()


def test_columns_come_out_in_order_and_type():
    made = as_table(pl.DataFrame({"n_jobs": [3], "job": ["a"], "hours": [2]}), JOBS)
    assert dict(made.schema) == {"job": pl.String, "hours": pl.Float64, "n_jobs": pl.Int64}
    assert made.rows() == [("a", 2.0, 3)]


def test_columns_of_nothing_but_empty_values_get_their_type():
    made = as_table(pl.DataFrame({"job": [None], "hours": [None], "n_jobs": [None]}), JOBS)
    assert dict(made.schema) == frame_schema(JOBS)


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        (("job", "n_jobs"), r"missing: hours; not declared: none"),
        (("job", "hours", "n_jobs", "axle"), r"missing: none; not declared: axle"),
        (("job", "n_jobs", "hour", "axle"), r"missing: hours; not declared: hour, axle"),
        ((), r"missing: job, hours, n_jobs; not declared: none"),
    ],
)
def test_other_columns_than_declared_are_named(columns: tuple[str, ...], said: str):
    with pytest.raises(
        LongmileError, match=rf"^jobs: the step made other columns than the contract declares \({said}\)"
    ):
        as_table(pl.DataFrame({name: [1] for name in columns}), JOBS)
