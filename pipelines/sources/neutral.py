"""Files of the neutral layout: which table of the contract a file is, and which header is which column."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable, unreadable
from longmile.schemas.contract import Table

TEXT_PREFIX = "text_"


@dataclass(frozen=True)
class Match:
    """A file's table. columns: contract column name -> header; absent: contract columns without a header."""

    table: Table
    columns: dict[str, str]
    ignored_headers: tuple[str, ...]
    absent: tuple[str, ...]


def normal(name: str) -> str:
    """The name as it is compared: lower case, spaces and hyphens as underscores."""
    return re.sub(r"[\s\-]+", "_", name.strip().lower())


def match_table(raw: RawTable, tables: Sequence[Table]) -> Match:
    """The contract table this one is: by its name where that begins with a table's, else by its headers.

    Raises UnreadableFileError where it is none, could be several, lacks required columns or has a contract column
    twice; a column that is not of the contract may be there as often as it likes.
    """
    headers, alike = _by_normal_name(raw)
    table = _by_name(raw.name, tables) or _by_headers(raw, headers, tables)
    _refuse_twice(raw, table, alike)
    missing = _missing(table, headers)
    if missing:
        raise _missing_columns(raw, table, missing)
    columns = {c.name: headers[c.incoming] for c in table.columns if c.incoming in headers}
    used = set(columns.values())
    return Match(
        table,
        columns,
        tuple(header for header in raw.headers if header not in used),
        tuple(name for name in table.column_names if name not in columns),
    )


def to_contract_rows(raw: RawTable, match: Match) -> pl.DataFrame:
    """`row_number` and `text_<column>` (String) per contract column, stripped; empty or absent is null."""
    return raw.rows.select(ROW_NUMBER, *(_text(match, name) for name in match.table.column_names))


def _text(match: Match, name: str) -> pl.Expr:
    """One contract column as stripped text."""
    alias = TEXT_PREFIX + name
    header = match.columns.get(name)
    if header is None:
        return pl.lit(None, dtype=pl.String).alias(alias)
    stripped = pl.col(header).str.strip_chars()
    return pl.when(stripped != "").then(stripped).alias(alias)


def _by_normal_name(raw: RawTable) -> tuple[dict[str, str], dict[str, str]]:
    """Headers by the name they are compared under, and those names that two headers have, with what is wrong."""
    found: dict[str, str] = {}
    alike = {normal(name): f"the column {name!r} is there more than once" for name in raw.repeated}
    for header in raw.headers:
        name = normal(header)
        other = found.setdefault(name, header)
        if other != header:
            alike[name] = f"the columns {other!r} and {header!r} differ only in capitals, spaces or hyphens"
    return found, alike


def _refuse_twice(raw: RawTable, table: Table, alike: dict[str, str]) -> None:
    """Which of two columns of one name is meant cannot be told."""
    for column in table.columns:
        if column.incoming in alike:
            todo = "Remove or rename one of them"
            raise unreadable(raw.name, alike[column.incoming], "every column of the table once", todo)


def _by_name(name: str, tables: Sequence[Table]) -> Table | None:
    """The table with the longest name that begins this one, no letter following (repair_line_2024-05)."""
    fitting = [table for table in tables if re.match(rf"{re.escape(table.name)}(?![a-z])", normal(name))]
    return max(fitting, key=lambda table: len(table.name), default=None)


def _missing(table: Table, headers: dict[str, str]) -> list[str]:
    """Headers of required columns that are not there."""
    return [c.incoming for c in table.columns if c.is_required and c.incoming not in headers]


def _by_headers(raw: RawTable, headers: dict[str, str], tables: Sequence[Table]) -> Table:
    """The one table whose required columns are all there and which explains the most headers."""

    def explained(table: Table) -> int:
        return sum(column.incoming in headers for column in table.columns)

    whole = [table for table in tables if not _missing(table, headers)]
    most = max((explained(table) for table in whole), default=0)
    best = [table for table in whole if explained(table) == most]
    if len(best) == 1:
        return best[0]
    names = ", ".join(table.name for table in tables)
    if best:
        found = f"the columns fit several tables equally well: {', '.join(table.name for table in best)}"
    else:
        found = f"neither the name nor the columns ({', '.join(raw.headers[:30])}) are those of a table"
    raise unreadable(
        raw.name,
        found,
        f"one of the tables {names}",
        "Begin the name of the file or sheet with the name of its table, and check the column names",
    )


def _missing_columns(raw: RawTable, table: Table, missing: list[str]) -> Exception:
    """The error of a file that lacks required columns, with the header that may have been meant."""
    headers = [normal(header) for header in raw.headers]
    near = [(name, difflib.get_close_matches(name, headers, 1)) for name in missing]
    guesses = "; ".join(f"{hits[0]} may be {name}" for name, hits in near if hits)
    return unreadable(
        raw.name,
        f"as table {table.name} it lacks the required {'column' if len(missing) == 1 else 'columns'} "
        f"{', '.join(missing)} (found: {', '.join(raw.headers[:60])})",
        f"at least {', '.join(c.incoming for c in table.columns if c.is_required)}",
        f"Add or rename the columns{f': {guesses}' if guesses else ''}",
    )
