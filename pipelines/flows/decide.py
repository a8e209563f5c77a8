"""Decisions of people taken into the store: appended, numbered and dated, never changed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import polars as pl

from longmile.pipelines.store.store import Store
from longmile.schemas.decision import DECISION


@dataclass(frozen=True)
class Decided:
    """One decision: its kind (of `schemas.decision`), its subject, the answer (None takes an earlier one back)."""

    kind: str
    subject: str
    answer: dict[str, Any] | None
    by: str = ""
    note: str = ""


def take_decisions(store: Store, made: Sequence[Decided], now: datetime) -> int:
    """Append the decisions in one transaction; returns how many. Each moment is later than every earlier one."""
    if not made:
        return 0
    with store.transaction():
        last_no, last_at = store.rows("SELECT coalesce(max(decision_no), 0), max(decided_at) FROM decision")[0]
        first = now if last_at is None else max(now, last_at + timedelta(microseconds=1))
        rows = [
            {
                "decision_no": last_no + number,
                "decided_at": first + timedelta(microseconds=number - 1),
                "decision_kind": one.kind,
                "subject": one.subject,
                "answer": json.dumps(one.answer, ensure_ascii=False, sort_keys=True),
                "decided_by": one.by or None,
                "note": one.note or None,
            }
            for number, one in enumerate(made, 1)
        ]
        return store.append(DECISION, pl.DataFrame(rows, infer_schema_length=None))
