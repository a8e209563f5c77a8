"""A comma-separated file as a frame of text cells, and the faulty rows told. Knows no columns."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import TYPE_CHECKING, Any

from longmile.pipelines.errors import UnreadableFileError

if TYPE_CHECKING:
    import polars as pl

_SHOWN = 10


def read_csv(path: Path, row_is: str) -> tuple[pl.DataFrame, list[dict[str, Any]]]:
    """All cells as text, and the rows whose number of cells is not the header's (left empty in the frame).

    row_is: what a row of the file stands for, in words.
    Raises UnreadableFileError, naming the file, if it cannot be opened, is empty or is no CSV file in UTF-8.
    """
    import polars as pl

    content = _content(path, row_is)
    header = next(csv.reader(content.decode("utf-8").splitlines()[:1]))
    if len(set(header)) < len(header):
        raise UnreadableFileError(f"{path.name}: two columns have the same name ({', '.join(header)}).")
    if content.count(b'"') % 2 == 0:
        try:
            return pl.read_csv(content, infer_schema_length=0), []
        except pl.exceptions.PolarsError:
            pass
    return _read_uneven(path, content)


def _content(path: Path, row_is: str) -> bytes:
    """The bytes of the file in UTF-8, without a byte-order mark or blank lines around them."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise UnreadableFileError(f"{path}: cannot be opened ({error.strerror}). Expected a CSV file.") from error
    if not content.strip():
        raise UnreadableFileError(f"{path.name}: empty. Expected a header line and a row per {row_is}.")
    try:
        return content.decode("utf-8-sig").encode("utf-8").strip(b"\r\n") + b"\n"
    except UnicodeDecodeError as error:
        raise UnreadableFileError(
            f"{path.name}: not UTF-8 text (byte {error.start:,}). Save it as CSV in UTF-8 and try again."
        ) from error


def _read_uneven(path: Path, content: bytes) -> tuple[pl.DataFrame, list[dict[str, Any]]]:
    """The same for a file that is no clean rectangle, cell by cell: slow, so only where it must."""
    import polars as pl

    lines = csv.reader(content.decode("utf-8").splitlines(keepends=True), strict=True)
    try:
        header, *rows = lines
    except csv.Error as error:
        raise UnreadableFileError(
            f"{path.name}: not a CSV file, up to line {lines.line_num:,}: {error}. "
            "Often a quotation mark is opened and never closed."
        ) from error
    ragged = [
        {"row": i, "column": "", "reason": f"{len(row)} cells, the header has {len(header)}"}
        for i, row in enumerate(rows, 1)
        if len(row) != len(header)
    ]
    even = [row if len(row) == len(header) else [""] * len(header) for row in rows]
    return pl.DataFrame(even, schema=dict.fromkeys(header, pl.String), orient="row"), ragged


def merged_faults(listed: list[dict[str, Any]], ragged: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Faults in order of rows; of a row with cells too many or too few only that is said."""
    uneven = {fault["row"] for fault in ragged}
    kept = [fault for fault in listed if fault["row"] not in uneven]
    return sorted([*kept, *ragged], key=lambda fault: fault["row"])


def set_aside_lines(read: dict[str, Any], rows: str = "rows") -> list[str]:
    """What was set aside, in words; nothing where nothing was. read: n_set_aside, n_rows, set_aside."""
    if not read["n_set_aside"]:
        return []
    shown = read["set_aside"][:_SHOWN]
    lines = [f"{read['n_set_aside']:,} of {read['n_rows']:,} {rows} set aside:"]
    lines += [f"  row {fault['row']:,}, {fault['column']}: {fault['reason']}" for fault in shown]
    more = len(read["set_aside"]) - len(shown)
    return [*lines, f"  and {more:,} more; --json lists all of them"] if more else lines
