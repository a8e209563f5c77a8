"""The truth of a part as JSON: headers, source map, landed rows, rows set aside."""

from __future__ import annotations

from typing import Any

from neutral_text import NEUTRAL
from part import KEYS, PASSED_OVER, SET_ASIDE, Col, Fill, Item, Part, Spoil, TableFill
from records import Row


def part_truth(part: Part) -> dict[str, Any]:
    """All that is true of one part, after its items have got their row numbers."""
    counts = _counts(part)
    landed: dict[str, list[dict[str, Any]]] = {}
    aside = [_odd(item) for item in part.items if item.kind in SET_ASIDE]
    for name, table in part.tables.items():
        kept, broken = _table(part, name, table, counts)
        landed[name] = kept
        aside += broken
    return {
        **part.place,
        "header_row": part.header_row,
        "headers": [_header(part, column) for column in part.columns],
        "source_map": _source_map(part),
        "landed": landed,
        "quarantined": sorted(aside, key=lambda one: (one["row"], one["table"] or "", one["column"] or "")),
        "passed_over": [{"row": item.n, "kind": item.kind} for item in part.items if item.kind in PASSED_OVER],
    }


def _odd(item: Item) -> dict[str, Any]:
    return {"row": item.n, "rows": [item.n], "kind": item.kind, "table": None, "column": None, "cell": None}


def _header(part: Part, one: Col) -> dict[str, Any]:
    fills = [
        f"{name}.{column}"
        for name, table in part.tables.items()
        for column, fill in table.columns.items()
        if one.header in fill.headers
    ]
    if fills and one.personal:
        raise ValueError(f"{one.header} is personal and fills {fills}")
    stated: dict[str, Any] = {"header": one.header, "fills": fills, "personal": one.personal}
    return stated | ({"or_fills": list(one.or_fills)} if one.or_fills else {})


def _source_map(part: Part) -> dict[str, Any] | None:
    """The fields of SourceMap; None where nothing of the part is of the contract."""
    if not part.tables:
        return None
    tables = [
        {
            "table": name,
            "columns": [
                {"column": c, "headers": list(fill.headers), **fill.stated} for c, fill in table.columns.items()
            ],
            "only_where": table.only_where,
        }
        for name, table in part.tables.items()
    ]
    return {"name": part.name, "headers": part.headers, "tables": tables, "is_accepted": True, **part.stated}


def _counts(part: Part) -> dict[tuple[tuple[str, ...], int], str]:
    """For each counted column (its headers) and item: the running number within equal cells."""
    wanted = {
        tuple(fill.stated["numbered_within"])
        for table in part.tables.values()
        for fill in table.columns.values()
        if "numbered_within" in fill.stated
    }
    return {(headers, index): number for headers in wanted for index, number in _running(part, headers)}


def _running(part: Part, headers: tuple[str, ...]) -> list[tuple[int, str]]:
    places = [part.headers.index(header) for header in headers]
    above: dict[int, Any] = {}
    seen: dict[tuple[Any, ...], int] = {}
    numbered = []
    for index, item in enumerate(part.items):
        if item.kind != "row":
            continue
        for place in places:
            is_filled = item.cells[place] not in ("", None)
            if is_filled or part.headers[place] not in part.stated.get("fill_down", ()):
                above[place] = item.cells[place]
        group = tuple(above[place] for place in places)
        seen[group] = seen.get(group, 0) + 1
        numbered.append((index, str(seen[group])))
    return numbered


def _table(
    part: Part, name: str, table: TableFill, counts: dict[tuple[tuple[str, ...], int], str]
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The rows of one contract table that land, each key once; and those set aside."""
    kept: dict[tuple[str | None, ...], dict[str, Any]] = {}
    seen: dict[str, dict[str, Any]] = {}
    aside: list[dict[str, Any]] = []
    for index, item in enumerate(part.items):
        if item.row is None or item.kind != "row" or not table.is_for(item.row):
            continue
        numbered = {headers: number for (headers, at), number in counts.items() if at == index}
        values = {c: _value(fill, name, c, item.row, numbered) for c, fill in table.columns.items()}
        broken = [
            _broken(item, spoil, name, table, kind) for spoil in item.spoils for at, kind in spoil.hits if at == name
        ]
        if broken:
            aside += _not_repeated(broken, values, seen)
            continue
        key = tuple(values.get(column) for column in KEYS[name])
        entry = kept.setdefault(key, {"rows": [], "values": values})
        if entry["values"] != values:
            raise ValueError(f"{part.name} {name} {key}: two rows say different things")
        entry["rows"].append(item.n)
    return list(kept.values()), aside


def _not_repeated(
    broken: list[dict[str, Any]], values: dict[str, str | None], seen: dict[str, dict[str, Any]]
) -> list[dict[str, Any]]:
    """Those not told before; a row that says the same broken thing again is added to the `rows` of the first."""
    told = values | {one["column"]: one["cell"] for one in broken}
    new = []
    for one in broken:
        first = seen.setdefault(repr((told, one["column"])), one)
        if first is one:
            new.append(one)
        else:
            first["rows"].append(one["row"])
    return new


def _broken(item: Item, spoil: Spoil, name: str, table: TableFill, kind: str) -> dict[str, Any]:
    columns = [column for column, fill in table.columns.items() if spoil.header in fill.headers]
    if not columns:
        raise ValueError(f"{spoil.header} fills nothing of {name}")
    return {"row": item.n, "rows": [item.n], "kind": kind, "table": name, "column": columns[0], "cell": str(spoil.cell)}


def _value(fill: Fill, table: str, column: str, row: Row, numbered: dict[tuple[str, ...], str]) -> str | None:
    if "numbered_within" in fill.stated:
        return numbered[tuple(fill.stated["numbered_within"])]
    says = fill.says or NEUTRAL[table, column]
    return says(row) or None


def personal_values(parts: list[Part]) -> list[str]:
    """Every value of a personal column: none of them may land anywhere."""
    found = {
        str(item.cells[place])
        for part in parts
        for place, column in enumerate(part.columns)
        if column.personal
        for item in part.items
        if item.kind == "row" and item.cells[place]
    }
    return sorted(found)
