"""Source maps for a file: proposed and written where there is none, and accepted. Nothing is loaded here."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_checks import missing_columns
from longmile.pipelines.maps.map_file import accept_map, parse_map, read_not_loaded
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.match import Maps, find_map, read_maps
from longmile.pipelines.maps.source_map import SourceMap, header_fingerprint
from longmile.pipelines.sources.read import read_file
from longmile.pipelines.sources.shape import RawTable
from longmile.pipelines.workspace import open_workspace

if TYPE_CHECKING:
    from longmile.pipelines.maps.propose import Proposal

MapState = Literal["proposed", "renewed", "was there"]
Propose = Callable[[RawTable, str, date, SourceMap | None], "Proposal"]

_SUFFIXES = re.compile(r"(\.[A-Za-z0-9]{1,8})+$")
_NAME_LENGTH = 60


@dataclass(frozen=True)
class MappedPart:
    """One table of a file (the file itself, or a sheet) and the map of its columns.

    state: proposed now, renewed now (an earlier one of the same columns is kept as .bak), or there before and left as
    it is. earlier: name of the map whose decisions the proposal took over. missing: what keeps it from being accepted.
    """

    part: str
    path: Path
    map: SourceMap
    state: MapState
    not_loaded: tuple[tuple[str, str], ...] = ()
    questions: tuple[str, ...] = ()
    earlier: str = ""

    @property
    def missing(self) -> tuple[str, ...]:
        """What is still to be completed before it can be accepted."""
        return missing_columns(self.map)


def map_file(
    path: Path,
    workspace: Path,
    today: date,
    *,
    renew: bool = False,
    propose: Propose | None = None,
) -> list[MappedPart]:
    """The map of every table in the file: the one that the workspace has, else a proposal, written to `sources/`.

    renew: propose anew where there is a map of these columns already, and keep the old file as .bak. A map of columns
    that have changed since keeps its file: those exports may still come; what it says is taken over where it fits.
    today: the day of the proposal.   propose: makes it; by default longmile's own.
    Raises UnreadableFileError where the file cannot be read, MapError where a map of the workspace cannot be, or where
    none can be made (columns that cannot be told apart); then nothing is written for that table.
    """
    folder = sources_folder(workspace)
    proposer = _Proposer(folder, read_maps(folder), today, propose or _default(), renew)
    filled = _filled(path)
    done: dict[str, MappedPart] = {}
    for raw in filled:
        fingerprint = header_fingerprint(raw.headers)
        if fingerprint not in done:
            taken = {part.path.stem for part in done.values()} | {one.name for one in proposer.maps.maps}
            done[fingerprint] = proposer.part(raw, _free_name(path, raw if len(filled) > 1 else None, taken))
    return list(done.values())


def accept_file(path: Path, workspace: Path) -> list[SourceMap]:
    """Accept the maps of the file's tables, as they stand in `sources/`; returns them.

    Raises MapError where a table has no map, or a map still lacks a required column; then none is accepted.
    """
    folder = sources_folder(workspace)
    found = maps_of_file(path, folder)
    lacking = [f"{one.name}.toml: {'; '.join(missing_columns(one))}" for one in found if missing_columns(one)]
    if lacking:
        raise MapError(f"{folder}: cannot be accepted yet: {'; '.join(lacking)}. Complete it, then accept it.")
    return [accept_map(folder / f"{one.name}.toml") for one in found]


def maps_of_file(path: Path, folder: Path) -> list[SourceMap]:
    """The maps of exactly the columns of the file's tables, accepted or not; MapError where a table has none."""
    return list({one.name: one for _, one in mapped_tables(path, folder)}.values())


def mapped_tables(path: Path, folder: Path) -> list[tuple[RawTable, SourceMap]]:
    """The file's tables that have rows, each with its map, accepted or not; MapError where one has none."""
    maps = read_maps(folder)
    found = [(raw, find_map(maps, raw.headers)) for raw in _filled(path)]
    for raw, answer in found:
        if answer.exact is None:
            raise MapError(f"{path.name} ({raw.name}): {answer.sentence}.")
    return [(raw, answer.exact) for raw, answer in found if answer.exact is not None]


def sources_folder(workspace: Path) -> Path:
    """The folder of a workspace's maps, made where it is missing."""
    folder = open_workspace(workspace).folder / "sources"
    folder.mkdir(exist_ok=True)
    return folder


def _filled(path: Path) -> list[RawTable]:
    """The tables of the file that have rows; MapError where none has."""
    found = [raw for raw in read_file(path) if raw.headers and raw.rows.height]
    if not found:
        raise MapError(f"{path.name}: has no rows to look at. Expected a file with a header and at least one row.")
    return found


def _default() -> Propose:
    """The proposal of longmile, imported only where one is made."""
    from longmile.pipelines.maps.propose import propose_map

    made: Propose = propose_map
    return made


@dataclass(frozen=True)
class _Proposer:
    """What all tables of a file share when their maps are found or proposed."""

    folder: Path
    maps: Maps
    today: date
    propose: Propose
    renew: bool

    def part(self, raw: RawTable, name: str) -> MappedPart:
        """One table's map: found, or proposed under that name and written."""
        found = find_map(self.maps, raw.headers)
        if found.exact is not None and not self.renew:
            path = self.folder / f"{found.exact.name}.toml"
            return MappedPart(raw.name, path, found.exact, "was there", read_not_loaded(path))
        earlier = found.exact or found.nearest
        made = self.propose(raw, found.exact.name if found.exact else name, self.today, earlier)
        path = self.folder / f"{made.map.name}.toml"
        text = map_text(made.map, made.not_mapped, made.questions)
        proposed = parse_map(text, made.map.name, str(path))
        _write(path, text)
        state: MapState = "renewed" if found.exact else "proposed"
        known = earlier.name if earlier else ""
        return MappedPart(raw.name, path, proposed, state, made.not_mapped, made.questions, known)


def _write(path: Path, text: str) -> None:
    """The text as the file; a file that was there is kept beside it as .bak, .bak2, ..."""
    if path.exists():
        numbers = (number for number in range(1, 10_000))
        kept = (path.with_name(f"{path.name}.bak{number if number > 1 else ''}") for number in numbers)
        path.rename(next(one for one in kept if not one.exists()))
    path.write_text(text, encoding="utf-8", newline="\n")


def _free_name(path: Path, raw: RawTable | None, taken: Collection[str]) -> str:
    """A name for the map: of the file, and of the sheet where there are several; not one that is taken."""
    words = [_SUFFIXES.sub("", path.name), *([raw.name] if raw else [])]
    name = "_".join(re.sub(r"\W+", "_", word.lower()).strip("_") for word in words)[:_NAME_LENGTH].strip("_") or "map"
    numbered = (name if number == 1 else f"{name}_{number}" for number in range(1, 10_000))
    return next(one for one in numbered if one not in taken)
