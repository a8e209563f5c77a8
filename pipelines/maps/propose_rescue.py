"""Columns that a table cannot do without, found by their values alone where no header names them.

Only for what values tell apart from everything else: an odometer, a day on which orders close, an engine's code in a
list of engines; `propose_rescue_orders` has more. Taken with little confidence, and asked about.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from longmile.pipelines.maps import propose_rescue_lines as lines
from longmile.pipelines.maps import propose_rescue_texts as texts
from longmile.pipelines.maps import propose_rescue_vehicles as vehicles
from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.evidence_numbers import likely_decimal, number_in
from longmile.pipelines.maps.propose_assign import Assigned
from longmile.pipelines.maps.propose_rescue_free import LOOKED_AT, free, is_not_before
from longmile.pipelines.maps.propose_rescue_orders import earlier_day, opened, order_number, vehicle
from longmile.pipelines.maps.propose_scores import Scores

LITTLE, LIKELY = 0.4, 0.8
LEAST_MILES, LEAST_SPREAD = 3_000, 1.4
NAMES_HAVE_WORDS = 1.25


def rescued(scores: Scores, found: Assigned) -> Assigned:
    """The assignment with what values alone tell added."""
    for rescue in _RESCUES:
        meaning, header = rescue(scores, found)
        if header:
            found = replace(
                found,
                header_of={**{n: h for n, h in found.header_of.items() if h != header}, meaning: header},
                score={**found.score, meaning: LITTLE},
                by_values=(*found.by_values, meaning),
            )
    return _named_parts(scores, _in_time(scores, found))


def _in_time(scores: Scores, found: Assigned) -> Assigned:
    """The assignment with opening and closing changed over where orders would close before they open."""
    opened, closed = found.header_of.get("opened_on", ""), found.header_of.get("closed_on", "")
    if not opened or not closed or is_not_before(scores, opened, closed) or not is_not_before(scores, closed, opened):
        return found
    score = {**found.score, "opened_on": LITTLE, "closed_on": LITTLE}
    return replace(found, header_of={**found.header_of, "opened_on": closed, "closed_on": opened}, score=score)


def _named_parts(scores: Scores, found: Assigned) -> Assigned:
    """The assignment with names of parts, where they are all that describes a line, as its description."""
    header = found.header_of.get("component_code", "")
    if not header or "description" in found.header_of or scores.values[header].words < NAMES_HAVE_WORDS:
        return found
    others = {name: one for name, one in found.header_of.items() if name != "component_code"}
    score = {**found.score, "description": min(found.score["component_code"], LIKELY)}
    return replace(found, header_of={**others, "description": header}, score=score)


def _odometer(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The odometer: whole numbers of its size, of the order, neither rising nor falling through the file."""
    if "odometer_in" in found.header_of or not {"order_no", "opened_on"} <= found.header_of.keys():
        return "", ""
    likely = [one for one in free(scores, found) if _is_odometer(scores, one)]
    return "odometer_in", likely[0] if len(likely) == 1 else ""


def _is_odometer(scores: Scores, header: str) -> bool:
    """Whether values alone say odometer."""
    values = scores.values[header]
    if fit("odometer", values).can < 0.9 or scores.levels.is_of_line(header) or values.median < LEAST_MILES:
        return False
    decimal = likely_decimal(values.signs)
    read = [number_in(cell, decimal) for cell in scores.rows[header].drop_nulls().head(LOOKED_AT).to_list()]
    steps = [later - earlier for earlier, later in pairwise(read) if later != earlier]
    rising = sum(step > 0 for step in steps) / max(len(steps), 1)
    is_spread = values.high >= LEAST_SPREAD * max(values.low, 1)
    return len(steps) >= 4 and 0.2 < rising < 0.8 and is_spread


def _closed(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The day orders close: the one other date of the order that is never before the day they open."""
    opened = found.header_of.get("opened_on", "")
    if not opened or "closed_on" in found.header_of or "order_no" not in found.header_of:
        return "", ""
    dated = [
        one for one in free(scores, found) if fit("date", scores.values[one]).says and not scores.levels.is_of_line(one)
    ]
    later = [one for one in dated if is_not_before(scores, opened, one)]
    return "closed_on", later[0] if len(dated) == len(later) == 1 else ""


_RESCUES = (
    vehicles.engine_list,
    order_number,
    opened,
    earlier_day,
    _odometer,
    vehicle,
    _closed,
    lines.odometer_out,
    texts.concern,
    texts.cause,
    texts.correction,
    texts.description,
    lines.part_number,
    lines.quantity,
    lines.hours,
    lines.price,
    lines.cost,
    vehicles.model_year,
    vehicles.in_service,
    vehicles.engine,
)
"""In this order: what orders need first, then what only adds to them."""
