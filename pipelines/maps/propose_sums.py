"""Scores of amounts, corrected by what they are to each other: see `evidence_sums`."""

from __future__ import annotations

from collections.abc import Mapping

import polars as pl

from longmile.pipelines.maps.evidence_levels import Levels
from longmile.pipelines.maps.evidence_sums import amounts, numbers_of, order_totals, unit_prices
from longmile.pipelines.maps.evidence_values import Values

LIKELY_QUANTITY = 0.5
MOST_QUANTITIES, MOST_PIECES = 4, 100
OF_ONE_PIECE, TOTAL_IS_NO_PRICE, SUM_SAYS = 0.55, 0.5, 0.7
_OF_THE_LINE = ("price", "cost")


def with_sums(
    rows: pl.DataFrame, values: Mapping[str, Values], total: Mapping[str, Mapping[str, float]], known: Levels
) -> dict[str, Mapping[str, float]]:
    """Scores in which amounts of one piece are hardly a line's, and sums over an order are its total."""
    money = amounts(values)
    quantities = [one for one, found in total.items() if _may_count(found, values[one])][:MOST_QUANTITIES]
    numbers = numbers_of(rows, values, [*money, *(one for one in quantities if one not in money)])
    each = unit_prices(numbers, quantities, money)
    of_order = [one for one in money if known.is_of_order(one)]
    amounts_only = {one: numbers[one] for one in money}
    sums = order_totals(rows, known.order_header, amounts_only, of_order) if known.order_header else frozenset()
    return {header: _corrected(found, header in each, header in sums) for header, found in total.items()}


def _may_count(found: Mapping[str, float], values: Values) -> bool:
    """Whether a column may hold numbers of pieces: its header says so, or its numbers are small and whole."""
    is_small = (
        values.share.get("number", 0.0) > 0.9 and values.whole > 0.8 and 0 < values.low <= values.high <= MOST_PIECES
    )
    return found.get("quantity", 0.0) >= LIKELY_QUANTITY or is_small


def _corrected(found: Mapping[str, float], is_each: bool, is_sum: bool) -> Mapping[str, float]:
    """Scores of one header."""
    if is_each:
        return {name: agreed * (OF_ONE_PIECE if name in _OF_THE_LINE else 1.0) for name, agreed in found.items()}
    if is_sum:
        lessened = {
            name: agreed * (TOTAL_IS_NO_PRICE if name in _OF_THE_LINE else 1.0) for name, agreed in found.items()
        }
        return {**lessened, "total": 1 - (1 - found.get("total", 0.0)) * (1 - SUM_SAYS)}
    return found
