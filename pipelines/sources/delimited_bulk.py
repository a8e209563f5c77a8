"""A big delimited file by DuckDB's own reader: whether it may be tried, the SQL text, and what its body consists of.

DuckDB reads several times faster than the readers beside this one and knows nothing of bad lines: it drops spaces
before an opening quote and after a closing one, empty fields beyond the last column, and blank lines, and it takes a
lone carriage return for the end of a line. So its rows are taken only where they are proven to be all there is, by
what was counted in the bytes apart from it (`bulk_account`); else the file is read as any other. No database here: the
caller runs the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.delimited_head import DELIMITERS
from longmile.pipelines.sources.delimited_layout import find_layout
from longmile.pipelines.sources.delimited_record import Layout
from longmile.pipelines.sources.encoded import MAX_LINE, text_file
from longmile.pipelines.sql import literal

MIN_BYTES = 1 << 25
"""Below 32 MiB there is nothing to gain."""

N_BYTES, N_QUOTES, N_ENDS, N_RETURNS = "n_bytes", "n_quotes", "n_ends", "n_returns"
IS_SUSPECT, LINES = "is_suspect", "lines"
BETWEEN = "\x1f"
_SUFFIXES = (".csv", ".txt", ".tsv")
_PIECE = 1 << 22
_APART = re.compile(rb'" +"')
_AT_END = re.compile(rb'" *\Z')
_OTHER_BLANKS = b"\t\v\f"
_QUOTE, _LINE_FEED, _RETURN, _BETWEEN = "chr(34)", "chr(10)", "chr(13)", f"chr({ord(BETWEEN)})"
_IS_PADDED = (
    f"contains(line, {_BETWEEN} || ' ') OR contains(line, ' ' || {_BETWEEN}) OR line < '!' OR suffix(line, ' ') "
    f"OR contains(line, {_LINE_FEED})"
)
_TEXT = re.compile(rb"\s*[^\s{<%\x00]")


@dataclass(frozen=True)
class BulkFile:
    """A file that may be read so, with what stands after its header: bytes, quotes, line feeds, carriage returns.

    is_plain: no sign in it is white space but spaces and line ends.   notes: how its header was read, in sentences.
    """

    layout: Layout
    notes: tuple[str, ...]
    n_bytes: int
    n_quotes: int
    n_ends: int
    n_returns: int
    is_plain: bool


def bulk_file(path: Path, known_as: str, min_bytes: int = MIN_BYTES) -> BulkFile | None:
    """The file as one that may be read in bulk; None where it is small, packed, no UTF-8 text, or odd in any way.

    A file that cannot be read at all gives None too: the other readers say why.
    """
    try:
        if not _may_be_tried(path, known_as, min_bytes):
            return None
        source = text_file(path, known_as)
        notes = list(source.notes)
        layout = find_layout(source, notes)
    except (OSError, UnreadableFileError):
        return None
    return counted(layout, notes) if _is_simple(layout) else None


def _is_simple(layout: Layout) -> bool:
    """UTF-8 with one of the usual delimiters and names that are the file's own, more than one of them.

    A line of spaces is blank, but to DuckDB it is one field: with one column it could not be told from a row.
    """
    is_text = layout.source.codec == "utf-8" and not layout.source.is_cr_only and layout.first_line > 1
    return is_text and layout.delimiter in DELIMITERS and len(layout.headers) > 1 and not layout.named.unnamed


def _may_be_tried(path: Path, known_as: str, min_bytes: int) -> bool:
    """Whether name, size and first bytes are those of big plain text; DuckDB reads `*`, `?` and `[` as patterns."""
    if path.stat().st_size < min_bytes or Path(known_as).suffix.lower() not in _SUFFIXES:
        return False
    with path.open("rb") as file:
        head = file.read(1_024)
    return bool(_TEXT.match(head)) and b"\0" not in head and not re.search(r"[*?\[{]", str(path))


def counted(layout: Layout, notes: list[str]) -> BulkFile | None:
    """The file with what its body consists of; None where it holds what DuckDB would read in its own way unseen.

    That is NUL, a carriage return that ends no line, and two quotes with nothing but spaces between them; and the sign
    that is put between fields here.
    """
    n_bytes = n_quotes = n_returns = n_pairs = 0
    last, before, is_plain = b"\n", b"", True
    blanks = _OTHER_BLANKS.translate(None, layout.delimiter.encode())
    for piece in _pieces(layout):
        if b"\0" in piece or BETWEEN.encode() in piece or _APART.search(before + piece):
            return None
        n_bytes += len(piece)
        is_plain = is_plain and piece.isascii() and not any(bytes([sign]) in piece for sign in blanks)
        n_quotes += piece.count(b'"')
        if b"\r" in piece or last == b"\r":
            n_returns += piece.count(b"\r")
            n_pairs += piece.count(b"\r\n") + (last == b"\r" and piece[:1] == b"\n")
        last, before = piece[-1:], b"".join(_AT_END.findall(piece[-MAX_LINE:]))
    n_ends = layout.source.n_lines - (layout.first_line - 1) - (last != b"\n")
    file = BulkFile(layout, tuple(notes), n_bytes, n_quotes, n_ends, n_returns, is_plain)
    return file if n_returns == n_pairs else None


def _pieces(layout: Layout) -> Iterator[bytes]:
    """The bytes of the body, a few MiB at a time."""
    with layout.source.path.open("rb") as file:
        file.seek(layout.source.skip)
        for _ in range(layout.first_line - 1):
            file.readline()
        while piece := file.read(_PIECE):
            yield piece


def bulk_sql(file: BulkFile) -> str:
    """SELECT giving every field as text (`c0`, `c1` ...; empty: NULL) in the order of the file, and counts of each row.

    In a plain file fields have no white space at their ends. n_bytes: bytes of the fields as they stand in the file,
    with a byte between two. n_quotes, n_ends, n_returns: quotes, line feeds and carriage returns in them.
    is_suspect: whether the row may be a line of a printed list, which is then looked at. lines: the fields of a record
    over several lines with `BETWEEN` between them; else NULL.
    """
    layout = file.layout
    fields = [f"c{place}" for place in range(len(layout.headers))]
    counts = (
        f"strlen(line) AS {N_BYTES}, {_count(_QUOTE, file.n_quotes)} AS {N_QUOTES}, "
        # Only a quoted field can hold the end of a line.
        f"{_count(_LINE_FEED, file.n_quotes)} AS {N_ENDS}, {_count(_RETURN, file.n_returns)} AS {N_RETURNS}"
    )
    texts = [_trimmed(field) if file.is_plain else field for field in fields]
    return (
        f"SELECT {', '.join(texts)}, {counts}, {_suspect(layout, fields)} AS {IS_SUSPECT}, "
        f"CASE WHEN contains(line, {_LINE_FEED}) THEN line END AS {LINES} "
        f"FROM (SELECT *, {_IS_PADDED} AS is_padded FROM ("
        f"SELECT {', '.join(fields)}, concat({f', {_BETWEEN}, '.join(fields)}) AS line FROM {_read(layout, fields)}))"
    )


def _read(layout: Layout, fields: list[str]) -> str:
    """DuckDB's reader with nothing left for it to find out."""
    kinds = ", ".join(f"'{field}': 'VARCHAR'" for field in fields)
    return (
        f"read_csv({literal(str(layout.source.path))}, auto_detect = false, header = false, "
        f"skip = {layout.first_line - 1}, delim = {literal(layout.delimiter)}, quote = '\"', escape = '\"', "
        f"columns = {{{kinds}}}, strict_mode = true, null_padding = false, ignore_errors = false, "
        "compression = 'none', hive_partitioning = false)"
    )


def _trimmed(field: str) -> str:
    """The field without white space at its ends; the whole row was looked at, and nearly always there is none."""
    stripped = f"nullif(trim({field}, ' ' || {_LINE_FEED} || {_RETURN}), '')"
    return f"CASE WHEN is_padded THEN {stripped} ELSE {field} END AS {field}"


def _count(sign: str, n_in_file: int) -> str:
    """Expression for how often the sign stands in the row; most rows have none, so that is asked first."""
    if not n_in_file:
        return "0::BIGINT"
    return f"CASE WHEN contains(line, {sign}) THEN strlen(line) - strlen(replace(line, {sign}, '')) ELSE 0 END"


def _suspect(layout: Layout, fields: list[str]) -> str:
    """Expression for whether the first filled field begins as lines of a printed list do, or is blank."""
    first = f"coalesce({', '.join(fields)})"
    is_blank = f"{first} < '!' AND trim({first}, chr(32) || chr(9) || chr(10) || chr(13)) = ''"
    return f"coalesce(({is_blank}) OR regexp_matches({first}, {literal(layout.printed.beginning)}), TRUE)"
