"""Damaged files in thousands through the real readers; not a test. `python tests/fuzz/mutated_files.py 10000 --seed 1`

Prints the counts by outcome and the slowest files; ends with 1 where anything but a reconciled table or a clear refusal
came out, or where a file took longer than 5 s. Each file is known by its number; `--only NUMBER` makes and reads that
one, and keeps it. The files are read in a process of its own, which is ended where it does not answer: a reader that
hangs is a failure, too.
"""

from __future__ import annotations

import argparse
import json
import selectors
import subprocess
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

DEADLINE = 60.0
SLOW = 5.0
_PER_SEED = 10_000_000
_MEMORY = 8 << 30


@dataclass(frozen=True)
class Result:
    """What came of one file. failure: the traceback, or why there is none; empty where all is well."""

    number: int
    name: str
    outcome: str
    seconds: float
    failure: str = ""


def run(n_files: int, seed: int, deadline: float = DEADLINE) -> Iterator[Result]:
    """The results of so many files, in order."""
    numbers = range(seed * _PER_SEED, seed * _PER_SEED + n_files)
    child = _Child()
    try:
        for number in numbers:
            result = child.read(number, deadline)
            if result is None:
                child.end()
                child = _Child()
                result = Result(number, "?", "no answer", deadline, "the reading process hung or died")
            yield result
    finally:
        child.end()


class _Child:
    """A process that reads files by their number."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, __file__, "--child"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
        )
        self._answers = selectors.DefaultSelector()
        self._answers.register(self._process.stdout, selectors.EVENT_READ)

    def read(self, number: int, deadline: float) -> Result | None:
        """The result, or None where none comes in time."""
        try:
            self._process.stdin.write(f"{number}\n")
        except BrokenPipeError:
            return None
        if not self._answers.select(deadline):
            return None
        line = self._process.stdout.readline()
        return Result(**json.loads(line)) if line else None

    def end(self) -> None:
        """End the process and let go of its pipes."""
        self._process.kill()
        self._process.wait()
        self._answers.close()
        self._process.stdin.close()
        self._process.stdout.close()


def read_one(number: int, folder: Path) -> Result:
    """Make file `number` and read it."""
    from judged import outcome
    from mutations import mutated

    data, name = mutated(number)
    start = time.perf_counter()
    try:
        found, failure = outcome(folder, data, name), ""
    except BaseException as error:  # a panic of a reader written in Rust is no Exception
        found, failure = f"broke: {type(error).__name__}", "".join(traceback.format_exception(error))[-4_000:]
    return Result(number, name, found, time.perf_counter() - start, failure)


def _serve() -> None:
    """The reading process: a number a line in, a result a line out."""
    import resource

    import polars  # noqa: F401  (loaded before the clock runs)
    from judged import outcome  # noqa: F401

    resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
    with tempfile.TemporaryDirectory() as folder:
        for line in sys.stdin:
            sys.stdout.write(json.dumps(vars(read_one(int(line), Path(folder)))) + "\n")
            sys.stdout.flush()


def main() -> int:
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("n_files", type=int, nargs="?", default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, help="the number of one file")
    parser.add_argument("--child", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.child:
        _serve()
        return 0
    if asked.only is not None:
        return _only(asked.only)
    results = list(run(asked.n_files, asked.seed))
    _say(results)
    return int(any(result.failure or result.seconds > SLOW for result in results))


def _only(number: int) -> int:
    from mutations import mutated

    data, name = mutated(number)
    path = Path(tempfile.gettempdir()) / f"mutated-{number}-{Path(name).name or 'nameless'}"
    path.write_bytes(data)
    result = read_one(number, Path(tempfile.mkdtemp()))
    sys.stdout.write(f"{path}\n{result}\n{result.failure}\n")
    return int(bool(result.failure))


def _say(results: list[Result]) -> None:
    lines = [f"{len(results):,} files"]
    lines += [f"{count:8,}  {name}" for name, count in Counter(result.outcome for result in results).most_common()]
    slowest = sorted(results, key=lambda result: -result.seconds)[:5]
    lines += [f"slowest: {one.seconds:6.2f} s  {one.name} ({one.number}, {one.outcome})" for one in slowest]
    failed = [result for result in results if result.failure]
    lines += [f"{one.number} {one.name!r}: {one.outcome}\n{one.failure}" for one in failed[:20]]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    sys.exit(main())
