"""The archive a workbook is: refuses, unread, what is no workbook, damaged, encrypted or far too large.

Every part is unpacked once, piece by piece, and measured: see `archive_size`.
"""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple
from xml.parsers import expat

from longmile.pipelines.sources.archive_size import is_too_large, too_large, unpacked_pieces
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.shape import SUPPORTED, unreadable

MAX_PARTS = 10_000
_BOOK = "xl/workbook.xml"
_LINKS = "xl/_rels/workbook.xml.rels"


class SheetPart(NamedTuple):
    """Where a worksheet is in the archive, and whether the spreadsheet program hides it."""

    part: str
    is_hidden: bool


def is_workbook(names: Collection[str]) -> bool:
    """Whether an archive of these parts is a workbook (an old binary one too, which is refused as such)."""
    return (_BOOK in names and _LINKS in names) or "xl/workbook.bin" in names


@contextmanager
def opened_workbook(path: Path, known_as: str) -> Iterator[zipfile.ZipFile]:
    """The workbook's archive, every part of it measured and its checksum verified.

    Raises UnreadableFileError naming the file where it is no workbook, encrypted, too large or damaged.
    """
    with damaged_if_it_fails(known_as, "workbook"), zipfile.ZipFile(path) as archive:
        parts = archive.infolist()
        _refuse_other_archives([part.filename for part in parts], known_as)
        n_declared, n_packed = sum(part.file_size for part in parts), path.stat().st_size
        if is_too_large(n_declared, n_packed):
            raise too_large(f"{n_declared:,} bytes from {n_packed:,}", "workbook", known_as)
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
    found = "a binary workbook (.xlsb)" if is_workbook(names) else "a zip archive that is no XLSX workbook"
    raise unreadable(known_as, found, f"one of {SUPPORTED}", "Unpack the archive, or save the workbook as .xlsx or CSV")


def _measure(archive: zipfile.ZipFile, part: zipfile.ZipInfo, known_as: str) -> None:
    """Unpack the part once, for its size and its checksum."""
    for _ in unpacked_pieces(archive, part, "workbook", known_as):
        pass


def sheet_parts(archive: zipfile.ZipFile, known_as: str) -> dict[str, SheetPart]:
    """Name of each worksheet and the part that holds it, in order; chart sheets are left out."""
    links: dict[str, tuple[str, str]] = {}
    sheets: dict[str, tuple[str, bool]] = {}

    def on_link(name: str, given: dict[str, str]) -> None:
        if local(name) == "Relationship":
            links[given.get("Id", "")] = (given.get("Type", ""), given.get("Target", ""))

    def on_sheet(name: str, given: dict[str, str]) -> None:
        if local(name) == "sheet":
            link = next((value for key, value in given.items() if key.endswith(":id")), "")
            sheets[given.get("name", "")] = link, given.get("state", "visible") != "visible"

    for part, handler in ((_LINKS, on_link), (_BOOK, on_sheet)):
        parser = safe_parser(known_as)
        parser.StartElementHandler = handler
        with archive.open(part) as stream:
            parser.ParseFile(stream)
    return {
        sheet: SheetPart(posixpath.normpath(posixpath.join("/xl", links[link][1])).lstrip("/"), is_hidden)
        for sheet, (link, is_hidden) in sheets.items()
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
