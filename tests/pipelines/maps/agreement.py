"""How far a proposed map agrees with the truth of an export shape: counts of headers, and of other decisions apart.

A header is right where the proposal fills exactly the contract columns from it that the truth does; none, where it is
not of the contract. Formats, signs, units and translations are counted over the columns that both maps fill.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from longmile.pipelines.maps.propose import Proposal
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap
from longmile.schemas.shop import TRADE_TABLES

TYPES = {(table.name, column.incoming): column.type for table in TRADE_TABLES for column in table.columns}
_TIME = re.compile(r"[T ,]*%-?[HI].*$")


@dataclass(frozen=True)
class Count:
    """n looked at, and what was wrong with those that were."""

    n: int
    wrong: tuple[str, ...]

    @property
    def right(self) -> int:
        return self.n - len(self.wrong)

    def __add__(self, other: Count) -> Count:
        return Count(self.n + other.n, self.wrong + other.wrong)


@dataclass(frozen=True)
class Agreement:
    """headers: columns of the file.   personal: personal columns that were taken.   decisions: by what was decided.

    sure: (confidence, is it right) of each header that the proposal maps.
    """

    headers: Count
    personal: tuple[str, ...]
    decisions: dict[str, Count]
    sure: tuple[tuple[float, bool], ...]

    @property
    def share(self) -> float:
        return self.headers.right / self.headers.n if self.headers.n else 1.0

    def __add__(self, other: Agreement) -> Agreement:
        names = self.decisions.keys() | other.decisions.keys()
        none = Count(0, ())
        both = {name: self.decisions.get(name, none) + other.decisions.get(name, none) for name in sorted(names)}
        return Agreement(self.headers + other.headers, self.personal + other.personal, both, self.sure + other.sure)


NOTHING = Agreement(Count(0, ()), (), {}, ())


def share_right(proposal: Proposal, truth, cells: Collection[str] | None = None) -> Agreement:
    """The agreement of a proposal with a `PartTruth` (tests/shapes/shapes.py); its `share` is that of headers right.

    cells: every different cell of the part; translations of values that are not among them are not counted, since a
    proposal cannot know them. None: all are counted.
    """
    filled = fills(proposal.map)
    wrong = {
        one.header: f"{one.header}: expected {sorted(one.fills)}, got {sorted(filled.get(one.header, ()))}"
        for one in truth.headers
        if filled.get(one.header, set()) != set(one.fills)
    }
    personal = tuple(one.header for one in truth.headers if one.personal and filled.get(one.header))
    sure = tuple((confidence, header not in wrong) for header, confidence in _confidences(proposal.map))
    seen = None if cells is None else {cell.strip().lower() for cell in cells}
    headers = Count(len(truth.headers), tuple(wrong.values()))
    return Agreement(headers, personal, _decisions(proposal.map, truth.source_map, seen), sure)


def fills(source_map: SourceMap) -> dict[str, set[str]]:
    """Header -> the contract columns it fills, as table.column."""
    found: dict[str, set[str]] = {}
    for table in source_map.tables:
        for column in table.columns:
            for header in column.headers:
                found.setdefault(header, set()).add(f"{table.table}.{column.column}")
    return found


def _confidences(source_map: SourceMap) -> Iterator[tuple[str, float]]:
    """Each header that is mapped, with the least confidence of the columns it fills."""
    least: dict[str, float] = {}
    for table in source_map.tables:
        for column in table.columns:
            for header in column.headers:
                least[header] = min(least.get(header, 1.0), column.confidence)
    yield from least.items()


def _decisions(ours: SourceMap, stated: dict | None, seen: set[str] | None) -> dict[str, Count]:
    """Formats, signs, units, translations and layout against the stated map."""
    if stated is None:
        return {}
    found: dict[str, list[tuple[str, bool]]] = {name: [] for name in ("dates", "signs", "units", "values", "layout")}
    for table in stated["tables"]:
        mine = ours.table(table["table"])
        found["layout"].append(
            (f"{table['table']} rows", mine is not None and _where(mine.only_where) == _where(table.get("only_where")))
        )
        for column in table["columns"]:
            here = mine.column(column["column"]) if mine else None
            column = {
                **column,
                "values": [one for one in column.get("values", ()) if seen is None or one[0].lower() in seen],
            }
            for name, label, is_right in _of_column(ours, stated, table["table"], column, here):
                found[name].append((f"{table['table']}.{column['column']} {label}", is_right))
    found["layout"].append(("fill_down", set(ours.fill_down) == set(stated.get("fill_down", ()))))
    return {
        name: Count(len(checks), tuple(label for label, is_right in checks if not is_right))
        for name, checks in found.items()
    }


def _of_column(
    ours: SourceMap, stated: dict, table: str, column: dict, here: ColumnMap | None
) -> Iterator[tuple[str, str, bool]]:
    """What was decided of one column that the truth maps: kind of decision, label, whether it is right."""
    if column["column"] == "odometer_unit":
        constant, part = column.get("constant", ""), column.get("part", "whole")
        yield (
            "units",
            f"{constant}{part}",
            here is not None and here.part == part and (not constant or here.constant == constant),
        )
    if here is None:
        return
    kind = TYPES[table, column["column"]]
    if kind == "date":
        theirs, mine = _formats(column.get("dates") or stated.get("dates", ())), _formats(here.dates or ours.dates)
        yield "dates", f"{sorted(mine)} for {sorted(theirs)}", theirs == mine
    if kind in ("decimal", "cents", "integer") and column.get("headers"):
        yield "signs", f"{_signs(ours, here)}", _are_signs(_signs(ours, here), _stated_signs(stated, column))
    known = {theirs.strip().lower(): mine for theirs, mine in here.values}
    for theirs, mine in column.get("values", ()):
        as_read = known.get(theirs.strip().lower(), theirs.strip().lower())
        yield "values", f"{theirs!r} to {as_read!r}", as_read == mine


def _where(where: object) -> object:
    """Which rows, comparable: header and values without capitals."""
    return (where[0], frozenset(one.lower() for one in where[1])) if where else None  # type: ignore[index]


def _formats(formats: tuple[str, ...]) -> set[str]:
    """Formats without time of day, all months' names alike; ISO, which is always read, left out."""
    bare = {_TIME.sub("", one).replace("%B", "%b").replace("%-", "%").strip() for one in formats}
    return bare - {"%Y-%m-%d"}


def _signs(ours: SourceMap, column: ColumnMap) -> tuple[str, str]:
    """The signs a column is read with."""
    return column.decimal or ours.decimal, column.thousands or ours.thousands


def _stated_signs(stated: dict, column: dict) -> tuple[str, str]:
    """The signs of the stated map."""
    decimal = column.get("decimal") or stated.get("decimal", ".")
    return decimal, column.get("thousands") or stated.get("thousands", "")


def _are_signs(mine: tuple[str, str], theirs: tuple[str, str]) -> bool:
    """The same decimal sign, and the same between thousands where the truth states one."""
    return mine[0] == theirs[0] and theirs[1] in ("", mine[1])
