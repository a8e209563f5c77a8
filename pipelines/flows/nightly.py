"""The job as a Prefect flow: one task a step, in the order of the list. No arithmetic."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from prefect import flow, get_run_logger, task
from prefect.cache_policies import NO_CACHE
from prefect.client.schemas.objects import State
from prefect.states import Failed

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.run import run_job
from longmile.pipelines.flows.steps import Step


@flow(name="longmile-nightly", log_prints=False)
def nightly(folder: str) -> str | State[str]:
    """Run every step on the workspace; returns what was said of each, or the state of a run that broke a promise."""
    logger = get_run_logger()

    def around(step: Step, act: Callable[[], str]) -> str:
        # A task as coarse as a step: a task costs about as much as a small shop's whole step.
        return task(name=step.name, task_run_name=step.title, cache_policy=NO_CACHE)(act)()

    try:
        job = run_job(Path(folder), say=logger.info, around=around)
    except LongmileError as error:
        # A state and no exception: the message says all there is to say, and a night's log needs no traceback of it.
        logger.error("%s", error)
        return Failed(message=str(error))
    if job.is_up_to_date:
        return "Nothing is new."
    return "\n".join(f"{title}: {said}" for title, said in job.summary)
