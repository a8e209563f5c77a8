"""Decisions that people made about the records: kept as made, dated, never changed; the latest for a subject stands."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table

DECISION_KINDS: tuple[str, ...] = ("line", "odometer", "vehicle", "order_link")
"""What a decision is about: the coding of a line, a reading, a vehicle's identity, two orders."""

DECISION = Table(
    "decision",
    "store",
    "One decision of a person about the records. Nothing is overwritten: the latest for a subject stands.",
    (
        Column("decision_no", "integer", "Number of the decision, from 1.", is_required=True),
        Column("decided_at", "moment", "When it was taken in (UTC); later than every earlier one.", is_required=True),
        Column("decision_kind", "text", "What it is about.", is_required=True, allowed=DECISION_KINDS),
        Column("subject", "text", "Which one: the key as written by the list it was taken from.", is_required=True),
        Column("answer", "text", "What was decided, as JSON; null takes an earlier decision back.", is_required=True),
        Column("decided_by", "text", "Who decided, as typed; empty where nobody said."),
        Column("note", "text", "Why, in that person's words."),
    ),
    key=("decision_no",),
)
