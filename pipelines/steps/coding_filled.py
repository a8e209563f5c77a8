"""Lines that came with their component: what their text tells of it where the line leaves action, position or reason
empty. The component itself stays as it came.
"""

from __future__ import annotations

from typing import Any

import polars as pl

from longmile.pipelines.coding.mentions import mention_of
from longmile.pipelines.steps.coding_rows import COLUMNS, TEXTS, told

_OPEN = ("position", "action", "reason")


def filled(lines: pl.DataFrame, driver: str, version: str) -> pl.DataFrame:
    """Rows of `coded_line` for lines of which something was read; confidence is empty: no component was.

    An action counts only where words tell it, and a reason that is not told stays empty.
    """
    is_open = pl.any_horizontal(pl.col(name).is_null() for name in _OPEN)
    asked = lines.filter(is_open, pl.col("kind") != "fee")
    on = [*TEXTS, "component_code"]
    rows = [_row(row, driver) for row in asked.select(on).unique().sort(on).iter_rows()]
    read = pl.DataFrame(rows, schema=dict.fromkeys((*on, *(f"{name}_read" for name in _OPEN)), pl.String()))
    found = asked.join(read, on=on).with_columns(
        pl.when(pl.col(name).is_null()).then(f"{name}_read").alias(name) for name in _OPEN
    )
    return (
        found.filter(pl.any_horizontal(pl.col(name).is_not_null() for name in _OPEN))
        .with_columns(
            mention_no=pl.lit(1, pl.Int64),
            confidence=pl.lit(None, pl.Float64),
            coding_state=pl.lit("coded"),
            coding_stage=pl.lit("vocabulary"),
            because=pl.lit("the line's own component; its text tells the rest"),
            model_version=pl.lit(version),
        )
        .select(COLUMNS)
    )


def _row(row: tuple[str, ...], driver: str) -> dict[str, Any]:
    """What one text tells of the component it came with."""
    *texts, code = row
    said = dict(zip(TEXTS, texts, strict=True))
    mention = mention_of(code, said["kind"], said, driver)
    read = {f"{name}_read": value for name, value in told(mention).items() if name in _OPEN}
    if not mention.is_action_told:
        read["action_read"] = None
    if mention.reason == "unknown":
        read["reason_read"] = None
    return said | {"component_code": code} | read
