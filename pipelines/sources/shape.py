"""What every reader gives back: text rows with their place in the file, and the lines that could not be read.

Also what all readers share: the words of an unreadable file, the rules for headers, the empty cell. No
reading here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import polars as pl

from longmile.pipelines.errors import ReconciliationError, UnreadableFileError

ROW_NUMBER = "row_number"
RENAMED_ROW_NUMBER = "row_number_in_file"
MAX_COLUMNS = 1_000
MAX_RAW_TEXT = 2_000
SUPPORTED = "CSV (.csv, .txt, .tsv), workbooks (.xlsx, .xlsm), JSON lines (.jsonl, .ndjson), Parquet (.parquet)"
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
    reason. n_physical: data records found. notes: sentences about how the file was read. Raises
    ReconciliationError where rows and bad_lines do not add up to n_physical.
    """

    name: str
    rows: pl.DataFrame
    bad_lines: pl.DataFrame
    n_physical: int
    notes: tuple[str, ...] = field(default=())

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


def checked_headers(file: str, found: Iterable[str | None], notes: list[str]) -> tuple[str, ...]:
    """The header stripped, one name per column; a column called row_number is renamed and `notes` says so.

    Raises UnreadableFileError where names are blank or repeated, where there are more than 1,000, or where
    the first line looks like data.
    """
    names = [(name or "").strip() for name in found]
    if len(names) > MAX_COLUMNS:
        raise unreadable(
            file,
            f"the header has {len(names):,} columns",
            f"at most {MAX_COLUMNS:,}",
            "Export only the columns that are needed",
        )
    _refuse_blank(file, names)
    _refuse_data(file, names)
    if ROW_NUMBER in names:
        names[names.index(ROW_NUMBER)] = RENAMED_ROW_NUMBER
        notes.append(f"the file's own column {ROW_NUMBER} is called {RENAMED_ROW_NUMBER} here")
    repeated = sorted({name for name in names if names.count(name) > 1})
    if repeated:
        raise unreadable(
            file,
            f"the header repeats {_listed(repeated)}",
            "every column name once",
            "Rename or remove the repeated columns and drop the file in again",
        )
    return tuple(names)


def _refuse_blank(file: str, names: list[str]) -> None:
    """A column without a name cannot be told apart from a shifted one."""
    blank = [str(place) for place, name in enumerate(names, 1) if not name]
    if not blank:
        return
    raise unreadable(
        file,
        f"the header has no name in column {', '.join(blank[:10])} of {len(names):,}",
        "a first line with a name for every column",
        "Give every column a name, or remove the lines above the header and the empty columns",
    )


def _refuse_data(file: str, names: list[str]) -> None:
    """Half of the names without a letter: the header is missing and the first record stands in its place."""
    numbers = [name for name in names if not re.search(r"[^\W\d_]", name)]
    if 2 * len(numbers) < len(names):
        return
    raise unreadable(
        file,
        f"the first line looks like data, not like a header ({_listed(numbers)})",
        "a first line with the names of the columns",
        "Export again with column names",
    )


def _listed(names: Sequence[str]) -> str:
    """At most ten names, quoted, each cut at 60 characters."""
    return ", ".join(repr(name[:60]) for name in names[:10])
