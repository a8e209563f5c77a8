"""Amounts of one piece and sums over orders, by arithmetic. Invented rows; the products are in the comments."""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.maps.evidence_sums import order_totals, unit_prices

PIECES = np.array([2.0, 3.0, 1.0, 4.0, 2.0, 5.0])
EACH = np.array([1.10, 2.25, 9.99, 0.50, 3.33, 7.01])
# 2 x 1.10, 3 x 2.25, 1 x 9.99, 4 x 0.50, 2 x 3.33, 5 x 7.01
LINE = np.array([2.20, 6.75, 9.99, 2.00, 6.66, 35.05])


def test_the_amount_that_times_the_quantity_is_another_is_for_one_piece():
    numbers = {"qty": PIECES, "each": EACH, "line": LINE}
    assert unit_prices(numbers, ["qty"], ["each", "line"]) == {"each"}


def test_where_all_quantities_are_one_nothing_tells():
    numbers = {"qty": np.ones(6), "each": LINE, "line": LINE}
    assert unit_prices(numbers, ["qty"], ["each", "line"]) == frozenset()


def test_the_sum_of_an_orders_lines_is_its_total():
    rows = pl.DataFrame({"order": [f"A{place // 2}" for place in range(12)]})
    line = np.array([1.5, 2.25] * 6)
    # 1.50 + 2.25 = 3.75; 20 in 100 of it: 0.75
    numbers = {"line": line, "total": np.full(12, 3.75), "tax": np.full(12, 0.75)}
    assert order_totals(rows, "order", numbers, ["total", "tax"]) == {"total"}
