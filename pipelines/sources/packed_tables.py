"""The tables of what is in an archive. How a file of it is read is told by the caller; how it is unpacked: `packed`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.packed import Member, unpacked_gzip, unpacked_members
from longmile.pipelines.sources.shape import SUPPORTED, RawTable, unreadable

Reader = Callable[[Path, str], list[RawTable]]


def refuse_nested(name: str, is_packed: bool) -> None:
    """An archive in an archive is not opened: there is no end to that."""
    if is_packed:
        raise unreadable(name, "an archive inside an archive", "the files themselves", "Unpack the inner archive")


def gzip_tables(path: Path, name: str, read: Reader) -> list[RawTable]:
    """The tables of the one file inside."""
    with TemporaryDirectory(prefix="longmile-") as folder:
        return read(*unpacked_gzip(path, name, Path(folder)))


def zip_tables(path: Path, name: str, read: Reader) -> list[RawTable]:
    """The tables of all members that can be read; the first one notes those that cannot."""
    tables: list[RawTable] = []
    refusals: list[str] = []
    with TemporaryDirectory(prefix="longmile-") as folder:
        members = unpacked_members(path, name, Path(folder))
        for member in members:
            try:
                tables += _member_tables(member, read)
            except UnreadableFileError as refused:
                refusals.append(str(refused))
    if not tables:
        found = f"none of the {len(members):,} files in the archive can be read"
        raise unreadable(name, f"{found} ({refusals[0]})" if refusals else found, f"one of {SUPPORTED}", "Pack others")
    notes = tuple(f"member not loaded: {refusal}" for refusal in refusals)
    return _each_once([replace(tables[0], notes=(*tables[0].notes, *notes)), *tables[1:]])


def _member_tables(member: Member, read: Reader) -> list[RawTable]:
    """The tables of one member, the notes saying whose they are."""
    if member.refusal:
        raise UnreadableFileError(member.refusal)
    tables = read(member.path, member.name)
    return [replace(table, notes=tuple(f"{member.name}: {note}" for note in table.notes)) for table in tables]


def _each_once(tables: list[RawTable]) -> list[RawTable]:
    """The tables with a number behind each name that was there before; capitals make no difference."""
    seen: set[str] = set()
    unique = []
    for table in tables:
        name, number = table.name, 1
        while name.lower() in seen:
            number += 1
            name = f"{table.name} ({number})"
        seen.add(name.lower())
        unique.append(table if name == table.name else replace(table, name=name))
    return unique
