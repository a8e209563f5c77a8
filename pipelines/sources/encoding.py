"""Which encoding a text file is in, told from its bytes."""

from __future__ import annotations

import codecs
from collections.abc import Iterator
from pathlib import Path

from longmile.pipelines.sources.shape import unreadable

_CHUNK = 1 << 24
_FIRST_CHUNK = 1 << 18
_MIN_WIDE = 6
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_UTF32 = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)
ENCODING_NAMES = {"utf-8": "UTF-8", "cp1252": "Windows-1252", "utf-16-le": "UTF-16", "utf-16-be": "UTF-16"}
_DATA_CONTROLS = b"\t\n\r\f"
_CONTROLS = bytes(byte for byte in range(32) if byte not in _DATA_CONTROLS)


def encoding_of(path: Path, known_as: str) -> tuple[str, int, tuple[str, ...]]:
    """The codec, the bytes of the byte order mark, and a note for people where it is not UTF-8.

    Told by the byte order mark, else UTF-16 by its zeros, else UTF-8 where all of it is, else Windows-1252.
    A file that is not UTF-8 throughout is still read as UTF-8 where more of its lines with accented letters
    are UTF-8 than are not: one damaged line must not garble the accents of all others; that line is then set
    aside. Raises UnreadableFileError for UTF-32 and for what is no text.
    """
    with path.open("rb") as file:
        head = file.read(1 << 16)
    if head.startswith(_UTF32):
        raise unreadable(known_as, "the text is in UTF-32", "UTF-8, UTF-16 or Windows-1252", "Save it as UTF-8")
    skip, codec = next(((len(bom), name) for bom, name in _BOMS if head.startswith(bom)), (0, ""))
    without = ""
    if not codec and (codec := _unmarked_utf16(head)):
        without = " without a byte order mark"
    if not codec.startswith("utf-16"):
        _refuse_binary(head, known_as)
    if not codec:
        codec = "utf-8" if _is_utf8(path) else "cp1252"
    if codec == "utf-8":
        return codec, skip, ()
    return codec, skip, (f"the text is in {ENCODING_NAMES[codec]}{without} and was decoded as such",)


def _unmarked_utf16(head: bytes) -> str:
    """The codec of UTF-16 text without a byte order mark; empty where it cannot be told.

    Text in Latin letters has a zero in every other byte; even other scripts have it in spaces, digits, delimiters and
    line ends. Asked for: three in ten of one half of the bytes, hardly any of the other, and no control characters.
    """
    half = len(head) // 2
    n_even, n_odd = head[::2].count(0), head[1::2].count(0)
    if half < _MIN_WIDE or max(n_even, n_odd) < 0.3 * half or min(n_even, n_odd) > 0.02 * half:
        return ""
    codec = "utf-16-le" if n_odd > n_even else "utf-16-be"
    text = head[: 2 * half].decode(codec, "replace")
    n_strange = sum((character < " " and character not in "\t\n\r\f") or character == "\ufffd" for character in text)
    return codec if n_strange <= 0.02 * half else ""


def _refuse_binary(head: bytes, known_as: str) -> None:
    """One control character in ten (tab and line ends aside) is no text; a stray NUL only spoils its line."""
    n_controls = len(head) - len(head.translate(None, _CONTROLS))
    if n_controls < 8 or 10 * n_controls < len(head):
        return
    raise unreadable(known_as, "binary data, not text", "a text file", "Save it as CSV in UTF-8 and drop it in again")


def _is_utf8(path: Path) -> bool:
    """Whether the text is UTF-8, or mostly so where it has accented letters at all."""
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        for chunk in raw_chunks(path, 0):
            decoder.decode(chunk)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return _is_mostly_utf8(path)
    return True


def _is_mostly_utf8(path: Path) -> bool:
    """More lines with accented letters are UTF-8 than not. A line across two chunks counts in both."""
    balance = 0
    for chunk in raw_chunks(path, 0):
        for line in chunk.split(b"\n"):
            if not line.isascii():
                balance += 1 if _decodes(line) else -1
    return balance > 0


def _decodes(line: bytes) -> bool:
    """Whether the line is UTF-8."""
    try:
        line.decode()
    except UnicodeDecodeError:
        return False
    return True


def raw_chunks(path: Path, skip: int) -> Iterator[bytes]:
    """The file's bytes after the byte order mark; little at first, for those who look at the first lines only."""
    with path.open("rb") as file:
        file.seek(skip)
        size = _FIRST_CHUNK
        while chunk := file.read(size):
            yield chunk
            size = _CHUNK
