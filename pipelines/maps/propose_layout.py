"""How rows of several tables lie in one file: kinds of records, groups whose number is written once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import polars as pl

from longmile.pipelines.maps.propose_scores import Scores
from longmile.pipelines.maps.words_meanings import BY_NAME

MOST_RECORD_KINDS = 8
MOSTLY, HARDLY = 0.7, 0.12
LEAST_EMPTY = 0.15
_MARKS: Mapping[str, tuple[str, ...]] = {
    "vehicle": ("vin", "make", "model", "engine"),
    "repair_order": ("opened_on", "odometer_in"),
    "repair_line": ("kind", "is_part", "action", "description", "part_number", "hours", "price", "cost", "quantity"),
    "measurement": ("measure", "value"),
    "trouble_code": ("code",),
    "verification": ("check",),
    "warranty_promise": ("months", "miles"),
}
"""What is filled in a row of each table and hardly in rows of the others."""


@dataclass(frozen=True)
class Layout:
    """record_header: the header that says which kind of record a row is; empty where there is none.

    only_where: table -> header and values (see TableMap).   fill_down: headers, the order number first.
    """

    record_header: str = ""
    only_where: dict[str, tuple[str, tuple[str, ...]]] = field(default_factory=dict)
    fill_down: tuple[str, ...] = ()


def layout(scores: Scores, header_of: Mapping[str, str], tables: Sequence[str]) -> Layout:
    """The layout of a file that carries these tables, its headers meaning this."""
    found = _record_kinds(scores, header_of, tables)
    if found.record_header:
        return found
    filled = _fill_down(scores.rows, header_of)
    return Layout("", _rows_filled(scores, header_of, tables, filled), filled)


def _record_kinds(scores: Scores, header_of: Mapping[str, str], tables: Sequence[str]) -> Layout:
    """The first column of few values that tells rows of one table from rows of another; none: an empty layout."""
    if len(tables) < 2:
        return Layout()
    for header, values in scores.values.items():
        if not 2 <= values.n_distinct <= MOST_RECORD_KINDS or values.filled < 0.9 * values.n or values.length > 20:
            continue
        of_table = _values_by_table(scores.rows, header, header_of, tables)
        listed = [value for theirs in of_table.values() for value in theirs]
        if all(of_table.values()) and len(listed) == len(set(listed)):
            return Layout(header, {table: (header, theirs) for table, theirs in of_table.items()})
    return Layout()


def _values_by_table(
    rows: pl.DataFrame, header: str, header_of: Mapping[str, str], tables: Sequence[str]
) -> dict[str, tuple[str, ...]]:
    """Table -> values of the header in whose rows that table's own columns are filled and those of no other."""
    marks = {table: [header_of[one] for one in _MARKS.get(table, ()) if one in header_of] for table in tables}
    marks = {table: [one for one in found if one != header] for table, found in marks.items()}
    columns = sorted({one for found in marks.values() for one in found})
    place = {one: f"c{at}" for at, one in enumerate(columns)}
    named = pl.DataFrame([rows[header].alias("kind"), *(rows[one].alias(place[one]) for one in columns)])
    filled = named.drop_nulls("kind").group_by("kind").agg(pl.exclude("kind").is_not_null().mean()).sort("kind")
    found: dict[str, list[str]] = {table: [] for table in tables}
    for row in filled.to_dicts():
        most = {table: max((row[place[one]] for one in marks[table]), default=0.0) for table in tables}
        here = [table for table in tables if most[table] >= MOSTLY]
        if len(here) == 1 and all(most[table] <= HARDLY for table in tables if table != here[0]):
            found[here[0]].append(str(row["kind"]))
    return {table: tuple(theirs) for table, theirs in found.items()}


def _fill_down(rows: pl.DataFrame, header_of: Mapping[str, str]) -> tuple[str, ...]:
    """Headers of order and vehicle that are written only in the first row of a group; none where all rows have them."""
    order = header_of.get("order_no", "")
    if not order or rows[order].null_count() < LEAST_EMPTY * rows.height or rows[order].is_null().all():
        return ()
    below = rows.filter(rows[order].is_null())
    others = [
        header for name, header in header_of.items() if BY_NAME[name].level in ("order", "vehicle") and header != order
    ]
    empty = [one for one in others if below[one].null_count() >= 0.9 * below.height]
    return (order, *sorted(empty, key=rows.columns.index))


def _rows_filled(
    scores: Scores, header_of: Mapping[str, str], tables: Sequence[str], filled: Sequence[str]
) -> dict[str, tuple[str, tuple[str, ...]]]:
    """Tables that only some rows fill, with the header that is filled where they do."""
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for table, names in (
        ("repair_order", ("opened_on", "odometer_in")),
        ("trouble_code", ("code",)),
        ("warranty_promise", ("months",)),
        ("measurement", ("value",)),
        ("verification", ("check",)),
        ("repair_line", ()),
    ):
        header = next((header_of[name] for name in names if name in header_of), "")
        if table not in tables or not header or header in filled or len(tables) < 2:
            continue
        if scores.values[header].filled < (1 - LEAST_EMPTY) * scores.values[header].n:
            found[table] = (header, ())
    return found
