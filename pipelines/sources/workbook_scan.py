"""What the values of a sheet do not tell: formulas, errors, merged cells, hidden rows, extent. Streams its XML."""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass, field

from longmile.pipelines.sources.workbook_archive import local, safe_parser
from longmile.pipelines.sources.workbook_glance import Glance, column_number, refuse_spread

_NAMED = 5
_TRUE = ("1", "true")


@dataclass
class SheetScan:
    """trouble: sheet row -> why its values cannot be trusted. merged: ranges as written (A2:B3). hidden: rows.

    last_row: the last row with a value in it, for comparison with what the reader of values gives.
    first_column, last_column: likewise, from 1; only where there are merged ranges is the first one looked for.
    """

    trouble: dict[int, list[str]] = field(default_factory=dict)
    computed: list[str] = field(default_factory=list)
    merged: list[str] = field(default_factory=list)
    hidden: list[int] = field(default_factory=list)
    last_row: int = 0
    first_column: int = 0
    last_column: int = 0

    @property
    def notes(self) -> list[str]:
        """The sentences for the people who dropped the file in."""
        notes = []
        if len(self.computed) == 1:
            notes.append(f"cell {self.computed[0]} holds a formula, its last computed value was used")
        elif self.computed:
            notes.append(f"cells {named(self.computed)} hold formulas, their last computed values were used")
        if self.hidden:
            one = len(self.hidden) == 1
            which = f"row {self.hidden[0]} is" if one else f"rows {named(list(map(str, self.hidden)))} are"
            notes.append(f"{which} hidden in the sheet, and {'was' if one else 'were'} read all the same")
        return notes


def named(places: list[str]) -> str:
    """The first few, and how many more."""
    more = f" and {len(places) - _NAMED:,} more" if len(places) > _NAMED else ""
    return ", ".join(places[:_NAMED]) + more


class _Watcher:
    """Follows the elements of one sheet: row, c (cell), f (formula), v (value), is (text), mergeCell."""

    def __init__(self) -> None:
        self.scan = SheetScan()
        self._row = 0
        self._column = 0
        self._cell = ""
        self._type = ""
        self._has_formula = False
        self._in_value = False
        self._value: list[str] = []

    def start(self, name: str, given: dict[str, str]) -> None:
        """An element begins."""
        tag = local(name)
        if tag == "c":
            self._start_cell(given)
        elif tag == "row":
            self._row = int(given.get("r", self._row + 1))
            self._column = 0
            if given.get("hidden") in _TRUE:
                self.scan.hidden.append(self._row)
        elif tag == "f":
            self._has_formula = True
        elif tag in ("v", "is"):
            self._in_value = True
        elif tag == "mergeCell":
            self.scan.merged.append(given.get("ref", "?"))

    def _start_cell(self, given: dict[str, str]) -> None:
        """Where the cell is: said by the cell, or the next one in its row."""
        self._cell = given.get("r") or f"{_letters(self._column + 1)}{self._row}"
        self._column = column_number(self._cell)
        self._row = int(re.sub(r"\D", "", self._cell))
        self._type = given.get("t", "n")
        self._has_formula, self._value = False, []

    def text(self, text: str) -> None:
        """Characters: kept only inside a value, and only where the cell may be in trouble."""
        if self._in_value:
            self._value = [text] if not self._value or self._type != "e" else [*self._value, text]

    def end(self, name: str) -> None:
        """An element ends."""
        tag = local(name)
        if tag in ("v", "is"):
            self._in_value = False
        elif tag == "c":
            self._end_cell()

    def _end_cell(self) -> None:
        """Judge the cell now that it is whole."""
        if self._type == "e":
            self._set_aside(f"cell {self._cell} holds the error {''.join(self._value) or 'unknown'}")
        elif self._has_formula and not self._value:
            self._set_aside(f"cell {self._cell} holds a formula without a computed value")
        elif self._has_formula:
            self.scan.computed.append(self._cell)
        if self._value:
            self.scan.last_row = max(self.scan.last_row, self._row)
            self.scan.last_column = max(self.scan.last_column, self._column)
            self.scan.first_column = min(self.scan.first_column or self._column, self._column)

    def _set_aside(self, reason: str) -> None:
        self.scan.trouble.setdefault(self._row, []).append(reason)


def _letters(column: int) -> str:
    """Column 1 is A, 27 is AA."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def scan_sheet(archive: zipfile.ZipFile, part: str, known_as: str) -> SheetScan:
    """The scan of one sheet; memory does not grow with the sheet. Raises what the XML parser raises.

    Raises UnreadableFileError for a sheet whose cells are spread so wide that their frame would fill the memory.
    """
    glance = Glance()
    parser = safe_parser(known_as)
    parser.StartElementHandler = glance.start
    with archive.open(part) as stream:
        parser.ParseFile(stream)
    scan = SheetScan(last_row=glance.last_row, last_column=glance.last_column)
    if not glance.is_plain:
        scan = _watched(archive, part, known_as)
    refuse_spread(scan.last_row, scan.last_column, known_as)
    return scan


def _watched(archive: zipfile.ZipFile, part: str, known_as: str) -> SheetScan:
    """The scan of a sheet that has something to watch for."""
    watcher = _Watcher()
    parser = safe_parser(known_as)
    parser.buffer_text = True
    parser.StartElementHandler = watcher.start
    parser.EndElementHandler = watcher.end
    parser.CharacterDataHandler = watcher.text
    with archive.open(part) as stream:
        parser.ParseFile(stream)
    return watcher.scan
