"""The rows of a file that are looked at: the first 5,000, and 5,000 spread over the rest."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable

FIRST = 5_000
SPREAD = 5_000


def sample(raw: RawTable) -> pl.DataFrame:
    """Rows to look at, in the file's order, without their numbers; each value stripped, an empty one null."""
    rows = raw.rows.drop(ROW_NUMBER)
    if rows.height > FIRST + SPREAD:
        step = (rows.height - FIRST) / SPREAD
        places = [FIRST + int(place * step) for place in range(SPREAD)]
        rows = pl.concat([rows.head(FIRST), rows[places]])
    stripped = pl.all().str.strip_chars()
    return rows.select(pl.when(stripped != "").then(stripped).name.keep())
