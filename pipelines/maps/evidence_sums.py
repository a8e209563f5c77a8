"""What amounts are to each other: one piece's times the quantity is the line's; the lines' together are the order's."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import permutations

import numpy as np
import polars as pl

from longmile.pipelines.maps.evidence_numbers import likely_decimal, number_in
from longmile.pipelines.maps.evidence_values import Values

LOOKED_AT = 1_000
FEWEST_TOLD = 5
NEARLY_ALL = 0.9
CENT = 0.011
MOST_AMOUNTS = 12


def numbers_of(rows: pl.DataFrame, values: Mapping[str, Values], headers: Sequence[str]) -> dict[str, np.ndarray]:
    """Header -> its cells as numbers (nan: none), of the first rows."""
    found = {}
    for header in headers:
        decimal = likely_decimal(values[header].signs)
        read = {cell: number_in(cell, decimal) for cell in rows[header].head(LOOKED_AT).unique().drop_nulls().to_list()}
        cells = rows[header].head(LOOKED_AT).to_list()
        found[header] = np.array([read.get(cell, np.nan) if cell else np.nan for cell in cells], dtype=float)
    return found


def amounts(values: Mapping[str, Values]) -> list[str]:
    """Headers whose values are numbers with cents, mostly."""
    able = [one for one, seen in values.items() if seen.share.get("number", 0.0) > 0.8 and seen.whole < 0.8]
    return able[:MOST_AMOUNTS]


def unit_prices(numbers: Mapping[str, np.ndarray], quantities: Sequence[str], money: Sequence[str]) -> frozenset[str]:
    """Headers of amounts that times a quantity are another header's amount, in nearly every row that can tell."""
    found = set()
    for quantity in quantities:
        pieces = numbers[quantity]
        for each, line in permutations([one for one in money if one != quantity], 2):
            is_telling = ~np.isnan(pieces + numbers[each] + numbers[line]) & (pieces != 1) & (numbers[each] != 0)
            if is_telling.sum() < FEWEST_TOLD:
                continue
            gap = np.abs(pieces * numbers[each] - numbers[line])[is_telling]
            if np.mean(gap <= CENT * np.maximum(1, np.abs(pieces[is_telling]))) >= NEARLY_ALL:
                found.add(each)
    return frozenset(found)


def order_totals(
    rows: pl.DataFrame, order_header: str, numbers: Mapping[str, np.ndarray], of_order: Sequence[str]
) -> frozenset[str]:
    """Headers of amounts of the order that are the sum of another header's over its rows."""
    lines = [name for name in numbers if name not in of_order]
    if not of_order or not lines:
        return frozenset()
    place = {name: f"c{at}" for at, name in enumerate(numbers)}
    order = rows[order_header].head(LOOKED_AT).forward_fill().alias("order")
    frame = pl.DataFrame([order, *(pl.Series(place[name], seen, nan_to_null=True) for name, seen in numbers.items())])
    summed = (
        frame.drop_nulls("order")
        .group_by("order")
        .agg(
            *(pl.col(place[name]).drop_nulls().first() for name in of_order),
            *(pl.col(place[name]).sum() for name in lines),
            pl.len().alias("n"),
        )
    )
    several = summed.filter(pl.col("n") > 1)
    return frozenset(name for name in of_order if any(_is_sum(several, place[name], place[line]) for line in lines))


def _is_sum(orders: pl.DataFrame, total: str, line: str) -> bool:
    """Whether the order's amount is the sum of its lines' in nearly all orders of several lines."""
    known = orders.select(pl.col(total), pl.col(line)).drop_nulls()
    if known.height < FEWEST_TOLD:
        return False
    return float(known.select(((pl.col(total) - pl.col(line)).abs() <= 2 * CENT).mean()).item()) >= NEARLY_ALL
