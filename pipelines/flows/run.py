"""Walks the list of steps on a workspace."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

from longmile.pipelines.flows.steps import STEPS, Job, Step
from longmile.pipelines.store.store import Store
from longmile.pipelines.workspace import open_workspace

Around = Callable[[Step, Callable[[], str]], str]
"""Wraps the call of one step: a progress line at the prompt, a task on the scheduler."""


def utc_now() -> datetime:
    """The moment, in UTC, without a zone attached: as the store keeps moments."""
    return datetime.now(UTC).replace(tzinfo=None)


def run_job(
    folder: Path,
    *,
    as_of: date | None = None,
    known_at: datetime | None = None,
    say: Callable[[str], None],
    around: Around = lambda _, act: act(),
    clock: Callable[[], datetime] = utc_now,
) -> Job:
    """Run every step on the workspace in the folder; the finished job holds the summary.

    Nothing is written after the first step where no file, setting or question is new. Raises LongmileError subclasses;
    what steps before had finished stays, and the next run takes up from there.
    """
    workspace = open_workspace(folder)
    with Store(workspace.store) as store:
        job = Job(workspace, store, clock, say, as_of, known_at)
        for step in STEPS:
            if job.is_up_to_date:
                break
            said = around(step, lambda step=step: step.act(job))  # type: ignore[misc]
            job.summary.append((step.title, said))
    return job
