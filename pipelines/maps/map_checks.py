"""Whether a map can be: every header, column, value and format it names must be one there is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import get_args

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.date_format import date_formats
from longmile.pipelines.maps.map_parts import nearest
from longmile.pipelines.maps.neutral_values import check_neutral
from longmile.pipelines.maps.number_forms import DECIMAL_SIGNS, THOUSANDS_SIGNS
from longmile.pipelines.maps.source_map import CellPart, ColumnMap, SourceMap, TableMap, normal_header
from longmile.pipelines.maps.unit_words import unit_column, words_of_unit
from longmile.pipelines.maps.values import compared
from longmile.schemas.contract import Column, Table
from longmile.schemas.shop import TRADE_TABLES

_YEARS = (1950, 2200)


def check_map(source_map: SourceMap, file: str) -> None:
    """MapError naming the file, the key and what it may be, where the map states what cannot be.

    A map that is accepted must also fill every required column; one that is not may still lack some.
    """
    _check_headers(source_map, file)
    _check_formats(source_map, file)
    _check_once(file, "table", [table.table for table in source_map.tables])
    for table in source_map.tables:
        _check_table(source_map, table, file)
    lacking = missing_columns(source_map)
    if source_map.is_accepted and lacking:
        raise MapError(f"{file}: is accepted, but {'; '.join(lacking)}. Complete it, then accept it.")


def missing_columns(source_map: SourceMap) -> tuple[str, ...]:
    """What a map still lacks before anything can be loaded by it, in words; empty where it lacks nothing."""
    if not source_map.tables:
        return ("no table is mapped",)
    found = []
    for table in source_map.tables:
        filled = {column.column for column in table.columns}
        required = [c.incoming for c in _contract(table).columns if c.is_required and c.incoming not in filled]
        found += [f"[{table.table}] {name} must be filled and is not mapped" for name in required]
        for column in table.columns:
            unit = unit_column(_column(table, column))
            if column.part == "number" and unit and unit not in filled:
                found.append(
                    f"[{table.table}] {column.column} takes the number beside a unit, but {unit} is not mapped"
                )
    return tuple(found)


def _contract(table: TableMap) -> Table:
    """The contract table of a table map."""
    return next(one for one in TRADE_TABLES if one.name == table.table)


def _column(table: TableMap, column: ColumnMap) -> Column:
    """The contract column of a column map."""
    return next(one for one in _contract(table).columns if one.incoming == column.column)


def _check_once(file: str, what: str, names: Sequence[str]) -> None:
    """Nothing may stand there twice."""
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise MapError(f"{file}: {what} {twice[0]!r} stands there twice. Expected it once.")


def _check_headers(source_map: SourceMap, file: str) -> None:
    """Headers must be told apart, and headers named must be among them."""
    if not source_map.headers:
        raise MapError(f"{file}: headers is empty. Expected all headers of the export.")
    _check_once(file, "header", [normal_header(header) for header in source_map.headers])
    _check_named(source_map, file, "fill_down", source_map.fill_down)


def _check_named(source_map: SourceMap, file: str, where: str, named: Iterable[str]) -> None:
    """Every header named must be one of the map's, and have a name."""
    known = {normal_header(header) for header in source_map.headers}
    for header in named:
        if normal_header(header) not in known:
            raise MapError(
                f"{file}: {where}: {header!r} is not among the headers.{nearest(header, source_map.headers)}"
            )
        if not normal_header(header):
            raise MapError(f"{file}: {where}: a column without a name cannot be read. Give it a name in the export.")


def _check_formats(source_map: SourceMap, file: str) -> None:
    """The formats that hold for all columns."""
    _check_signs(file, "", source_map.decimal, source_map.thousands)
    years = source_map.two_digit_years_to
    if years and not _YEARS[0] <= years <= _YEARS[1]:
        raise MapError(f"{file}: two_digit_years_to = {years}. Expected a year from {_YEARS[0]} to {_YEARS[1]}, or 0.")
    _check_dates(source_map, file, "", source_map.dates)


def _check_signs(file: str, where: str, decimal: str, thousands: str) -> None:
    """The signs in numbers: known ones, and not the same for both."""
    if decimal not in DECIMAL_SIGNS:
        raise MapError(f'{file}: {where}decimal = {decimal!r}. Expected "." or ",".')
    if thousands not in THOUSANDS_SIGNS:
        raise MapError(f'{file}: {where}thousands = {thousands!r}. Expected "" (none), ".", ",", " " or an apostrophe.')
    if decimal == thousands:
        raise MapError(f"{file}: {where}decimal and thousands are both {decimal!r}. Expected two different signs.")


def _check_dates(source_map: SourceMap, file: str, where: str, dates: Sequence[str]) -> None:
    """Date formats: understood, of one reading, and with a century for years of two digits."""
    try:
        formats = date_formats(dates)
    except MapError as error:
        raise MapError(f"{file}: {where}dates: {error}") from error
    if any(one.has_short_year for one in formats) and not source_map.two_digit_years_to:
        raise MapError(
            f"{file}: {where}dates: years of two digits need two_digit_years_to, the latest year they can be. "
            "Expected a year such as the one in which the export was made."
        )


def _check_table(source_map: SourceMap, table: TableMap, file: str) -> None:
    """One table: its condition and its columns."""
    names = [one.name for one in TRADE_TABLES]
    if table.table not in names:
        raise MapError(f"{file}: there is no table {table.table!r}.{nearest(table.table, names)}")
    known = [column.incoming for column in _contract(table).columns]
    _check_once(file, f"[{table.table}] column", [column.column for column in table.columns])
    if table.only_where:
        _check_named(source_map, file, f"[{table.table}] only_where", [table.only_where[0]])
    for column in table.columns:
        where = f"[{table.table}.{column.column}]"
        if column.column not in known:
            raise MapError(
                f"{file}: {where}: {table.table} has no column {column.column!r}.{nearest(column.column, known)}"
            )
        _check_source(source_map, column, file, where)
        _check_reading(source_map, column, _column(table, column), file, where)
        _check_values(column, _column(table, column), file, where)


def _check_source(source_map: SourceMap, column: ColumnMap, file: str, where: str) -> None:
    """Where a column comes from: headers, a value, or a count; one of them."""
    _check_named(source_map, file, f"{where} from", column.headers)
    _check_named(source_map, file, f"{where} numbered_within", column.numbered_within)
    if column.numbered_within and (column.headers or column.constant):
        raise MapError(f"{file}: {where} has numbered_within beside from or value. Expected only one of them.")
    if not (column.headers or column.constant or column.numbered_within):
        raise MapError(
            f'{file}: {where} has nothing to fill it. Expected `from = ["..."]`, `value` or `numbered_within`.'
        )
    if not 0.0 <= column.confidence <= 1.0:
        raise MapError(f"{file}: {where} confidence = {column.confidence!r}. Expected a number from 0 to 1.")


def _check_reading(source_map: SourceMap, column: ColumnMap, contract: Column, file: str, where: str) -> None:
    """How the cells of a column are read."""
    parts = get_args(CellPart)
    if column.part not in parts:
        raise MapError(f"{file}: {where} part = {column.part!r}.{nearest(column.part, parts)}")
    holds_unit = contract.type == "text" and words_of_unit(contract) is not None
    if column.part == "unit" and not holds_unit:
        raise MapError(f'{file}: {where} part = "unit" is only for odometer_unit and unit. Expected "whole" or none.')
    if column.part == "number" and contract.type not in ("integer", "decimal"):
        raise MapError(f'{file}: {where} part = "number" is only for numbers without money. Expected "whole" or none.')
    decimal = column.decimal or source_map.decimal
    shared = "" if source_map.thousands == decimal else source_map.thousands
    _check_signs(file, f"{where} ", decimal, column.thousands or shared)
    _check_dates(source_map, file, f"{where} ", column.dates)


def _check_values(column: ColumnMap, contract: Column, file: str, where: str) -> None:
    """Translations: each word once, and into what the contract takes."""
    _check_once(file, f"{where} values:", [compared(theirs) for theirs, _ in column.values])
    for theirs, ours in column.values:
        if ours:
            check_neutral(ours, contract, f"{file}: {where} values: {theirs!r} = {ours!r}.")
    if column.constant:
        check_neutral(column.constant, contract, f"{file}: {where} value = {column.constant!r}.")
