"""Bytes of a text file to UTF-8 bytes in bounded pieces, and those to blocks of whole lines and to lines.

Nothing here knows of fields or records. No piece is larger than a chunk and one line, whatever the file
holds.
"""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from longmile.pipelines.sources.encoding import ENCODING_NAMES, encoding_of, raw_chunks
from longmile.pipelines.sources.shape import MAX_RAW_TEXT, cut

MAX_LINE = 1 << 20
_HEAD = 4 * MAX_RAW_TEXT


@dataclass(frozen=True)
class TextFile:
    """How a text file is to be decoded, and how many lines it has (counted apart from their readers).

    skip: bytes of the byte order mark. is_cr_only: lines end in a carriage return alone.
    """

    path: Path
    known_as: str
    codec: str
    skip: int
    is_cr_only: bool
    n_lines: int
    notes: tuple[str, ...]

    @property
    def codec_name(self) -> str:
        """The encoding as people call it."""
        return ENCODING_NAMES[self.codec]


class LongLine(NamedTuple):
    """A line longer than MAX_LINE: its beginning and its length in bytes."""

    head: bytes
    n_bytes: int


class Line(NamedTuple):
    """One physical line. trouble: empty, or why the line cannot be read; `text` then shows it."""

    number: int
    text: str
    trouble: str


def text_file(path: Path, known_as: str) -> TextFile:
    """How to decode the file, and its lines, by reading it through."""
    codec, skip, notes = encoding_of(path, known_as)
    n_lf, n_cr, ends_open = _count_ends(_chunks(path, codec, skip))
    is_cr_only = not n_lf and n_cr > 0
    n_lines = (n_cr if is_cr_only else n_lf) + ends_open
    return TextFile(path, known_as, codec, skip, is_cr_only, n_lines, notes)


def _count_ends(chunks: Iterable[bytes]) -> tuple[int, int, bool]:
    """Line feeds, carriage returns, and whether the last line has no end."""
    n_lf = n_cr = 0
    last = b"\n"
    for chunk in chunks:
        n_lf += chunk.count(b"\n")
        n_cr += chunk.count(b"\r")
        last = chunk[-1:] or last
    return n_lf, n_cr, last != b"\n" and not (last == b"\r" and not n_lf)


def _chunks(path: Path, codec: str, skip: int) -> Iterator[bytes]:
    """The file as UTF-8; what cannot be decoded becomes bytes that are not UTF-8: its line tells."""
    if codec == "utf-8":
        yield from raw_chunks(path, skip)
        return
    errors = "surrogateescape" if codec == "cp1252" else "surrogatepass"
    decoder = codecs.getincrementaldecoder(codec)(errors)
    for chunk in raw_chunks(path, skip):
        yield decoder.decode(chunk).encode("utf-8", "surrogatepass")
    try:
        yield decoder.decode(b"", final=True).encode("utf-8", "surrogatepass")
    except UnicodeDecodeError:
        yield b"\xff"


def utf8_chunks(source: TextFile) -> Iterator[bytes]:
    """The file as UTF-8 bytes with line feeds as line ends, about 16 MiB at a time."""
    for chunk in _chunks(source.path, source.codec, source.skip):
        yield chunk.replace(b"\r", b"\n") if source.is_cr_only else chunk


def line_blocks(chunks: Iterable[bytes]) -> Iterator[bytes | LongLine]:
    """The chunks cut anew at line ends; a line longer than MAX_LINE that does not fit comes as a LongLine.

    Of such a line only the head is kept, so 200 MB without a line end cost no more memory than any other
    file.
    """
    carry, head, n_long = b"", b"", 0
    for piece in chunks:
        chunk = piece
        if n_long:
            end = chunk.find(b"\n")
            n_long += len(chunk) if end < 0 else end
            if end < 0:
                continue
            yield LongLine(head, n_long)
            n_long, chunk = 0, chunk[end + 1 :]
        data = carry + chunk
        end = data.rfind(b"\n") + 1
        if end:
            yield data[:end]
        carry = data[end:]
        if len(carry) > MAX_LINE:
            head, n_long, carry = carry[:_HEAD], len(carry), b""
    if n_long:
        yield LongLine(head, n_long)
    elif carry:
        yield carry


def blocks_from(source: TextFile, first_line: int) -> Iterator[bytes | LongLine]:
    """Blocks of whole lines from that line on (1-based)."""
    blocks = line_blocks(utf8_chunks(source))
    to_skip = first_line - 1
    for block in blocks:
        if to_skip == 0:
            return chain([block], blocks)
        if isinstance(block, LongLine):
            to_skip -= 1
            continue
        lines = block.split(b"\n", to_skip)
        if len(lines) > to_skip:
            return chain([lines[-1]] if lines[-1] else [], blocks)
        to_skip -= block.count(b"\n")
    return iter(())


def lines_from(source: TextFile, first_line: int) -> Iterator[Line]:
    """The lines from that one on, numbered, without their line feed; a carriage return before it stays."""
    number = first_line
    for block in blocks_from(source, first_line):
        if isinstance(block, LongLine):
            yield _long_line(number, block)
            number += 1
            continue
        for line in _block_lines(block, source.codec_name):
            yield Line(number, *line)
            number += 1


def _long_line(number: int, line: LongLine) -> Line:
    """A line that is set aside for its length alone."""
    shown = cut(line.head.decode("utf-8", "backslashreplace")[:MAX_RAW_TEXT], f"{line.n_bytes:,} bytes")
    return Line(number, shown, f"is {line.n_bytes:,} bytes long, at most {MAX_LINE:,} are read")


def _block_lines(block: bytes, codec_name: str) -> Iterator[tuple[str, str]]:
    """The block's lines with their trouble; decoded at once where the whole block is sound."""
    try:
        text = block.decode()
    except UnicodeDecodeError:
        text = ""
    if text and "\0" not in text:
        lines = text.split("\n")
        whole = lines if lines[-1] else lines[:-1]
        yield from (_checked(line) for line in whole)
        return
    raw = block.split(b"\n")
    for one in raw if raw[-1] else raw[:-1]:
        yield _decoded(one, codec_name)


def _checked(line: str) -> tuple[str, str]:
    """A decoded line; a character is at most four bytes, so short ones need no counting."""
    if 4 * len(line) > MAX_LINE:
        return _decoded(line.encode(), "UTF-8")
    return line, ""


def _decoded(raw: bytes, codec_name: str) -> tuple[str, str]:
    """One line of a block that holds a line in trouble."""
    if len(raw) > MAX_LINE:
        line = _long_line(0, LongLine(raw[:_HEAD], len(raw)))
        return line.text, line.trouble
    try:
        text = raw.decode()
    except UnicodeDecodeError:
        return cut(raw.decode("utf-8", "backslashreplace")), f"holds bytes that are not {codec_name}"
    return (cut(text), "holds a NUL byte") if "\0" in text else (text, "")
