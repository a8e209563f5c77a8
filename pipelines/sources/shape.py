"""What every reader gives back: text rows with their place in the file, and the lines that could not be read.

Also what all readers share: the words of an unreadable file, the empty cell, the cell that is too long. No
reading here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import polars as pl

from longmile.pipelines.errors import ReconciliationError, UnreadableFileError

ROW_NUMBER = "row_number"
MAX_RAW_TEXT = 2_000
MAX_CELL = 100_000
SUPPORTED = (
    "CSV (.csv, .txt, .tsv), workbooks (.xlsx, .xlsm), JSON lines (.jsonl, .ndjson), Parquet (.parquet), "
    "or these in .gz or .zip"
)
_BAD_SCHEMA = {ROW_NUMBER: pl.Int64, "raw_text": pl.String, "reason": pl.String}


class BadLine(NamedTuple):
    """A line set aside: where it starts, what it held (already cut), and why it was not read."""

    row_number: int
    raw_text: str
    reason: str


@dataclass(frozen=True)
class RawTable:
    """One table as it stands in a file: every value as text, an empty cell as null, nothing cleaned.

    name: sheet name or file stem. rows: `row_number` (Int64, 1-based line of the file, or row of the sheet,
    at which the record starts, the header counted) and one String column per header, in the file's order and
    spelling, stripped. bad_lines: row_number, raw_text (at most 2,000 characters and then the full length),
    reason. n_physical: data records found. notes: sentences about how the file was read. repeated: names that the
    file has more than once (`name` here, then `name (2)`): which of them is meant cannot be told. Raises
    ReconciliationError where rows and bad_lines do not add up to n_physical.
    """

    name: str
    rows: pl.DataFrame
    bad_lines: pl.DataFrame
    n_physical: int
    notes: tuple[str, ...] = field(default=())
    repeated: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        """Refuse a table in which a record was lost or counted twice."""
        accounted = self.rows.height + self.bad_lines.height
        if accounted != self.n_physical:
            raise ReconciliationError(
                f"{self.name}: {self.n_physical:,} data records were found, but {self.rows.height:,} rows "
                f"and {self.bad_lines.height:,} bad lines make {accounted:,}. Expected the two to be equal; "
                "nothing of this file was taken. The fault is longmile's: keep the file and report it."
            )

    @property
    def headers(self) -> tuple[str, ...]:
        """The file's column names, in order."""
        return tuple(name for name in self.rows.columns if name != ROW_NUMBER)


def unreadable(file: str, found: str, expected: str, todo: str) -> UnreadableFileError:
    """The error of a file that cannot be read at all: what was found, what was expected, what to do."""
    return UnreadableFileError(f"{file}: {found}. Expected {expected}. {todo}.")


def cut(text: str, length: str = "") -> str:
    """The text as kept beside a bad line: NUL made visible, at most 2,000 characters and the full length."""
    shown = text[:MAX_RAW_TEXT].replace("\0", "\\x00")
    if len(text) <= MAX_RAW_TEXT and not length:
        return shown
    return f"{shown}... [{length or f'{len(text):,} characters'} in all]"


def bad_lines_frame(bad: Sequence[BadLine]) -> pl.DataFrame:
    """The lines set aside as a frame, in the order of the file."""
    return pl.DataFrame(sorted(bad), schema=_BAD_SCHEMA, orient="row")


def with_nulls(rows: pl.DataFrame) -> pl.DataFrame:
    """The rows with every empty text made null, so that all readers say "empty" in one way."""
    text = pl.col(pl.String)
    return rows.with_columns(pl.when(text != "").then(text))


def without_long_cells(rows: pl.DataFrame, joined_by: str) -> tuple[pl.DataFrame, list[BadLine]]:
    """The rows whose cells can be read, and those with a cell of more than MAX_CELL characters as bad lines."""
    names = [name for name in rows.columns if name != ROW_NUMBER]
    longest = rows.select(pl.col(names).str.len_bytes().max()).row(0, named=True)
    suspects = [name for name in names if (longest[name] or 0) > MAX_CELL]
    if not suspects:
        return rows, []
    is_long = pl.any_horizontal(pl.col(suspects).str.len_chars() > MAX_CELL).fill_null(False)
    bad = [_long_cell(row, suspects, joined_by) for row in rows.filter(is_long).iter_rows(named=True)]
    return rows.filter(~is_long), bad


def _long_cell(row: dict[str, Any], suspects: Sequence[str], joined_by: str) -> BadLine:
    """The row set aside, its longest column named."""
    name = max(suspects, key=lambda suspect: len(row[suspect] or ""))
    shown = joined_by.join(str(value or "") for key, value in row.items() if key != ROW_NUMBER)
    reason = f"holds {len(row[name]):,} characters in the column {name[:60]!r}, at most {MAX_CELL:,} are read in a cell"
    return BadLine(row[ROW_NUMBER], cut(shown), reason)
