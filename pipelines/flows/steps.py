"""The one list of steps that the job consists of; the command line walks it, the scheduler wraps it."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime
from importlib.metadata import version
from typing import TYPE_CHECKING

import polars as pl

from longmile.pipelines.errors import CheckStoppedError
from longmile.pipelines.flows.intake import Clock, InboxLoader, Intake, Say
from longmile.pipelines.maps.match import read_maps
from longmile.pipelines.store.store import Store
from longmile.pipelines.workspace import Workspace
from longmile.schemas.registry import TABLES

if TYPE_CHECKING:
    from longmile.pipelines.flows.lives import LifeFrames


@dataclass
class Job:
    """One run in progress: what was asked, the open store, and what the steps have found so far."""

    workspace: Workspace
    store: Store
    clock: Clock
    say: Say
    asked_as_of: date | None = None
    asked_known_at: datetime | None = None
    run_id: int = 0
    started_at: datetime = datetime.min
    as_of: date = date.min
    known_at: datetime = datetime.min
    fingerprint: str = ""
    intake: Intake = field(default_factory=Intake)
    is_up_to_date: bool = False
    other_ways: dict[str, LifeFrames] = field(default_factory=dict)
    summary: list[tuple[str, str]] = field(default_factory=list)


@dataclass(frozen=True)
class Step:
    """One step: its name, what it does in words, and the function that does it on a job."""

    name: str
    title: str
    act: Callable[[Job], str]


def take_in(job: Job) -> str:
    """Load the inbox; then settle what is asked, and whether any of it is new."""
    job.started_at = job.clock()
    job.run_id = job.store.value("SELECT coalesce(max(run_id), 0) + 1 FROM run")
    maps = read_maps(job.workspace.folder / "sources")
    keep = job.workspace.settings.keep_originals
    loader = InboxLoader(job.store, job.run_id, job.clock, maps, keep_originals=keep)
    job.intake = loader.load(job.workspace.inbox, job.workspace.landed, job.say)
    _settle(job)
    return _intake_sentence(job.intake)


def check_whole(job: Job) -> str:
    """Hold the tables as a whole against their rules; a broken rule of severity `stop` ends the run."""
    from longmile.pipelines.checks.gate import Gate
    from longmile.pipelines.checks.run import check_table, raise_if_stopped
    from longmile.pipelines.flows.lives import fill_vocabulary
    from longmile.schemas.shop import TRADE_TABLES
    from longmile.schemas.store import CHECK_RESULT

    with job.store.transaction():
        fill_vocabulary(job.store)
        results = check_table(Gate(job.store.connection), TRADE_TABLES)
        job.store.run("DELETE FROM check_result WHERE run_id = ? AND file_id IS NULL", (job.run_id,))
        rows = [{**r.as_row(), "run_id": job.run_id, "file_id": None, "part_name": None} for r in results]
        job.store.append(CHECK_RESULT, pl.DataFrame(rows, infer_schema_length=None))
    raise_if_stopped(results)
    n_failed = sum(r.outcome == "failed" for r in results)
    return f"{len(results)} rules on whole tables, {n_failed} to look at."


def cut(job: Job) -> str:
    """Cut the lives."""
    from longmile.pipelines.flows.lives import cut_lives_in_other_ways

    with job.store.transaction():
        job.other_ways = cut_lives_in_other_ways(job.store, job.workspace.settings)
    vehicles, miles, lives, walk_ins = job.store.rows(
        "SELECT (SELECT count(*) FROM vehicle_window), "
        "(SELECT coalesce(sum(last_miles - first_miles), 0) FROM vehicle_window), "
        "(SELECT count(*) FROM life WHERE unit = 'socket'), (SELECT count(*) FROM walk_in)"
    )[0]
    return (
        f"{vehicles:,} vehicles watched over {miles:,.0f} miles; {lives:,} lives in touched sockets, "
        f"{walk_ins:,} walk-ins."
    )


def estimate(job: Job) -> str:
    """Estimate every component on every engine family."""
    from longmile.pipelines.flows.estimates import estimate_all

    with job.store.transaction():
        n_strata = estimate_all(job.store, job.workspace.settings, job.other_ways)
    by_status = job.store.rows("SELECT status, count(*) FROM estimate GROUP BY status ORDER BY 2 DESC")
    counts = ", ".join(f"{n:,} {status}" for status, n in by_status)
    return f"{n_strata:,} strata: {counts}." if counts else "Nothing to estimate: no repair line names a component."


def publish(job: Job) -> str:
    """Write the pages and tables, switch them in, and book the run."""
    from longmile.pipelines.flows.publish import publish_pages

    page = publish_pages(job.store, job.workspace, job.as_of, job.known_at, job.clock())
    _book_run(job)
    return f"{page}"


STEPS: tuple[Step, ...] = (
    Step("intake", "Taking in the inbox", take_in),
    Step("checks", "Checking whole tables", check_whole),
    Step("lives", "Cutting lives", cut),
    Step("estimates", "Estimating", estimate),
    Step("pages", "Writing pages", publish),
)
"""In order; after the first the rest is left out where nothing is new."""


def _settle(job: Job) -> None:
    """As-of date, moment of knowledge and fingerprint; whether the last run had just these."""
    store = job.store
    latest = store.value(
        "SELECT max(moment) FROM (SELECT max(landed_at) AS moment FROM source_file "
        "UNION ALL SELECT max(decided_at) FROM decision)"
    )
    known = job.asked_known_at or latest or job.started_at
    newest = store.value(
        "SELECT max(opened_on) FROM repair_order WHERE landed_at <= ? AND (superseded_at IS NULL OR superseded_at > ?)",
        (known, known),
    )
    job.known_at = known
    job.as_of = job.asked_as_of or newest or job.started_at.date()
    store.ask(job.as_of, job.known_at)
    if not store.value("SELECT count(*) FROM source_file"):
        raise CheckStoppedError(
            f"{job.workspace.inbox}: there is nothing to work on: no file has ever been landed. Expected export files "
            "(CSV, XLSX, JSON lines or Parquet); the README shows the layout."
        )
    job.fingerprint = _fingerprint(job)
    last = store.rows("SELECT fingerprint FROM run WHERE finished_at IS NOT NULL ORDER BY run_id DESC LIMIT 1")
    is_published = (job.workspace.published / "briefing.html").is_file()
    job.is_up_to_date = bool(last) and last[0][0] == job.fingerprint and is_published


def _fingerprint(job: Job) -> str:
    """Hash of all that the results depend on: files known, settings, what is asked, declarations, version."""
    files = job.store.rows("SELECT file_id FROM source_file WHERE landed_at <= ? ORDER BY landed_at", (job.known_at,))
    decided = job.store.value("SELECT max(decision_no) FROM decision WHERE decided_at <= ?", (job.known_at,))
    parts = (files, decided, job.workspace.settings, job.as_of, job.asked_known_at, TABLES, version("longmile"))
    return hashlib.sha256(repr(parts).encode()).hexdigest()


def _book_run(job: Job) -> None:
    """Book the run as finished; files that a killed run before it had landed count as this run's."""
    from longmile.schemas.store import RUN

    by_status = dict(
        job.store.rows(
            "SELECT status, count(*) FROM source_file WHERE landed_at > coalesce((SELECT max(finished_at) FROM run), "
            "TIMESTAMP '1900-01-01') GROUP BY status"
        )
    )
    row = {
        "run_id": job.run_id,
        "started_at": job.started_at,
        "finished_at": job.clock(),
        "as_of": job.as_of,
        "known_at": job.known_at,
        "fingerprint": job.fingerprint,
        "version": version("longmile"),
        "n_files_loaded": by_status.get("loaded", 0),
        "n_files_set_aside": by_status.get("set_aside", 0),
    }
    with job.store.transaction():
        job.store.append(RUN, pl.DataFrame([row]))


def _intake_sentence(intake: Intake) -> str:
    aside = len(intake.set_aside) + len(intake.still_set_aside)
    text = f"{len(intake.loaded)} files loaded, {len(intake.seen_before)} seen before, {aside} set aside."
    if intake.loaded:
        text += f" {intake.n_kept:,} rows kept, {intake.n_quarantined:,} quarantined, {intake.n_repeats:,} repeats."
    return text
