"""What is true of the invented shop: planted laws, how often they showed, how much dirt is in the files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from typing import Any

import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.laws import weibull_b10, weibull_mean
from longmile.pipelines.demo.plans import PLANS
from longmile.pipelines.demo.simulation import Simulation, position_codes


@dataclass(frozen=True)
class TrueLaw:
    """The Weibull law of one part in one socket, ages in miles, and what of it the shop saw.

    n_failures: failures in the records, walk-ins among them; of the first failure, its day.
    is_met: all first parts are original and every repair is recorded: a sound estimate must meet this law.
    """

    component_code: str
    engine_family: str
    shape: float
    scale: float
    mean_miles: float
    b10_miles: float
    n_failures: int
    first_failure_on: date | None
    is_met: bool


@dataclass(frozen=True)
class TrueBatch:
    """A bad batch of one supplier: parts fitted from `since` to `until` follow a law of their own.

    It was fitted to every family but one.   b10 and mean in miles.
    """

    component_code: str
    supplier: str
    since: date
    until: date
    not_on_family: str
    shape: float
    scale: float
    mean_miles: float
    b10_miles: float
    n_installed: int
    n_failures: int
    first_failure_on: date | None


@dataclass(frozen=True)
class TrueSublet:
    """Sublet shops: planted share of work that fails again within `within_miles`, jobs, comebacks seen."""

    component_code: str
    shop: str
    comeback_share: float
    other_comeback_share: float
    within_miles: int
    n_jobs: Mapping[str, int]
    n_comebacks: Mapping[str, int]


@dataclass(frozen=True)
class DemoTruth:
    """Everything known about a written demo shop.

    n_orders: orders in the files, void ones among them, each number once; n_lines likewise.
    files: table and rows of every file that can be read.   dirt: how many of each kind of fault.
    not_fitted: components a family does not have.
    """

    seed: int
    first_on: date
    last_on: date
    n_vehicles: int
    n_orders: int
    n_lines: int
    n_failures: int
    n_walk_in_vehicles: int
    n_earlier_repairs: int
    n_repairs_elsewhere: int
    planted_valve: TrueLaw
    controls: tuple[TrueLaw, ...]
    batch: TrueBatch
    sublet: TrueSublet
    laws: tuple[TrueLaw, ...]
    not_fitted: Mapping[str, tuple[str, ...]]
    dirt: Mapping[str, int]
    files: Mapping[str, tuple[str, int]]
    set_aside_files: tuple[str, ...]

    def as_dict(self) -> dict[str, Any]:
        """The truth as plain values, dates as YYYY-MM-DD."""
        plain: dict[str, Any] = _plain(asdict(self))
        return plain


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value


def true_laws(sim: Simulation) -> tuple[TrueLaw, ...]:
    """The law of every component on every family that has it."""
    failed = sim.ends.filter("is_failure").group_by("component", "family").agg(pl.len(), pl.col("day").min())
    seen = {(code, family): (n, day) for code, family, n, day in failed.iter_rows()}
    laws = []
    for at, plan in enumerate(PLANS):
        fitted = position_codes(plan.code)
        for family, name in enumerate(sc.FAMILY_NAMES):
            if fitted[family]:
                n, day = seen.get((plan.code, family), (0, None))
                laws.append(_law(plan.code, name, plan.shape, float(sim.scales[at, family]), n, day))
    return tuple(laws)


def _law(code: str, family: str, shape: float, scale: float, n: int, day: int | None) -> TrueLaw:
    mean, b10 = weibull_mean(shape, scale), weibull_b10(shape, scale)
    return TrueLaw(code, family, shape, scale, mean, b10, n, _on(day), (code, family) in sc.PROTECTED)


def _on(day: int | None) -> date | None:
    return None if day is None else sc.FIRST_DAY + timedelta(days=day)


def true_batch(sim: Simulation) -> TrueBatch:
    """The planted batch, and what the shop saw of it."""
    pumps = sim.ends.filter(pl.col("component") == sc.BATCH_COMPONENT)
    first, last = ((day - sc.FIRST_DAY).days for day in (sc.BATCH_FIRST, sc.BATCH_LAST))
    fitted = pumps.filter(
        pl.col("day").is_between(first, last) & (pl.col("supplier") == sc.SUPPLIERS.index(sc.BATCH_SUPPLIER))
    )
    failed = pumps.filter("was_batch", "is_failure")
    days: list[int] = failed["day"].to_list()
    return TrueBatch(
        sc.BATCH_COMPONENT,
        sc.BATCH_SUPPLIER,
        sc.BATCH_FIRST,
        sc.BATCH_LAST,
        sc.CONTROL_FAMILY,
        sc.BATCH_SHAPE,
        sc.BATCH_SCALE,
        weibull_mean(sc.BATCH_SHAPE, sc.BATCH_SCALE),
        weibull_b10(sc.BATCH_SHAPE, sc.BATCH_SCALE),
        len(fitted),
        len(failed),
        _on(min(days, default=None)),
    )


def true_sublet(sim: Simulation) -> TrueSublet:
    """The planted comebacks, and what the shop saw of them."""
    code = next(plan.code for plan in PLANS if plan.is_sublet)
    jobs = sim.ends.filter(pl.col("component") == code).sort("vehicle", "miles")
    jobs = jobs.with_columns(came_back=pl.col("is_comeback").shift(-1).over("vehicle").fill_null(False))
    tally = jobs.group_by("sublet").agg(pl.len(), pl.col("came_back").sum()).sort("sublet")
    names = [sc.SUBLET_SHOPS[at] for at in tally["sublet"]]
    return TrueSublet(
        code,
        sc.BAD_SUBLET,
        sc.BAD_SUBLET_COMEBACK,
        sc.OTHER_SUBLET_COMEBACK,
        sc.COMEBACK_MILES[1],
        dict(zip(names, tally["len"].to_list(), strict=True)),
        dict(zip(names, tally["came_back"].to_list(), strict=True)),
    )


_RELATIONS = {
    "spark_plug_wire": "spark_plug",
    "spark_plug_thread": "spark_plug",
    "glow_plug_module": "glow_plug",
    "intercooler": "turbocharger",
    "charge_air_hose": "turbocharger",
    "egr_cooler": "egr_valve",
    "timing_chain_tensioner": "timing_chain",
    "manual_transmission": "clutch",
    "clutch_release_bearing": "clutch",
    "clutch_hydraulics": "clutch",
    "torque_converter": "automatic_transmission",
    "valve_body": "automatic_transmission",
}
"""Components without a plan that a family lacks along with another."""


def not_fitted() -> dict[str, tuple[str, ...]]:
    """Components an engine family does not have: those a plan keeps from it, and their close relations.

    Components that this shop never has repaired on any vehicle are not listed: they count as fitted.
    """
    fitted = {plan.code: position_codes(plan.code) for plan in PLANS}
    every = {code: code for code in fitted} | _RELATIONS
    return {
        name: tuple(sorted(code for code, of in every.items() if not fitted[of][family]))
        for family, name in enumerate(sc.FAMILY_NAMES)
    }
