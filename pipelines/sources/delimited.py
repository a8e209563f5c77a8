"""CSV and its kin to a RawTable: finds the delimiter and the header, then reads the body fast or carefully.

Both ways of reading the body (`delimited_fast`, `delimited_careful`) give the same rows for every file the
fast one accepts; the fast one refuses whatever it cannot prove to be one record per line.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.sources.delimited_careful import read_carefully
from longmile.pipelines.sources.delimited_fast import read_fast
from longmile.pipelines.sources.delimited_layout import find_layout
from longmile.pipelines.sources.delimited_record import Body, Layout
from longmile.pipelines.sources.encoded import text_file
from longmile.pipelines.sources.headers import without_empty_columns
from longmile.pipelines.sources.printed_lines import renamed, set_apart
from longmile.pipelines.sources.shape import RawTable, bad_lines_frame, with_nulls, without_long_cells

__all__ = ["find_layout", "read_delimited"]


def read_delimited(path: Path, known_as: str, fast: Callable[[Layout], Body | None] | None = read_fast) -> RawTable:
    """The file's records as text; `fast=None` reads carefully from the start (same rows, slower).

    The header when it comes again, totals and page lines are set aside with the bad lines.
    Raises UnreadableFileError where there is no usable header, ReconciliationError where a line is
    unaccounted for.
    """
    source = text_file(path, known_as)
    notes = list(source.notes)
    layout = find_layout(source, notes)
    body = (fast(layout) if fast else None) or read_carefully(layout)
    _reconcile(layout, body)
    n_blank = body.n_blank + layout.n_blank
    if n_blank:
        notes.append(f"{n_blank:,} blank {'line' if n_blank == 1 else 'lines'} ignored")
    n_physical = body.rows.height + len(body.bad)
    if not n_physical:
        notes.append("the file has a header and no data rows")
    rows, apart = set_apart(with_nulls(body.rows), layout.printed, layout.delimiter)
    rows, long = without_long_cells(rows, layout.delimiter)
    rows = without_empty_columns(rows, layout.named, known_as, notes)
    bad = bad_lines_frame([*renamed(body.bad, layout.printed, layout.delimiter), *apart, *long])
    return RawTable(Path(known_as).stem, rows, bad, n_physical, tuple(notes), layout.named.repeated)


def _reconcile(layout: Layout, body: Body) -> None:
    """Every physical line is up to the header, blank, bad or part of a row; the lines were counted apart from this."""
    parts = layout.first_line - 1, body.n_blank, len(body.bad), body.n_record_lines
    if sum(parts) == layout.source.n_lines:
        return
    raise ReconciliationError(
        f"{layout.source.known_as}: the file has {layout.source.n_lines:,} lines, but {parts[0]:,} up to the "
        f"header, {parts[1]:,} blank, {parts[2]:,} bad and {parts[3]:,} in rows make {sum(parts):,}. "
        "Expected the two to be equal; nothing of this file was taken. If it was still being written, drop "
        "it in again when complete; if not, keep the file and report it."
    )
