from __future__ import annotations

import re
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.maps.dates import date_sql, day_sql
from longmile.pipelines.maps.month_names import MONTH_NAMES

FORMATS = (
    *("%d.%m.%Y", "%m/%d/%Y", "%m/%d/%y", "%d-%b-%Y", "%B %d, %Y", "%d.%m.%y", "%d%m%Y", "%Y%m%d", "%Y/%m/%d"),
    *("%d %b %y", "%A, %d. %B %Y", "%Y.%m.%d"),
)
TIMES = ("", " 00:00", " 7:05", " 23:59:59", "T10:30:00.123Z", ", 7:05 pm", " 07.30", " 10:00:00+02:00")


def test_every_format_of_the_usual_ones_reads_its_own(read):
    # 2021-03-09, a Tuesday (calendar); 44264 is its day number: 44197 is 2021-01-01, and 31 + 28 + 8 = 67 days on.
    cells = ["09.03.2021", "3/9/2021", "03/09/21", "9-Mar-2021", "March 9, 2021", "44264", "2021-03-09"]
    formats = ("%d.%m.%Y", "%m/%d/%Y", "%m/%d/%y", "%d-%b-%Y", "%B %d, %Y", "excel")
    assert read(date_sql(day_sql("cell"), formats, 2025), cells) == ["2021-03-09"] * 7


def test_names_of_months_are_read_in_several_languages(read):
    cells = [
        "3. März 2020",
        "3 MARS 2020",
        "3 marzo 2020",
        "3 mrt. 2020",
        "3 Março 2020",
        "3 mars 2020",
        "3 marca 2020",
    ]
    assert read(date_sql(day_sql("cell"), ("%d %B %Y", "%d. %B %Y"), 0), cells) == ["2020-03-03"] * 7
    cells = ["1 août 2020", "1 aout 2020", "1 AGO 2020", "1 févr. 2020", "1 Dez 2020", "1 mei 2020", "1 Smarch 2020"]
    expected = ["2020-08-01", "2020-08-01", "2020-08-01", "2020-02-01", "2020-12-01", "2020-05-01", None]
    assert read(date_sql(day_sql("cell"), ("%d %B %Y",), 0), cells) == expected


def test_a_date_that_does_not_exist_is_not_read(read):
    cells = ["31.02.2020", "29.02.2021", "00.01.2020", "01.13.2020", "32.01.2020", "01.01.0000", "01.01.20200"]
    assert read(date_sql(day_sql("cell"), ("%d.%m.%Y",), 0), cells) == [None] * 7
    assert read(date_sql(day_sql("cell"), (), 0), ["2020-02-30", "2020-2-3", "2020/02/03", "20-02-03"]) == [None] * 4


def test_iso_dates_are_always_read(read):
    assert read(date_sql(day_sql("cell"), ("%d.%m.%Y",), 0), ["2020-02-29", "2020-02-29 10:00"]) == ["2020-02-29"] * 2


def test_years_of_two_digits_are_the_latest_not_after_the_stated_one(read):
    cells = ["01.01.25", "01.01.26", "01.01.00", "01.01.99"]
    assert read(date_sql(day_sql("cell"), ("%d.%m.%y",), 2025), cells) == [
        "2025-01-01",
        "1926-01-01",
        "2000-01-01",
        "1999-01-01",
    ]
    assert read(date_sql(day_sql("cell"), ("%d.%m.%y",), 1999), ["01.01.99", "01.01.00"]) == [
        "1999-01-01",
        "1900-01-01",
    ]


def test_day_numbers_are_those_of_the_1900_system_with_the_day_that_there_was_not(read):
    # From memory of the spreadsheets' own documentation: 1 is 1900-01-01, 60 the 29 February 1900 that there was not,
    # 61 is 1900-03-01, 36526 is 2000-01-01 and 43831 is 2020-01-01 (36526 + 20 * 365 + 5 leap days = 43831).
    cells = ["1", "59", "60", "61", "36526", "43831", "43831.999", "43831,5", "43831.0", "0", "-1", "43,831", "438310"]
    expected = ["1900-01-01", "1900-02-28", None, "1900-03-01", "2000-01-01", "2020-01-01", "2020-01-01", "2020-01-01"]
    assert read(date_sql(day_sql("cell"), ("excel",), 0), cells) == [*expected, "2020-01-01", None, None, None, None]


def test_a_cell_of_another_format_is_not_read(read):
    assert (
        read(date_sql(day_sql("cell"), ("%m/%d/%Y",), 0), ["13/02/2020", "02.03.2020", "02/03/20", "43831"])
        == [None] * 4
    )
    assert read(date_sql(day_sql("cell"), ("%d.%m.%y",), 2025), ["02.03.2020", "02.03.020", "02.03.2"]) == [None] * 3
    assert (
        read(date_sql(day_sql("cell"), ("%d.%m.%Y",), 0), ["02.03.2020 25:00", "02.03.2020 x", "a 02.03.2020"])
        == [None] * 3
    )


@settings(deadline=None, max_examples=150)
@given(
    days=st.lists(st.dates(date(1927, 1, 1), date(2025, 12, 31)), min_size=1, max_size=20),
    form=st.sampled_from(FORMATS),
    time=st.sampled_from(TIMES),
    short=st.booleans(),
)
def test_a_formatted_date_comes_back_exactly(read, days: list[date], form: str, time: str, short: bool):
    cells = [day.strftime(form) + time for day in days]
    if short and "%d%m" not in form and "%m%d" not in form:  # without the zeros before days and months
        cells = [re.sub(r"\b0(\d)(?=[./ ,-])", r"\1", day.strftime(form)) + time for day in days if day.year % 100 > 9]
        days = [day for day in days if day.year % 100 > 9]
    kept = [day for day in days if "%y" not in form or day.year > 1925]
    found = read(date_sql(day_sql("cell"), (form,), 2025), cells)
    assert found == [day.isoformat() for day in kept]


@settings(deadline=None, max_examples=150)
@given(
    days=st.lists(st.dates(date(1900, 3, 1), date(2173, 10, 13)), min_size=1, max_size=20),
    fraction=st.sampled_from(["", ".0", ".5", ".99999"]),
)
def test_a_day_number_comes_back_exactly(read, days: list[date], fraction: str):
    later = [day for day in days if day >= date(1927, 5, 18)] if fraction else days  # 10000: fractions from there on
    cells = [f"{(day - date(1899, 12, 30)).days}{fraction}" for day in later]
    assert read(date_sql(day_sql("cell"), ("excel",), 0), cells) == [day.isoformat() for day in later]


@settings(deadline=None, max_examples=300)
@given(
    cells=st.lists(st.text("0123456789./-", min_size=5, max_size=11), min_size=1, max_size=30),
    formats=st.lists(st.sampled_from(["%d.%m.%Y", "%m/%d/%Y", "%d-%m-%y", "%Y.%m.%d", "%d/%m/%y"]), unique=True),
)
def test_nothing_is_read_otherwise_than_the_standard_library_reads_it(read, cells: list[str], formats: list[str]):
    """Python's strptime as a second reading; its pivot for short years is replaced by the map's."""

    def plain(cell: str) -> str | None:
        for form in ("%Y-%m-%d", *formats):
            try:
                found = datetime.strptime(cell, form).date()
            except ValueError:
                continue
            if form == "%Y-%m-%d" and not re.fullmatch(r"\d{4}-\d\d-\d\d", cell):
                continue
            year = 2030 - (2030 - found.year) % 100 if "%y" in form else found.year
            return _on(year, found) if year >= 1000 else None
        return None

    assert read(date_sql(day_sql("cell"), formats, 2030), cells) == [plain(cell) for cell in cells]


def _on(year: int, day: date) -> str | None:
    """The day in another year, where there is one."""
    try:
        return day.replace(year=year).isoformat()
    except ValueError:
        return None


def test_every_name_of_a_month_is_read(read):
    cells = [f"{name.title()} 5, 2021" for name in MONTH_NAMES]
    expected = [date(2021, month, 5).isoformat() for month in MONTH_NAMES.values()]
    assert read(date_sql(day_sql("cell"), ("%B %d, %Y",), 0), cells) == expected


@pytest.mark.parametrize("offset", [0, 1])
def test_the_oldest_and_the_newest_short_year_are_a_hundred_years_apart(read, offset: int):
    day = date(2024, 2, 29) + timedelta(days=offset)
    assert read(date_sql(day_sql("cell"), ("%d.%m.%y",), 2024), [day.strftime("%d.%m.%y")]) == [day.isoformat()]
