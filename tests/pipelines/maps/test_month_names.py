from __future__ import annotations

import calendar
from collections import Counter

from longmile.pipelines.maps.month_names import _NAMES, MONTH_NAMES


def test_no_name_stands_for_two_months():
    """In any two of the languages: otherwise a date would be read by the wrong one."""
    months_of = {(name, month) for month, names in enumerate(_NAMES, 1) for name in names.replace(";", "").split()}
    assert [name for name, n in Counter(name for name, _ in months_of).items() if n > 1] == []


def test_english_names_are_those_of_the_standard_library():
    for month in range(1, 13):
        assert MONTH_NAMES[calendar.month_name[month].lower()] == month
        assert MONTH_NAMES[calendar.month_abbr[month].lower()] == month


def test_every_language_names_all_twelve_months():
    assert {len(names.split(";")) for names in _NAMES} == {9}


def test_names_are_in_small_letters_without_accents():
    assert all(name.isascii() and name.islower() for name in MONTH_NAMES)
