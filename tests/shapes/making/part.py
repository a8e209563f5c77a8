"""One table of an export: its columns, the map a person would make of it, its rows and what became of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from neutral_text import Said
from records import Row

KEYS = {
    "vehicle": ("vehicle_id",),
    "repair_order": ("repair_order_id",),
    "repair_line": ("repair_order_id", "line_no"),
    "warranty_promise": ("repair_order_id", "line_no"),
    "trouble_code": ("repair_order_id", "code", "stage"),
    "measurement": ("repair_order_id", "component_code", "position", "measure", "pull_no"),
}
SET_ASIDE = ("total line", "repeated header", "unreadable line")
PASSED_OVER = ("preamble line", "blank line")


@dataclass(frozen=True)
class Col:
    """One column of the file: its header, what is written in its cells, and what it could also be said to fill."""

    header: str
    cell: Callable[[Row], Any]
    personal: bool = False
    or_fills: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fill:
    """One ColumnMap; `says` where the landed value is not the record's own of that name."""

    headers: tuple[str, ...] = ()
    says: Said | None = None
    stated: Mapping[str, Any] = field(default_factory=dict)


def by(*headers: str, says: Said | None = None, **stated: Any) -> Fill:
    """A column filled from headers; `stated`: further fields of the ColumnMap."""
    return Fill(headers, says, stated)


def always(value: str) -> Fill:
    """A column that holds the same in every row."""
    return Fill((), lambda _: value, {"constant": value})


def counted_within(*headers: str) -> Fill:
    """A column that counts the rows within equal values of these headers."""
    return Fill((), None, {"numbered_within": headers})


@dataclass(frozen=True)
class TableFill:
    """One TableMap; `is_for` says which records it takes, as `only_where` says it of the file's rows."""

    columns: Mapping[str, Fill]
    only_where: tuple[str, tuple[str, ...]] | None = None
    is_for: Callable[[Row], bool] = lambda _: True


@dataclass(frozen=True)
class Spoil:
    """A cell broken on purpose: where, what stands in it now, and which tables' rows are set aside for it.

    Without `line`, all rows of the order. first_only: written on the order's first row only, the others being empty.
    """

    header: str
    cell: Any
    hits: tuple[tuple[str, str], ...]
    order: int = -1
    line: int = -1
    vehicle: int = -1
    first_only: bool = False

    def is_at(self, row: Row, vehicle_index: int) -> bool:
        """Whether this row is the one."""
        if self.vehicle >= 0:
            return vehicle_index == self.vehicle
        at_order = row.order is not None and row.order.index == self.order
        return at_order and (self.line < 0 or (row.line is not None and row.line.line_no == self.line))


@dataclass
class Item:
    """One thing written: a record's row, or an odd line (kind) as cells or as raw text. n: where it starts."""

    kind: str
    cells: list[Any] = field(default_factory=list)
    text: str | None = None
    row: Row | None = None
    spoils: tuple[Spoil, ...] = ()
    n: int = 0


@dataclass
class Part:
    """One header and its rows. stated: further fields of the SourceMap (dates, decimal, thousands, ...)."""

    name: str
    columns: Sequence[Col]
    tables: Mapping[str, TableFill]
    stated: Mapping[str, Any] = field(default_factory=dict)
    items: list[Item] = field(default_factory=list)
    header_row: int = 0
    place: dict[str, Any] = field(default_factory=dict)

    @property
    def headers(self) -> list[str]:
        """Headers in the file's order."""
        return [column.header for column in self.columns]

    def add(self, row: Row, spoils: Iterable[Spoil] = (), vehicle_index: int = -1) -> None:
        """A record's row, with what is broken in it."""
        hit = tuple(spoil for spoil in spoils if spoil.is_at(row, vehicle_index))
        instead = {spoil.header: spoil.cell if row.first or not spoil.first_only else "" for spoil in hit}
        unknown = set(instead) - set(self.headers)
        if unknown:
            raise ValueError(f"{self.name}: no header {unknown}")
        cells = [instead.get(column.header, column.cell(row)) for column in self.columns]
        self.items.append(Item("row", cells, None, row, hit))

    def odd(self, kind: str, cells: Sequence[Any] = (), text: str | None = None) -> None:
        """A line that is no record."""
        self.items.append(Item(kind, list(cells), text))

    def sparse(self, kind: str, **by_place: Any) -> None:
        """An odd line as wide as the header; `c3="Total"` fills the third cell."""
        cells = [by_place.get(f"c{place}", "") for place in range(1, len(self.columns) + 1)]
        self.odd(kind, cells)

    def header_cells(self) -> list[Any]:
        """The header as a line of cells."""
        return list(self.headers)
