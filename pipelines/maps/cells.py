"""The cells of a source that a map names, as layers of SQL: trimmed, filled down, numbered, and the table's rows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.source_map import SourceMap, TableMap, normal_header
from longmile.pipelines.maps.values import compared, trimmed_sql
from longmile.pipelines.sql import literal, literals, quoted


@dataclass(frozen=True)
class Cells:
    """Names of columns in the innermost layers: header (as compared) -> `cell_0`, in the order of the map's headers.

    found: header as compared -> the header as the file writes it.
    """

    names: dict[str, str]
    found: dict[str, str]

    def cell(self, header: str) -> str:
        """The column with the header's trimmed cells, filled down where the map says so."""
        return self.names[normal_header(header)]

    def in_file(self, header: str) -> str:
        """The column with the header's cells as in the file, not filled down."""
        return f"{self.cell(header)}_in_file"


def cells_of(source_map: SourceMap, headers: Sequence[str], tables: Iterable[TableMap]) -> Cells:
    """The cells that these tables of the map need; MapError where the file has not the headers, or one twice."""
    found: dict[str, str] = {}
    for header in headers:
        other = found.setdefault(normal_header(header), header)
        if other != header:
            raise MapError(
                f"map {source_map.name}: the file's columns {other!r} and {header!r} differ only in capitals or "
                "spaces. Expected every column once; rename one of them in the file."
            )
    wanted = {normal_header(header) for table in tables for header in headers_named(table)}
    wanted.update(normal_header(header) for header in source_map.fill_down if wanted)
    missing = sorted(header for header in wanted if header not in found)
    if missing:
        raise MapError(
            f"map {source_map.name}: the file has no column {', '.join(map(repr, missing))}. Expected the columns that "
            "the map names; run `longmile map FILE` on this file."
        )
    ordered = [header for header in found if header in wanted]
    return Cells({header: f"cell_{place}" for place, header in enumerate(ordered)}, found)


def headers_named(table: TableMap) -> list[str]:
    """Headers that a table of a map reads, those of its condition and its counting included."""
    named = [header for column in table.columns for header in (*column.headers, *column.numbered_within)]
    return [*named, *([table.only_where[0]] if table.only_where else [])]


def cell_rows(source_map: SourceMap, cells: Cells, relation: str) -> str:
    """SELECT giving `row_number`, and per header its cell and its cell as in the file; empty cells are NULL."""
    trimmed = [f"{trimmed_sql(quoted(cells.found[header]))} AS {name}" for header, name in cells.names.items()]
    plain = f"SELECT {', '.join(['row_number', *trimmed])} FROM {relation}"
    filled = {normal_header(header): place for place, header in enumerate(source_map.fill_down)}
    listed = ["row_number"]
    for header, name in cells.names.items():
        shown = _filled_sql(source_map, cells, filled[header]) if header in filled else name
        listed += [f"{shown} AS {name}", f"{name} AS {name}_in_file"]
    return f"SELECT {', '.join(listed)} FROM ({plain})"


def _filled_sql(source_map: SourceMap, cells: Cells, place: int) -> str:
    """The last cell that was filled, unless an outer group has begun since: then nothing."""
    name = cells.cell(source_map.fill_down[place])
    begins = " OR ".join(f"{cells.cell(header)} IS NOT NULL" for header in source_map.fill_down[: place + 1])
    last = f"last_value(CASE WHEN {begins} THEN {{'cell': {name}}} END IGNORE NULLS)"
    return f"({last} OVER (ORDER BY row_number ROWS UNBOUNDED PRECEDING)).cell"


def is_row_sql(table: TableMap, cells: Cells) -> str:
    """Condition on the layers of `cell_rows`: TRUE for rows of this table, else FALSE."""
    if table.only_where is None:
        return "TRUE"
    header, values = table.only_where
    if not values:
        return f"{cells.in_file(header)} IS NOT NULL"
    return f"coalesce(lower({cells.cell(header)}), '') IN {literals(compared(value) for value in values)}"


def count_sql(headers: Sequence[str], cells: Cells) -> str:
    """Number of the row within rows whose cells under these headers are equal, from 1, as an expression."""
    groups = ", ".join(cells.cell(header) for header in headers)
    return f"CAST(row_number() OVER (PARTITION BY {groups} ORDER BY row_number) AS VARCHAR)"


def shown_sql(headers: Iterable[str], cells: Cells) -> str:
    """JSON text of the row's cells as in the file, by header; at most 10,000 characters."""
    parts = [f"{literal(cells.found[normal_header(header)])}: {cells.in_file(header)}" for header in headers]
    return f"left(to_json({{{', '.join(parts)}}})::VARCHAR, 10000)" if parts else "CAST(NULL AS VARCHAR)"
