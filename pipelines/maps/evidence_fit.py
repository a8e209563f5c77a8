"""How well a column's values agree with a meaning, by how its values look; the looks are in `evidence_looks*`."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from longmile.pipelines.maps import evidence_looks as look
from longmile.pipelines.maps import evidence_looks_lists as lists
from longmile.pipelines.maps import evidence_looks_numbers as numbers
from longmile.pipelines.maps import evidence_looks_places as places
from longmile.pipelines.maps import evidence_looks_texts as texts
from longmile.pipelines.maps.evidence_ramps import NEUTRAL, Fit
from longmile.pipelines.maps.evidence_values import Values

_LISTS = ("kind", "action", "reason", "origin", "status", "odometer_unit", "stage", "measure", "check", "unit")

LOOKS: Mapping[str, Callable[[Values], Fit]] = {
    "any": lambda values: NEUTRAL,
    "date": numbers.date,
    "odometer": numbers.odometer,
    "vin": look.vin,
    "year": numbers.year,
    "number": numbers.number,
    "money": numbers.money,
    "count": numbers.count,
    "quantity": numbers.quantity,
    "hours": numbers.hours,
    "code": look.code,
    "order code": look.order_code,
    "part code": look.part_code,
    "text": texts.text,
    "said": texts.about("said"),
    "found": texts.about("found"),
    "done": texts.about("done"),
    "named": texts.named,
    "position": places.position,
    "site": places.site,
    "short": look.short,
    "name": look.name,
    "component": look.component,
    "engine": look.engine,
    "dtc": look.dtc,
    "cylinders": numbers.within(16, 0.9),
    "valves": numbers.within(4, 0.9),
    "months": numbers.within(240, 0.9),
    "miles": numbers.within(1_000_000, 0.9),
    "email": look.email,
    "phone": look.phone,
    "nobody's money": look.nobodys_money,
    "lettered": look.lettered,
    "clock": look.clock,
    "yes_no": look.yes_no,
    "record": lists.closed_list("kind"),
    **{name: lists.closed_list(name) for name in _LISTS},
}
"""By `Meaning.looks`."""


def fit(looks: str, values: Values) -> Fit:
    """Agreement of a column's values with what a meaning looks like; an empty column neither can nor cannot."""
    return LOOKS[looks](values) if values.filled else NEUTRAL


def total_score(header: float, agreement: Fit) -> float:
    """Header and values together: a header is worth what the values allow; values that speak add to it."""
    return 1 - (1 - header * agreement.can) * (1 - agreement.says * (0.75 if header < 0.2 else 1.0))
