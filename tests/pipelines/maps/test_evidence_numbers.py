"""Decimal and thousands signs, told from cells."""

from __future__ import annotations

import math

import polars as pl
import pytest

from longmile.pipelines.maps.evidence_numbers import (
    NUMBER,
    decimal_sign,
    likely_decimal,
    number_in,
    signs_of,
    thousands_sign,
)


@pytest.mark.parametrize(
    ("cells", "decimal", "thousands"),
    [
        (["1,234.50", "12.25"], ".", ","),
        (["1.234,50 €", "12,5"], ",", "."),
        (["1 234,50", "12,5"], ",", " "),
        (["1'234.50"], ".", "'"),
        (["70\u202f966 km", "12,5"], ",", " "),
        (["1.234.567"], ",", "."),
        (["0,250"], ",", ""),
        (["12", "40"], "", ""),
    ],
)
def test_signs_are_told_from_cells(cells: list[str], decimal: str, thousands: str):
    signs = signs_of(dict.fromkeys(cells, 1))
    assert decimal_sign(signs) == decimal
    assert thousands_sign(signs, decimal or ".") == thousands


def test_a_sign_before_three_digits_may_be_either():
    signs = signs_of({"105.841": 1, "47.310": 1})
    assert decimal_sign(signs) == ""
    assert likely_decimal(signs) == ","


@pytest.mark.parametrize(
    ("cell", "decimal", "number"),
    [("(88.05)", ".", -88.05), ("1.234,50-", ",", -1234.5), ("$1,260.96", ".", 1260.96), ("70 966 km", ".", 70966)],
)
def test_a_number_is_read_with_its_sign(cell: str, decimal: str, number: float):
    assert number_in(cell, decimal) == number


def test_what_is_no_number_is_none():
    assert math.isnan(number_in("call", "."))


def test_numbers_are_told_from_words_and_codes():
    cells = [
        "1.234,50 €",
        "(88.05)",
        "70 966 km",
        "$1,260.96",
        "12,5-",
        ".5",
        "2,4 h",
        "call",
        "2.0 D4",
        "K45-3884",
        "V6",
    ]
    assert pl.Series(cells).str.contains(NUMBER).to_list() == [True] * 7 + [False] * 4
