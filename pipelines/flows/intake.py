"""The inbox into the store: each file copied untouched, read, typed, checked and joined, in one transaction a file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

import polars as pl

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.flows.incoming import BulkRows, header_alone
from longmile.pipelines.flows.intake_part import PartLoader
from longmile.pipelines.flows.landing import Landing, name_of
from longmile.pipelines.flows.part_rows import Part, part_of
from longmile.pipelines.flows.quarantine import RETURN_HEADER
from longmile.pipelines.maps.match import Maps
from longmile.pipelines.sources.bulk_account import NotProvenError
from longmile.pipelines.sources.delimited_bulk import MIN_BYTES, bulk_file
from longmile.pipelines.sources.landing import file_digest, keep_copy
from longmile.pipelines.sources.read import read_file
from longmile.pipelines.store.store import Store
from longmile.schemas.store import SOURCE_FILE

Clock = Callable[[], datetime]
Say = Callable[[str], None]

Loaded = tuple[list[dict[str, int]], tuple[str, ...]]
"""What became of the rows, by table, and what is to be noted."""


@dataclass
class Intake:
    """What happened to the files of the inbox, file names in order."""

    loaded: list[str] = field(default_factory=list)
    set_aside: list[tuple[str, str]] = field(default_factory=list)
    seen_before: list[str] = field(default_factory=list)
    still_set_aside: list[tuple[str, str]] = field(default_factory=list)
    n_kept: int = 0
    n_quarantined: int = 0
    n_repeats: int = 0
    n_replaced: int = 0
    n_withdrawn: int = 0


class InboxLoader:
    """Loads files into a store, each in one transaction."""

    def __init__(
        self,
        store: Store,
        run_id: int,
        clock: Clock,
        maps: Maps | None = None,
        *,
        keep_originals: bool = True,
        bulk_from: int = MIN_BYTES,
    ) -> None:
        """maps: the workspace's source maps.   keep_originals: whether an untouched copy of each file is kept.

        bulk_from: bytes from which a delimited file is read by DuckDB's own reader.
        """
        self.store = store
        self.run_id = run_id
        self.clock = clock
        self.maps = maps or Maps()
        self.keep_originals = keep_originals
        self.bulk_from = bulk_from
        self._parts = PartLoader(store)

    def load(self, inbox: Path, landed: Path, say: Say) -> Intake:
        """Load every file of the inbox, in order of name.

        A file seen before is skipped, one that cannot be read set aside.
        """
        done = Intake()
        for path in sorted(p for p in inbox.iterdir() if not p.name.startswith(".")):
            self._load_one(path, landed, done, say)
        return done

    def _load_one(self, path: Path, landed: Path, done: Intake, say: Say) -> None:
        """One file: skipped, loaded or set aside; said, counted and kept in the store's books."""
        name = name_of(path)
        try:
            file_id = file_digest(path)
        except UnreadableFileError as refused:
            done.still_set_aside.append((name, str(refused)))
            say(f"{name}: not taken in. {refused}")
            return
        seen = self.store.rows("SELECT status, reason, maps_known FROM source_file WHERE file_id = ?", (file_id,))
        if seen and not self._is_to_be_tried_again(seen[0]):
            self._say_seen(name, seen[0][:2], done, say)
            return
        landing = Landing(path, file_id, self._next_moment(), self.run_id)
        if self.keep_originals:
            keep_copy(path, landed)
        try:
            counts, notes = self._load_in_bulk(landing) or self._load_as_read(landing)
        except UnreadableFileError as refused:
            self._set_aside(landing, str(refused))
            done.set_aside.append((name, str(refused)))
            say(f"{name}: set aside. {refused}")
            return
        done.loaded.append(name)
        for total in ("n_kept", "n_quarantined", "n_repeats", "n_replaced", "n_withdrawn"):
            setattr(done, total, getattr(done, total) + sum(count[total] for count in counts))
        say(_loaded_sentence(name, counts))
        for note in notes:
            say(f"{name}: {note}")

    def _load_in_bulk(self, landing: Landing) -> Loaded | None:
        """A big delimited file by DuckDB's own reader; None where it is none, or its rows are not proven to be all."""
        file = bulk_file(landing.path, landing.name, self.bulk_from)
        if file is None or RETURN_HEADER in file.layout.headers:
            return None
        part = part_of(header_alone(Path(landing.name).stem, file.layout.named), self.maps, BulkRows(file, self.store))
        try:
            with self.store.transaction():
                counts = self._parts.load(landing, part)
                self._book_file(landing, "loaded", None, file.notes)
        except NotProvenError:
            return None
        return counts, file.notes

    def _load_as_read(self, landing: Landing) -> Loaded:
        """Any file, by the reader for its kind."""
        parts, notes = _matched(landing.path, landing.name, self.maps)
        with self.store.transaction():
            counts = [count for part in parts for count in self._parts.load(landing, part)]
            self._book_file(landing, "loaded", None, notes)
        return counts, notes

    def _say_seen(self, name: str, seen: tuple[str, str | None], done: Intake, say: Say) -> None:
        if seen[0] == "set_aside":
            done.still_set_aside.append((name, seen[1] or ""))
            say(f"{name}: set aside before, and unchanged. {seen[1]}")
            return
        done.seen_before.append(name)
        say(f"{name}: seen before, skipped.")

    def _is_to_be_tried_again(self, seen: tuple[str, str | None, str | None]) -> bool:
        """A file set aside is tried again where the accepted source maps are others than they were."""
        status, _, maps_known = seen
        return status == "set_aside" and (maps_known or Maps().digest) != self.maps.digest

    def _next_moment(self) -> datetime:
        """The clock's moment, later than every earlier landing: no two files land at once."""
        latest = self.store.value("SELECT max(landed_at) FROM source_file")
        now = self.clock()
        return now if latest is None else max(now, latest + timedelta(microseconds=1))

    def _set_aside(self, landing: Landing, reason: str) -> None:
        with self.store.transaction():
            self._book_file(landing, "set_aside", reason, ())

    def _book_file(self, landing: Landing, status: str, reason: str | None, notes: tuple[str, ...]) -> None:
        row = {
            "file_id": landing.file_id,
            "file_name": landing.name,
            "n_bytes": landing.path.stat().st_size,
            "landed_at": landing.landed_at,
            "status": status,
            "reason": reason,
            "notes": "\n".join(notes) or None,
            "maps_known": self.maps.digest,
        }
        self.store.run("DELETE FROM source_file WHERE file_id = ? AND status = 'set_aside'", (landing.file_id,))
        self.store.append(SOURCE_FILE, pl.DataFrame([row]))


def _matched(path: Path, name: str, maps: Maps) -> tuple[list[Part], tuple[str, ...]]:
    """The parts of a file that have tables, and what is to be noted; UnreadableFileError where no part has one."""
    parts: list[Part] = []
    notes: list[str] = []
    refusals: list[UnreadableFileError] = []
    for raw in read_file(path, name):
        notes.extend(raw.notes)
        try:
            parts.append(part_of(raw, maps))
        except UnreadableFileError as refused:
            refusals.append(refused)
    if not parts:
        raise refusals[0]
    notes.extend(f"part not loaded: {refused}" for refused in refusals)
    return parts, tuple(notes)


def _loaded_sentence(name: str, counts: list[dict[str, int]]) -> str:
    total = {key: sum(count[key] for count in counts) for key in counts[0]}
    extra = f", {total['n_replaced']:,} replaced" if total["n_replaced"] else ""
    extra += f", {total['n_withdrawn']:,} withdrawn" if total["n_withdrawn"] else ""
    return (
        f"{name}: {total['n_landed']:,} landed = {total['n_kept']:,} kept + {total['n_quarantined']:,} quarantined + "
        f"{total['n_repeats']:,} repeats{extra}."
    )
