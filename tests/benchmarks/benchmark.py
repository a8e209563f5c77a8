"""Figures measured side by side in one run; not a test. `python tests/benchmarks/benchmark.py`

1. `longmile --help` against `python -c "import duckdb, polars, typer"`, whole processes, in turn.
2. Kaplan-Meier with limits and a Weibull with standard errors, all strata in one call, against lifelines one
   stratum at a time, on the same rows (left out where lifelines is not installed; the extra `benchmark` installs it).
Simulated lives: Weibull, entry late, 50 lives a stratum.
"""

from __future__ import annotations

import importlib.metadata
import platform
import statistics
import subprocess
import sys
import time
import warnings
from collections.abc import Callable

import numpy as np

from longmile.pipelines.estimators.lives import Lives, lives
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.weibull import fit_weibull

N_STRATA, N_LIVES, N_PEER = 1_800, 50, 40
HELP = [sys.executable, "-m", "longmile.pipelines.cli", "--help"]
BARE = [sys.executable, "-c", "import duckdb, polars, typer"]


def seconds(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


def simulated(n_strata: int) -> Lives:
    """Lives of n_strata strata: shape 2, scales of 60,000 to 120,000 miles, first seen at 0 to 40,000."""
    draw = np.random.default_rng(11)
    stratum = np.repeat(np.arange(n_strata), N_LIVES)
    age = 60_000 * (1 + draw.random(n_strata))[stratum] * draw.weibull(2.0, stratum.size)
    entry = 40_000 * draw.random(stratum.size)
    stop = entry + 60_000 * draw.random(stratum.size) + 1
    kept = age > entry
    return lives(entry[kept], np.minimum(age, stop)[kept], (age <= stop)[kept], stratum[kept], n_strata=n_strata)


def start_up() -> None:
    def run(command: list[str]) -> float:
        return seconds(lambda: subprocess.run(command, check=True, capture_output=True))

    run(HELP), run(BARE)
    pairs = [(run(HELP), run(BARE)) for _ in range(9)]
    ours, bare = (statistics.median(times) for times in zip(*pairs, strict=True))
    print(f"--help {ours:.3f} s, bare import {bare:.3f} s, difference {ours - bare:+.3f} s (medians of 9, in turn)")


def against_lifelines(data: Lives) -> None:
    try:
        import lifelines
    except ImportError:
        print("lifelines is not installed: pip install '.[benchmark]'")
        return
    warnings.simplefilter("ignore")
    rows = [data.stratum == s for s in range(N_PEER)]
    ours_km = seconds(lambda: kaplan_meier(data)) / N_STRATA
    ours_weibull = seconds(lambda: fit_weibull(data)) / N_STRATA

    def each(fitter: type) -> float:
        def act() -> None:
            for r in rows:
                fitter().fit(data.exit_[r], data.event[r], entry=data.entry[r])

        return seconds(act) / N_PEER

    peer_km, peer_weibull = each(lifelines.KaplanMeierFitter), each(lifelines.WeibullFitter)
    print(f"lifelines {importlib.metadata.version('lifelines')}; {N_STRATA} strata against {N_PEER} of them one by one")
    for name, ours, peer in (("Kaplan-Meier", ours_km, peer_km), ("Weibull", ours_weibull, peer_weibull)):
        print(f"{name}: {ours * 1e6:.0f} us a stratum, lifelines {peer * 1e6:.0f} us: {peer / ours:.0f} times")


def main() -> None:
    print(f"Python {platform.python_version()}, {platform.machine()}, numpy {np.__version__}")
    start_up()
    data = simulated(N_STRATA)
    kaplan_meier(simulated(3)), fit_weibull(simulated(3))
    against_lifelines(data)


if __name__ == "__main__":
    main()
