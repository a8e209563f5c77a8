"""The same steps as a Prefect flow, refreshed every night: `longmile serve`.

The scheduler's own server runs on this machine only, keeps its files inside the workspace and sends nothing out. The
store's own lock, not the scheduler, keeps two runs from writing at once.
"""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen
from zoneinfo import available_timezones

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.workspace import Workspace, open_workspace

SERVER_START_SECONDS = 90


def serve_workspace(folder: Path, say: Callable[[str], None]) -> None:
    """Refresh the workspace every night until stopped (Ctrl-C).

    LongmileError if the scheduler's server does not start.
    """
    workspace = open_workspace(folder.resolve())
    port = _free_port()
    os.environ.update(scheduler_environment(workspace, port))
    with _server(port, workspace):
        from prefect.schedules import Cron

        from longmile.pipelines.flows.nightly import nightly

        cron, zone = workspace.settings.nightly, local_zone(Path("/etc/localtime"), os.environ.get("TZ"))
        say(f"Refreshing {workspace.folder} at '{cron}' (cron, time zone {zone}). Stop with Ctrl-C.")
        nightly.serve(
            name="nightly",
            schedule=Cron(cron, timezone=zone),
            parameters={"folder": str(workspace.folder)},
            limit=1,
            print_starting_message=False,
        )


def scheduler_environment(workspace: Workspace, port: int) -> dict[str, str]:
    """Environment under which the scheduler keeps to this workspace and this machine."""
    return {
        "PREFECT_HOME": str(workspace.scheduler),
        "PREFECT_API_URL": f"http://127.0.0.1:{port}/api",
        "PREFECT_SERVER_ANALYTICS_ENABLED": "false",
        "PREFECT_CLOUD_ENABLE_ORCHESTRATION_TELEMETRY": "false",
        "PREFECT_LOGGING_LEVEL": "ERROR",
        "DO_NOT_TRACK": "1",
    }


def local_zone(localtime: Path, told: str | None) -> str:
    """Name of the machine's time zone: TZ where that is a name, else what /etc/localtime points to, else UTC."""
    name = (told or "").removeprefix(":")
    # TZ may also hold a rule, or the path of a file: the scheduler takes names only.
    if name in available_timezones():
        return name
    target = str(localtime.resolve())
    found = target.rpartition("/zoneinfo/")[2].removeprefix("posix/").removeprefix("right/")
    return found if found in available_timezones() else "UTC"


@contextmanager
def _server(port: int, workspace: Workspace) -> Iterator[None]:
    """The scheduler's server on the loopback address, while the block runs."""
    command = [
        sys.executable,
        "-m",
        "prefect",
        "server",
        "start",
        "--host",
        "127.0.0.1",
        "--port",
        str(port),
        "--no-ui",
    ]
    workspace.scheduler.mkdir(exist_ok=True)
    with (workspace.scheduler / "server.log").open("ab") as log:
        process = subprocess.Popen(command, stdout=log, stderr=log)
        try:
            _wait_until_up(port, process, workspace)
            yield
        finally:
            process.terminate()
            process.wait(timeout=30)


def _wait_until_up(port: int, process: subprocess.Popen[bytes], workspace: Workspace) -> None:
    deadline = time.monotonic() + SERVER_START_SECONDS
    while time.monotonic() < deadline and process.poll() is None:
        try:
            with urlopen(f"http://127.0.0.1:{port}/api/health", timeout=2):
                return
        except (URLError, OSError):
            time.sleep(0.5)
    raise LongmileError(
        f"serve: the scheduler's server did not answer within {SERVER_START_SECONDS} s on port {port}. "
        f"Look at {workspace.scheduler / 'server.log'}; `longmile run` needs no server."
    )


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
