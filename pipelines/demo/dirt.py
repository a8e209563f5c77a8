"""What goes wrong between a shop's counter and its export files, in small counted numbers.

Every change draws its rows from those that no other change has touched: each count can be found again.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.tables import Tables

REEXPORT_YEAR, REEXPORT_MONTH, REEXPORT_LOCATION = 2023, "2023-06", 0
N_TYPOS, N_ROLLBACKS, N_VOID, N_TWICE, N_CORRECTED, N_NO_ORDER, N_NO_FAMILY = 110, 25, 180, 70, 12, 90, 4
N_BAD_ORDER_CELLS = (
    ("odometer_in", "letters", 22),
    ("opened_on", "impossible_date", 16),
    ("opened_on", "empty", 14),
)
N_BAD_LINE_CELLS = (
    ("kind", "empty", 18),
    ("kind", "not_listed", 16),
    ("quantity", "letters", 24),
    ("price", "letters", 15),
)
UNKNOWN_CODE_SHARE = 0.015
UNKNOWN_CODES = ("misc_part", "water_pmp", "brakepad", "susp_item", "harware_kit", "exh_vlv_set")
_CSV_YEARS = (2020, 2021, 2022)
"""Years whose files are comma-separated text, where a cell can hold anything."""


@dataclass
class Dirt:
    """Tables made dirty, the extra rows of each location's files, and how much of everything there is."""

    tables: Tables
    counts: dict[str, int] = field(default_factory=dict)
    twice_orders: pl.DataFrame = field(default_factory=pl.DataFrame)
    twice_lines: pl.DataFrame = field(default_factory=pl.DataFrame)
    again_orders: pl.DataFrame = field(default_factory=pl.DataFrame)
    again_lines: pl.DataFrame = field(default_factory=pl.DataFrame)


def make_dirty(rng: np.random.Generator, clean: Tables) -> Dirt:
    """The clean tables with everything that goes wrong, counted."""
    dirt = Dirt(replace(clean))
    dirt.tables.order = _hostile(dirt.tables.order, dirt.counts)
    picks = _picks(rng, dirt.tables.order)
    dirt.tables.order = _odometers(rng, dirt.tables.order, picks, dirt.counts)
    dirt.tables.line = _unknown_codes(rng, dirt.tables.line, dirt.counts)
    _bad_cells(rng, dirt, picks)
    _twice(dirt, picks)
    _reexport(dirt)
    _void(dirt, picks)
    _lines_without_order(rng, dirt)
    dirt.tables.vehicle = _no_family(rng, dirt.tables.vehicle, dirt.counts)
    return dirt


def _hostile(order: pl.DataFrame, counts: dict[str, int]) -> pl.DataFrame:
    """Two valve orders of the planted family get a concern that a page or a spreadsheet must not run."""
    family = sc.FAMILY_NAMES.index(sc.VALVE_FAMILY)
    chosen = order.filter((pl.col("component") == "exhaust_valve") & (pl.col("family") == family))
    ids = chosen["repair_order_id"].head(2).to_list()
    said = dict(zip(ids, (sc.HOSTILE_CONCERN, sc.FORMULA_CONCERN), strict=True))
    counts["hostile_concerns"] = len(said)
    return order.with_columns(concern=pl.col("repair_order_id").replace_strict(said, default=pl.col("concern")))


def _picks(rng: np.random.Generator, order: pl.DataFrame) -> dict[str, list[str]]:
    """Disjoint sets of order numbers: at most one a vehicle, none of its first three or last two visits."""
    middle = (pl.col("visit") >= 3) & (pl.col("visit") < pl.col("n_visits") - 2)
    quiet = pl.col("odometer_in").cast(pl.Int64).is_between(12_000, 290_000)
    other_month = ~pl.col("opened_on").str.starts_with(REEXPORT_MONTH)
    harmless = ~pl.col("concern").is_in([sc.HOSTILE_CONCERN, sc.FORMULA_CONCERN])
    rows = order.filter(middle & quiet & other_month & harmless)
    rows = rows.sort("vehicle", "visit")
    rows = rows[rng.permutation(len(rows))].unique("vehicle", keep="first", maintain_order=True)
    picks: dict[str, list[str]] = {}
    for name, n, where in (
        *((f"order.{c}.{how}", n, pl.col("year").is_in(_CSV_YEARS)) for c, how, n in N_BAD_ORDER_CELLS),
        *((f"line.{c}.{how}", n, pl.col("year").is_in(_CSV_YEARS)) for c, how, n in N_BAD_LINE_CELLS),
        ("typo", N_TYPOS, pl.lit(True)),
        ("rollback", N_ROLLBACKS, pl.lit(True)),
        ("void", N_VOID, pl.col("is_routine")),
        ("twice", N_TWICE, pl.lit(True)),
    ):
        taken = {number for numbers in picks.values() for number in numbers}
        free = rows.filter(where & ~pl.col("repair_order_id").is_in(sorted(taken)))
        picks[name] = free["repair_order_id"].head(n).to_list()
    return picks


def _odometers(
    rng: np.random.Generator, order: pl.DataFrame, picks: dict[str, list[str]], counts: dict[str, int]
) -> pl.DataFrame:
    """A digit too many on some readings; some that run back by a third to a half."""
    read = pl.col("odometer_in").cast(pl.Int64)
    digit = pl.Series(rng.integers(0, 10, len(order)))
    share = pl.Series(rng.uniform(0.5, 0.67, len(order)))
    is_typo, is_back = (pl.col("repair_order_id").is_in(picks[name]) for name in ("typo", "rollback"))
    changed = pl.when(is_typo).then(read * 10 + digit).when(is_back).then((read * share).floor())
    is_changed = is_typo | is_back
    counts["odometer_typos"], counts["odometer_rollbacks"] = len(picks["typo"]), len(picks["rollback"])
    return order.with_columns(
        odometer_in=pl.when(is_changed).then(changed.cast(pl.Int64).cast(pl.String)).otherwise("odometer_in"),
        odometer_out=pl.when(~is_changed).then("odometer_out"),
    )


def _unknown_codes(rng: np.random.Generator, line: pl.DataFrame, counts: dict[str, int]) -> pl.DataFrame:
    """Some component codes that the vocabulary lacks; at most one line of a job, none of a set's work."""
    chosen = pl.Series(rng.random(len(line)) < UNKNOWN_CODE_SHARE)
    is_whole = (pl.col("position") == "all").any().over("repair_order_id", "component_code")
    is_open = pl.col("component_code").is_not_null() & ~is_whole.fill_null(False)
    wrong = pl.Series(np.array(UNKNOWN_CODES)[rng.integers(0, len(UNKNOWN_CODES), len(line))])
    marked = line.with_columns(is_wrong=chosen & is_open)
    first = pl.col("is_wrong").cast(pl.Int64).cum_sum().over("repair_order_id", "component_code") == 1
    marked = marked.with_columns(is_wrong=pl.col("is_wrong") & first)
    counts["unknown_component_lines"] = int(marked["is_wrong"].sum())
    code = pl.when("is_wrong").then(wrong).otherwise("component_code")
    return marked.with_columns(component_code=code).drop("is_wrong")


def _spoilt(column: str, how: str) -> pl.Expr:
    """The cell as it comes out of the export."""
    if how == "empty":
        return pl.lit(None, dtype=pl.String)
    if how == "not_listed":
        return pl.lit("goodwill")
    if how == "impossible_date":
        return pl.col(column).str.slice(0, 4) + "-02-30"
    return pl.col(column).str.slice(0, 2) + "x" + pl.col(column).str.slice(2)


def _bad_cells(rng: np.random.Generator, dirt: Dirt, picks: dict[str, list[str]]) -> None:
    """One bad cell in an order or its first line: letters in numbers, impossible dates, empty, unlisted."""
    for column, how, _ in N_BAD_ORDER_CELLS:
        chosen = pl.col("repair_order_id").is_in(picks[f"order.{column}.{how}"])
        dirt.counts[f"bad_order_{column}_{how}"] = dirt.tables.order.filter(chosen).height
        cell = pl.when(chosen).then(_spoilt(column, how)).otherwise(column)
        dirt.tables.order = dirt.tables.order.with_columns(cell.alias(column))
    for column, how, _ in N_BAD_LINE_CELLS:
        # A labour line always has a quantity and a price; the first line of an order may be one without.
        chosen = pl.col("repair_order_id").is_in(picks[f"line.{column}.{how}"]) & (pl.col("line_no") == "1")
        chosen &= pl.col(column).is_not_null()
        dirt.counts[f"bad_line_{column}_{how}"] = dirt.tables.line.filter(chosen).height
        cell = pl.when(chosen).then(_spoilt(column, how)).otherwise(column)
        dirt.tables.line = dirt.tables.line.with_columns(cell.alias(column))


def _twice(dirt: Dirt, picks: dict[str, list[str]]) -> None:
    """Orders, with their lines, that the other location exported too, to the letter."""
    chosen = pl.col("repair_order_id").is_in(picks["twice"])
    dirt.twice_orders = dirt.tables.order.filter(chosen)
    dirt.twice_lines = dirt.tables.line.filter(chosen)
    dirt.counts["orders_exported_twice"] = len(dirt.twice_orders)
    dirt.counts["lines_exported_twice"] = len(dirt.twice_lines)


def _reexport(dirt: Dirt) -> None:
    """One month of one location again; a few orders corrected, in total and in their first line's price."""
    month = pl.col("opened_on").str.starts_with(REEXPORT_MONTH) & (pl.col("location") == REEXPORT_LOCATION)
    again = dirt.tables.order.filter(month)
    fixed = again.filter(pl.col("total").cast(pl.Float64) > 60)["repair_order_id"].head(N_CORRECTED)
    is_fixed = pl.col("repair_order_id").is_in(fixed.to_list())
    ids = again["repair_order_id"].to_list()
    lines = dirt.tables.line.filter(pl.col("repair_order_id").is_in(ids))
    changed = is_fixed & (pl.col("line_no") == "1")
    dearer = (pl.col("price").cast(pl.Float64) + 10).round(2).cast(pl.String)
    total = (pl.col("total").cast(pl.Float64) + 10).round(2).cast(pl.String)
    dirt.again_orders = again.with_columns(total=pl.when(is_fixed).then(total).otherwise("total"))
    dirt.again_lines = lines.with_columns(price=pl.when(changed).then(dearer).otherwise("price"))
    dirt.counts["orders_in_reexport"] = len(again)
    dirt.counts["lines_in_reexport"] = len(lines)
    dirt.counts["orders_corrected"] = len(fixed)


def _void(dirt: Dirt, picks: dict[str, list[str]]) -> None:
    """Orders opened by mistake and voided: copies of real ones under a number of their own, with lines."""
    chosen = pl.col("repair_order_id").is_in(picks["void"])
    number = pl.col("repair_order_id").str.replace("-1", "-9")
    orders = dirt.tables.order.filter(chosen).with_columns(
        repair_order_id=number, status=pl.lit("void"), closed_on=pl.lit(None, dtype=pl.String)
    )
    lines = dirt.tables.line.filter(chosen).with_columns(repair_order_id=number)
    dirt.tables.order = pl.concat([dirt.tables.order, orders])
    dirt.tables.line = pl.concat([dirt.tables.line, lines])
    dirt.counts["void_orders"], dirt.counts["lines_of_void_orders"] = len(orders), len(lines)


def _lines_without_order(rng: np.random.Generator, dirt: Dirt) -> None:
    """Lines whose order is in no file."""
    lines = dirt.tables.line
    parts = lines.filter((pl.col("kind") == "part") & pl.col("year").is_in(_CSV_YEARS))
    at = rng.choice(len(parts), N_NO_ORDER, replace=False)
    lost = parts[np.sort(at)].with_columns(
        repair_order_id=pl.lit("X-") + (pl.int_range(pl.len()) + 700_001).cast(pl.String),
        line_no=pl.lit("1"),
    )
    dirt.tables.line = pl.concat([lines, lost])
    dirt.counts["lines_without_order"] = len(lost)


def _no_family(rng: np.random.Generator, vehicle: pl.DataFrame, counts: dict[str, int]) -> pl.DataFrame:
    """Vehicles entered without an engine family."""
    at = rng.choice(len(vehicle), N_NO_FAMILY, replace=False)
    is_empty = pl.int_range(pl.len()).is_in(at.tolist())
    counts["vehicles_without_family"] = N_NO_FAMILY
    return vehicle.with_columns(engine_family=pl.when(~is_empty).then("engine_family"))
