"""A real process killed with SIGKILL in the middle of a load: the next run gives the tables of an undisturbed one."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

N_VEHICLES = 400
SCRIPT = """
import sys
from pathlib import Path
from longmile.pipelines.flows.run import run_job
run_job(
    Path(sys.argv[1]),
    say=lambda s: print(s, flush=True),
    around=lambda step, act: (print(step.name, flush=True), act())[1],
)
"""
# Moments differ between two runs, whether one of them was killed or not; all else must be the same.
MOMENTS = ("landed_at", "superseded_at", "started_at", "finished_at", "known_at")


def fill(shop) -> None:
    """Orders and lines enough that a load takes a while."""
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4), ("Oak", 6)])
    vehicles = [(v, "Elm" if v % 2 else "Oak") for v in range(N_VEHICLES)]
    shop.write("vehicle.csv", "vehicle_id,engine_family", vehicles)
    for year in range(5):
        orders = [
            (f"{v}-{year}", v, f"202{year}-0{1 + v % 9}-15", 20_000 + 9_000 * year + 37 * v) for v in range(N_VEHICLES)
        ]
        shop.write(f"repair_order_{year}.csv", "repair_order_id,vehicle_id,opened_on,odometer_in", orders)
        lines = [
            (f"{v}-{year}", 1, "labor", "water_pump" if v % 7 == year else "engine_oil", "replaced", "failed")
            for v in range(N_VEHICLES)
        ]
        shop.write(f"repair_line_{year}.csv", "repair_order_id,line_no,kind,component_code,action,reason", lines)


def start(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-c", SCRIPT, str(folder)], stdout=subprocess.PIPE, text=True)


def kill_when(process: subprocess.Popen[str], word: str, after_seconds: float) -> list[str]:
    """Read what the process says until it says the word, wait, and kill it."""
    said = []
    for line in process.stdout:
        said.append(line.strip())
        if word in line:
            break
    time.sleep(after_seconds)
    os.kill(process.pid, signal.SIGKILL)
    process.wait()
    process.stdout.close()
    return said


@pytest.mark.parametrize(
    ("word", "after_seconds"),
    [
        ("intake", 0.0),
        ("repair_line_1", 0.05),
        ("repair_order_3", 0.0),
        ("lives", 0.03),
        ("estimates", 0.02),
        ("pages", 0.1),
    ],
)
def test_killed_anywhere_the_next_run_gives_the_same_tables(
    shop_at, tmp_path, undisturbed, word: str, after_seconds: float
):
    killed = shop_at(tmp_path / "killed")
    fill(killed)
    kill_when(start(killed.folder), word, after_seconds)
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(killed.folder)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert killed.tables(without=MOMENTS) == undisturbed
    assert (killed.workspace.published / "briefing.html").is_file()


@pytest.fixture(scope="module")
def undisturbed(shop_at, tmp_path_factory):
    """The tables of the same files and the same job, in a process that nobody kills."""
    whole = shop_at(tmp_path_factory.mktemp("whole") / "shop")
    fill(whole)
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(whole.folder)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return whole.tables(without=MOMENTS)


def test_a_second_process_is_told_who_holds_the_store(shop):
    from longmile.pipelines.errors import StoreBusyError
    from longmile.pipelines.store.store import Store

    Store(shop.workspace.store).close()
    script = "import duckdb, sys, time; c = duckdb.connect(sys.argv[1]); print('open', flush=True); time.sleep(60)"
    holder = subprocess.Popen(
        [sys.executable, "-c", script, str(shop.workspace.store)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert holder.stdout.readline().strip() == "open"
        with pytest.raises(StoreBusyError, match=str(holder.pid)):
            shop.run()
    finally:
        holder.kill()
        holder.wait()
        holder.stdout.close()


def test_a_foreign_file_in_place_of_the_store_is_said_so(shop):
    from longmile.pipelines.errors import LongmileError

    shop.workspace.store.write_bytes(b"not a database at all" * 1000)
    with pytest.raises(LongmileError, match=r"longmile\.duckdb: cannot be opened"):
        shop.run()
    assert shop.workspace.store.read_bytes().startswith(b"not a database")
