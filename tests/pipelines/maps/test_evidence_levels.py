"""Which columns belong to orders, which to lines, and which count the lines. Invented rows."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.maps.evidence_levels import levels

ROWS = pl.DataFrame(
    {
        "order": [f"A{place // 3}" for place in range(15)],
        "day": [str(place // 3) for place in range(15)],
        "line": [str(place % 3 + 1) for place in range(15)],
        "tens": [str(10 * (place % 3 + 1)) for place in range(15)],
        "pieces": ["2", "2", "1"] * 5,
    }
)


def test_a_value_that_is_the_same_within_orders_is_of_the_order():
    known = levels(ROWS, "order")
    assert known.is_of_order("day") and not known.is_of_line("day")
    assert known.is_of_line("pieces") and not known.is_of_order("pieces")


def test_columns_that_count_the_lines_of_each_order_are_known_in_ones_and_in_tens():
    assert levels(ROWS, "order").counted == {"line", "tens"}


def test_without_an_order_number_nothing_is_known():
    assert not levels(ROWS, "").same
