"""The committed export shapes with the truth beside them, for tests to load. Reads only; writes nothing.

`load_shapes(HELD_OUT)` gives the shapes; a test makes the SourceMap of a part by `source_map_of(part.source_map)`.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.schemas.shop import TRADE_TABLES

HERE = Path(__file__).parent
KNOWN = HERE / "known"
HELD_OUT = HERE / "held_out"
FRESH = HERE / "fresh"
_NUMBERS = ("integer", "decimal", "cents")
_FOLDED = {(t.name, c.incoming) for t in TRADE_TABLES for c in t.columns if c.allowed or c.name == "position"}
_NUMERIC = {(t.name, c.incoming) for t in TRADE_TABLES for c in t.columns if c.type in _NUMBERS}


@dataclass(frozen=True)
class HeaderTruth:
    """One header: the contract columns it fills ("repair_order.opened_on"; none: not of the contract).

    or_fills: columns it could be said to fill without being wrong (a VIN where no vehicle can be made of the file).
    """

    header: str
    fills: tuple[str, ...]
    personal: bool
    or_fills: tuple[str, ...] = ()


@dataclass(frozen=True)
class LandedRow:
    """One row that must stand in a contract table: what it says, and every source row that says it.

    values: contract column (as named in the neutral layout) -> neutral text, None where empty.
    """

    table: str
    rows: tuple[int, ...]
    values: dict[str, str | None]


@dataclass(frozen=True)
class SetAside:
    """What must be quarantined; table, column and cell are None where the line is no record.

    row: the first source row that says so; rows: all. Of several, one is quarantined and the others are repeats.
    """

    row: int
    rows: tuple[int, ...]
    kind: str
    table: str | None
    column: str | None
    cell: str | None


@dataclass(frozen=True)
class PartTruth:
    """One header and its rows: a file, a member of an archive or a sheet. source_map: None where nothing fits."""

    file: str
    member: str | None
    sheet: str | None
    encoding: str | None
    delimiter: str | None
    header_row: int
    headers: tuple[HeaderTruth, ...]
    source_map: dict[str, Any] | None
    landed: tuple[LandedRow, ...]
    quarantined: tuple[SetAside, ...]
    passed_over: tuple[tuple[int, str], ...]

    @property
    def name(self) -> str:
        """The name a RawTable of it has: the sheet's, or the stem of the file (of the archive's member)."""
        return self.sheet or Path(self.member or self.file).name.split(".")[0]

    def landed_in(self, table: str) -> tuple[LandedRow, ...]:
        """The rows of one contract table."""
        return tuple(row for row in self.landed if row.table == table)


@dataclass(frozen=True)
class Shape:
    """One export shape: a folder of files, and the truth of every part in them."""

    name: str
    title: str
    folder: Path
    personal_values: tuple[str, ...]
    parts: tuple[PartTruth, ...]

    @property
    def files(self) -> tuple[Path, ...]:
        """The export's files, in the order of their names."""
        return tuple(sorted(path for path in self.folder.iterdir() if path.name != "truth.json"))


def load_shapes(folder: Path) -> list[Shape]:
    """Every shape below the folder, in the order of their names."""
    return [_shape(path.parent) for path in sorted(folder.glob("*/truth.json"))]


def source_map_of(stated: dict[str, Any]) -> SourceMap:
    """The accepted map of a part, as a person would have made it."""
    tables = tuple(
        TableMap(
            table["table"],
            tuple(ColumnMap(**{name: _frozen(value) for name, value in column.items()}) for column in table["columns"]),
            _frozen(table["only_where"]),
        )
        for table in stated["tables"]
    )
    rest = {name: _frozen(value) for name, value in stated.items() if name != "tables"}
    return SourceMap(tables=tables, **rest)


def same_value(table: str, column: str, one: str | None, other: str | None) -> bool:
    """Whether two neutral texts say the same.

    Numbers by value (12.5 is 12.50), codes and positions without capitals, all else letter by letter.
    """
    if not one or not other:
        return (one or None) == (other or None)
    if (table, column) in _FOLDED:
        return one.lower() == other.lower()
    if (table, column) not in _NUMERIC:
        return one == other
    try:
        return Decimal(one) == Decimal(other)
    except InvalidOperation:
        return one == other


def _frozen(value: Any) -> Any:
    """Lists of JSON as tuples, all the way down."""
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value


def _shape(folder: Path) -> Shape:
    """One folder."""
    truth = json.loads((folder / "truth.json").read_text(encoding="utf-8"))
    parts = tuple(_part(stated) for stated in truth["parts"])
    return Shape(folder.name, truth["title"], folder, tuple(truth["personal_values"]), parts)


def _part(stated: dict[str, Any]) -> PartTruth:
    """One part of the truth."""
    return PartTruth(
        stated["file"],
        stated.get("member"),
        stated.get("sheet"),
        stated.get("encoding"),
        stated.get("delimiter"),
        stated["header_row"],
        tuple(
            HeaderTruth(one["header"], tuple(one["fills"]), one["personal"], tuple(one.get("or_fills", ())))
            for one in stated["headers"]
        ),
        stated["source_map"],
        tuple(
            LandedRow(table, tuple(row["rows"]), row["values"])
            for table, rows in stated["landed"].items()
            for row in rows
        ),
        tuple(SetAside(**{name: _frozen(value) for name, value in one.items()}) for one in stated["quarantined"]),
        tuple((one["row"], one["kind"]) for one in stated["passed_over"]),
    )
