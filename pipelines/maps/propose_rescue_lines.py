"""Numbers and codes that no header names, told by their size and by what they are to each other.

Only where exactly one column that means nothing else fits. Taken with little confidence, and asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.evidence_sums import amounts, numbers_of, unit_prices
from longmile.pipelines.maps.evidence_values import Values
from longmile.pipelines.maps.propose_assign import Assigned
from longmile.pipelines.maps.propose_rescue_free import free, has_lines
from longmile.pipelines.maps.propose_scores import Scores

MOST_HOURS, MOST_PIECES = 12.0, 12.0
COST_SHARE = (0.3, 0.98)
MOSTLY = 0.9
FURTHEST_TEST_DRIVE = 300.0
_CODES_DIFFER = 0.3


def odometer_out(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The reading on leaving: never below the one on arrival, and hardly above it."""
    arrival = found.header_of.get("odometer_in", "")
    if not arrival or "odometer_out" in found.header_of:
        return "", ""
    likely = [one for one in free(scores, found) if fit("odometer", scores.values[one]).can > 0.8]
    close = [one for one in likely if _share_between(scores, arrival, one, 0.0, FURTHEST_TEST_DRIVE) >= MOSTLY]
    return "odometer_out", close[0] if len(close) == 1 else ""


def _share_between(scores: Scores, low: str, high: str, least: float, most: float) -> float:
    """Share of rows in which the second number is above the first by no less and no more than this."""
    read = numbers_of(scores.rows, scores.values, [low, high])
    gap = (read[high] - read[low])[~np.isnan(read[high] - read[low])]
    return float(np.mean((gap >= least) & (gap <= most))) if len(gap) else 0.0


def part_number(scores: Scores, found: Assigned) -> tuple[str, str]:
    """Part numbers: codes of lines with digits, many different ones, not in every row."""
    if "part_number" in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in free(scores, found) if _is_part_number(scores.values[one], scores, one)]
    return "part_number", likely[0] if len(likely) == 1 else ""


def _is_part_number(values: Values, scores: Scores, header: str) -> bool:
    """Whether values look like part numbers."""
    is_code = values.words < 1.2 and values.share["has_digit"] > 0.9 and values.length >= 5
    is_free = max(values.share["vin"], values.share["dtc"], values.share["phone"], values.best_date[1]) < 0.3
    differ = values.n_distinct > _CODES_DIFFER * values.filled
    is_mixed = values.share["has_letter"] > 0.5
    return is_code and is_free and differ and is_mixed and not scores.levels.is_of_order(header)


def quantity(scores: Scores, found: Assigned) -> tuple[str, str]:
    """How many: small numbers of lines, mostly whole, one the commonest."""
    if "quantity" in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in _numbers_of_lines(scores, found) if _is_quantity(scores, one)]
    return "quantity", likely[0] if len(likely) == 1 else ""


def _is_quantity(scores: Scores, header: str) -> bool:
    """Whether values look like numbers of pieces: one the commonest, or times an amount another amount."""
    values = scores.values[header]
    if values.whole <= 0.6 or values.low <= 0 or values.high > MOST_PIECES:
        return False
    money = amounts(scores.values)
    is_one = next(iter(values.counts), "").removesuffix(".0").removesuffix(",0") in ("1", "1.00", "1,00")
    return is_one or bool(unit_prices(numbers_of(scores.rows, scores.values, [header, *money]), [header], money))


def hours(scores: Scores, found: Assigned) -> tuple[str, str]:
    """Hours: small numbers of lines with decimals, missing where parts are charged."""
    if "hours" in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in _numbers_of_lines(scores, found) if _is_hours(scores.values[one])]
    return "hours", likely[0] if len(likely) == 1 else ""


def _is_hours(values: Values) -> bool:
    """Whether values look like hours of work, in tenths or quarters."""
    return (
        values.whole < 0.6 and 0 < values.median <= 4 and values.high <= MOST_HOURS and values.filled < 0.9 * values.n
    )


def price(scores: Scores, found: Assigned) -> tuple[str, str]:
    """What the customer was charged: the one amount that is not below what the line cost."""
    cost_header = found.header_of.get("cost", "")
    if not cost_header or "price" in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in _amounts(scores, found) if _is_part_of(scores, cost_header, one)]
    return "price", likely[0] if len(likely) == 1 else ""


def cost(scores: Scores, found: Assigned) -> tuple[str, str]:
    """What the line cost: the one amount below what the customer was charged, and not a fixed share of it."""
    price_header = found.header_of.get("price", "")
    if not price_header or "cost" in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in _amounts(scores, found) if _is_part_of(scores, one, price_header)]
    return "cost", likely[0] if len(likely) == 1 else ""


def _amounts(scores: Scores, found: Assigned) -> list[str]:
    """Amounts of lines that mean nothing yet."""
    return [one for one in _numbers_of_lines(scores, found) if scores.values[one].whole < 0.6]


def _numbers_of_lines(scores: Scores, found: Assigned) -> Sequence[str]:
    """Numbers that differ within orders and mean nothing yet."""
    return [
        one
        for one in free(scores, found)
        if scores.values[one].share["number"] > 0.9
        and not scores.levels.is_of_order(one)
        and scores.values[one].best_date[1] < 0.5
    ]


def _is_part_of(scores: Scores, less: str, more: str) -> bool:
    """Whether one amount is a likely cost of the other: mostly between 30 and 98 in 100 of it."""
    read = numbers_of(scores.rows, scores.values, [less, more])
    with np.errstate(divide="ignore", invalid="ignore"):
        share = read[less] / read[more]
    share = share[np.isfinite(share)]
    return len(share) >= 5 and float(np.mean((share >= COST_SHARE[0]) & (share <= COST_SHARE[1]))) >= MOSTLY
