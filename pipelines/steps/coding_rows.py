"""Rows of `coded_line` as they are put together: by text first, then at every line that says it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from longmile.pipelines.coding.mentions import Mention

TEXTS = ("kind", "description", "cause", "correction", "concern")
"""What a line says, in the order of `LineText`."""

KEY = ("repair_order_id", "line_no")
TOLD = ("component_code", "position", "action", "reason")
_TYPES: Mapping[str, pl.DataType] = {
    "mention_no": pl.Int64(),
    **dict.fromkeys(TOLD, pl.String()),
    "confidence": pl.Float64(),
    "coding_state": pl.String(),
    "coding_stage": pl.String(),
    "because": pl.String(),
    "model_version": pl.String(),
}
COLUMNS = (*KEY, *list(_TYPES)[:-1], "text_key", "model_version")


def told(mention: Mention | None) -> dict[str, str | None]:
    """Columns of one mention; what it does not say is empty."""
    if mention is None:
        return dict.fromkeys(TOLD)
    values = (mention.component_code, mention.position, mention.action, mention.reason)
    return {name: value or None for name, value in zip(TOLD, values, strict=True)}


def at_lines(lines: pl.DataFrame, rows: Sequence[Mapping[str, Any]], on: Sequence[str]) -> pl.DataFrame:
    """Rows of texts at every line that has the same in the columns named."""
    frame = pl.DataFrame(list(rows), schema={**dict.fromkeys(on, pl.String()), **_TYPES})
    return lines.select(*KEY, "text_key", *on).join(frame, on=list(on)).select(COLUMNS)
