import datetime as dt
import io
from decimal import Decimal

import polars as pl
import pytest

from longmile.pipelines.errors import UnreadableFileError


def _bytes(frame):
    buffer = io.BytesIO()
    frame.write_parquet(buffer)
    return buffer.getvalue()


def test_every_type_comes_as_text(read):
    frame = pl.DataFrame(
        {
            "text": ["007", None],
            "whole": [1, None],
            "gaps": [12.0, None],
            "part": [1234.57, None],
            "money": pl.Series([Decimal("12.50"), None], dtype=pl.Decimal(10, 2)),
            "day": [dt.date(2024, 5, 1), None],
            "midnight": [dt.datetime(2024, 5, 1), None],
            "moment": [dt.datetime(2024, 5, 1, 13, 30), None],
            "sure": [True, None],
            "kind": pl.Series(["part", None], dtype=pl.Categorical),
        }
    )
    table = read("x.parquet", _bytes(frame))
    assert table.rows.rows()[0] == (
        *(1, "007", "1", "12", "1234.57", "12.50"),
        *("2024-05-01", "2024-05-01", "2024-05-01 13:30:00", "true", "part"),
    )
    assert table.rows.rows()[1] == (2, *[None] * 10)


def test_a_moment_with_a_zone_keeps_its_offset(read):
    frame = pl.DataFrame({"at": [dt.datetime(2024, 5, 1, tzinfo=dt.UTC)]})
    assert read("x.parquet", _bytes(frame)).rows["at"][0] == "2024-05-01 00:00:00+00:00"


@pytest.mark.parametrize(
    ("column", "kind"),
    [([[1]], "List"), ([{"x": 1}], "Struct"), ([b"x"], "Binary"), ([dt.timedelta(1)], "Duration")],
)
def test_columns_that_are_no_plain_values_are_named(read, column, kind):
    with pytest.raises(UnreadableFileError, match=f"column 'a' is of type {kind}"):
        read("x.parquet", _bytes(pl.DataFrame({"a": column})))


def test_no_rows(read):
    table = read("x.parquet", _bytes(pl.DataFrame({"a": []}, schema={"a": pl.String})))
    assert (table.n_physical, table.notes) == (0, ("the file has columns and no rows",))


@pytest.mark.parametrize("cut", [1, 4, 20, 200])
def test_a_file_cut_short(read, cut):
    with pytest.raises(UnreadableFileError, match="the Parquet file has no end"):
        read("x.parquet", _bytes(pl.DataFrame({"a": [1, 2]}))[:-cut])


def test_a_damaged_footer(read):
    data = _bytes(pl.DataFrame({"a": [1, 2]}))
    with pytest.raises(UnreadableFileError, match="damaged or cut short"):
        read("x.parquet", data[:-30] + b"\xff" * 22 + data[-8:])
