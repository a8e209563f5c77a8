"""Where the rows of a part of a file come from: whole from a reader, or piece by piece from DuckDB's own.

Whoever lands them takes them in chunks and need not know which.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

import polars as pl
import pyarrow as pa

from longmile.pipelines.sources.bulk_account import BulkAccount, NotProvenError
from longmile.pipelines.sources.delimited_bulk import BulkFile, bulk_sql
from longmile.pipelines.sources.headers import Names
from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable, bad_lines_frame
from longmile.pipelines.store.store import Store

CHUNK_ROWS = 1_000_000
"""Rows of a frame that are landed at once."""

BULK_GROUPS = 6
"""Row groups of DuckDB that are landed at once: some 740,000 rows, some 300 MB."""


class RawRows(Protocol):
    """Rows of a part as text under the file's headers, with `row_number`. Counts hold once `chunks` ended."""

    @property
    def is_trimmed(self) -> bool:
        """Whether no text has white space at its ends, and none is empty."""

    def chunks(self) -> Iterator[pl.DataFrame | pa.Table]:
        """The rows, in the order of the file."""

    def bad_lines(self) -> pl.DataFrame:
        """Lines that are no rows: row_number, raw_text, reason."""

    def n_physical(self) -> int:
        """Rows and bad lines."""


@dataclass(frozen=True)
class WholeRows:
    """The rows of a part that a reader has read."""

    raw: RawTable
    is_trimmed: bool = False

    def chunks(self) -> Iterator[pl.DataFrame]:
        """All at once, or a large table in slices."""
        yield from self.raw.rows.iter_slices(CHUNK_ROWS) if self.raw.rows.height else [self.raw.rows]

    def bad_lines(self) -> pl.DataFrame:
        """As read."""
        return self.raw.bad_lines

    def n_physical(self) -> int:
        """As read."""
        return self.raw.n_physical


class BulkRows:
    """The rows of a big delimited file as DuckDB reads them; `chunks` raises NotProvenError where they may be wrong."""

    def __init__(self, file: BulkFile, store: Store) -> None:
        self.is_trimmed = file.is_plain
        self._store = store
        self._account = BulkAccount(file)

    def chunks(self) -> Iterator[pa.Table]:
        """Numbered rows, proven complete at the end."""
        for chunk in _read_or_not_proven(self._store, bulk_sql(self._account.file)):
            yield self._account.take(chunk)
        self._account.close()

    def bad_lines(self) -> pl.DataFrame:
        """Rows set apart so far."""
        return bad_lines_frame(self._account.bad)

    def n_physical(self) -> int:
        """Rows read so far."""
        return self._account.n_rows


def _read_or_not_proven(store: Store, sql: str) -> Iterator[pa.Table]:
    """The chunks; whatever DuckDB objects to in the file is a reason to read it another way."""
    chunks = store.stream(sql, BULK_GROUPS)
    while True:
        try:
            chunk = next(chunks, None)
        except Exception as error:  # raised through Arrow, with its classes or DuckDB's as it happens
            raise NotProvenError(str(error)) from error
        if chunk is None:
            return
        yield chunk


def header_alone(name: str, named: Names) -> RawTable:
    """A table without rows, by whose header is found out what the part is."""
    rows = pl.DataFrame(schema={ROW_NUMBER: pl.Int64} | dict.fromkeys(named.names, pl.String))
    return RawTable(name, rows, bad_lines_frame([]), 0, (), named.repeated)
