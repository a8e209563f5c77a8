"""How large an archive may unpack, and the measuring of what really comes out of it.

The sizes an archive declares can be false: declared ones are looked at before a byte is unpacked, real ones on the way.
"""

from __future__ import annotations

import copy
import zipfile
from collections.abc import Iterator

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.shape import unreadable

MAX_UNPACKED = 1 << 30
MAX_RATIO = 200
RATIO_FROM = 50 * 1_000_000
_PIECE = 1 << 20
_DEFLATED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


def is_too_large(n_unpacked: int, n_packed: int) -> bool:
    """Over a gibibyte, or over 200 times the packed size (from 50 MB on: small files may well repeat themselves)."""
    return n_unpacked > MAX_UNPACKED or (n_unpacked > RATIO_FROM and n_unpacked > MAX_RATIO * n_packed)


def too_large(found: str, what: str, known_as: str) -> UnreadableFileError:
    """The error of an archive that would fill the disk or the memory."""
    return unreadable(
        known_as,
        f"the {what} unpacks to {found}",
        f"at most {MAX_UNPACKED:,} bytes, and at most {MAX_RATIO} times its own size",
        "If the file is genuine, save it as CSV, in several files if need be",
    )


def encrypted(known_as: str, what: str = "workbook") -> UnreadableFileError:
    """The error of something under a password."""
    return unreadable(known_as, f"the {what} is encrypted", "one without a password", "Save it without a password")


def unpacked_pieces(archive: zipfile.ZipFile, part: zipfile.ZipInfo, what: str, known_as: str) -> Iterator[bytes]:
    """The part's bytes, piece by piece; its checksum is verified, and its size must be the one it declares."""
    if part.flag_bits & 1:
        raise encrypted(known_as, what)
    if part.compress_type not in _DEFLATED:
        raise unreadable(known_as, f"the {what} is packed in an unusual way", f"a plain {what}", "Save it again")
    wide = copy.copy(part)
    wide.file_size = part.file_size + 1
    n_bytes = 0
    with archive.open(wide) as stream:
        while piece := stream.read(_PIECE):
            n_bytes += len(piece)
            yield piece
    if n_bytes != part.file_size:
        raise too_large(f"other sizes than it declares ({part.filename[:60]})", what, known_as)
