"""Figures measured side by side in one run; not a test. `python tests/benchmarks/benchmark.py`

1. `longmile --help` against `python -c "import duckdb, polars, typer"`, whole processes, in turn.
2. Fits with standard errors, and Kaplan-Meier with limits together with Nelson-Aalen: seconds a stratum against
   general-purpose libraries, on the same rows, with the disagreement of the numbers beside the speed. longmile does
   all strata in one call, checks of the lives included; a peer goes through as many of them as it can be waited for.
   Peers: the extra `benchmark`; and R with its survival package, where there is an `Rscript`.
"""

from __future__ import annotations

import os
import platform
import warnings
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import scipy
from agreement import of_curves, of_fits
from measure import ROUNDS, Asked, ask, in_turn, looped
from peers import Peer, installed_peers
from r_survival import FromR, from_r
from simulated import Rows, simulated
from start_up import start_up

from longmile.pipelines.estimators.distributions import DISTRIBUTIONS, WEIBULL, Distribution
from longmile.pipelines.estimators.lives import Lives
from longmile.pipelines.estimators.location_scale import fit_distribution
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier

AIMED_AT = (1_800, 50, 30)  # strata, lives drawn for each, strata that peers go through
SPARSE, LARGE = (1_800, 10, 30), (90, 1_000, 10)
TARGETS = {
    ("weibull", "lifelines"): 600,
    ("weibull", "surpyval"): 150,
    ("curves", "lifelines"): 25,
    ("curves", "surpyval"): 5,
}


@dataclass(frozen=True)
class Sizes:
    """All rows, and those that peers go through.   aimed_at: the size that the targets are for."""

    all: Rows
    some: Rows
    aimed_at: bool


def main() -> None:
    print(machine())
    peers, missing = installed_peers()
    print("Peers: " + ", ".join(peer.name for peer in peers))
    if missing:
        print(f"Not installed: {', '.join(missing)} (pip install '.[benchmark]')")
    print(start_up())
    for size in (AIMED_AT, SPARSE, LARGE):
        n_strata, n_lives, n_some = size
        rows = simulated(n_strata, n_lives)
        compare(Sizes(rows, rows.first(n_some), size == AIMED_AT), peers)
    print(f"\nLoad at the end {os.getloadavg()[0]:.1f}")


def machine() -> str:
    return (
        f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} processors; "
        f"numpy {np.__version__}, scipy {scipy.__version__}. Medians of {ROUNDS} rounds, in turn; "
        f"load at the start {os.getloadavg()[0]:.1f}."
    )


def compare(sizes: Sizes, peers: list[Peer]) -> None:
    """One table for rows of one size."""
    print(
        f"\n== {sizes.all.n_strata:,} strata, {sizes.all.entry.size:,} lives, {int(sizes.all.event.sum()):,} failures; "
        f"peers go through {sizes.some.n_strata} of them, {sizes.some.entry.size:,} lives =="
    )
    for distribution in DISTRIBUTIONS if sizes.aimed_at else (WEIBULL,):
        against_fits(distribution, sizes, peers)
    against_curves(sizes, peers)
    against_r(sizes)


def against_fits(distribution: Distribution, sizes: Sizes, peers: list[Peer]) -> None:
    name = distribution.name
    fits = fit_distribution(distribution, sizes.some.lives())
    whole = fit_distribution(distribution, sizes.all.lives())
    print(f"\n{name} with standard errors, late entry. longmile, all strata: {counted(whole.status)}")
    strata = sizes.some.one_by_one()
    asked = {
        peer: ask(lambda stratum, peer=peer: peer.fit(name, stratum), strata)
        for peer in peers
        if name in peer.distributions
    }
    took = timed(
        sizes,
        lambda data: fit_distribution(distribution, data),
        {peer.name: looped(lambda stratum, peer=peer: peer.fit(name, stratum), strata) for peer in asked},
    )
    for peer, found in asked.items():
        made = [None if one is None else peer.fitted(name, one) for one in found.made]
        print(times(took, peer.name, sizes, target_of(name, peer, sizes)))
        said = sum(one is not None and peer.says_failed(one) for one in found.made)
        print(outcome("fits", found, said))
        print(f"    {of_fits(fits, made, strata)}")
    for peer in peers:
        if peer not in asked:
            print(f"  {peer.name}: no {name} fit")


def against_curves(sizes: Sizes, peers: list[Peer]) -> None:
    curves = kaplan_meier(sizes.some.lives())
    print(
        "\nKaplan-Meier with log-log limits, and Nelson-Aalen, late entry. "
        f"longmile, all strata: {with_curve(sizes.all)} curves"
    )
    strata = sizes.some.one_by_one()
    asked = {peer: ask(peer.curves, strata) for peer in peers}
    took = timed(sizes, kaplan_meier, {peer.name: looped(peer.curves, strata) for peer in peers})
    for peer, found in asked.items():
        print(times(took, peer.name, sizes, target_of("curves", peer, sizes)))
        if peer.curves_note:
            print(f"    {peer.curves_note}")
        print(outcome("curves", found))
        print(f"    {of_curves(curves, [None if one is None else peer.points(one) for one in found.made])}")


def against_r(sizes: Sizes) -> None:
    """R beside longmile's own rounds: R times itself in one process, start-up and reading left out."""
    found = from_r(sizes.some)
    if found is None:
        print("\nR with its package survival is not installed")
        return
    r_curves(sizes, found)
    r_weibull(sizes, found)


def r_curves(sizes: Sizes, found: FromR) -> None:
    print("\nThe same curves against R")
    took = timed(sizes, kaplan_meier, {}) | {found.name: found.seconds["curves"]}
    print(times(took, found.name, sizes))
    together = found.seconds["curves_together"] / sizes.some.n_strata
    print(
        f"    R in one call for the same {sizes.some.n_strata}: {together * 1e6:,.0f} us a stratum, "
        f"{together * sizes.some.n_strata / took['some']:,.1f} times"
    )
    print(f"    curves {sum(one is not None for one in found.curves)} of {len(found.curves)}")
    print(f"    {of_curves(kaplan_meier(sizes.some.lives()), found.curves)}")


def r_weibull(sizes: Sizes, found: FromR) -> None:
    print(
        "\nweibull with standard errors against R: its survreg takes no late entry, so not comparable on these rows;\n"
        "compared on the same ends with every life watched from 0 miles"
    )
    new = replace(sizes, all=sizes.all.watched_from_new(), some=sizes.some.watched_from_new())
    fits = fit_distribution(WEIBULL, new.some.lives())
    took = timed(new, lambda data: fit_distribution(WEIBULL, data), {}) | {found.name: found.seconds["weibull"]}
    print(times(took, found.name, new))
    print(f"    fits {sum(one is not None for one in found.fits)} of {len(found.fits)}")
    print(f"    {of_fits(fits, found.fits, new.some.one_by_one())}")


def timed(sizes: Sizes, ours: Callable[[Lives], Any], peers: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Median seconds of longmile on all rows ("all") and on the peers' ("some"), and of each peer, in turn."""
    ours(sizes.all.lives()), ours(sizes.some.lives())
    acts = {"all": lambda: ours(sizes.all.lives()), "some": lambda: ours(sizes.some.lives())}
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # longmile must not warn
        return in_turn(acts | peers)


def times(took: dict[str, float], peer: str, sizes: Sizes, target: int | None = None) -> str:
    """Microseconds a stratum, and how many times longmile's the peer's are."""
    theirs = took[peer] / sizes.some.n_strata
    whole, some = took["all"] / sizes.all.n_strata, took["some"] / sizes.some.n_strata
    judged = "" if target is None else f" (target {target}: {'met' if theirs / whole >= target else 'NOT MET'})"
    return (
        f"  {peer}: {theirs * 1e6:,.0f} us a stratum\n"
        f"    longmile in all {sizes.all.n_strata:,}: {whole * 1e6:,.0f} us, {theirs / whole:,.1f} times{judged}; "
        f"in the same {sizes.some.n_strata}: {some * 1e6:,.0f} us, {theirs / some:,.1f} times"
    )


def outcome(what: str, found: Asked, said: int = 0) -> str:
    """How many answers a peer gave; said: those that it calls failed itself."""
    problem = f" (first: {found.first_problem})" if found.first_problem else ""
    good = len(found.made) - found.n_raised - said
    return f"    {what} {good}, failed {found.n_raised + said}, warned {found.n_warned}{problem}"


def target_of(task: str, peer: Peer, sizes: Sizes) -> int | None:
    return TARGETS.get((task, peer.package)) if sizes.aimed_at else None


def counted(status: np.ndarray) -> str:
    return ", ".join(f"{name} {n:,}" for name, n in sorted(Counter(status.tolist()).items()))


def with_curve(rows: Rows) -> int:
    curves: SurvivalCurves = kaplan_meier(rows.lives())
    return int((np.diff(curves.start) > 0).sum())


if __name__ == "__main__":
    main()
