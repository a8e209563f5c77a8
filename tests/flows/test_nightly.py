"""The job on the scheduler, run once for real on this machine alone; and what keeps it there."""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from ipaddress import ip_address
from pathlib import Path
from types import SimpleNamespace
from urllib.parse import urlsplit

import pytest

from longmile.pipelines.flows.schedule import local_zone, scheduler_environment
from longmile.pipelines.flows.steps import STEPS

ORDER = "repair_order_id,vehicle_id,opened_on,odometer_in"
# Read by Python before anything else: every connection that leads off this machine is refused and written down, in the
# flow's process and in the server that it starts.
GUARD = """
import os, socket
_connect, _connect_ex, _getaddrinfo = socket.socket.connect, socket.socket.connect_ex, socket.getaddrinfo
_HERE = ("127.0.0.1", "::1", "localhost", None, "", b"127.0.0.1", b"localhost", "0.0.0.0", "::")

def _note(kind, where):
    with open(os.environ["LONGMILE_TEST_LOG"], "a") as log:
        log.write(f"{kind} {where}\\n")

def _refuse(where):
    _note("refused", where)
    raise OSError(f"a connection to {where} was refused by the test")

def _checked(act):
    def checked(self, address):
        if self.family != socket.AF_UNIX:
            if address[0] not in _HERE:
                _refuse(address[0])
            _note("allowed", address[0])
        return act(self, address)
    return checked

def getaddrinfo(host, *rest, **named):
    return _getaddrinfo(host, *rest, **named) if host in _HERE else _refuse(host)

socket.socket.connect, socket.socket.connect_ex = _checked(_connect), _checked(_connect_ex)
socket.getaddrinfo = getaddrinfo
_note("guarded", os.getpid())
"""
SCRIPT = """
import json, subprocess, sys
from longmile.pipelines.flows.nightly import nightly
from longmile.pipelines.workspace import open_workspace
from pathlib import Path

folder = sys.argv[1]
said = [nightly(folder), nightly(folder)]
hold = "import duckdb, sys; c = duckdb.connect(sys.argv[1]); print('open', flush=True); sys.stdin.read()"
command = [sys.executable, "-c", hold, str(open_workspace(Path(folder)).store)]
with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
    holder.stdout.readline()
    said.append(nightly(folder, return_state=True).message)
    holder.stdin.close()
print(json.dumps(said))
"""


def guard(folder: Path) -> dict[str, str]:
    """Environment that puts the guard into a Python process and all that it starts; its log is `connections.log`."""
    (folder / "guard").mkdir()
    (folder / "guard" / "sitecustomize.py").write_text(GUARD, encoding="utf-8")
    return {"PYTHONPATH": str(folder / "guard"), "LONGMILE_TEST_LOG": str(folder / "connections.log")}


@pytest.fixture(scope="module")
def night(shop_at, tmp_path_factory) -> Iterator[SimpleNamespace]:
    """The flow run on a small shop, again, and again while another process holds the store.

    said: what it returned; stderr; books: the scheduler's own database; connections: what the guard wrote down.
    """
    folder = tmp_path_factory.mktemp("night")
    shop = shop_at(folder / "shop")
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [("1", "Elm")])
    shop.write("repair_order.csv", ORDER, [("A", 1, "2020-01-01", 10_000), ("B", 1, "2021-01-01", 20_000)])
    line = [("B", 1, "labor", "water_pump", "replaced", "failed")]
    shop.write("repair_line.csv", "repair_order_id,line_no,kind,component_code,action,reason", line)
    told = scheduler_environment(shop.workspace, 0)
    # A server of its own for this one process, in the place of the one `longmile serve` would have started.
    del told["PREFECT_API_URL"]
    plain = {name: value for name, value in os.environ.items() if not name.startswith("PREFECT_")}
    environment = {**plain, **told, **guard(folder), "PREFECT_SERVER_EPHEMERAL_ENABLED": "true"}
    command = [sys.executable, "-c", SCRIPT, str(shop.folder)]
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False, timeout=180
    )
    assert done.returncode == 0, done.stderr
    books = sqlite3.connect(shop.workspace.scheduler / "prefect.db")
    try:
        yield SimpleNamespace(
            shop=shop,
            said=json.loads(done.stdout.splitlines()[-1]),
            stderr=done.stderr,
            books=books,
            connections=(folder / "connections.log").read_text(encoding="utf-8").splitlines(),
        )
    finally:
        books.close()


# --- the flow


def test_the_flow_returns_what_every_step_said(night):
    lines = night.said[0].splitlines()
    assert [line.split(": ")[0] for line in lines] == [step.title for step in STEPS]
    assert lines[0].endswith("4 files loaded, 0 seen before, 0 set aside. 5 rows kept, 0 quarantined, 0 repeats.")
    # 20,000 - 10,000.
    assert "1 vehicles watched over 10,000 miles" in lines[2]
    assert (night.shop.workspace.published / "briefing.html").is_file()


def test_a_second_call_says_that_nothing_is_new(night):
    assert night.said[1] == "Nothing is new."


def test_every_step_ran_as_a_task_once_and_in_order_and_the_second_time_only_the_first(night):
    titles = [step.title for step in STEPS]
    runs = night.books.execute(
        "SELECT t.name FROM task_run t JOIN flow_run f ON f.id = t.flow_run_id ORDER BY f.start_time, t.start_time"
    ).fetchall()
    assert [name for (name,) in runs] == [*titles, titles[0]]
    assert night.books.execute("SELECT DISTINCT state_type, run_count FROM task_run").fetchall() == [("COMPLETED", 1)]
    states = night.books.execute("SELECT state_type FROM flow_run ORDER BY start_time").fetchall()
    assert states == [("COMPLETED",), ("COMPLETED",), ("FAILED",)]


def test_while_another_process_holds_the_store_the_flow_fails_with_the_message_and_no_traceback(night):
    assert "longmile.duckdb: another process is using the store" in night.said[2]
    assert "Wait until it has finished" in night.said[2]
    assert "another process is using the store" in night.stderr
    assert "Traceback" not in night.stderr


def test_no_step_came_from_a_cache(night):
    states = night.books.execute("SELECT name, count(*) FROM task_run_state WHERE type = 'COMPLETED' GROUP BY 1")
    # A result taken from a cache has the state name Cached.
    assert states.fetchall() == [("Completed", len(STEPS) + 1)]
    assert night.books.execute("SELECT count(*) FROM task_run WHERE cache_key IS NOT NULL").fetchall() == [(0,)]


def test_nothing_left_the_machine(night):
    kinds = {line.split(" ", 1)[0] for line in night.connections}
    # That the guard was there in both processes, and that it does see connections.
    assert len([line for line in night.connections if line.startswith("guarded")]) >= 2
    assert "allowed" in kinds
    assert [line for line in night.connections if line.startswith("refused")] == []


@pytest.mark.parametrize("host", ["192.0.2.1", "example.invalid"])
def test_what_would_leave_the_machine_is_refused_and_written_down(tmp_path, host: str):
    """192.0.2.0/24 is for documentation (RFC 5737) and .invalid is no domain (RFC 2606): neither leads anywhere."""
    script = f"import socket; socket.create_connection(({host!r}, 80), timeout=5)"
    command = [sys.executable, "-c", script]
    done = subprocess.run(command, env={**os.environ, **guard(tmp_path)}, capture_output=True, text=True, check=False)
    assert "was refused by the test" in done.stderr
    assert f"refused {host}" in (tmp_path / "connections.log").read_text(encoding="utf-8").splitlines()


def test_the_scheduler_kept_its_files_in_the_workspace(night):
    assert (night.shop.workspace.scheduler / "prefect.db").is_file()
    assert {path.name for path in night.shop.folder.parent.iterdir()} == {"shop", "guard", "connections.log"}


# --- the server's settings


def test_the_environment_keeps_the_scheduler_to_this_workspace_and_this_machine(shop):
    told = scheduler_environment(shop.workspace, 4321)
    assert Path(told["PREFECT_HOME"]).is_relative_to(shop.folder)
    address = urlsplit(told["PREFECT_API_URL"])
    assert ip_address(address.hostname).is_loopback
    assert (address.scheme, address.port) == ("http", 4321)
    assert told["PREFECT_SERVER_ANALYTICS_ENABLED"] == "false"
    assert told["DO_NOT_TRACK"] == "1"


def test_the_scheduler_knows_the_settings_it_is_given(shop):
    """A name that the scheduler does not know would be ignored without a word."""
    script = (
        "import json; from prefect.settings import get_current_settings as s; c = s(); "
        "print(json.dumps([str(c.home), c.api.url, c.server.analytics_enabled, "
        "c.cloud.enable_orchestration_telemetry]))"
    )
    told = scheduler_environment(shop.workspace, 4321)
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=shop.folder,
        env={**os.environ, **told},
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(done.stdout) == [
        str(shop.workspace.scheduler),
        "http://127.0.0.1:4321/api",
        False,
        False,
    ]


# --- the time zone


def zone_file(folder: Path, name: str) -> Path:
    """A file where a system keeps its time zones, and a link to it as /etc/localtime is one."""
    kept = folder / "usr" / "share" / "zoneinfo" / name
    kept.parent.mkdir(parents=True)
    kept.write_bytes(b"TZif2")
    link = folder / "localtime"
    link.symlink_to(kept)
    return link


@pytest.mark.parametrize("name", ["Europe/Oslo", "America/Argentina/Salta", "UTC"])
def test_the_zone_is_what_the_machine_is_set_to(tmp_path, name: str):
    assert local_zone(zone_file(tmp_path, name), None) == name
    assert local_zone(tmp_path / "localtime", "") == name


@pytest.mark.parametrize(("told", "expected"), [("Asia/Tokyo", "Asia/Tokyo"), (":Asia/Tokyo", "Asia/Tokyo")])
def test_the_environment_goes_before_the_machine(tmp_path, told: str, expected: str):
    assert local_zone(zone_file(tmp_path, "Europe/Oslo"), told) == expected


def test_a_machine_that_names_no_zone_is_on_utc(tmp_path):
    (tmp_path / "localtime").write_bytes(b"TZif2")
    assert local_zone(tmp_path / "localtime", None) == "UTC"
    assert local_zone(tmp_path / "nosuch", None) == "UTC"
    assert local_zone(zone_file(tmp_path / "other", "Mars/Olympus"), None) == "UTC"


@pytest.mark.parametrize("variant", ["posix", "right"])
def test_a_zone_kept_in_one_of_two_variants_is_that_zone(tmp_path, variant: str):
    assert local_zone(zone_file(tmp_path, f"{variant}/Europe/Oslo"), None) == "Europe/Oslo"


@pytest.mark.parametrize("told", ["EST5EDT,M3.2.0,M11.1.0", "<+03>-3", ":/etc/localtime", "Mars/Olympus"])
def test_a_zone_that_is_no_name_falls_back_to_the_machine(tmp_path, told: str):
    assert local_zone(zone_file(tmp_path, "Europe/Oslo"), told) == "Europe/Oslo"
