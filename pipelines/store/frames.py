"""A table's declaration as polars types, and a frame checked against it."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.errors import LongmileError
from longmile.schemas.contract import Table

POLARS_TYPES: dict[str, pl.DataType] = {
    "text": pl.String(),
    "integer": pl.Int64(),
    "decimal": pl.Float64(),
    "cents": pl.Int64(),
    "date": pl.Date(),
    "moment": pl.Datetime("us"),
    "boolean": pl.Boolean(),
}


def frame_schema(table: Table) -> dict[str, pl.DataType]:
    """Column name -> polars type, in the table's order."""
    return {column.name: POLARS_TYPES[column.type] for column in table.columns}


def as_table(frame: pl.DataFrame, table: Table) -> pl.DataFrame:
    """The frame with the table's columns in order and type.

    Raises LongmileError where the frame has other columns than the contract: a step that forgets or invents a column
    is a fault of the program, not of the data.
    """
    schema = frame_schema(table)
    missing = [name for name in schema if name not in frame.columns]
    extra = [name for name in frame.columns if name not in schema]
    if missing or extra:
        raise LongmileError(
            f"{table.name}: the step made other columns than the contract declares "
            f"(missing: {', '.join(missing) or 'none'}; not declared: {', '.join(extra) or 'none'})."
        )
    return frame.select(pl.col(name).cast(kind) for name, kind in schema.items())
