"""Whose property a column is: whether its value stays the same within one order, and where it is filled."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import polars as pl

FEWEST_GROUPS = 4
COUNTED = 0.9
LARGE_STEP = 10


@dataclass(frozen=True)
class Levels:
    """order_header: header of the order number; empty where there is none. n_groups: orders of several rows.

    same: header -> share of the orders in which it is filled at least twice, in which all its values are the same.
    n_seen: header -> how many orders these are.   counted: headers that count the rows of each order from one.
    """

    order_header: str = ""
    n_groups: int = 0
    same: Mapping[str, float] = field(default_factory=dict)
    n_seen: Mapping[str, int] = field(default_factory=dict)
    counted: frozenset[str] = frozenset()

    def is_of_line(self, header: str) -> bool:
        """Whether the value differs within orders."""
        return self.n_seen.get(header, 0) >= FEWEST_GROUPS and self.same.get(header, 1.0) < 0.75

    def is_of_order(self, header: str) -> bool:
        """Whether there are enough orders of several rows, and the value is the same in nearly all."""
        return self.n_seen.get(header, 0) >= FEWEST_GROUPS and self.same.get(header, 0.0) > 0.95


def levels(rows: pl.DataFrame, order_header: str) -> Levels:
    """Constancy of every column within the order number; an empty order number is that of the row above."""
    if not order_header:
        return Levels()
    # Columns by their place: a header that begins with ^ and ends with $ would be read as a pattern.
    others = {name: f"c{place}" for place, name in enumerate(rows.columns) if name != order_header}
    renamed = rows.rename({**others, order_header: "order"})
    grouped = renamed.with_columns(pl.col("order").forward_fill()).drop_nulls("order")
    counted = grouped.group_by("order").agg(
        pl.len().alias("n"),
        *(pl.col(one).drop_nulls().n_unique().alias(f"{one}_u") for one in others.values()),
        *(pl.col(one).count().alias(f"{one}_c") for one in others.values()),
    )
    same, n_seen = {}, {}
    for name, one in others.items():
        several = counted.filter(pl.col(f"{one}_c") > 1)[f"{one}_u"]
        n_seen[name] = len(several)
        same[name] = float((several == 1).mean() or 0.0) if len(several) else 1.0  # type: ignore[arg-type]
    counting = frozenset(
        name for name, one in others.items() if n_seen[name] >= FEWEST_GROUPS and _counts(grouped, one)
    )
    return Levels(order_header, counted.filter(pl.col("n") > 1).height, same, n_seen, counting)


def _counts(grouped: pl.DataFrame, name: str) -> bool:
    """Whether a column holds 1, 2, 3 (or 10, 20, 30) within nearly every order."""
    number = grouped[name].str.strip_suffix(".0").cast(pl.Int64, strict=False)
    known = pl.DataFrame({"order": grouped["order"], "number": number}).drop_nulls()
    if known.height < COUNTED * grouped[name].count():
        return False
    groups = known.group_by("order").agg(
        pl.col("number").min().alias("low"),
        pl.col("number").max().alias("high"),
        pl.col("number").n_unique().alias("different"),
        pl.len().alias("n"),
    )
    step = pl.when(pl.col("low") == LARGE_STEP).then(LARGE_STEP).otherwise(1)
    is_run = (pl.col("low") == step) & (pl.col("high") == step * pl.col("n")) & (pl.col("different") == pl.col("n"))
    several = groups.filter(pl.col("n") > 1)
    return several.height >= FEWEST_GROUPS and float(several.select(is_run.mean()).item()) >= COUNTED
