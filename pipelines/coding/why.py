"""Reason of a component: its own, then the line's, then the symptom for what was worked on first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from longmile.pipelines.coding.component_groups import AGEING, FLUIDS, LET_OUT_BY, MEASURED, WEAR_PARTS
from longmile.pipelines.coding.occurrences import Gathered, Occurrence
from longmile.pipelines.coding.reasons import strongest
from longmile.pipelines.coding.statuses import DONE
from longmile.schemas.vocabulary import BY_CODE

MOST_UNTOLD = 2
"""Words that were not understood, from which on they are taken for a trouble told of what was then repaired."""


@dataclass(frozen=True)
class Line:
    """What a line says.   concern: what the customer said.   kept: components it is about.   first: the one worked on
    first.
    """

    kind: str
    found: Gathered
    concern: Gathered
    kept: Sequence[str]
    first: str


def reason_of(code: str, items: Sequence[Occurrence], action: str, line: Line) -> str:
    """Reason of a component; `unknown` where the texts do not say, and for what was found sound."""
    if action == "inspected" and any(item.is_sound for item in items):
        return "unknown"
    own = [reason for item in items for reason in item.reasons]
    reason = strongest([_as_worn(code, told) for told in (*own, *line.found.line_reasons)])
    reason = reason or _of_its_kind(code, line)
    if not reason and code == line.first:
        reason = _from_symptom(code, action, line)
    if reason == "failed" and code in WEAR_PARTS and not {"failed", "aged"} & set(own):
        return "worn"
    return reason or ("failed" if code == line.first and _tells_more(action, line) else "unknown")


def _of_its_kind(code: str, line: Line) -> str:
    """Reason that follows from the kind of component: a fluid let out, a thickness told; "" where none does."""
    words = line.found.words
    if code in FLUIDS and _is_let_out(code, line.kept) and not {"flush", "exchange"} & words:
        return "access"
    return "worn" if code in MEASURED and "<length>" in words and not line.found.is_loose_sound else ""


def _is_let_out(code: str, kept: Sequence[str]) -> bool:
    """Whether work on another component of the line lets the fluid out."""
    systems = LET_OUT_BY.get(code, frozenset())
    return any(not BY_CODE[other].is_service_item and BY_CODE[other].system in systems for other in kept)


def _from_symptom(code: str, action: str, line: Line) -> str:
    """Reason from symptoms that the texts tell of no part, or of parts that were not worked on."""
    found, concern = line.found, line.concern
    if action == "inspected":
        return "" if found.is_loose_sound else strongest([_as_worn(code, told) for told in found.loose])
    dropped = [reason for item in found.occurrences if item.code not in line.kept for reason in item.reasons]
    of_parts = [reason for item in concern.occurrences for reason in item.reasons]
    told = (*found.loose, *dropped, *concern.line_reasons, *concern.loose, *of_parts)
    return strongest([_as_worn(code, reason) for reason in told])


def _as_worn(code: str, reason: str) -> str:
    """`aged` as worn for parts that age (belts, hoses, tires, filters), as failed for others."""
    return reason if reason != "aged" else "worn" if code in AGEING else "failed"


def _tells_more(action: str, line: Line) -> bool:
    """Whether a labor line tells something that was not understood of what was then done."""
    return line.kind == "labor" and action in DONE and line.found.n_untold >= MOST_UNTOLD
