"""Repair lines read from their text: `coded_line` and `coding_model`, from what is known at the moment asked about."""

from __future__ import annotations

from longmile.pipelines.store.store import Store
from longmile.schemas.coding import CODED_LINE, CODING_MODEL

_LINES_SQL = """
    SELECT l.repair_order_id, l.line_no, l.kind, l.component_code, l.position, l.action, l.reason, l.description,
      l.cause, l.correction, o.concern
    FROM current_repair_line l LEFT JOIN current_repair_order o USING (repair_order_id)"""

_DECISIONS_SQL = """
    SELECT subject, answer FROM decision, asked WHERE decision_kind = 'line' AND decided_at <= asked.known_at
    QUALIFY row_number() OVER (PARTITION BY subject ORDER BY decision_no DESC) = 1"""


def code_lines(store: Store) -> None:
    """Read the lines that name no component, and what is missing on the others; nothing where there is no line."""
    from longmile.pipelines.steps.coded_line import coded_lines

    found = coded_lines(store.frame(_LINES_SQL), store.frame(_DECISIONS_SQL))
    store.replace(CODED_LINE, found.coded_line)
    store.replace(CODING_MODEL, found.coding_model)
