"""One contract column out of a source row, as a DuckDB expression: neutral text, or what the map cannot translate."""

from __future__ import annotations

from dataclasses import dataclass

from longmile.pipelines.maps.dates import date_sql
from longmile.pipelines.maps.number_forms import UNIT_WORD, NumberSigns
from longmile.pipelines.maps.numbers import cents_sql, number_sql
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap
from longmile.pipelines.maps.unit_words import unit_column, words_of_unit
from longmile.pipelines.maps.values import compared, lookup_sql, translation_sql
from longmile.pipelines.sql import literal, quoted
from longmile.schemas.contract import Column

NOT_AS_MAPPED = "not as mapped: "
"""Before a cell that the map's format does not read: the contract's own rule then sets the row aside and shows it."""

_TRUE = "true t 1 yes y ja j oui si sim tak ok pass passed good wahr vrai verdadero vero verdadeiro sant ✓ ✔"
_FALSE = "false f 0 no n nein non nao nee nej nie fail failed nok bad falsch faux falso onwaar falskt ✗ ✘"
_BOOLEANS = {**dict.fromkeys(_TRUE.split(), "true"), **dict.fromkeys(_FALSE.split(), "false")}


@dataclass(frozen=True)
class Reading:
    """A contract column, its map, and the map of the column that says its unit, where it has one."""

    source: SourceMap
    column: Column
    how: ColumnMap
    unit: ColumnMap | None = None

    @property
    def signs(self) -> NumberSigns:
        """The signs in this column's numbers: its own, else the map's; never one sign for both."""
        decimal = self.how.decimal or self.source.decimal
        shared = "" if self.source.thousands == decimal else self.source.thousands
        return NumberSigns(decimal, self.how.thousands or shared)

    def sql(self, cell: str, cells: list[str]) -> str:
        """Expression for the neutral text. cell: trimmed text, joined where of several; cells: its parts."""
        if self.how.part == "unit":
            found = self._unit_of(cells)
        elif self.column.type == "text":
            found = _translated_or(cell, self.how, cell)
        else:
            read = f"coalesce({self._typed(cell)}, {literal(NOT_AS_MAPPED)} || {cell})"
            found = _translated_or(cell, self.how, read)
        return f"coalesce({found}, {literal(self.how.constant)})" if self.how.constant else found

    def _typed(self, cell: str) -> str:
        """The cell under the map's formats, NULL where they do not read it."""
        if self.column.type == "date":
            return date_sql(day_name(self.how), self.how.dates or self.source.dates, self.source.two_digit_years_to)
        if self.column.type == "boolean":
            return lookup_sql(f"strip_accents(lower({cell}))", _BOOLEANS)
        if self.how.part == "number":
            return number_sql(cell, self.signs, "unit", self._word_check())
        if self.column.type == "cents":
            return cents_sql(cell, self.signs)
        number = number_sql(cell, self.signs)
        return _with_short_years(cell, number, self.source) if self.column.name == "model_year" else number

    def _word_check(self) -> str:
        """Condition on `word`: none, or the unit that the row's unit column says, or the fixed unit."""
        known = words_of_unit(self.column)
        if known is None:
            return ""
        companion = unit_column(self.column)
        code = self._code("word", self.unit)
        is_same = f"{code} = {quoted(unit_name(companion))}" if companion else f"{code} IS NOT NULL"
        return f"word = '' OR coalesce({is_same}, FALSE)"

    def _code(self, word: str, unit: ColumnMap | None) -> str:
        """Code of the unit that a word stands for, by the unit column's own translations first; else NULL."""
        theirs = {compared(value): ours for value, ours in (unit.values if unit else ())}
        return lookup_sql(word, {**(words_of_unit(self.column) or {}), **theirs})

    def _unit_of(self, cells: list[str]) -> str:
        """The unit in the cells; two different ones are not as mapped, and none is NULL."""
        if len(cells) == 1:
            return self._unit_in(cells[0])
        units = f"list_distinct(list_filter([{', '.join(map(self._unit_in, cells))}], lambda u: u IS NOT NULL))"
        both = f"{literal(NOT_AS_MAPPED)} || concat_ws(' / ', {', '.join(cells)})"
        return f"list_transform([{units}], lambda us: CASE WHEN len(us) < 2 THEN us[1] ELSE {both} END)[1]"

    def _unit_in(self, cell: str) -> str:
        """The unit in one cell: what the map says for the cell or its word, a known word, or not as mapped."""
        word = f"strip_accents(lower(rtrim(regexp_extract({cell}, {literal(UNIT_WORD)}), '.')))"
        code = f"list_transform([{word}], lambda word: nullif({self._code('word', self.how)}, ''))[1]"
        known = f"coalesce({code}, {literal(NOT_AS_MAPPED)} || {cell})"
        return _translated_or(cell, self.how, f"CASE WHEN {word} <> '' THEN {known} END")


def day_name(how: ColumnMap) -> str:
    """Name of the layer's column with a date's text without the time of day."""
    return quoted(f"day_{how.column}")


def unit_name(column: str) -> str:
    """Name of the layer's column with the row's unit."""
    return f"unit_{column}"


def _translated_or(cell: str, how: ColumnMap, otherwise: str) -> str:
    """What the map says for the cell (NULL where that is empty), else the other expression.

    Not `nullif`, which works out its argument twice.
    """
    if not how.values:
        return otherwise
    ours = translation_sql(cell, how.values)
    return f"CASE WHEN {ours} IS NULL THEN {otherwise} WHEN {ours} <> '' THEN {ours} END"


def _with_short_years(cell: str, number: str, source: SourceMap) -> str:
    """A model year of two digits, perhaps with an apostrophe before: as short years, and one year ahead of them."""
    if not source.two_digit_years_to:
        return number
    latest = source.two_digit_years_to + 1
    year = f"{latest} - ({latest} - TRY_CAST(right({cell}, 2) AS INTEGER)) % 100"
    return f"CASE WHEN regexp_full_match({cell}, '[''\u2019]?\\d\\d') THEN CAST({year} AS VARCHAR) ELSE {number} END"
