"""Cells with dates to the neutral form YYYY-MM-DD, as DuckDB expressions; NULL where no stated format reads them."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.maps.date_format import ISO, TIME_OF_DAY, DateFormat, date_format, date_formats, has_excel
from longmile.pipelines.maps.month_names import MONTH_NAMES
from longmile.pipelines.sql import literal

_MONTHS = "MAP {" + ", ".join(f"{literal(name)}: '{month:02}'" for name, month in MONTH_NAMES.items()) + "}"


def day_sql(cell: str) -> str:
    """Expression for `cell` (trimmed text) without a time of day at its end: the day stays as written.

    Most dates are short and have none; they are not searched for one.
    """
    return f"CASE WHEN length({cell}) > 10 THEN regexp_replace({cell}, {literal(TIME_OF_DAY)}, '') ELSE {cell} END"


def date_sql(cell: str, formats: Sequence[str], two_digit_years_to: int) -> str:
    """Expression for the date in `cell` (an expression giving trimmed text without a time of day) as YYYY-MM-DD.

    Tried in order: YYYY-MM-DD itself, then the formats. A date that does not exist is NULL. YY: see
    `SourceMap.two_digit_years_to`. Names of months are those of `MONTH_NAMES`, in capitals or not, with accents or not.
    """
    readings = [_iso(cell)]
    for one in date_formats(formats):
        if one != date_format(ISO):
            readings.extend(_readings(cell, one, two_digit_years_to))
    if has_excel(formats):
        readings.append(_excel(cell))
    return f"CAST(coalesce({', '.join(readings)}) AS VARCHAR)"


def _iso(cell: str) -> str:
    """The neutral form itself."""
    return f"CASE WHEN regexp_full_match({cell}, '[1-9]\\d{{3}}-\\d\\d-\\d\\d') THEN TRY_CAST({cell} AS DATE) END"


def _readings(cell: str, one: DateFormat, two_digit_years_to: int) -> list[str]:
    """The format as one reading, or two: short years of this century and of the one before."""
    if not one.has_short_year:
        return [_reading(cell, one, one.pattern(), "")]
    century, last = divmod(two_digit_years_to, 100)
    this = "|".join(f"{year:02}" for year in range(last + 1))
    before = "|".join(f"{year:02}" for year in range(last + 1, 100))
    found = [_reading(cell, one, one.pattern(f"(?:{this})"), f"{century:02}")]
    return [*found, *([_reading(cell, one, one.pattern(f"(?:{before})"), f"{century - 1:02}")] if before else [])]


def _reading(cell: str, one: DateFormat, pattern: str, century: str) -> str:
    """The date under one pattern, which is matched first: taking a cell apart is slow."""
    day, month, year = (one.group(name) for name in "dmy")
    found = [f"regexp_extract({cell}, {literal(pattern)}, {group})" for group in (year, month, day)]
    if one.has_month_name:
        named = f"{_MONTHS}[strip_accents(lower({found[1]}))]"
        written = f"{literal(century)} || {found[0]} || '-' || {named} || '-' || {found[2]}"
    else:
        in_order = literal(rf"{century}\{year}-\{month}-\{day}")
        written = f"regexp_replace({cell}, {literal(pattern)}, {in_order})"
    return f"CASE WHEN regexp_matches({cell}, {literal(pattern)}) THEN TRY_CAST({written} AS DATE) END"


def _excel(cell: str) -> str:
    """A spreadsheet's day number, the fraction being the time of day: 1 is 1900-01-01, and 61 is 1900-03-01.

    60 would be 29 February 1900, which there was not: no date. A fraction is read on numbers of five digits only, so
    that 45,291 with a sign between thousands is never day 45. Workbooks that count from 1904 are not read by this.
    """
    number = f"TRY_CAST(left({cell}, 5) AS INTEGER)"
    whole = f"TRY_CAST({cell} AS INTEGER)"
    return (
        f"CASE WHEN regexp_full_match({cell}, '\\d{{5}}([.,]\\d+)?') THEN DATE '1899-12-30' + {number} "
        f"WHEN regexp_full_match({cell}, '\\d{{1,4}}') AND {whole} NOT IN (0, 60) "
        f"THEN DATE '1899-12-30' + {whole} + CAST({whole} < 60 AS INTEGER) END"
    )
