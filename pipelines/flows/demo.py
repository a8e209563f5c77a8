"""The demo: a workspace for an invented shop, its exports written into the inbox, the job run on it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from longmile.pipelines.demo.shop import write_demo_shop
from longmile.pipelines.flows.run import Around, run_job
from longmile.pipelines.flows.steps import Job
from longmile.pipelines.settings import SETTINGS_FILE
from longmile.pipelines.workspace import create_workspace

SHOP_NAME = "Two Rivers Garage (invented)"


def run_demo(folder: Path, *, say: Callable[[str], None], around: Around) -> Job:
    """Make the workspace, write the invented shop's exports and run the job.

    WorkspaceError if the folder is a workspace already.

    `demo-truth.json` in the folder holds what was planted, to compare with what the pages say.
    """
    workspace = create_workspace(folder)
    truth = write_demo_shop(workspace.inbox).as_dict()
    _write_settings(folder / SETTINGS_FILE, truth["not_fitted"])
    text = json.dumps(truth, indent=2, default=str, ensure_ascii=False)
    (folder / "demo-truth.json").write_text(text + "\n", encoding="utf-8")
    return run_job(folder, say=say, around=around)


def _write_settings(path: Path, not_fitted: Mapping[str, Iterable[str]]) -> None:
    """The default settings with the shop's name and what its engine families do not have."""
    text = path.read_text(encoding="utf-8").replace('"Our shop"', f'"{SHOP_NAME}"')
    # A JSON string, and a list of them, are also TOML.
    listed = "".join(f"{json.dumps(family)} = {json.dumps(list(codes))}\n" for family, codes in not_fitted.items())
    path.write_text(text.replace("\n[schedule]", f"{listed}\n[schedule]"), encoding="utf-8")
