"""Their values to ours, for columns of closed lists; what is not known stays as it is and is named."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from longmile.pipelines.maps.evidence_lists import ours
from longmile.pipelines.maps.evidence_values import Values

LIST_OF: Mapping[str, str] = {
    "kind": "kind",
    "action": "action",
    "reason": "reason",
    "part_origin": "origin",
    "status": "status",
    "odometer_unit": "odometer_unit",
    "component_code": "component",
    "measure": "measure",
    "unit": "unit",
    "check": "check",
    "stage": "stage",
    "passed": "yes_no",
}
"""Meaning -> the list its values are of."""
_FLAGS: Mapping[str, Mapping[str, str]] = {
    "is_void": {"true": "void", "false": ""},
    "is_open": {"true": "open", "false": "closed"},
    "is_closed": {"true": "closed", "false": "open"},
    "is_part": {"true": "part", "false": "labor"},
    "is_labor": {"true": "labor", "false": "part"},
}
MOST_NAMED = 8


def translations(
    meaning: str, values: Values, language: str, only: Sequence[str] | None = None
) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """(theirs, ours) of each value that is known and written otherwise, and the values that are not known.

    only: the values that stand in rows of the table; None: all.
    """
    if meaning not in LIST_OF and meaning not in _FLAGS:
        return (), ()
    known: list[tuple[str, str]] = []
    unknown: list[str] = []
    for cell in _distinct(values, only):
        code = ours(LIST_OF.get(meaning, "yes_no"), cell, language)
        if not code:
            unknown.append(cell)
        elif meaning in _FLAGS:
            known.append((cell, _FLAGS[meaning][code]))
        elif cell != code:
            known.append((cell, code))
    return tuple(known), tuple(unknown)


def _distinct(values: Values, only: Sequence[str] | None) -> list[str]:
    """Different values, one for those that differ in capitals only, the commonest first."""
    cells = [cell for cell in values.counts if only is None or cell in only]
    return list({cell.lower(): cell for cell in reversed(cells)}.values())[::-1]
