"""What was mapped and checked, in words and tables for the terminal, and as plain data for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from longmile.pipelines.flows.map import MappedPart
from longmile.pipelines.flows.map_check import BrokenRule, PartCheck, TableCheck
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap

SURE = 0.8
"""Columns proposed with less confidence than this are marked."""

_CELL = 30


def map_words(parts: Sequence[MappedPart]) -> RenderableType:
    """The maps of a file's tables: what fills what, what is not loaded and why, what to look at, what to do next."""
    return Group(*(block for part in parts for block in _part_blocks(part)))


def check_words(parts: Sequence[PartCheck]) -> RenderableType:
    """What the maps would do with the file: the first rows, and what would be quarantined and why."""
    return Group(*(block for part in parts for block in _check_blocks(part)))


def accepted_words(maps: Sequence[SourceMap]) -> RenderableType:
    """That maps are accepted, and what to do next."""
    return Group(
        *(_line(f"Accepted: {one.name}. Files with these columns are loaded by `longmile run`.") for one in maps)
    )


def map_json(parts: Sequence[MappedPart]) -> list[dict[str, Any]]:
    """The maps of a file's tables as plain data."""
    return [
        {
            "part": part.part,
            "file": str(part.path),
            "state": part.state,
            "earlier": part.earlier,
            "missing": list(part.missing),
            "not_loaded": dict(part.not_loaded),
            "questions": list(part.questions),
            "map": asdict(part.map),
        }
        for part in parts
    ]


def check_json(parts: Sequence[PartCheck]) -> list[dict[str, Any]]:
    """What the maps would do with the file as plain data."""
    return [asdict(part) for part in parts]


def accepted_json(maps: Sequence[SourceMap]) -> list[dict[str, Any]]:
    """The accepted maps by name."""
    return [{"map": one.name, "accepted": one.is_accepted} for one in maps]


def _line(text: str) -> Text:
    """A line of text; signs that a terminal would obey are shown in escapes."""
    return Text(_printable(text))


def _printable(text: str) -> str:
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


def _shown(text: str | None) -> Text:
    """A cell for a table, cut to its width."""
    text = _printable(text or "")
    return Text(text if len(text) <= _CELL else f"{text[: _CELL - 3]}...")


def _part_blocks(part: MappedPart) -> list[RenderableType]:
    """One table's map."""
    standing = "accepted" if part.map.is_accepted else "not yet accepted"
    taken = f" (what {part.earlier} says was taken over where it fits)" if part.earlier else ""
    blocks: list[RenderableType] = [_line(f"{part.part}: map {part.state}: {part.path}, {standing}{taken}")]
    blocks += [_columns_table(part.map)]
    blocks += [_line(f"  not loaded: {header!r}: {why}") for header, why in part.not_loaded]
    blocks += [_line(f"  to be completed: {sentence}") for sentence in part.missing]
    blocks += [_line(f"  please look at: {question}") for question in part.questions]
    if not part.map.is_accepted:
        blocks.append(_line("  Nothing is loaded by it yet. Next: longmile map FILE --check, then --accept"))
    return blocks


def _columns_table(source_map: SourceMap) -> Table:
    """A row per contract column: what fills it, how sure that is, and why."""
    shown = Table("table", "column", "filled by", "sure", "because", box=None, pad_edge=False)
    for table in source_map.tables:
        for column in table.columns:
            mark = "" if column.confidence >= SURE else " ?"
            sure = f"{column.confidence:.0%}{mark}"
            shown.add_row(table.table, column.column, _shown(_filled_by(column)), sure, _line(column.because))
    return shown


def _filled_by(column: ColumnMap) -> str:
    """What fills the column, in words."""
    if column.numbered_within:
        return f"counted within {' + '.join(column.numbered_within)}"
    if not column.headers:
        return f"always {column.constant!r}"
    part = {"whole": "", "number": " (its number)", "unit": " (its unit)"}[column.part]
    return f"{' + '.join(column.headers)}{part}"


def _check_blocks(part: PartCheck) -> list[RenderableType]:
    """One part of the file."""
    standing = "accepted" if part.is_accepted else "not yet accepted"
    lines = f", {part.n_bad_lines:,} lines that cannot be read" if part.n_bad_lines else ""
    blocks: list[RenderableType] = [
        _line(f"{part.part}: {part.n_rows:,} rows{lines}, by the map {part.map_name} ({standing})")
    ]
    blocks += [_line(f"  to be completed: {sentence}") for sentence in part.missing]
    if part.n_unclaimed:
        rows, them = ("row", "it") if part.n_unclaimed == 1 else ("rows", "them")
        blocks.append(_line(f"  {part.n_unclaimed:,} {rows} would be quarantined because no table takes {them}:"))
        blocks += [_line(f"    row {row:,}: {reason}") for row, reason in part.unclaimed]
    for table in part.tables:
        blocks += _table_blocks(table)
    return blocks


def _table_blocks(table: TableCheck) -> list[RenderableType]:
    """One contract table: its sum, its first rows, its broken rules."""
    said = (
        f"  {table.table}: {table.n_rows:,} rows = {table.n_kept:,} would be kept + {table.n_quarantined:,} "
        f"quarantined + {table.n_repeats:,} repeats"
    )
    rows = Table("    column", *(f"row {number:,}" for number, _ in table.first_rows), box=None, pad_edge=False)
    for place, column in enumerate(table.columns):
        rows.add_row(f"    {column}", *(_shown(texts[place]) for _, texts in table.first_rows))
    shown: list[RenderableType] = [rows] if table.first_rows else []
    return [_line(said), *shown, *(line for rule in table.broken for line in _rule_lines(rule))]


def _rule_lines(rule: BrokenRule) -> list[Text]:
    """One broken rule with its examples."""
    fate = "quarantined" if rule.is_set_aside else "kept, but counted"
    told = [
        f"row {row:,}: {columns} is {'empty' if value is None else repr(value)}"
        for row, columns, value in rule.examples
    ]
    return [_line(f"    {rule.n_rows:,} {fate}: {rule.sentence}"), *(_line(f"      {one}") for one in told)]
