"""A source map as the text of its TOML file, made to be read and corrected by a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.maps.toml_text import toml_comment, toml_key, toml_string, toml_strings
from longmile.schemas.contract import Column, Table
from longmile.schemas.shop import TRADE_TABLES

NOT_LOADED = "not_loaded"

_TOP = """\
# A source map: it says which columns of an export with these headers are loaded, and how their cells are read.
# Look at it, correct it, see what it does with `longmile map FILE --check`; then set `accepted = true` below, or run
# `longmile map FILE --accept`. Nothing is loaded by a map that is not accepted.
"""
_SIGNS = """\
# Dates: formats tried in order, %d day, %m month, %Y year, %y year of two digits, %b name of a month, and "excel" for a
# spreadsheet's day numbers. YYYY-MM-DD is always read.
"""
_FILL_DOWN = """\
# Headers whose empty cells take the value of the row above, outermost group first.
"""
_EACH = """\
# Each column: `from` names its headers; several are joined. `value` is what every row gets, or, beside `from`, what an
# empty cell counts as. Under `values` stands what their words become; "" makes the cell empty.
"""
_LEFT_OUT = """\
# Columns that are not loaded, and why. To load one, name it under `from` above. Nothing else reads this list.
"""


def map_text(source_map: SourceMap, not_loaded: Sequence[tuple[str, str]] = (), questions: Sequence[str] = ()) -> str:
    """The text of the map's file; `parse_map` reads it back the same.

    not_loaded: (header, why) of headers that fill no column.   questions: what a person should look at, as comments.
    """
    blocks = [_TOP + _asked(questions), _for_all(source_map)]
    blocks += [_table_text(table, _contract(table.table)) for table in source_map.tables]
    if not_loaded:
        lines = [f"{toml_string(header)} = {toml_string(why)}\n" for header, why in dict(not_loaded).items()]
        blocks.append(f"{_LEFT_OUT}[{NOT_LOADED}]\n{''.join(lines)}")
    return "\n".join(blocks)


def _asked(questions: Sequence[str]) -> str:
    """The questions, as comments."""
    lines = [toml_comment(f"- {question}") for question in questions]
    return "\n".join(["#", "# Please look at:", *lines, ""]) if lines else ""


def _for_all(source_map: SourceMap) -> str:
    """What the map states for all tables."""
    lines = [
        f"accepted = {str(source_map.is_accepted).lower()}",
        f"headers = {toml_strings(source_map.headers)}",
        "",
        f"{_SIGNS}dates = {toml_strings(source_map.dates)}",
        f"two_digit_years_to = {source_map.two_digit_years_to}  # the latest year that a year of two digits can be",
        f"decimal = {toml_string(source_map.decimal)}",
        f"thousands = {toml_string(source_map.thousands)}",
        f"{_FILL_DOWN}fill_down = {toml_strings(source_map.fill_down)}",
        "",
        _EACH,
    ]
    return "\n".join(lines)


def _contract(name: str) -> Table | None:
    """The contract table of that name."""
    return next((table for table in TRADE_TABLES if table.name == name), None)


def _table_text(table: TableMap, contract: Table | None) -> str:
    """One block: the table, and one entry a column."""
    lines = [f"# {contract.description}" if contract else "", f"[{toml_key(table.table)}]"]
    if table.only_where:
        header, values = table.only_where
        said = "is one of these" if values else "is filled in the file"
        lines += [toml_comment(f"Only rows in which {header} {said}.")]
        lines += [
            f"only_where = {{ header = {toml_string(header)}, values = [{', '.join(map(toml_string, values))}] }}"
        ]
    entries = [_column_text(table.table, column) for column in table.columns]
    return "\n".join([*lines, "", *entries, *_missing(table, contract)])


def _missing(table: TableMap, contract: Table | None) -> list[str]:
    """Comments for required columns that nothing fills yet, ready to be completed."""
    absent = [column for column in (contract.columns if contract else ()) if _is_missing(column, table)]
    return [
        f"# MISSING: {column.incoming} ({column.description}) Name its header and take away the # before the lines:\n"
        f'# [{table.table}.{column.incoming}]\n# from = [""]\n'
        for column in absent
    ]


def _is_missing(column: Column, table: TableMap) -> bool:
    """Whether the contract requires the column and the map has no entry for it."""
    return column.is_required and table.column(column.incoming) is None


def _column_text(table: str, column: ColumnMap) -> str:
    """One entry; what is as usual is left out."""
    name = f"{toml_key(table)}.{toml_key(column.column)}"
    stated = [f"{key} = {value}\n" for key, value, is_stated in _stated(column) if is_stated]
    values = "".join(f"{toml_string(theirs)} = {toml_string(ours)}\n" for theirs, ours in column.values)
    return f"[{name}]\n{''.join(stated)}" + (f"[{name}.values]\n{values}" if values else "")


def _stated(column: ColumnMap) -> Iterable[tuple[str, str, bool]]:
    """(key, value as TOML, whether it is written) of what a column states."""
    usual = ColumnMap(column.column)
    yield "from", toml_strings(column.headers), bool(column.headers)
    yield "joined_by", toml_string(column.joined_by), column.joined_by != usual.joined_by
    yield "value", toml_string(column.constant), bool(column.constant)
    yield "part", toml_string(column.part), column.part != usual.part
    yield "dates", toml_strings(column.dates), bool(column.dates)
    yield "decimal", toml_string(column.decimal), bool(column.decimal)
    yield "thousands", toml_string(column.thousands), bool(column.thousands)
    yield "numbered_within", toml_strings(column.numbered_within), bool(column.numbered_within)
    yield "confidence", repr(float(column.confidence)), True
    yield "because", toml_string(column.because), bool(column.because)
