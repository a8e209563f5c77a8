"""Lines whose text leaves it unsure what they are about, by how much they would change the numbers.

Lines that say the same are one question. The weight of a question is the sum, over the engine families its lines are
on, of the chance that the likeliest component is right, times the lines, divided by one more than the failures that
component has there so far: with 3 failures known, 2 lines at a chance of one half weigh 0.25.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.spreadsheet import write_table
from longmile.pipelines.store.store import Store

TEXT_SUBJECT, LINE_SUBJECT = "text", "line"
"""How a subject begins: `text|<key>` for all lines that say the same, `line|<order>|<line>` for one."""


@dataclass(frozen=True)
class Question:
    """One text to decide about. likely: the likeliest component, None where nothing speaks for any."""

    subject: str
    n_lines: int
    weight: float
    likely: str | None
    confidence: float | None
    because: str
    description: str
    cause: str
    correction: str
    concern: str
    example: str


_QUESTIONS_SQL = """
    WITH unsure AS (
      SELECT c.text_key, c.component_code, c.confidence, c.because, c.repair_order_id, c.line_no, v.engine_family
      FROM coded_line c JOIN settled_repair_order o USING (repair_order_id) JOIN settled_vehicle v USING (vehicle_id)
      WHERE c.coding_state = 'unsure'
      QUALIFY row_number() OVER (PARTITION BY c.repair_order_id, c.line_no ORDER BY c.confidence DESC NULLS LAST,
        c.mention_no) = 1),
    failed AS (
      SELECT component_code, engine_family, count(*) AS n FROM life WHERE unit = 'socket' AND is_event GROUP BY ALL),
    weighed AS (
      SELECT u.*, coalesce(u.confidence, 0) / (1 + coalesce(f.n, 0)) AS weight
      FROM unsure u LEFT JOIN failed f USING (component_code, engine_family)),
    asked_about AS (
      SELECT text_key, count(*) AS n_lines, sum(weight) AS weight, any_value(component_code) AS likely,
        any_value(confidence) AS confidence, any_value(because) AS because,
        arg_min((repair_order_id, line_no), (repair_order_id, line_no)) AS first
      FROM weighed GROUP BY text_key)
    SELECT 'text|' || text_key, n_lines, weight, likely, a.confidence, coalesce(because, ''),
      coalesce(l.description, ''),
      coalesce(l.cause, ''), coalesce(l.correction, ''), coalesce(o.concern, ''),
      l.repair_order_id || ' line ' || l.line_no
    FROM asked_about a JOIN current_repair_line l ON (l.repair_order_id, l.line_no) = a.first
    LEFT JOIN current_repair_order o USING (repair_order_id)
    ORDER BY weight DESC, n_lines DESC, text_key"""


def questions(store: Store) -> tuple[Question, ...]:
    """The open questions of the last run, those that would change the numbers most first."""
    return tuple(Question(*row) for row in store.rows(_QUESTIONS_SQL))


def export_questions(asked: Sequence[Question], path: Path) -> int:
    """Write the questions with an empty column `answer`; returns how many. LongmileError where there is none."""
    if not asked:
        raise LongmileError("review: no line is unsure. Expected at least one; nothing was written.")
    header = (
        "decision_kind", "subject", "answer", "note", "likely", "confidence", "lines", "weight", "description", "cause",
        "correction", "concern", "example", "because",
    )  # fmt: skip
    rows = [
        [
            "line", one.subject, None, None, one.likely, f"{one.confidence or 0:.2f}", str(one.n_lines),
            f"{one.weight:.3f}", one.description, one.cause, one.correction, one.concern, one.example, one.because,
        ]
        for one in asked
    ]  # fmt: skip
    notes = {"answer": "A component code, with position, action and reason if known; several by semicolon; or none."}
    write_table(path, {"line": (header, rows)}, notes)
    return len(rows)
