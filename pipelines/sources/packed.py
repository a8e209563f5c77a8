"""Gzip and zip files to files of our own making in a folder that is not kept. Knows archives, not what is in them.

What an archive says of a member (its name, its size) is only ever looked at: no name of it becomes a path, and no size
is believed. Bounds: `archive_size`.
"""

from __future__ import annotations

import gzip
import re
import stat
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.archive_size import is_too_large, too_large, unpacked_pieces
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.shape import unreadable

MAX_MEMBERS = 1_000
_PIECE = 1 << 20
_SHOWN = 120
_PLAIN_FILES = (0, stat.S_IFREG)


@dataclass(frozen=True)
class Member:
    """One member of a zip archive: its name as shown to people, its file, and why there is none, if so."""

    name: str
    path: Path
    refusal: str = ""


def unpacked_gzip(path: Path, known_as: str, folder: Path) -> tuple[Path, str]:
    """The file inside, and the name it is known by: without .gz."""
    n_packed = path.stat().st_size
    target = folder / "unpacked"
    with damaged_if_it_fails(known_as, "gzip archive"), gzip.open(path) as stream, target.open("wb") as file:
        n_bytes = 0
        while piece := stream.read(_PIECE):
            n_bytes += len(piece)
            if is_too_large(n_bytes, n_packed):
                raise too_large(f"more than {n_bytes - len(piece):,} bytes from {n_packed:,}", "archive", known_as)
            file.write(piece)
    name = Path(known_as).name
    return target, name[:-3] if name.lower().endswith(".gz") and len(name) > 3 else name


def unpacked_members(path: Path, known_as: str, folder: Path) -> list[Member]:
    """The members of a zip archive, each in a file of our own naming; folders and hidden files are passed over.

    A member that is damaged, encrypted or packed in an unusual way has no file but a refusal. The whole archive is
    refused (UnreadableFileError) where it is damaged, too large, has too many members, or has one whose name leads
    out of it or that is a link: nobody makes such an archive by accident.
    """
    with damaged_if_it_fails(known_as, "zip archive"), zipfile.ZipFile(path) as archive:
        parts = [part for part in archive.infolist() if not part.is_dir()]
        _refuse_hostile(parts, path.stat().st_size, known_as)
        shown = [part for part in parts if not _is_hidden(part.filename)]
        members = [_unpacked(archive, part, folder / f"member-{at:04}") for at, part in enumerate(shown, 1)]
    _refuse_packed_twice(members, parts, path.stat().st_size, known_as)
    return members


def _refuse_hostile(parts: list[zipfile.ZipInfo], n_packed: int, known_as: str) -> None:
    """Refuse before a byte is unpacked: by number of members, declared size, names and kinds."""
    if len(parts) > MAX_MEMBERS:
        found = f"the archive has {len(parts):,} members"
        raise unreadable(known_as, found, f"at most {MAX_MEMBERS:,}", "Drop the files in without an archive")
    n_declared = sum(part.file_size for part in parts)
    if is_too_large(n_declared, n_packed):
        raise too_large(f"{n_declared:,} bytes from {n_packed:,}", "archive", known_as)
    for part in parts:
        if trouble := _name_trouble(part.orig_filename) or _kind_trouble(part):
            raise unreadable(
                known_as,
                f"the member {shown_name(part.orig_filename)!r} of the archive {trouble}",
                "plain files in folders",
                "Do not open it by hand if you do not know where it came from; else pack the files again",
            )


def _name_trouble(name: str) -> str:
    """What is wrong with a member's name. Some programs of other systems write backslashes between folders."""
    path = name.replace("\\", "/")
    if path.startswith("/") or re.match(r"[A-Za-z]:", path):
        return "has an absolute path as its name"
    if ".." in path.split("/"):
        return "has a name that leads out of the archive"
    return "has a NUL in its name" if "\0" in name else ""


def _kind_trouble(part: zipfile.ZipInfo) -> str:
    """What is wrong with a member's kind, where the archive says so (Unix file type, in the upper half)."""
    return "" if stat.S_IFMT(part.external_attr >> 16) in _PLAIN_FILES else "is a link or a device, not a file"


def _is_hidden(name: str) -> bool:
    """Files that systems put beside others: .DS_Store, __MACOSX/..."""
    path = PurePosixPath(name.replace("\\", "/"))
    return path.name.startswith(".") or "__MACOSX" in path.parts


def _unpacked(archive: zipfile.ZipFile, part: zipfile.ZipInfo, target: Path) -> Member:
    """One member in its file, or the reason why not."""
    name = shown_name(part.orig_filename)
    try:
        with damaged_if_it_fails(name, "member of the archive"):
            _write(unpacked_pieces(archive, part, "member of the archive", name), target)
    except UnreadableFileError as refused:
        return Member(name, target, str(refused))
    return Member(name, target)


def _write(pieces: Iterable[bytes], target: Path) -> None:
    """The pieces in a file."""
    with target.open("wb") as file:
        for piece in pieces:
            file.write(piece)


def _refuse_packed_twice(members: list[Member], parts: list[zipfile.ZipInfo], n_packed: int, known_as: str) -> None:
    """Workbooks are archives themselves: what they unpack to counts, too."""
    n_unpacked = sum(part.file_size for part in parts) + sum(map(_n_declared_inside, members))
    if is_too_large(n_unpacked, n_packed):
        raise too_large(f"{n_unpacked:,} bytes from {n_packed:,}, with its workbooks", "archive", known_as)


def _n_declared_inside(member: Member) -> int:
    """What a member that is an archive declares to unpack to; 0 for others and for damaged ones, refused elsewhere."""
    if member.refusal or not zipfile.is_zipfile(member.path):
        return 0
    try:
        with damaged_if_it_fails(member.name, "workbook"), zipfile.ZipFile(member.path) as inner:
            return sum(part.file_size for part in inner.infolist())
    except UnreadableFileError:
        return 0


def shown_name(name: str) -> str:
    """A member's name for people: slashes between folders, no control characters, the end of a very long one."""
    clean = re.sub(r"[\x00-\x1f\x7f-\x9f]", "?", name.replace("\\", "/")).encode("utf-8", "replace").decode()
    return clean if len(clean) <= _SHOWN else f"...{clean[-_SHOWN:]}"
