"""How long `longmile --help` takes beyond importing its own bare needs: whole processes, in turn."""

from __future__ import annotations

import subprocess
import sys

from measure import in_turn

HELP = [sys.executable, "-m", "longmile.pipelines.cli", "--help"]
BARE = [sys.executable, "-c", "import duckdb, polars, typer"]


def start_up() -> str:
    def run(command: list[str]) -> None:
        subprocess.run(command, check=True, capture_output=True)

    run(HELP), run(BARE)
    took = in_turn({"help": lambda: run(HELP), "bare": lambda: run(BARE)}, 9)
    ours, bare = took["help"], took["bare"]
    return f"--help {ours:.3f} s, bare import {bare:.3f} s, difference {ours - bare:+.3f} s (medians of 9, in turn)"
