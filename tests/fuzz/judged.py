"""What came of one damaged file: the reader, then the matching of tables; and whether every record is accounted for."""

from __future__ import annotations

import re
from pathlib import Path

import polars as pl

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.neutral import match_table, to_contract_rows
from longmile.pipelines.sources.read import read_file
from longmile.pipelines.sources.shape import MAX_RAW_TEXT, ROW_NUMBER, RawTable
from longmile.schemas.shop import TRADE_TABLES


class Broken(AssertionError):
    """A promise of the reader that was not kept."""


def outcome(folder: Path, data: bytes, name: str) -> str:
    """`refused`, `read, no table of the contract` or `read and matched`; raises whatever else comes out."""
    path = folder / "file"
    path.write_bytes(data)
    try:
        tables = read_file(path, name)
    except UnreadableFileError as refused:
        if not re.search(r"^\S.*: .*\. Expected .*\. .*\.$", str(refused), re.DOTALL):
            raise Broken(f"a message without its parts: {refused}") from refused
        return "refused"
    if len({table.name.lower() for table in tables}) != len(tables):
        raise Broken("two parts of one name")
    for table in tables:
        _is_sound(table)
    if len(tables) == 1 and not data.startswith((b"PK", b"\x1f\x8b", b"PAR1")):
        _are_all_lines_there(tables[0], data, name)
    return _matched(tables)


def _matched(tables: list[RawTable]) -> str:
    """Whether any table is one of the contract; its rows must all come through."""
    n_matched = 0
    for table in tables:
        try:
            match = match_table(table, TRADE_TABLES)
        except UnreadableFileError:
            continue
        n_matched += 1
        if to_contract_rows(table, match)[ROW_NUMBER].to_list() != table.rows[ROW_NUMBER].to_list():
            raise Broken("rows lost on the way to the contract's columns")
    return "read and matched" if n_matched else "read, no table of the contract"


def _is_sound(table: RawTable) -> None:
    """What `RawTable` promises beside its sum, which it checks itself."""
    numbers = [*table.rows[ROW_NUMBER], *table.bad_lines[ROW_NUMBER]]
    kinds = {kind for name, kind in table.rows.schema.items() if name != ROW_NUMBER}
    checks = {
        "a row number twice": len(set(numbers)) == len(numbers),
        "a row number below 1": min(numbers, default=1) >= 1,
        "rows out of order": table.rows[ROW_NUMBER].is_sorted(),
        "values that are no text": kinds <= {pl.String},
        "no column": bool(table.headers),
        "a blank name": all(name.strip() for name in table.headers),
        "two names alike": len({name.lower() for name in table.headers}) == len(table.headers),
        "an empty text that is not null": not (
            table.rows.select(pl.col(pl.String) == "").sum().sum_horizontal() > 0
        ).any(),
        "a raw text that is not cut": max(map(len, table.bad_lines["raw_text"]), default=0) < 4 * MAX_RAW_TEXT + 60,
        "a line without a reason": all(table.bad_lines["reason"]),
    }
    broken = [promise for promise, is_kept in checks.items() if not is_kept]
    if broken:
        raise Broken(f"{table.name}: {', '.join(broken)}")


def _are_all_lines_there(table: RawTable, data: bytes, name: str) -> None:
    """Filled lines counted from the bytes, by other means than the reader's, must be its records.

    Only where no quote can join lines and no zero widens letters; in JSON lines quotes join nothing.
    """
    is_json = name.lower().endswith((".jsonl", ".ndjson"))
    if b"\0" in data or data.startswith((b"\xff\xfe", b"\xfe\xff")) or (b'"' in data and not is_json):
        return
    lines = data.removeprefix(b"\xef\xbb\xbf").split(b"\n" if b"\n" in data else b"\r")
    if is_json:
        n_filled = sum(bool(line.decode("utf-8", "replace").strip()) for line in lines)
    else:
        below = lines[_first_data_line(table, lines) - 1 :]
        n_filled = sum(bool(line.removesuffix(b"\r").strip(b" ")) for line in below)
    if n_filled != table.n_physical:
        raise Broken(f"{n_filled} lines with anything in them, {table.n_physical} records")


def _first_data_line(table: RawTable, lines: list[bytes]) -> int:
    """The line after the header, by the notes."""
    above = next(
        (re.match(r"lines? (?:1 to )?(\d+) stands? above", note) for note in table.notes if "above" in note), None
    )
    if above:
        return int(above[1]) + 2
    n_stated = next((int(note.split()[1]) for note in table.notes if "states the delimiter" in note), 0)
    header = next(at for at, line in enumerate(lines, 1) if at > n_stated and line.removesuffix(b"\r").strip(b" "))
    return header + 1
