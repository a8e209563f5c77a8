"""A first look at a sheet's XML: whether it has anything but plain values, and how far it reaches."""

from __future__ import annotations

from longmile.pipelines.sources.shape import unreadable
from longmile.pipelines.sources.workbook_archive import local

_MAX_ROWS, _MAX_COLUMNS = 1_048_576, 16_384
_MAX_CELLS = 30_000_000
_UPPER = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def column_number(cell: str) -> int:
    """A1 is 1, Z9 is 26, AA1 is 27; 0 where there are no letters."""
    number = 0
    for letter in cell.upper():
        if not "A" <= letter <= "Z":
            break
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


class Glance:
    """Whether a sheet has anything to watch for, and how far it reaches; much faster than watching every cell."""

    def __init__(self) -> None:
        self.is_plain = True
        self.last_row = 0
        self.last_column = 0
        self._row = 0
        self._row_text = "0"
        self._cell = ""

    def start(self, name: str, given: dict[str, str]) -> None:
        """An element begins."""
        tag = local(name) if ":" in name else name
        if tag == "c":
            self._cell = given.get("r", "")
            self.is_plain = self.is_plain and given.get("t") != "e" and self._cell.lstrip(_UPPER) == self._row_text
        elif tag in ("v", "is"):
            self._reach()
        elif tag == "row":
            self._row = int(given.get("r", self._row + 1))
            self._row_text = str(self._row)
            self.is_plain = self.is_plain and "hidden" not in given
        elif tag in ("f", "mergeCell"):
            self.is_plain = False

    def _reach(self) -> None:
        """A cell with a value."""
        self.last_row = max(self.last_row, self._row)
        if self._cell[1:2] > "9" or not self.last_column:
            self.last_column = max(self.last_column, column_number(self._cell), 26)


def refuse_spread(rows: int, columns: int, known_as: str) -> None:
    """A value in the last cell of an empty sheet costs half a terabyte: every cell before it is made, too."""
    if rows <= _MAX_ROWS and columns <= _MAX_COLUMNS and rows * columns <= _MAX_CELLS:
        return
    raise unreadable(
        known_as,
        f"a sheet has values in row {rows:,} or column {columns:,}, far from the others",
        f"at most {_MAX_CELLS:,} cells between the first and the last one with a value",
        "Delete the stray cells, or save the sheet as CSV",
    )
