"""The untouched copy of a file, named by its content."""

from __future__ import annotations

import hashlib
import os
import re
from pathlib import Path

from longmile.pipelines.sources.read import not_opened, refuse_stray

_PIECE = 1 << 20


def file_digest(path: Path) -> str:
    """SHA-256 of the file's bytes as 64 hexadecimal digits; memory does not grow with the file.

    Raises UnreadableFileError for what must not or cannot be read (a link out of the folder, a pipe).
    """
    refuse_stray(path)
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise not_opened(path.name, error) from error


def keep_copy(path: Path, landed_dir: Path) -> Path:
    """The copy in `landed_dir`, named by SHA-256 and suffix; made only where it is not there yet.

    The copy is written under a temporary name, forced to disk and renamed, so a run killed at any moment
    leaves no half file under a final name (a leftover `.part` may be deleted). It is named by the bytes
    copied, not by those of an earlier look. Raises UnreadableFileError for a link that leads out of the
    file's folder.
    """
    suffix = path.suffix.lower() if re.fullmatch(r"\.[A-Za-z0-9]{1,8}", path.suffix) else ""
    kept = landed_dir / f"{file_digest(path)}{suffix}"
    if kept.exists():
        return kept
    landed_dir.mkdir(parents=True, exist_ok=True)
    part = landed_dir / f".{kept.name}.{os.getpid()}.part"
    try:
        kept = landed_dir / f"{_copy(path, part)}{suffix}"
        part.replace(kept)
    finally:
        part.unlink(missing_ok=True)
    _force_names(landed_dir)
    return kept


def _copy(path: Path, part: Path) -> str:
    """Copy and force to disk; the SHA-256 of what was copied."""
    digest = hashlib.sha256()
    with path.open("rb") as source, part.open("wb") as target:
        while piece := source.read(_PIECE):
            digest.update(piece)
            target.write(piece)
        target.flush()
        os.fsync(target.fileno())
    return digest.hexdigest()


def _force_names(folder: Path) -> None:
    """Force the folder's list of names to disk, where the system lets a folder be opened for that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
