"""How numbers are said. Expected texts follow from rounding by hand, as written beside them."""

from __future__ import annotations

import math
from datetime import date, datetime

import pytest

from longmile.reports import figures


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (98_432.0, "98,400"),  # three significant digits
        (842.4, "842"),
        (0.0, "0"),
        (2_134_567.0, "2.13 million"),
        (999_600.0, "1 million"),  # rounds up to a million before the word is chosen
        (1_234_567_890.0, "1,230 million"),
    ],
)
def test_miles_are_said_to_three_significant_digits(value: float, said: str):
    assert figures.miles(value) == said


@pytest.mark.parametrize(
    ("value", "said"),
    # 3.69 / 2.1 million miles = 0.1757 per 100,000
    [
        (0.1757, "0.18"),
        (4.21, "4.2"),
        (0.0751, "0.075"),
        (38.4, "38"),
        (384.4, "384"),
        (99.6, "100"),
        (0.0, "0"),
    ],
)
def test_rates_are_said_to_two_or_three_digits(value: float, said: str):
    assert figures.rate(value) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.873, "87"),
        (0.004, "0.4"),
        (0.9961, "99.6"),
        (0.99999, "99.9"),
        (0.00001, "0.1"),
        (1.0, "100"),
        (0.0, "0"),
    ],
)
def test_a_share_near_the_ends_is_never_rounded_to_certainty(value: float, said: str):
    assert figures.per_hundred(value) == said


@pytest.mark.parametrize("say", [figures.miles, figures.rate, figures.count, figures.per_hundred, figures.plain])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(say, value):
    with pytest.raises(ValueError, match="say in words"):
        say(value)


def test_dates_and_moments_are_written_out():
    assert figures.day(date(2025, 6, 3)) == "3 June 2025"
    assert figures.moment(datetime(2025, 7, 1, 4, 5)) == "1 July 2025, 04:05 UTC"
