"""Rows that DuckDB read from a delimited file: numbered by line, and proven to be all that the file holds.

The proof. (1) Lines: each line feed that was counted in the bytes ends a row or stands inside a field. (2) Bytes: every
byte counted stands in a field, or is a delimiter, a line end, or a quote that encloses a field or doubles another. What
DuckDB does beyond the grammar of `delimited_record` loses bytes (spaces around quotes, fields beyond the last column)
or lines (blank ones), and it invents none, so nothing of the kind has happened where both sums are equal. (3) A record
over several lines most of which could be rows of their own is left to the careful reader, whose rule that is.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import polars as pl
import pyarrow as pa
import pyarrow.compute as pc

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.sources.delimited_bulk import (
    BETWEEN,
    IS_SUSPECT,
    LINES,
    N_BYTES,
    N_ENDS,
    N_QUOTES,
    N_RETURNS,
    BulkFile,
)
from longmile.pipelines.sources.encoded import MAX_LINE
from longmile.pipelines.sources.printed_lines import set_apart
from longmile.pipelines.sources.shape import MAX_CELL, ROW_NUMBER, BadLine, without_long_cells

_ROWS_SHARE = 0.8
_MAX_SUSPECTS = 10_000


class NotProvenError(LongmileError):
    """The rows are not proven to be those of the file; it is to be read another way. Never shown to anyone."""


@dataclass
class BulkAccount:
    """What has been read of a file so far. bad: rows set apart as lines of a printed list, or for a cell too long."""

    file: BulkFile
    bad: list[BadLine] = field(default_factory=list)
    n_rows: int = 0
    sums: dict[str, int] = field(default_factory=lambda: dict.fromkeys((N_BYTES, N_QUOTES, N_ENDS, N_RETURNS), 0))

    def take(self, chunk: pa.Table) -> pa.Table:
        """The chunk's rows under the file's headers with `row_number`, those set apart left out.

        Raises NotProvenError where a record is longer than any reader takes, or may be several rows.
        """
        counts = {name: chunk.column(name).to_numpy() for name in self.sums}
        self._refuse_doubtful(chunk, counts)
        ends = np.cumsum(counts[N_ENDS])
        first = self.file.layout.first_line + self.n_rows + self.sums[N_ENDS]
        numbers = first + np.arange(len(ends)) + np.concatenate(([0], ends[:-1]))[: len(ends)]
        self.n_rows += len(ends)
        for name, values in counts.items():
            self.sums[name] += int(values.sum())
        headers = list(self.file.layout.headers)
        rows = chunk.select(range(len(headers))).rename_columns(headers)
        rows = rows.append_column(ROW_NUMBER, pa.array(numbers, pa.int64()))
        doubtful = chunk.column(IS_SUSPECT).to_numpy() | (counts[N_BYTES] > MAX_CELL)
        return self._without_apart(rows, doubtful) if doubtful.any() else rows

    def close(self) -> None:
        """Hold what was read against what was counted; NotProvenError where they differ."""
        sums, file = self.sums, self.file
        n_lines = file.layout.first_line - 1 + self.n_rows + sums[N_ENDS]
        if n_lines != file.layout.source.n_lines:
            raise NotProvenError(f"{n_lines:,} of {file.layout.source.n_lines:,} lines")
        n_line_ends = file.n_ends - sums[N_ENDS] + file.n_returns - sums[N_RETURNS]
        n_bytes = sums[N_BYTES] + n_line_ends + file.n_quotes - sums[N_QUOTES]
        if n_bytes != file.n_bytes:
            raise NotProvenError(f"{n_bytes:,} of {file.n_bytes:,} bytes")

    def _refuse_doubtful(self, chunk: pa.Table, counts: dict[str, Any]) -> None:
        """Records too long for the careful reader, or over several lines most of which could be rows."""
        if counts[N_BYTES].size and counts[N_BYTES].max() > MAX_LINE // 2:
            raise NotProvenError("a record of more than half a mebibyte")
        n_headers = len(self.file.layout.headers)
        if n_headers > 2 and counts[N_ENDS].any():
            lines = pl.Series(LINES, pl.from_arrow(chunk.column(LINES).drop_null()))
            if _may_be_rows(lines, self.file.layout.delimiter, n_headers):
                raise NotProvenError("a record over several lines that may be rows of their own")

    def _without_apart(self, rows: pa.Table, doubtful: Any) -> pa.Table:
        """The rows without those that the other readers set apart; few are looked at."""
        if doubtful.sum() > _MAX_SUSPECTS:
            raise NotProvenError(f"{doubtful.sum():,} rows that may be lines of a printed list")
        looked_at = pl.DataFrame(pl.from_arrow(rows.filter(pa.array(doubtful))))
        layout = self.file.layout
        sound, apart = set_apart(looked_at.select(ROW_NUMBER, *layout.headers), layout.printed, layout.delimiter)
        _, long = without_long_cells(sound, layout.delimiter)
        self.bad += [*apart, *long]
        left_out = pa.array([line.row_number for line in (*apart, *long)], pa.int64())
        return rows.filter(pc.invert(pc.is_in(rows.column(ROW_NUMBER), left_out)))


def _may_be_rows(records: pl.Series, delimiter: str, n_headers: int) -> bool:
    """Whether for any of the records nearly all lines have as many fields as the header, quotes taken literally.

    Quotes do not matter to the number of delimiters in a line, so the fields are as good as the lines of the file.
    Blank lines are left out, more of them than the careful reader leaves out, and the share is lower than its own.
    """
    each = records.str.split("\n").alias("line").to_frame().with_row_index("record").explode("line")
    line = pl.col("line")
    n_signs = line.str.count_matches(delimiter, literal=True) + line.str.count_matches(BETWEEN, literal=True)
    is_filled = line.str.strip_chars(" \r") != ""
    judged = each.group_by("record").agg(
        (n_signs == n_headers - 1).sum().alias("n_fitting"), is_filled.sum().alias("n_filled")
    )
    return bool(judged.select((pl.col("n_fitting") >= _ROWS_SHARE * pl.col("n_filled")).any()).item())
