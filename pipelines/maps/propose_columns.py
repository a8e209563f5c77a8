"""What was decided as tables and columns of a map: every contract column that can be filled, in its order."""

from __future__ import annotations

from collections.abc import Iterator

from longmile.pipelines.maps.evidence_lists import ours
from longmile.pipelines.maps.propose_because import because, confidence
from longmile.pipelines.maps.propose_decided import Decided
from longmile.pipelines.maps.propose_family import family_column
from longmile.pipelines.maps.propose_values import translations
from longmile.pipelines.maps.source_map import ColumnMap, TableMap
from longmile.pipelines.maps.words_meanings import MEANINGS
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

NUMBERED = 0.9


def table_maps(decided: Decided) -> tuple[TableMap, ...]:
    """The map of each table that the file carries."""
    contract = {table.name: table for table in TRADE_TABLES}
    return tuple(
        TableMap(name, tuple(_columns(decided, contract[name])), decided.layout.only_where.get(name))
        for name in decided.tables
    )


def _columns(decided: Decided, table: Table) -> Iterator[ColumnMap]:
    """Columns of one table that can be filled."""
    for column in table.columns:
        found = _special(decided, table.name, column.incoming)
        if found is None and column.incoming != "odometer_unit":
            found = _from_header(decided, table.name, column.incoming)
        if found:
            yield found


def _special(decided: Decided, table: str, column: str) -> ColumnMap | None:
    """Columns that are filled otherwise than from one header of their own."""
    if column == "engine_family":
        return family_column(decided)
    if column == "vehicle_id" and "vehicle_id" not in decided.taken.header_of:
        return _vin_as_number(decided)
    if column == "line_no" and "line_no" not in decided.taken.header_of:
        order = decided.taken.header_of["order_no"]
        why = "there is no line number: rows are counted within each order"
        return ColumnMap(column, numbered_within=(order,), confidence=NUMBERED, because=why)
    if column == "odometer_unit":
        return _unit(decided, table)
    if column == "kind" and not {"kind", "is_part", "is_labor"} & decided.taken.header_of.keys():
        return _kind(decided)
    return None


def _from_header(decided: Decided, table: str, column: str) -> ColumnMap | None:
    """A column filled from the header that was found to mean it."""
    wanted = {f"{table}.{column}", f"*.{column}"}
    for meaning in MEANINGS:
        header = decided.taken.header_of.get(meaning.name, "")
        if header and wanted & set(meaning.fills):
            return _mapped(decided, meaning.name, header, column, table)
    return None


def _mapped(decided: Decided, meaning: str, header: str, column: str, table: str) -> ColumnMap:
    """One header to one column, with its translations, formats and signs where they are its own."""
    where = decided.layout.only_where.get(table)
    only = where[1] if where and where[0] == header else None
    values, unknown = translations(meaning, decided.scores.values[header], decided.scores.language, only)
    decimal, thousands = decided.signs.own.get(header, ("", ""))
    is_number = column in ("odometer_in", "odometer_out") and decided.unit.is_in_cells
    return ColumnMap(
        column,
        (header,),
        part="number" if is_number else "whole",
        values=values,
        dates=decided.dates.own.get(header, ()),
        decimal=decimal,
        thousands=thousands,
        confidence=confidence(decided, meaning, header, len(unknown), len(values)),
        because=because(decided, meaning, header, unknown),
    )


def _vin_as_number(decided: Decided) -> ColumnMap | None:
    """The vehicle's own number where only its VIN stands in the file."""
    header = decided.taken.header_of.get("vin", "")
    if not header:
        return None
    why = "there is no vehicle number: the VIN is taken in its place"
    return ColumnMap("vehicle_id", (header,), confidence=round(0.85 * decided.taken.score["vin"], 2), because=why)


def _unit(decided: Decided, table: str) -> ColumnMap | None:
    """The odometer's unit: of a column, of the cells, the same for all; of a vehicle only where there are no orders."""
    if table == "vehicle" and "repair_order" in decided.tables:
        return None
    own = decided.taken.header_of.get("odometer_unit", "")
    if own or table == "vehicle":
        return _mapped(decided, "odometer_unit", own, "odometer_unit", table) if own else None
    unit = decided.unit
    header = decided.taken.header_of.get("odometer_in", "")
    if unit.is_in_cells and header:
        return ColumnMap(
            "odometer_unit",
            (header,),
            constant=unit.constant,
            part="unit",
            confidence=0.95,
            because=f"{decided.scores.values[header].share['number_and_unit']:.0%} of the cells name their unit",
        )
    if not unit.constant:
        return None
    return ColumnMap("odometer_unit", constant=unit.constant, confidence=unit.confidence, because=unit.because)


def _kind(decided: Decided) -> ColumnMap | None:
    """What a line charges for where no header says it: by the kind of record, else by what the lines have."""
    where = decided.layout.only_where.get("repair_line")
    if where and where[0] == decided.layout.record_header:
        known = tuple((theirs, ours("kind", theirs, decided.scores.language)) for theirs in where[1])
        if len(known) > 1 and all(code for _, code in known):
            return ColumnMap("kind", (where[0],), values=known, confidence=0.8, because="the kind of record says it")
    kind, sure, why = _kind_of_all(decided)
    return ColumnMap("kind", constant=kind, confidence=sure, because=why)


def _kind_of_all(decided: Decided) -> tuple[str, float, str]:
    """Labor or part for every line, by which of hours and part numbers are there."""
    got = decided.taken.header_of
    filled = {name: decided.scores.values[got[name]].filled if name in got else 0 for name in ("hours", "part_number")}
    if filled["hours"] and not filled["part_number"]:
        return "labor", 0.85, "lines have hours and no part numbers"
    if filled["part_number"] and not filled["hours"]:
        return "part", 0.85, "lines have part numbers and no hours"
    kind = "part" if filled["part_number"] > filled["hours"] else "labor"
    return kind, 0.4, "no header says what a line charges for"
