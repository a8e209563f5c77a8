"""A source map proposed for a file, from its headers and a bounded sample of its values. Nothing is loaded by it.

The person reads, edits and accepts it. Evidence is gathered in `evidence_*`, decided in the other `propose_*`, and the
words of the trade in nine languages stand in `words_*`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from longmile.pipelines.maps.propose_columns import table_maps
from longmile.pipelines.maps.propose_decided import Decided, decide
from longmile.pipelines.maps.propose_earlier import agrees, with_earlier
from longmile.pipelines.maps.propose_neutral import NEUTRAL, neutral_map, neutral_match
from longmile.pipelines.maps.propose_order import best_scores
from longmile.pipelines.maps.propose_questions import not_mapped, questions
from longmile.pipelines.maps.source_map import SourceMap, TableMap
from longmile.pipelines.sources.shape import RawTable

_NUMBERED = re.compile(r" \(\d+\)$")


@dataclass(frozen=True)
class Proposal:
    """map: not accepted.   not_mapped: header and why it fills nothing.   questions: what the person must decide."""

    map: SourceMap
    not_mapped: tuple[tuple[str, str], ...]
    questions: tuple[str, ...]


def propose_map(raw: RawTable, name: str, today: date, earlier: SourceMap | None = None) -> Proposal:
    """The map that fits a file best, with a confidence and its reasons for every column.

    name: of the map.   today: its year is the latest that a two-digit year can be.
    earlier: a map of nearly these columns; what it says of headers that both have is taken over.
    A header that the file has more than once is not mapped: which of them is meant cannot be told.
    """
    match = neutral_match(raw) if earlier is None else None
    if match is not None:
        ignored = tuple((header, "not of the contract") for header in match.ignored_headers)
        return Proposal(neutral_map(raw, name, match), ignored, (NEUTRAL.format(table=match.table.name),))
    repeated = tuple(one for one in raw.headers if one in raw.repeated or _NUMBERED.sub("", one) in raw.repeated)
    decided = decide(best_scores(raw), repeated)
    tables = table_maps(decided)
    proposed = _map(raw, name, today, decided, tables)
    if earlier is not None and agrees(earlier, raw.headers):
        proposed = with_earlier(proposed, earlier)
    asked = questions(decided, proposed.tables, tuple(dict.fromkeys(raw.repeated)))
    return Proposal(proposed, not_mapped(decided, sorted(_used(proposed)), repeated), asked)


def _map(raw: RawTable, name: str, today: date, decided: Decided, tables: tuple[TableMap, ...]) -> SourceMap:
    """What was decided as a map; the year that bounds two-digit years only where there are some."""
    formats = [*decided.dates.common, *(one for own in decided.dates.own.values() for one in own)]
    return SourceMap(
        name,
        raw.headers,
        tables,
        dates=decided.dates.common,
        two_digit_years_to=today.year if any("%y" in one for one in formats) else 0,
        decimal=decided.signs.decimal,
        thousands=decided.signs.thousands,
        fill_down=decided.layout.fill_down,
    )


def _used(proposed: SourceMap) -> set[str]:
    """Headers that fill a column or say which rows are of a table."""
    columns = [column for table in proposed.tables for column in table.columns]
    where = [table.only_where[0] for table in proposed.tables if table.only_where]
    return {header for column in columns for header in column.headers} | set(where)
