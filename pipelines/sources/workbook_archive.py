"""The archive a workbook is: refuses, unread, what is no workbook, damaged, encrypted or far too large.

Every part is unpacked once, piece by piece, and measured, since the sizes an archive declares can be false.
"""

from __future__ import annotations

import copy
import posixpath
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from xml.parsers import expat

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.shape import SUPPORTED, unreadable

MAX_UNPACKED = 1 << 30
MAX_RATIO = 200
RATIO_FROM = 50 * 1_000_000
MAX_PARTS = 10_000
_PIECE = 1 << 20
_BOOK = "xl/workbook.xml"
_LINKS = "xl/_rels/workbook.xml.rels"
_DEFLATED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


@contextmanager
def opened_workbook(path: Path, known_as: str) -> Iterator[zipfile.ZipFile]:
    """The workbook's archive, every part of it measured and its checksum verified.

    Raises UnreadableFileError naming the file where it is no workbook, encrypted, too large or damaged.
    """
    with damaged_if_it_fails(known_as, "workbook"), zipfile.ZipFile(path) as archive:
        parts = archive.infolist()
        _refuse_other_archives([part.filename for part in parts], known_as)
        _refuse_large([part.file_size for part in parts], path.stat().st_size, known_as)
        for part in parts:
            _measure(archive, part, known_as)
        yield archive


def _refuse_other_archives(names: list[str], known_as: str) -> None:
    """Only what holds the parts of an XLSX workbook, each once."""
    if len(names) > MAX_PARTS or len(set(names)) != len(names):
        raise unreadable(
            known_as,
            f"the archive has {len(names):,} parts, {len(names) - len(set(names)):,} of them repeated",
            f"a workbook of at most {MAX_PARTS:,} parts, each once",
            "Save the workbook again",
        )
    if _BOOK in names and _LINKS in names:
        return
    found = "a binary workbook (.xlsb)" if "xl/workbook.bin" in names else "a zip archive that is no XLSX workbook"
    raise unreadable(known_as, found, f"one of {SUPPORTED}", "Unpack the archive, or save the workbook as .xlsx or CSV")


def _refuse_large(sizes: list[int], packed: int, known_as: str) -> None:
    """Refuse by declared size, before a byte is unpacked."""
    total = sum(sizes)
    is_bomb = total > RATIO_FROM and total > MAX_RATIO * packed
    if total <= MAX_UNPACKED and not is_bomb:
        return
    raise _too_large(f"{total:,} bytes from {packed:,}", known_as)


def _too_large(found: str, known_as: str) -> UnreadableFileError:
    """The error of a workbook that would fill the memory."""
    return unreadable(
        known_as,
        f"the workbook unpacks to {found}",
        f"at most {MAX_UNPACKED:,} bytes, and at most {MAX_RATIO} times its own size",
        "If the file is genuine, save it as CSV",
    )


def _measure(archive: zipfile.ZipFile, part: zipfile.ZipInfo, known_as: str) -> None:
    """Unpack the part; its checksum is verified on the way, and its size must be the one it declares."""
    if part.flag_bits & 1:
        raise encrypted(known_as)
    if part.compress_type not in _DEFLATED:
        raise unreadable(known_as, "the workbook is packed in an unusual way", "a plain XLSX workbook", "Save it again")
    wide = copy.copy(part)
    wide.file_size = part.file_size + 1
    n_bytes = 0
    with archive.open(wide) as stream:
        while piece := stream.read(_PIECE):
            n_bytes += len(piece)
    if n_bytes != part.file_size:
        raise _too_large(f"other sizes than it declares ({part.filename})", known_as)


def encrypted(known_as: str) -> UnreadableFileError:
    """The error of a workbook under a password."""
    return unreadable(known_as, "the workbook is encrypted", "one without a password", "Save it without a password")


def sheet_parts(archive: zipfile.ZipFile, known_as: str) -> dict[str, str]:
    """Name of each worksheet and the part that holds it, in order; chart sheets are left out."""
    links: dict[str, tuple[str, str]] = {}
    sheets: dict[str, str] = {}

    def on_link(name: str, given: dict[str, str]) -> None:
        if local(name) == "Relationship":
            links[given.get("Id", "")] = (given.get("Type", ""), given.get("Target", ""))

    def on_sheet(name: str, given: dict[str, str]) -> None:
        if local(name) == "sheet":
            link = next((value for key, value in given.items() if key.endswith(":id")), "")
            sheets[given.get("name", "")] = link

    for part, handler in ((_LINKS, on_link), (_BOOK, on_sheet)):
        parser = safe_parser(known_as)
        parser.StartElementHandler = handler
        with archive.open(part) as stream:
            parser.ParseFile(stream)
    return {
        sheet: posixpath.normpath(posixpath.join("/xl", links[link][1])).lstrip("/")
        for sheet, link in sheets.items()
        if links[link][0].endswith("/worksheet")
    }


def local(name: str) -> str:
    """The element's name without its prefix."""
    return name.rpartition(":")[2]


def safe_parser(known_as: str) -> expat.XMLParserType:
    """An XML parser that refuses a document type, and with it every entity that could grow or fetch."""
    parser = expat.ParserCreate()

    def refuse(*_: object) -> None:
        raise unreadable(known_as, "the workbook declares a document type", "a plain XLSX workbook", "Save it again")

    parser.StartDoctypeDeclHandler = refuse
    return parser
