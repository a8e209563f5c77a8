"""One file of any supported kind to raw tables. Decides the kind; the readers beside it do the rest."""

from __future__ import annotations

import stat
import zipfile
from itertools import islice
from pathlib import Path

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.archive_size import encrypted
from longmile.pipelines.sources.delimited import read_delimited
from longmile.pipelines.sources.encoded import lines_from, text_file
from longmile.pipelines.sources.foreign import damaged_if_it_fails
from longmile.pipelines.sources.json_lines import is_json_line, read_json_lines
from longmile.pipelines.sources.packed_tables import gzip_tables, refuse_nested, zip_tables
from longmile.pipelines.sources.parquet import read_parquet
from longmile.pipelines.sources.shape import SUPPORTED, RawTable, unreadable
from longmile.pipelines.sources.workbook import read_workbook
from longmile.pipelines.sources.workbook_archive import is_workbook

_JSON_LINES = 10
_JSON_SUFFIXES = (".jsonl", ".ndjson")
_TEXT_SUFFIXES = (".csv", ".txt", ".tsv")
_BOOK_SUFFIXES = (".xlsx", ".xlsm")
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_GZIP = b"\x1f\x8b"
_ZIP = (b"PK\x03\x04", b"PK\x05\x06")
_OTHER_KINDS = (
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"%PDF", "a PDF document"),
    (b"BZh", "a bzip2 archive"),
    (b"\xfd7zXZ", "an xz archive"),
    (b"\x28\xb5\x2f\xfd", "a zstandard archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"Rar!", "a RAR archive"),
    (b"SQLite format 3", "an SQLite database"),
    (b"\x7fELF", "a program"),
    (b"{\\rtf", "an RTF document"),
)
_MARKUP = (b"<!doctype", b"<html", b"<?xml")


def read_file(path: Path, known_as: str = "") -> list[RawTable]:
    """The tables of one file as text rows: one table, or one per sheet of a workbook or member of a zip archive.

    known_as: the name the file had when it was dropped in, where `path` is a copy under another name; it
    gives the table its name and stands in every message. The kind follows the content; the suffix only
    decides between kinds of text. No two tables have the same name. Raises UnreadableFileError where the file
    cannot be read at all, ReconciliationError where a record is unaccounted for.
    """
    name = known_as or path.name
    refuse_stray(path, name)
    try:
        return _read(path, name, Path(name).suffix.lower())
    except OSError as error:
        raise not_opened(name, error) from error


def not_opened(name: str, error: OSError) -> UnreadableFileError:
    """The error of a file that the system does not let us read."""
    found = f"the file cannot be opened ({error.strerror or error})"
    return unreadable(name, found, "a readable file", "Check its permissions")


def refuse_stray(path: Path, name: str = "") -> None:
    """Raise UnreadableFileError unless this is a regular file that does not lead out of its folder."""
    name = name or path.name
    try:
        is_outside = not path.resolve(strict=True).is_relative_to(path.parent.resolve())
        is_regular = stat.S_ISREG(path.stat().st_mode)
    except (OSError, RuntimeError) as error:
        raise unreadable(name, f"the file cannot be found ({error})", "a file", "Drop the file in again") from error
    if is_outside:
        raise unreadable(
            name,
            "a link that leads out of the folder",
            "a file of its own",
            "Copy the file itself into the folder",
        )
    if not is_regular:
        raise unreadable(name, "not a regular file", f"one of {SUPPORTED}", "Drop a file in its place")


def _read(path: Path, name: str, suffix: str, is_packed: bool = False) -> list[RawTable]:
    """By content first. is_packed: it comes out of an archive, and must not be another one."""
    with path.open("rb") as file:
        head = file.read(1_024)
    if not head:
        raise unreadable(name, "the file is empty (0 bytes)", f"one of {SUPPORTED}", "Export the file again")
    if head.startswith(_GZIP):
        refuse_nested(name, is_packed)
        return gzip_tables(path, name, _read_packed)
    if head.startswith(_ZIP):
        if suffix in _BOOK_SUFFIXES or _holds_workbook(path, name):
            return read_workbook(path, name)
        refuse_nested(name, is_packed)
        return zip_tables(path, name, _read_packed)
    if head.startswith(b"PAR1"):
        return [read_parquet(path, name)]
    _refuse_other_kinds(path, name, head)
    return [_read_text(path, name, suffix, head)]


def _holds_workbook(path: Path, name: str) -> bool:
    """Whether a zip archive is a workbook."""
    with damaged_if_it_fails(name, "zip archive"), zipfile.ZipFile(path) as archive:
        return is_workbook(archive.namelist())


def _read_packed(path: Path, name: str) -> list[RawTable]:
    """What comes out of an archive."""
    return _read(path, name, Path(name).suffix.lower(), is_packed=True)


def _read_text(path: Path, name: str, suffix: str, head: bytes) -> RawTable:
    """Text: JSON lines where named or written so, else delimited where the suffix is one for that."""
    if suffix in _JSON_SUFFIXES:
        return read_json_lines(path, name)
    if suffix not in _TEXT_SUFFIXES:
        raise _unsupported(path, name, suffix)
    if b"{" in head and _begins_with_json(path, name):
        return read_json_lines(path, name)
    return read_delimited(path, name)


def _begins_with_json(path: Path, name: str) -> bool:
    """Whether most of the first filled lines are JSON objects; a damaged one must not hide the others."""
    filled = (line for line in lines_from(text_file(path, name), 1) if line.text.strip())
    head = [not line.trouble and is_json_line(line.text) for line in islice(filled, _JSON_LINES)]
    return 2 * sum(head) > len(head)


def _unsupported(path: Path, name: str, suffix: str) -> UnreadableFileError:
    """The error of text under a name that does not stand for text we read."""
    text_file(path, name)
    kinds = {".parquet": "Parquet", **dict.fromkeys(_BOOK_SUFFIXES, "workbook")}
    if suffix in kinds:
        found, todo = f"text, not the {kinds[suffix]} its name says", "If it is CSV, name it .csv"
    else:
        found = f"a file of type {suffix}" if suffix else "a file without a type in its name"
        todo = "Export it as one of these; if it is CSV, name it .csv"
    return unreadable(name, found, f"one of {SUPPORTED}", todo)


def _refuse_other_kinds(path: Path, name: str, head: bytes) -> None:
    """Kinds known by their first bytes that are not read here."""
    if head.startswith(_OLE):
        raise _old_workbook(path, name)
    found = next((kind for magic, kind in _OTHER_KINDS if head.startswith(magic)), "")
    if head.lstrip(b"\xef\xbb\xbf \t\r\n").lower().startswith(_MARKUP):
        found = "a web page or XML document"
    if found:
        todo = "Unpack it and drop in what is inside" if "archive" in found else "Export the records as CSV or XLSX"
        raise unreadable(name, found, f"one of {SUPPORTED}", todo)


def _old_workbook(path: Path, name: str) -> UnreadableFileError:
    """Either an encrypted XLSX, which sits in such a container, or a workbook of the old format."""
    with path.open("rb") as file:
        if "EncryptedPackage".encode("utf-16-le") in file.read(1 << 26):
            return encrypted(name)
    return unreadable(
        name, "a document of an old format (.xls, .doc)", f"one of {SUPPORTED}", "Save it as .xlsx or CSV"
    )
