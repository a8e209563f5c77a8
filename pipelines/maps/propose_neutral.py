"""A file that is in the neutral layout already: its map says nothing but that."""

from __future__ import annotations

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.sources.neutral import Match, match_table
from longmile.pipelines.sources.shape import RawTable
from longmile.schemas.shop import TRADE_TABLES

NEUTRAL = "This file is in the neutral layout already ({table}); it needs no map and loads as it is."


def neutral_match(raw: RawTable) -> Match | None:
    """The contract table that the file is, column for column; None where it is in a layout of its own."""
    try:
        found = match_table(raw, TRADE_TABLES)
    except UnreadableFileError:
        return None
    return found if len(found.columns) > len(found.ignored_headers) else None


def neutral_map(raw: RawTable, name: str, match: Match) -> SourceMap:
    """The map of a file in the neutral layout: every column from the header of its name."""
    columns = tuple(
        ColumnMap(column.incoming, (match.columns[column.name],), because="the neutral layout's own header")
        for column in match.table.columns
        if column.name in match.columns
    )
    return SourceMap(name, raw.headers, (TableMap(match.table.name, columns),))
