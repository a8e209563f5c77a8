"""The parts of a map's TOML, checked for their kind and put into dataclasses. What they state is checked elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_text import NOT_LOADED
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.schemas.shop import TRADE_TABLES

_FOR_ALL = ("accepted", "headers", "dates", "two_digit_years_to", "decimal", "thousands", "fill_down")
_TABLES = tuple(table.name for table in TRADE_TABLES)
_COLUMN_KEYS = (
    *("from", "joined_by", "value", "part", "values", "dates", "decimal", "thousands", "numbered_within"),
    *("confidence", "because"),
)
_KINDS = {str: "text in quotes", bool: "true or false", int: "a whole number", float: "a number", dict: "a table"}


def nearest(asked: str, known: Sequence[str]) -> str:
    """What is known, where it is a short list, and which of it is nearest to what was asked."""
    listed = f" Known: {', '.join(known)}." if 0 < len(known) <= 20 else ""
    near = get_close_matches(asked.lower(), [name.lower() for name in known], n=1, cutoff=0.0)
    spelled = next((name for name in known if near and name.lower() == near[0]), "")
    return listed + (f" Nearest is {spelled!r}." if near else "")


def source_map_of(found: Mapping[str, Any], name: str, file: str) -> SourceMap:
    """The map that the parsed TOML states; MapError naming file and key where a key or its kind is wrong."""
    for key in found:
        if key not in (*_FOR_ALL, *_TABLES, NOT_LOADED):
            raise MapError(
                f"{file}: {key!r} is neither a setting of a map nor a table.{nearest(key, (*_FOR_ALL, *_TABLES))}"
            )
    if "headers" not in found:
        raise MapError(f"{file}: headers is missing. Expected all headers of the export, as text in quotes.")
    reader = _Reader(file, "", found)
    usual = SourceMap(name, (), ())
    return SourceMap(
        name=name,
        headers=reader.texts("headers"),
        tables=tuple(_table_map(file, key, value) for key, value in found.items() if key in _TABLES),
        is_accepted=reader.get("accepted", bool, usual.is_accepted),
        dates=reader.texts("dates", usual.dates),
        two_digit_years_to=reader.get("two_digit_years_to", int, usual.two_digit_years_to),
        decimal=reader.get("decimal", str, usual.decimal),
        thousands=reader.get("thousands", str, usual.thousands),
        fill_down=reader.texts("fill_down"),
    )


def not_loaded_of(found: Mapping[str, Any], file: str) -> tuple[tuple[str, str], ...]:
    """(header, why) of the headers that the file lists as not loaded."""
    return _Reader(file, "", found).pairs(NOT_LOADED)


def _table_map(file: str, name: str, content: Any) -> TableMap:
    """One table of the map."""
    if not isinstance(content, dict):
        raise MapError(f"{file}: {name} = {content!r}. Expected a table, [{name}], with an entry for every column.")
    columns = {key: value for key, value in content.items() if key != "only_where"}
    known = [column.incoming for table in TRADE_TABLES if table.name == name for column in table.columns]
    for key in columns:
        if key not in known:
            raise MapError(f"{file}: [{name}.{key}]: {name} has no column {key!r}.{nearest(key, known)}")
    condition = _only_where(file, name, content["only_where"]) if "only_where" in content else None
    return TableMap(name, tuple(_column_map(file, name, *item) for item in columns.items()), condition)


def _only_where(file: str, table: str, content: Any) -> tuple[str, tuple[str, ...]]:
    """The condition of a table: a header and the values it must have."""
    where = f"[{table}] only_where"
    if not isinstance(content, dict) or not set(content) <= {"header", "values"} or "header" not in content:
        raise MapError(f'{file}: {where} = {content!r}. Expected {{ header = "...", values = ["..."] }}.')
    reader = _Reader(file, f"{where} ", content)
    return reader.get("header", str, ""), reader.texts("values")


def _column_map(file: str, table: str, name: str, content: Any) -> ColumnMap:
    """One column of a table."""
    where = f"[{table}.{name}]"
    if not isinstance(content, dict):
        raise MapError(f'{file}: {where} = {content!r}. Expected a table of its own with `from = ["..."]`.')
    for key in content:
        if key not in _COLUMN_KEYS:
            raise MapError(f"{file}: {where} {key}: there is no such key.{nearest(key, _COLUMN_KEYS)}")
    reader = _Reader(file, f"{where} ", content)
    usual = ColumnMap(name)
    return ColumnMap(
        column=name,
        headers=reader.texts("from"),
        constant=reader.get("value", str, ""),
        joined_by=reader.get("joined_by", str, usual.joined_by),
        part=reader.get("part", str, usual.part),
        values=reader.pairs("values"),
        dates=reader.texts("dates"),
        decimal=reader.get("decimal", str, ""),
        thousands=reader.get("thousands", str, ""),
        numbered_within=reader.texts("numbered_within"),
        confidence=float(reader.get("confidence", float, usual.confidence)),
        because=reader.get("because", str, ""),
    )


class _Reader:
    """Values of one part of the file by key, each of the kind that is asked for."""

    def __init__(self, file: str, where: str, content: Mapping[str, Any]) -> None:
        self.file, self.where, self.content = file, where, content

    def get(self, key: str, kind: type, usual: Any) -> Any:
        """The value of that kind, or the usual one."""
        value = self.content.get(key, usual)
        fits = isinstance(value, (int, float) if kind is float else kind)
        if not fits or isinstance(value, bool) != (kind is bool):
            raise self._wrong(key, value, _KINDS[kind])
        return value

    def texts(self, key: str, usual: tuple[str, ...] = ()) -> tuple[str, ...]:
        """A list of texts; a single text counts as a list of one."""
        value = self.content.get(key, list(usual))
        listed = [value] if isinstance(value, str) else value
        if not isinstance(listed, list) or not all(isinstance(text, str) for text in listed):
            raise self._wrong(key, value, 'a list of texts, ["...", "..."]')
        return tuple(listed)

    def pairs(self, key: str) -> tuple[tuple[str, str], ...]:
        """A table of texts, in the order of the file."""
        value = self.content.get(key, {})
        if not isinstance(value, dict) or not all(isinstance(text, str) for text in value.values()):
            raise self._wrong(key, value, 'a table with lines such as "theirs" = "ours"')
        return tuple(value.items())

    def _wrong(self, key: str, value: Any, expected: str) -> MapError:
        """The error of a value of another kind."""
        return MapError(f"{self.file}: {self.where}{key} = {value!r}. Expected {expected}.")
