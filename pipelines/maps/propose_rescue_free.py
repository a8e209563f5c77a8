"""What the rescues share: the headers that mean nothing yet, whether there are lines, and days compared row by row."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

import polars as pl

from longmile.pipelines.maps.evidence_dates import EXCEL
from longmile.pipelines.maps.propose_assign import THRESHOLD, Assigned, refused_score
from longmile.pipelines.maps.propose_scores import Scores
from longmile.pipelines.maps.propose_tables import FEWEST_LINE_COLUMNS, OF_LINES

LOOKED_AT = 400
FIRST_DAY = datetime(1899, 12, 30)
"""Day 0 of a spreadsheet's day numbers, as they count since 1 March 1900."""


def free(scores: Scores, found: Assigned) -> list[str]:
    """Headers that are filled, mean nothing yet and are not known to be anything else."""
    used = set(found.header_of.values()) | scores.left_out
    filled = [header for header, values in scores.values.items() if values.filled and header not in used]
    return [header for header in filled if refused_score(scores, header)[1] < THRESHOLD]


def has_lines(found: Assigned) -> bool:
    """Whether the rows are lines of orders."""
    return "order_no" in found.header_of and len(found.header_of.keys() & OF_LINES) >= FEWEST_LINE_COLUMNS


def is_not_before(scores: Scores, earlier: str, later: str) -> bool:
    """Whether hardly any date of the one column is before that of the other in the same row."""
    forms = [scores.values[one].best_date[0] for one in (earlier, later)]
    pairs = together(scores, earlier, later)
    read = [(day(a, forms[0]), day(b, forms[1])) for a, b in pairs]
    known: Sequence[tuple[datetime, datetime]] = [(a, b) for a, b in read if a and b]
    return bool(known) and sum(a <= b for a, b in known) >= 0.97 * len(known)


def together(scores: Scores, *headers: str) -> list[tuple[str, ...]]:
    """The cells of some columns in the first rows in which all of them are filled."""
    columns = [scores.rows[header].alias(str(place)) for place, header in enumerate(headers)]
    return pl.DataFrame(columns).drop_nulls().head(LOOKED_AT).rows()


def day(cell: str, form: str) -> datetime | None:
    """The date in a cell, a time behind it left out; None where the plain reading fails."""
    try:
        if form == EXCEL:
            return FIRST_DAY + timedelta(days=float(cell))
        return datetime.strptime(" ".join(cell.replace("T", " ").split()[: form.count(" ") + 1]), form)
    except ValueError:
        return None
