"""What one part of a file gives: for each table of the contract its rows as SQL, and the lines that are no rows.

A part is read by the accepted source map made for its headers; where there is none, by the neutral layout.
"""

from __future__ import annotations

from dataclasses import dataclass

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.flows.incoming import RawRows, WholeRows
from longmile.pipelines.flows.quarantine import RETURN_HEADER, returned_rows
from longmile.pipelines.maps.match import Maps, find_map, mapped_parts
from longmile.pipelines.maps.source_map import SourceMap
from longmile.pipelines.maps.translate import contract_select, unclaimed_select
from longmile.pipelines.maps.values import trimmed_sql
from longmile.pipelines.sources.neutral import Match, match_table
from longmile.pipelines.sources.shape import RawTable
from longmile.pipelines.sql import quoted
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

SOURCE_ROWS = "source_rows"
"""Name under which the frame of a part stands while its rows are taken in."""

_OF_A_RETURN = ("file", "line", "for table", "reason", "raw line")


@dataclass(frozen=True)
class Rows:
    """One table's rows in a part. select: SQL over `SOURCE_ROWS` giving `row_number` and `text_<column>`."""

    table: Table
    select: str


@dataclass(frozen=True)
class Part:
    """One part of a file, ready to be taken in.

    source: gives what stands as `SOURCE_ROWS`, in chunks; is_by_row: whether each chunk may stand there alone, since
    every row is read without the others.   rows: by table, in the order of loading; lines that are no rows are booked
    with the first.   unclaimed: SQL giving row_number, raw_text and reason of rows that no table takes; empty: each
    row is taken.
    ignored: headers that are not loaded.   returned: (table, file, part, row) of quarantined rows that it brings back.
    """

    name: str
    source: RawRows
    rows: tuple[Rows, ...]
    unclaimed: str
    ignored: tuple[str, ...]
    map_name: str | None = None
    is_by_row: bool = True
    returned: tuple[tuple[str, str, str, int], ...] = ()
    is_return: bool = False


def part_of(raw: RawTable, maps: Maps, source: RawRows | None = None) -> Part:
    """The part as it is to be taken in.   source: where its rows come from if not from `raw`, which then has none.

    Raises UnreadableFileError where no accepted map is made for its headers and the neutral layout does not fit.
    """
    found = find_map(maps, raw.headers)
    if found.map is not None:
        return _mapped(raw, found.map, source or WholeRows(raw))
    try:
        match = match_table(raw, TRADE_TABLES)
    except UnreadableFileError as refused:
        if found.exact is not None or found.nearest is not None:
            raise UnreadableFileError(f"{raw.name}: {found.sentence}.") from refused
        raise UnreadableFileError(
            f"{refused} Or, where it is another layout, say what its columns mean: longmile map FILE."
        ) from refused
    return _neutral(raw, match, source or WholeRows(raw))


def _mapped(raw: RawTable, source_map: SourceMap, source: RawRows) -> Part:
    """By an accepted map."""
    parts = mapped_parts(raw.headers, source_map)
    named = {header for _, table in parts for column in table.columns for header in column.headers}
    folded = {" ".join(header.lower().split()) for header in named}
    is_counted = any(column.numbered_within for _, table in parts for column in table.columns)
    return Part(
        raw.name,
        source,
        tuple(Rows(table, contract_select(source_map, how, SOURCE_ROWS, raw.headers)) for table, how in parts),
        unclaimed_select(source_map, SOURCE_ROWS, raw.headers),
        tuple(header for header in raw.headers if " ".join(header.lower().split()) not in folded),
        source_map.name,
        is_by_row=not (source_map.fill_down or is_counted),
    )


def _neutral(raw: RawTable, match: Match, source: RawRows) -> Part:
    """By the neutral layout; a list of rows set aside that comes back is one too."""
    is_return = RETURN_HEADER in raw.headers
    texts = {name: _text(match.columns.get(name), source.is_trimmed) for name in match.table.column_names}
    if is_return:
        # The apostrophe that kept a cell of the list from being taken for a formula goes again.
        texts = {name: rf"""regexp_replace({text}, '^''([=+@\t\r-])', '\1')""" for name, text in texts.items()}
    listed = ", ".join(f"{text} AS text_{name}" for name, text in texts.items())
    keys = raw.rows[RETURN_HEADER].drop_nulls().to_list() if is_return else []
    dropped = [h for h in match.ignored_headers if not is_return or not _is_of_return(h)]
    return Part(
        raw.name,
        source,
        (Rows(match.table, f"SELECT row_number, {listed} FROM {SOURCE_ROWS}"),),
        "",
        tuple(dropped),
        returned=tuple(returned_rows(keys)),
        is_return=is_return,
    )


def _text(header: str | None, is_trimmed: bool) -> str:
    """Expression for one column's text without white space at its ends; empty or absent is NULL."""
    if header is None:
        return "CAST(NULL AS VARCHAR)"
    return quoted(header) if is_trimmed else trimmed_sql(quoted(header))


def _is_of_return(header: str) -> bool:
    """Headers that our own list of rows set aside has beside the contract's."""
    return header == RETURN_HEADER or header in _OF_A_RETURN or header.startswith("why: ")
