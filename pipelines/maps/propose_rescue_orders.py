"""What orders cannot do without, found by values where no header names it: their number, their vehicle, their day.

Only where exactly one column that means nothing else fits. Taken with little confidence, and asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from longmile.pipelines.maps.evidence_dates import EXCEL
from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.evidence_numbers import likely_decimal, number_in
from longmile.pipelines.maps.evidence_values import Values
from longmile.pipelines.maps.propose_assign import Assigned
from longmile.pipelines.maps.propose_rescue_free import day, free, is_not_before, together
from longmile.pipelines.maps.propose_scores import Scores
from longmile.pipelines.maps.propose_tables import OF_LINES, OF_ORDERS

FEWEST_OTHERS, FEWEST_OF_ORDERS = 3, 2
MOST_WORDS = 2.3
FEWEST_STEPS, MOSTLY_RISING = 6, 0.95
COMES_BACK = 0.95
SAME_TIME = 60


def order_number(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The order number: a code that is different in every row, or stands in blocks of rows."""
    got = found.header_of.keys()
    if "order_no" in got or len(got & (OF_ORDERS | OF_LINES)) < FEWEST_OTHERS:
        return "", ""
    is_of_orders = len(got & OF_ORDERS) >= FEWEST_OF_ORDERS
    likely = [one for one in _codes(scores, found) if _tells_rows(scores.values[one], is_of_orders)]
    return "order_no", likely[0] if len(likely) == 1 else ""


def _codes(scores: Scores, found: Assigned) -> list[str]:
    """Headers that mean nothing yet and hold codes of one word with digits in nearly all."""
    return [
        one
        for one in free(scores, found)
        if fit("code", scores.values[one]).can > 0.7
        and scores.values[one].words < MOST_WORDS
        and scores.values[one].share["has_digit"] > 0.9
        and fit("date", scores.values[one]).can < 0.5
    ]


def _tells_rows(values: Values, is_of_orders: bool) -> bool:
    """Whether each value stands in one block of rows, or, where rows are orders, in one row."""
    is_own = is_of_orders and values.n_distinct == values.filled
    return values.filled > 0.9 * values.n and (is_own or values.is_in_blocks)


def vehicle(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The vehicle's number: a code of the order that comes back, under which the odometer only rises with the days."""
    got = found.header_of
    if {"vehicle_id", "vin"} & got.keys() or not {"order_no", "opened_on", "odometer_in"} <= got.keys():
        return "", ""
    likely = [one for one in _codes(scores, found) if not scores.levels.is_of_line(one) and _rises(scores, found, one)]
    return "vehicle_id", likely[0] if len(likely) == 1 else ""


def _rises(scores: Scores, found: Assigned, header: str) -> bool:
    """Whether the odometer does not fall from one visit to the next under equal values."""
    opened, odometer = found.header_of["opened_on"], found.header_of["odometer_in"]
    form, sign = scores.values[opened].best_date[0], likely_decimal(scores.values[odometer].signs)
    rows = list(dict.fromkeys(together(scores, header, opened, odometer)))
    if len({one for one, _, _ in rows}) > COMES_BACK * len(rows):
        return False
    read = [(code, day(cell, form), number_in(number, sign)) for code, cell, number in rows]
    visits = sorted((code, when, number) for code, when, number in read if when and number == number)
    steps = [later[2] - earlier[2] for earlier, later in pairwise(visits) if earlier[0] == later[0]]
    return len(steps) >= FEWEST_STEPS and sum(step >= 0 for step in steps) >= MOSTLY_RISING * len(steps)


def opened(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The day the vehicle came in: the one date of the order that is never after another."""
    got = found.header_of
    if "opened_on" in got or "order_no" not in got or not got.keys() & (OF_ORDERS | {"vehicle_id"}):
        return "", ""
    dated = _dates(scores, found)
    first = [one for one in dated if all(is_not_before(scores, one, other) for other in dated if other != one)]
    return "opened_on", first[0] if len(dated) == 1 or len(first) == 1 else ""


def _dates(scores: Scores, found: Assigned) -> Sequence[str]:
    """Dates of the order that mean nothing yet, in writing; as day numbers where orders close on such."""
    closed = found.header_of.get("closed_on", "")
    is_numbered = bool(closed) and scores.values[closed].best_date[0] == EXCEL
    return [
        one
        for one in free(scores, found)
        if not scores.levels.is_of_line(one)
        and (fit("date", scores.values[one]).says > 0.1 or (is_numbered and _is_like(scores, one, closed)))
    ]


def _is_like(scores: Scores, header: str, closed: str) -> bool:
    """Whether day numbers are of the same time as those of the days of closing."""
    values, other = scores.values[header], scores.values[closed]
    return values.best_date == (EXCEL, other.best_date[1]) and abs(values.median - other.median) < SAME_TIME


def earlier_day(scores: Scores, found: Assigned) -> tuple[str, str]:
    """A date before the one that was taken for the day of opening without its header saying so."""
    got = found.header_of
    taken = got.get("opened_on", "")
    if not taken or scores.words[taken].get("opened_on", 0.0) >= 0.8:
        return "", ""
    before = [one for one in _dates(scores, found) if is_not_before(scores, one, taken)]
    before = [one for one in before if not is_not_before(scores, taken, one)]
    return "opened_on", before[0] if len(before) == 1 else ""
