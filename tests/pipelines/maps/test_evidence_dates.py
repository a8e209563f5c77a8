"""Formats of cells: each way of writing a date, and what is none."""

from __future__ import annotations

import pytest

from longmile.pipelines.maps.date_format import date_format
from longmile.pipelines.maps.evidence_dates import MAYBE_DATE, format_shares, formats_of


@pytest.mark.parametrize(
    ("cell", "formats"),
    [
        ("2022-03-19", {"%Y-%m-%d"}),
        ("2022/3/4", {"%Y/%m/%d"}),
        ("19.03.2022", {"%d.%m.%Y"}),
        ("03/19/2022", {"%m/%d/%Y"}),
        ("03/04/2022", {"%d/%m/%Y", "%m/%d/%Y"}),
        ("3/4/22", {"%d/%m/%y", "%m/%d/%y"}),
        ("22-03-19", {"%d-%m-%y", "%y-%m-%d"}),
        ("20-may-2017", {"%d-%b-%Y"}),
        ("12 janv. 2021", {"%d %b %Y"}),
        ("20. Mai 2017", {"%d. %b %Y"}),
        ("12 de marzo de 2021", {"%d de %b de %Y"}),
        ("March 4, 2021", {"%b %d, %Y"}),
        ("20220304", {"%Y%m%d"}),
        ("04032022", {"%d%m%Y", "%m%d%Y"}),
        ("44259", {"excel"}),
    ],
)
def test_a_cell_has_every_format_it_can_be_read_in(cell: str, formats: set[str]):
    assert formats_of(cell) == formats


@pytest.mark.parametrize(
    "cell", ["2022-03-03T10:02:00", "2022-03-03 10:02", "2022-03-03 9:30 PM", "2022-03-03T10:02:00.5Z"]
)
def test_a_time_of_day_is_passed_over(cell: str):
    assert formats_of(cell) == {"%Y-%m-%d"}


def test_a_weekday_stands_in_the_format():
    assert formats_of("Mon 19/03/2022") == {"%a %d/%m/%Y"}


@pytest.mark.parametrize("cell", ["", "V107", "4001", "12.5", "2.0 D4", "Customer 2541", "19999", "60001", "555-0170"])
def test_other_cells_are_no_dates(cell: str):
    assert formats_of(cell) == frozenset()


def test_a_day_that_does_not_exist_is_a_broken_cell_and_no_other_format():
    assert formats_of("31.11.2022") == {"%d.%m.%Y"}


def test_every_format_is_one_that_maps_can_state():
    cells = ["19.03.2022", "3/4/22", "20-may-2017", "20. Mai 2017", "March 4, 2021", "20220304", "Mon 19/03/2022"]
    for cell in cells:
        for one in formats_of(cell):
            date_format(one)  # raises where a map cannot state it


def test_what_is_a_date_passes_the_quick_look():
    import polars as pl

    cells = ["2022-03-19", "3/4/22", "20-may-2017", "12 de marzo de 2021", "March 4, 2021", "20220304", "44259"]
    assert pl.Series(cells).str.contains(MAYBE_DATE).all()


def test_shares_weigh_cells_by_how_often_they_stand():
    # Three of four cells can only be day first; the fourth is both.
    assert format_shares({"13/04/2022": 3, "03/04/2022": 1}) == {"%d/%m/%Y": 1.0, "%m/%d/%Y": 0.25}
