"""The store as the last finished run left it, opened for a question."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.store.store import Store
from longmile.pipelines.workspace import Workspace, open_workspace


@contextmanager
def opened(folder: Path) -> Iterator[tuple[Store, Workspace]]:
    """The workspace and its open store, nothing asked."""
    workspace = open_workspace(folder)
    with Store(workspace.store) as store:
        yield store, workspace


@contextmanager
def last_run(folder: Path) -> Iterator[tuple[Store, Workspace]]:
    """The workspace and its open store, asked as in the last run that finished; LongmileError where there was none."""
    with opened(folder) as (store, workspace):
        ran = store.rows("SELECT as_of, known_at FROM run WHERE finished_at IS NOT NULL ORDER BY run_id DESC LIMIT 1")
        if not ran:
            raise LongmileError(
                f"{folder}: no run has finished yet. Expected one, to answer from. Run it first: longmile run {folder}"
            )
        store.ask(*ran[0])
        yield store, workspace
