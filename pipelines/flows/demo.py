"""The demo: a workspace for an invented shop, its exports written into the inbox, the job run on it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

from longmile.pipelines.demo.shop import write_demo_shop
from longmile.pipelines.flows.run import Around, run_job
from longmile.pipelines.flows.steps import Job
from longmile.pipelines.settings import SETTINGS_FILE
from longmile.pipelines.workspace import create_workspace

SHOP_NAME = "Two Rivers Garage (invented)"


def run_demo(folder: Path, *, say: Callable[[str], None], around: Around) -> Job:
    """Make the workspace, write the invented shop's exports and run the job; WorkspaceError if the folder is one already.

    `demo-truth.json` in the folder holds what was planted, to compare with what the pages say.
    """
    workspace = create_workspace(folder)
    settings = folder / SETTINGS_FILE
    settings.write_text(
        settings.read_text(encoding="utf-8").replace('"Our shop"', f'"{SHOP_NAME}"'), encoding="utf-8"
    )
    truth = write_demo_shop(workspace.inbox)
    text = json.dumps(truth.as_dict(), indent=2, default=str, ensure_ascii=False)
    (folder / "demo-truth.json").write_text(text + "\n", encoding="utf-8")
    return run_job(folder, say=say, around=around)
