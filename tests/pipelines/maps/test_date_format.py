from __future__ import annotations

import pytest

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.date_format import date_format, date_formats


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("%d.%m", "it needs one day, one month and one year"),
        ("%d.%m.%Y.%d", "it needs one day, one month and one year"),
        ("%d.%q.%Y", "%q is not understood"),
        ("20%y-%m-%d", "20 is not understood"),
        ("DD.MM.YYYY", "it needs one day, one month and one year"),
        ("", "it needs one day, one month and one year"),
    ],
)
def test_a_format_that_is_not_understood_is_refused_with_the_reason_and_examples(text: str, why: str):
    with pytest.raises(MapError, match=why) as raised:
        date_format(text)
    assert "%d.%m.%Y" in str(raised.value)


@pytest.mark.parametrize(
    "clashing",
    [
        ("%d/%m/%Y", "%m/%d/%Y"),
        ("%d.%m.%y", "%y.%m.%d"),
        ("%d%m%Y", "%Y%m%d"),  # 20112012: 20 November 2012, or no date, or 2011-20-12
        ("%Y-%d-%m",),  # against YYYY-MM-DD, which is always read
    ],
)
def test_formats_that_would_read_one_cell_as_two_dates_are_refused(clashing: tuple[str, ...]):
    with pytest.raises(MapError, match="two different dates"):
        date_formats(clashing)


@pytest.mark.parametrize(
    "together",
    [("%d.%m.%Y", "%d.%m.%y", "%m/%d/%Y", "excel"), ("%d %b %Y", "%d %B %Y"), ("%d.%m.%Y", "%d.%m.%Y %H:%M")],
)
def test_formats_that_cannot_be_taken_for_each_other_stand_together(together: tuple[str, ...]):
    assert date_formats(together)
