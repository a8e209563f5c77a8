"""The untouched copies in `landed/` removed, for shops that may not or will not keep them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from longmile.pipelines.errors import LongmileError


@dataclass(frozen=True)
class Purged:
    """What was removed, and what stayed because it is younger."""

    n_files: int
    n_bytes: int
    n_kept: int


def purge_originals(landed: Path, before: date | None) -> Purged:
    """Remove the copies made before a day, or all; the records in the store stay. LongmileError where one cannot be."""
    n_files = n_bytes = n_kept = 0
    for path in sorted(p for p in landed.iterdir() if p.is_file() or p.is_symlink()):
        try:
            told = path.lstat()
            if before is not None and datetime.fromtimestamp(told.st_mtime).date() >= before:
                n_kept += 1
                continue
            path.unlink()
        except OSError as error:
            raise LongmileError(
                f"{path}: cannot be removed ({error.strerror or error}). {n_files:,} copies were removed before it."
            ) from error
        n_files += 1
        n_bytes += told.st_size
    return Purged(n_files, n_bytes, n_kept)
