"""The names of a file's columns: each has one, no two have the same, and what had to be done for that is noted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import polars as pl

from longmile.pipelines.sources.shape import ROW_NUMBER, unreadable

RENAMED_ROW_NUMBER = "row_number_in_file"
MAX_COLUMNS = 1_000


@dataclass(frozen=True)
class Names:
    """names: one per column, none blank, no two alike but for capitals.

    unnamed: those of our own making, for columns without a name.   repeated: names that the file has more than
    once, as the first of them is written; the later ones are called `name (2)`, `name (3)`.
    """

    names: tuple[str, ...]
    unnamed: tuple[str, ...] = ()
    repeated: tuple[str, ...] = ()


def checked_headers(file: str, found: Iterable[str | None], notes: list[str]) -> Names:
    """The header stripped, one name per column; a column called row_number is renamed and `notes` says so.

    Raises UnreadableFileError where there are more than 1,000 columns, where none has a name, or where the line
    looks like data.
    """
    names = [(name or "").strip() for name in found]
    if len(names) > MAX_COLUMNS:
        raise unreadable(
            file,
            f"the header has {len(names):,} columns",
            f"at most {MAX_COLUMNS:,}",
            "Export only the columns that are needed",
        )
    _refuse_data(file, names)
    if ROW_NUMBER in names:
        names[names.index(ROW_NUMBER)] = RENAMED_ROW_NUMBER
        notes.append(f"the file's own column {ROW_NUMBER} is called {RENAMED_ROW_NUMBER} here")
    filled = [name or f"column {place}" for place, name in enumerate(names, 1)]
    unique, repeated = _each_once(filled)
    if repeated:
        notes.append(f"the header repeats {_listed(repeated)}; the later ones have a number behind the name here")
    unnamed = tuple(ours for ours, name in zip(unique, names, strict=True) if not name)
    return Names(tuple(unique), unnamed, tuple(repeated))


def _refuse_data(file: str, names: list[str]) -> None:
    """Half of the names without a letter: the header is missing and the first record stands in its place.

    The values are not shown: they may be somebody's telephone number.
    """
    given = [name for name in names if name]
    n_numbers = sum(not re.search(r"[^\W\d_]", name) for name in given)
    if 2 * n_numbers < len(given):
        return
    found = f"the first line looks like data, not like a header ({n_numbers:,} of {len(given):,} names have no letter)"
    if not given:
        found = "the header has no name at all"
    raise unreadable(file, found, "a line with the names of the columns", "Export again with column names")


def _each_once(names: list[str]) -> tuple[list[str], list[str]]:
    """The names with a number behind each that was there before, and those that came again.

    Capitals make no difference: the store's columns do not differ by them.
    """
    taken = {name.lower(): name for name in reversed(names)}
    seen: set[str] = set()
    unique: list[str] = []
    repeated: dict[str, None] = {}
    last: dict[str, int] = {}
    for name in names:
        key, ours = name.lower(), name
        while ours.lower() in seen or (ours != name and ours.lower() in taken):
            last[key] = last.get(key, 1) + 1
            ours = f"{name} ({last[key]})"
        if ours != name:
            repeated[taken[key]] = None
        seen.add(ours.lower())
        unique.append(ours)
    return unique, list(repeated)


def without_empty_columns(rows: pl.DataFrame, names: Names, file: str, notes: list[str]) -> pl.DataFrame:
    """The rows without the columns that have neither a name nor a value; nameless ones with values are noted.

    Raises UnreadableFileError where most values stand in columns without a name: then this was no header.
    """
    if not names.unnamed:
        return rows
    is_filled = pl.all().exclude(ROW_NUMBER).str.strip_chars() != ""
    n_values = rows.select(is_filled.sum()).row(0, named=True)
    kept = [name for name in names.unnamed if n_values[name]]
    n_nameless = sum(n_values[name] for name in kept)
    if 2 * n_nameless > sum(n_values.values()):
        raise unreadable(
            file,
            f"{len(kept):,} of {len(n_values):,} columns have no name, and most values stand in those",
            "a line with a name for every column",
            "Give every column a name",
        )
    if kept:
        notes.append(f"{_columns(kept)} no name in the file: called {_listed(kept)} here, by place")
    return rows.drop(set(names.unnamed) - set(kept))


def _columns(kept: Sequence[str]) -> str:
    """One or several."""
    return "a column has" if len(kept) == 1 else f"{len(kept):,} columns have"


def _listed(names: Sequence[str]) -> str:
    """At most ten names, quoted, each cut at 60 characters."""
    more = f" and {len(names) - 10:,} more" if len(names) > 10 else ""
    return ", ".join(repr(name[:60]) for name in names[:10]) + more
