"""Result frames for the pages, read from the store: one query a frame, no arithmetic beyond counting."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from importlib.metadata import version

import polars as pl

from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.personal import shortened_vins
from longmile.pipelines.steps.settled_count import SETTLED_COUNT_SQL
from longmile.pipelines.store.store import Store
from longmile.reports.frames import ResultFrames
from longmile.schemas.results import RESULT_TABLES

SAMPLE_ROWS_PER_RULE = 20
"""Quarantined rows shown on the page for each set of broken rules; all are in the published table."""

_QUERIES: dict[str, str] = {
    **{table.name: f"SELECT * FROM {table.name} ORDER BY ALL" for table in RESULT_TABLES},
    "component": "SELECT * FROM component ORDER BY component_code",
    "engine_family": "SELECT engine_family, description, cylinders, exhaust_valves_per_cylinder, "
    "intake_valves_per_cylinder FROM current_engine_family ORDER BY engine_family",
    "source_file": "SELECT f.* FROM source_file f, asked WHERE landed_at <= known_at ORDER BY landed_at",
    "source_part": "SELECT p.* FROM source_part p, asked WHERE landed_at <= known_at ORDER BY landed_at, part_name",
    "quarantined_row": f"""SELECT q.* FROM quarantined_row q, asked WHERE landed_at <= known_at
        QUALIFY row_number() OVER (PARTITION BY table_name, rules ORDER BY landed_at, row_number)
          <= {SAMPLE_ROWS_PER_RULE}
        ORDER BY table_name, rules, landed_at, row_number""",
    "evidence": """SELECT l.component_code, l.engine_family, l.end_order_id AS repair_order_id, o.opened_on, o.location,
        l.vehicle_id, l.start_miles + l.exit_miles AS odometer_miles, l.exit_miles AS age_miles, l.position, l.reason,
        o.concern, t.cause, t.correction, l.part_origin, l.supplier
        FROM life l JOIN current_repair_order o ON o.repair_order_id = l.end_order_id
        LEFT JOIN (SELECT repair_order_id, component_code, string_agg(DISTINCT cause, ' / ') AS cause,
            string_agg(DISTINCT correction, ' / ') AS correction
          FROM settled_repair_line GROUP BY ALL) t
          ON t.repair_order_id = l.end_order_id AND t.component_code = l.component_code
        WHERE l.unit = 'socket' AND l.is_event ORDER BY ALL""",
    "walk_in_count": "SELECT component_code, count(*) AS n_walk_ins, count(DISTINCT repair_order_id) AS n_orders "
    "FROM walk_in GROUP BY ALL ORDER BY ALL",
    "quarantine_count": """SELECT table_name, rule, count(*) AS n_rows FROM (
        SELECT table_name, unnest(string_split(rules, ', ')) AS rule FROM quarantined_row, asked
        WHERE landed_at <= known_at)
        GROUP BY ALL ORDER BY ALL""",
    "odometer_summary": "SELECT count(*) AS n_readings, count(*) FILTER (is_used) AS n_used FROM odometer_reading",
    "settled_count": SETTLED_COUNT_SQL,
    "coding_model": "SELECT * FROM coding_model ORDER BY ALL",
    "line_use_count": "SELECT use, count(*) AS n_lines FROM line_use GROUP BY ALL ORDER BY ALL",
    "visit_basis_count": "SELECT basis, count(*) AS n_visits FROM visit GROUP BY ALL ORDER BY ALL",
    "vehicle_window_summary": """SELECT count(*) AS n_vehicles, count(*) FILTER (origin = 'from_new') AS n_from_new,
        count(*) FILTER (last_miles <= first_miles) AS n_walk_once,
        coalesce(sum(last_miles - first_miles), 0) AS miles_watched FROM vehicle_window""",
    "check_result": """WITH latest AS (SELECT max(run_id) AS run_id FROM check_result WHERE file_id IS NULL)
        SELECT c.* FROM check_result c LEFT JOIN source_file f USING (file_id), asked
        WHERE coalesce(f.landed_at <= known_at, c.run_id = (SELECT run_id FROM latest))
        ORDER BY table_name, rule, f.landed_at, part_name""",
}


WITH_VINS = {"quarantined_row": ("raw_text", "reason"), "check_result": ("examples",)}
"""Frames with columns that may hold identification numbers, as shown in rows set aside."""


def shortened(query: str, columns: Sequence[str]) -> str:
    """The query with identification numbers in those columns cut to their last six signs."""
    if not columns:
        return query
    changed = ", ".join(f"{shortened_vins(column)} AS {column}" for column in columns)
    return f"SELECT * REPLACE ({changed}) FROM ({query})"


def result_frames(
    store: Store, settings: Settings, as_of: date, known_at: datetime, built_at: datetime
) -> ResultFrames:
    """Everything the pages say, as known at the moment asked (`store.ask`).

    check_result: rules on rows as each file was checked when it landed, rules on whole tables from the latest run.
    """
    frames: dict[str, pl.DataFrame] = {
        name: store.frame(query if settings.vins == "full" else shortened(query, WITH_VINS.get(name, ())))
        for name, query in _QUERIES.items()
    }
    return ResultFrames(
        **frames,
        shop_name=settings.name,
        as_of=as_of,
        known_at=known_at,
        built_at=built_at,
        version=version("longmile"),
        confidence=settings.confidence,
        currency=settings.currency,
    )
