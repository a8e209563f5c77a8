"""Maps read from their TOML files, and accepted in them. A file that a person has edited is never written over."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_checks import check_map, missing_columns
from longmile.pipelines.maps.map_parts import not_loaded_of, source_map_of
from longmile.pipelines.maps.source_map import SourceMap

_ACCEPTED = re.compile(r"^[ \t]*accepted[ \t]*=[ \t]*false\b", re.MULTILINE)
_FIRST_TABLE = re.compile(r"^[ \t]*\[", re.MULTILINE)


def parse_map(text: str, name: str, file: str = "") -> SourceMap:
    """The map that the text of a TOML file states, checked.

    name: the map's name, which is that of its file without the suffix.   file: stands in every message.
    Raises MapError naming the file, the key, what was found, what it may be and what is nearest to it.
    """
    file = file or f"{name}.toml"
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise MapError(
            f"{file}: is not valid TOML ({error}). Often a quotation mark is missing, or an entry stands there twice."
        ) from error
    source_map = source_map_of(found, name, file)
    check_map(source_map, file)
    return source_map


def read_map(path: Path) -> SourceMap:
    """The map in a file of that name; MapError where it cannot be read or states what cannot be."""
    return parse_map(_text(path), path.stem, str(path))


def read_not_loaded(path: Path) -> tuple[tuple[str, str], ...]:
    """(header, why) of the columns that the file lists as not loaded."""
    return not_loaded_of(tomllib.loads(_text(path)), str(path))


def accept_map(path: Path) -> SourceMap:
    """Set `accepted = true` in the file and touch nothing else of it; returns the map as it then is.

    Raises MapError where the map cannot be or still lacks a required column: it then stays as it was.
    """
    source_map = read_map(path)
    if source_map.is_accepted:
        return source_map
    lacking = missing_columns(source_map)
    if lacking:
        raise MapError(f"{path}: cannot be accepted yet: {'; '.join(lacking)}. Complete it, then accept it.")
    text = _with_accepted(_text(path))
    if parse_map(text, path.stem, str(path)) != replace(source_map, is_accepted=True):
        raise MapError(f"{path}: cannot be accepted by the program. Set `accepted = true` at its top in an editor.")
    path.write_text(text, encoding="utf-8", newline="\n")
    return replace(source_map, is_accepted=True)


def _with_accepted(text: str) -> str:
    """The text with `accepted = true` before its first table."""
    table = _FIRST_TABLE.search(text)
    found = _ACCEPTED.search(text, 0, table.start() if table else len(text))
    if found is None:
        return f"accepted = true\n{text}"
    return f"{text[: found.start()]}accepted = true{text[found.end() :]}"


def _text(path: Path) -> str:
    """The file's text in UTF-8, with or without a byte-order mark."""
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise MapError(f"{path}: is not text in UTF-8 (byte {error.start:,}). Save it as UTF-8.") from error
    except OSError as error:
        raise MapError(f"{path}: cannot be read ({error.strerror or error}). Expected a source map in TOML.") from error
