"""Parquet files to a RawTable: every column as text."""

from __future__ import annotations

from pathlib import Path

import polars as pl

from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.headers import MAX_COLUMNS, checked_headers, without_empty_columns
from longmile.pipelines.sources.shape import (
    ROW_NUMBER,
    RawTable,
    bad_lines_frame,
    unreadable,
    with_nulls,
    without_long_cells,
)

_MAGIC = b"PAR1"
_MAX_CELLS = 500_000_000
_TEXT_TYPES = (pl.String, pl.Categorical, pl.Enum, pl.Null)


def read_parquet(path: Path, known_as: str) -> RawTable:
    """The file's rows as text; `row_number` counts from 1, as a Parquet file has no header line.

    Dates as YYYY-MM-DD, moments as YYYY-MM-DD HH:MM:SS (a moment at midnight without a zone as its date),
    whole numbers without a decimal point even where the column is of floats (as columns of whole numbers with
    gaps often are). Raises UnreadableFileError where the file is damaged or a column holds lists, structures
    or bytes.
    """
    import pyarrow.parquet as pq

    _refuse_cut_short(path, known_as)
    with damaged_if_it_fails(known_as, "Parquet file"):
        with pq.ParquetFile(path) as file:
            _refuse_large(file.metadata.num_rows, file.metadata.num_columns, known_as)
            names = file.schema_arrow.names
            notes: list[str] = []
            named = checked_headers(known_as, names, notes)
            loaded = file.read()
        loaded.validate(full=True)
        frame = pl.DataFrame(pl.from_arrow(loaded.rename_columns(list(named.names))))
    text = with_nulls(frame.select(_as_text(name, kind, known_as) for name, kind in frame.schema.items()))
    rows = text.with_row_index(ROW_NUMBER, offset=1).cast({ROW_NUMBER: pl.Int64})
    if not rows.height:
        notes.append("the file has columns and no rows")
    rows, long = without_long_cells(rows, "\t")
    rows = without_empty_columns(rows, named, known_as, notes)
    return RawTable(Path(known_as).stem, rows, bad_lines_frame(long), loaded.num_rows, tuple(notes), named.repeated)


def _refuse_cut_short(path: Path, known_as: str) -> None:
    """A Parquet file ends as it begins; one that was cut short does not."""
    with path.open("rb") as file:
        file.seek(max(path.stat().st_size - len(_MAGIC), 0))
        end = file.read()
    if end != _MAGIC:
        raise unreadable(known_as, "the Parquet file has no end", "a complete Parquet file", "Export or copy it again")


def _refuse_large(n_rows: int, n_columns: int, known_as: str) -> None:
    """A few kilobytes of Parquet can stand for any number of equal values."""
    if n_rows * n_columns > _MAX_CELLS:
        raise unreadable(
            known_as,
            f"the file declares {n_rows:,} rows of {n_columns:,} columns",
            f"at most {_MAX_CELLS:,} cells in a file (and {MAX_COLUMNS:,} columns)",
            "Write it as several files",
        )


def _as_text(name: str, kind: pl.DataType, known_as: str) -> pl.Expr:
    """One column as text."""
    column = pl.col(name)
    if kind.is_float():
        return column.cast(pl.String).str.replace(r"^(-?\d+)\.0$", "$1")
    if isinstance(kind, pl.Datetime):
        return _moment(column, kind)
    if kind.is_integer() or kind.is_decimal() or kind in (pl.Boolean, pl.Date, pl.Time, *_TEXT_TYPES):
        return column.cast(pl.String)
    raise unreadable(
        known_as,
        f"column {name!r} is of type {kind}",
        "columns of text, numbers, dates, moments or true and false",
        f"Write {name!r} as plain columns",
    )


def _moment(column: pl.Expr, kind: pl.Datetime) -> pl.Expr:
    """A moment as text, with its offset where it has a zone."""
    if kind.time_zone:
        return column.dt.to_string("%Y-%m-%d %H:%M:%S%.f%:z")
    return column.dt.to_string("%Y-%m-%d %H:%M:%S%.f").str.replace(r" 00:00:00$", "")
