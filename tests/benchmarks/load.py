"""Repair lines landed, typed, checked and joined against DuckDB parsing the same file; not a test.

`python tests/benchmarks/load.py 1000000 10000000`

The file is made here: all columns of a repair line, texts of 20 to 80 characters, some quoted with commas and quotes
inside, a few rows that break a rule. Every figure is of a process of its own, in turn on the same file: seconds,
seconds of all processors, and the most memory it held. The load is the real one (`InboxLoader`, a new store, the
untouched copy of the file, both readings of the checks), from the file in the inbox to the closed store. Beside
it DuckDB parsing all columns into the types it finds itself and keeping nothing, keeping them in memory, also as text,
and keeping them in a database file; which of these a load is held against changes the ratio by five. Where other work
is done on the machine, seconds of processors tell more than seconds.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import duckdb

from longmile.schemas.shop import REPAIR_LINE

_WORDS = [
    *("worn", "leaking", "noisy", "seal", "bearing", "found", "inspection", "tested", "replaced", "torque", "cleaned"),
    *("checked", "coolant", "oil", "pump", "belt", "tensioner", "states", "vibration", "left", "rear", "front", "hose"),
    *("gasket", "clamp", "fault", "stored", "cleared"),
]


def listed(values: tuple[str, ...] | list[str]) -> str:
    """One of the values at random, as an expression."""
    texts = ", ".join(f"'{value}'" for value in values)
    return f"list_value({texts})[1 + (random() * {len(values)})::INT % {len(values)}]"


def words(n: int) -> str:
    return " || ' ' || ".join([listed(_WORDS)] * n)


def maybe(share: float, text: str) -> str:
    return f"CASE WHEN random() < {share} THEN {text} END"


def make(path: Path, n: int) -> None:
    """A file of n lines, four to an order; one line in about 50,000 breaks a rule."""
    column = REPAIR_LINE.column
    texts = {
        "repair_order_id": "'R' || lpad((i // 4)::VARCHAR, 8, '0')",
        "line_no": "CASE WHEN i % 200003 = 7 THEN 'x' ELSE (i % 4 + 1)::VARCHAR END",
        "kind": f"CASE WHEN i % 150001 = 9 THEN 'wages' ELSE {listed(column('kind').allowed)} END",
        "component_code": maybe(0.6, listed(column("component_code").allowed)),
        "position": maybe(0.3, listed(["front left", "front right", "1", "2", "3", "all"])),
        "action": listed(column("action").allowed),
        "reason": listed(column("reason").allowed),
        "description": words(3),
        "part_number": maybe(0.5, "chr(65 + (random() * 25)::INT) || '-' || (10000 + (random() * 80000)::INT)"),
        "part_origin": maybe(0.5, listed(column("part_origin").allowed)),
        "supplier": maybe(0.5, "'Supplier ' || (random() * 40)::INT"),
        "quantity": maybe(0.7, "(1 + (random() * 8)::INT)::VARCHAR"),
        "labor_hours": maybe(0.5, "round(random() * 6, 1)::VARCHAR"),
        "cost_cents": "(random() * 300)::DECIMAL(12, 2)::VARCHAR",
        "price_cents": "CASE WHEN i % 99991 = 5 THEN '1,234.50' ELSE (random() * 600)::DECIMAL(12, 2)::VARCHAR END",
        "cause": f"{words(5)} || CASE WHEN random() < 0.2 THEN ', and \"' || {words(2)} || '\"' ELSE '' END",
        "correction": f"{words(6)} || CASE WHEN random() < 0.2 THEN ', then ' || {words(2)} ELSE '' END",
        "technician": "'T' || (random() * 30)::INT",
    }
    shown = ", ".join(f'{texts[one.name]} AS "{one.incoming}"' for one in REPAIR_LINE.columns)
    with duckdb.connect() as connection:
        connection.execute("SELECT setseed(0.5)")
        connection.execute(f"COPY (SELECT {shown} FROM range({n}) t(i)) TO '{path}' (HEADER)")


def parse(statement: str, at: str = ":memory:") -> Callable[[Path, Path], None]:
    """DuckDB at its own settings, running one statement on the file."""

    def run(path: Path, folder: Path) -> None:
        with duckdb.connect(at.format(folder=folder)) as connection:
            connection.execute("SET enable_progress_bar = false")
            names = [name for name, *_ in connection.execute(f"DESCRIBE SELECT * FROM '{path}'").fetchall()]
            looked_at = ", ".join(f'max("{name}")' for name in names)
            connection.execute(statement.format(path=path, looked_at=looked_at)).fetchall()

    return run


def load(path: Path, folder: Path) -> None:
    """The file as it stands in the inbox into a new store."""
    from longmile.pipelines.flows.intake import InboxLoader
    from longmile.pipelines.store.store import Store

    with Store(folder / "longmile.duckdb") as store:
        done = InboxLoader(store, 1, lambda: datetime(2025, 1, 1)).load(path.parent, folder / "landed", lambda _: None)
        n_lines = store.value("SELECT n_landed FROM source_part")
        if done.n_kept + done.n_quarantined != n_lines:
            raise SystemExit(f"{done.n_kept:,} kept and {done.n_quarantined:,} quarantined of {n_lines:,}")


ACTS: dict[str, Callable[[Path, Path], None]] = {
    "parse, typed, looked at": parse("SELECT {looked_at} FROM read_csv('{path}')"),
    "parse, text, into memory": parse("CREATE TABLE t AS SELECT * FROM read_csv('{path}', all_varchar = true)"),
    "parse, typed, into memory": parse("CREATE TABLE t AS SELECT * FROM read_csv('{path}')"),
    "parse, typed, into a file": parse("CREATE TABLE t AS SELECT * FROM read_csv('{path}')", "{folder}/parsed.duckdb"),
    "load": load,
}


def measured(act: str, path: Path) -> dict[str, float]:
    """Seconds, seconds of all processors and peak gigabytes (2^30 bytes) of one act in a process of its own."""
    with tempfile.TemporaryDirectory(dir=path.parents[1]) as folder:
        command = [sys.executable, __file__, "--act", act, str(path), folder]
        done = subprocess.run(command, check=True, capture_output=True, text=True)
    told: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return told


def act_here(act: str, path: Path, folder: Path) -> None:
    """In the process started for it: act, then tell."""
    began, began_cpu = time.perf_counter(), time.process_time()
    ACTS[act](path, folder)
    seconds, cpu = time.perf_counter() - began, time.process_time() - began_cpu
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    # KiB on Linux, bytes on macOS (getrusage manual pages).
    told = {"seconds": seconds, "cpu": cpu, "peak": peak / (2**30 if sys.platform == "darwin" else 2**20)}
    print(json.dumps(told))


def report(n: int) -> None:
    """Make the file, measure each act on it, print a line for each."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "inbox").mkdir()
        path = Path(folder) / "inbox" / "repair_line.csv"
        make(path, n)
        print(f"{n:,} repair lines, {path.stat().st_size / 1e6:,.0f} MB", flush=True)
        found = {act: measured(act, path) for act in ACTS}
    for act, told in found.items():
        ratio = found["load"]["seconds"] / told["seconds"]
        of_cpu = found["load"]["cpu"] / told["cpu"]
        print(
            f"  {act:28} {told['seconds']:7.1f} s  {told['cpu']:7.1f} s of processors  {told['peak']:5.2f} GiB   "
            f"load takes {ratio:5.2f} times as long ({of_cpu:.2f} times the processors)"
        )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--act"]:
        act_here(sys.argv[2], Path(sys.argv[3]), Path(sys.argv[4]))
    else:
        for size in sys.argv[1:] or ["1000000"]:
            report(int(size))
