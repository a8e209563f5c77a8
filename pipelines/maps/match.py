"""The maps of a workspace, and which of them reads a file: by its headers, never by a guess."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_file import read_map
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.source_map import SourceMap, TableMap, header_fingerprint, normal_header
from longmile.schemas.contract import Table
from longmile.schemas.shop import TRADE_TABLES

NEAR = 0.5
"""At least this share of all headers of both must be shared for a map to be named as the nearest."""

_SHOWN = 10


@dataclass(frozen=True)
class Maps:
    """All maps of a workspace, in order of name.

    digest: SHA-256 of what the accepted ones state (not of how it is written), in hexadecimal; the same for the same
    maps in any folder.
    """

    maps: tuple[SourceMap, ...] = ()

    @property
    def digest(self) -> str:
        """See above."""
        texts = [f"{one.name}\n{map_text(one)}" for one in self.maps if one.is_accepted]
        return hashlib.sha256("\0".join(texts).encode()).hexdigest()


@dataclass(frozen=True)
class Found:
    """What the maps say of a file's headers.

    map: the accepted map of exactly these headers, or None: then nothing is loaded by a map, and `sentence` tells why.
    exact: the map of exactly these headers, accepted or not.   nearest: a map that shares most of them, where none has
    exactly these; new and missing: headers that the file has beyond it, and lacks.   None of them: no map is like this.
    """

    sentence: str
    map: SourceMap | None = None
    exact: SourceMap | None = None
    nearest: SourceMap | None = None
    new: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


def read_maps(folder: Path) -> Maps:
    """The maps in the folder's TOML files; none where there is no folder.

    Raises MapError where a file is no map, or where two are for the same headers.
    """
    paths = sorted(folder.glob("*.toml")) if folder.is_dir() else []
    maps = tuple(read_map(path) for path in paths if path.is_file())
    seen: dict[str, SourceMap] = {}
    for one in maps:
        other = seen.setdefault(one.fingerprint, one)
        if other is not one:
            raise MapError(
                f"{folder}: {other.name}.toml and {one.name}.toml are maps of the same headers. Expected one map for "
                "each shape of export; take one of them out of the folder."
            )
    return Maps(maps)


def find_map(maps: Maps, headers: Sequence[str]) -> Found:
    """The map that reads a file with these headers; see `Found`."""
    fingerprint = header_fingerprint(headers)
    exact = next((one for one in maps.maps if one.fingerprint == fingerprint), None)
    if exact is not None and exact.is_accepted:
        return Found(f"read by the source map {exact.name}", exact, exact)
    if exact is not None:
        return Found(
            f"the source map {exact.name}.toml is made for these columns but not yet accepted, so nothing is loaded. "
            "See what it does with `longmile map FILE --check`, then accept it with `longmile map FILE --accept`",
            exact=exact,
        )
    return _nearest(maps, headers)


def _nearest(maps: Maps, headers: Sequence[str]) -> Found:
    """What is known of headers that no map is made for."""
    by_name = {normal_header(header): header for header in headers}
    near = max(maps.maps, key=lambda one: _likeness(one, set(by_name)), default=None)
    if near is None or _likeness(near, set(by_name)) < NEAR:
        return Found("no source map is made for these columns. Have one proposed with `longmile map FILE`")
    theirs = {normal_header(header): header for header in near.headers}
    new = tuple(header for name, header in by_name.items() if name not in theirs)
    missing = tuple(header for name, header in theirs.items() if name not in by_name)
    told = [_listed("new", new)] if new else []
    told += [_listed("missing", missing)] if missing else []
    return Found(
        f"the columns have changed since the source map {near.name}.toml was made ({'; '.join(told) or 'repeated'}), "
        "so nothing is loaded. Have a map for the new columns proposed with `longmile map FILE`, then accept it",
        nearest=near,
        new=new,
        missing=missing,
    )


def _likeness(one: SourceMap, names: set[str]) -> float:
    """Share of all headers of both that both have."""
    theirs = {normal_header(header) for header in one.headers}
    return len(theirs & names) / max(len(theirs | names), 1)


def _listed(word: str, headers: Sequence[str]) -> str:
    """At most ten headers, in words."""
    shown = ", ".join(repr(header[:60]) for header in headers[:_SHOWN])
    more = f" and {len(headers) - _SHOWN:,} more" if len(headers) > _SHOWN else ""
    return f"{word} {'column' if len(headers) == 1 else 'columns'} {shown}{more}"


def mapped_parts(headers: Sequence[str], found_map: SourceMap) -> list[tuple[Table, TableMap]]:
    """The contract tables that a part of a file with these headers fills, in the order of loading.

    Raises MapError where the headers are not those that the map is made for.
    """
    if header_fingerprint(headers) != found_map.fingerprint:
        raise MapError(
            f"map {found_map.name}: the file has other columns than the map. {find_map(Maps(), headers).sentence}."
        )
    by_name = {one.table: one for one in found_map.tables}
    return [(table, by_name[table.name]) for table in TRADE_TABLES if table.name in by_name]
