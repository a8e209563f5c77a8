"""What each repair line is used for, and the jobs made of the lines that may end a life.

A job is all lines for one component on one vehicle at one odometer reading: the labour and the part, and an order
reopened before the vehicle moved, are one job and end a socket's life once. Where its lines give several reasons the
first of this order counts: failed, worn, found_at_inspection, preventive, access, recall, customer_request, unknown.
Lines of the same reason: the first by order number, then by line number.

May end a life: `replaced` or `repaired`, not a fee, and no part line whose quantity is 0 or less, nor any line whose
quantity is below 0: something handed back. On labour and sublet lines exports write 0 for a quantity they do not keep.
A sound inspection: `inspected` on a placed visit for another reason than a failure.
"""

from __future__ import annotations

from longmile.pipelines.sql import literals
from longmile.schemas.vocabulary import FAILURE_REASONS, REASONS

REASON_RANK = "CASE reason " + " ".join(f"WHEN '{r}' THEN {i}" for i, r in enumerate(REASONS, 1)) + " END"
"""SQL for the rank of a reason: the lowest of a job counts."""


def failure_reasons_sql(unknown_is_failure: bool) -> str:
    """The reasons that count as a failure, as an SQL list; whether `unknown` does is a setting."""
    return literals((*FAILURE_REASONS, "unknown") if unknown_is_failure else FAILURE_REASONS)


def line_class_sql() -> str:
    """Statement making `line_class`: every current line with its order, vehicle and provisional use.

    A part line without an action takes that of another line, of whatever kind, for the same component on the same
    order: `replaced` if one says so, else `repaired`. `job` lines may end a life; every other use is final.
    """
    failures = literals(FAILURE_REASONS)
    return f"""
        CREATE OR REPLACE TEMP TABLE line_class AS
        WITH joined AS (
          SELECT l.repair_order_id, l.line_no, l.mention_no, l.kind, l.component_code, l.position, l.quantity,
            l.part_origin, l.supplier, coalesce(l.reason, 'unknown') AS reason,
            o.repair_order_id IS NULL AS is_order_missing,
            coalesce(l.action, CASE WHEN l.kind = 'part' THEN max(l.action)
              FILTER (l.action IN ('replaced', 'repaired'))
              OVER (PARTITION BY l.repair_order_id, l.component_code) END) AS action,
            o.status, o.opened_on, o.vehicle_id, v.vehicle_id IS NULL AS is_vehicle_missing, f.engine_family,
            c.component_code IS NULL AS is_unknown_component, c.socket_scheme, c.is_service_item,
            c.is_renewed_by_repair, s.odometer_miles, s.location
          FROM settled_repair_line l
          LEFT JOIN settled_repair_order o USING (repair_order_id)
          LEFT JOIN settled_vehicle v ON v.vehicle_id = o.vehicle_id
          LEFT JOIN current_engine_family f ON f.engine_family = v.engine_family
          LEFT JOIN component c ON c.component_code = l.component_code
          LEFT JOIN visit s ON s.repair_order_id = l.repair_order_id),
        unsure AS (SELECT DISTINCT repair_order_id, line_no FROM coded_line WHERE coding_state = 'unsure')
        SELECT j.*, {REASON_RANK} AS reason_rank,
          action = 'replaced' OR (action = 'repaired' AND is_renewed_by_repair) AS renews,
          CASE
            WHEN is_order_missing THEN 'order_missing'
            WHEN status = 'void' THEN 'void_order'
            WHEN status = 'duplicate' THEN 'duplicate_order'
            WHEN opened_on > asked.as_of THEN 'after_as_of'
            WHEN is_vehicle_missing THEN 'vehicle_missing'
            WHEN engine_family IS NULL THEN 'family_missing'
            WHEN component_code IS NULL AND u.line_no IS NOT NULL THEN 'unsure_text'
            WHEN component_code IS NULL THEN 'no_component'
            WHEN is_unknown_component THEN 'unknown_component'
            WHEN is_service_item THEN 'service_item'
            WHEN action = 'declined' THEN 'declined'
            WHEN action = 'inspected' AND reason NOT IN {failures} AND odometer_miles IS NOT NULL
              THEN 'sound_inspection'
            WHEN NOT coalesce(action IN ('replaced', 'repaired') AND kind <> 'fee'
                AND (coalesce(quantity, 1) > 0 OR (quantity = 0 AND kind <> 'part')), false)
              THEN 'no_end'
            WHEN odometer_miles IS NULL THEN 'unplaced_visit'
            ELSE 'job' END AS use
        FROM asked, joined j LEFT JOIN unsure u USING (repair_order_id, line_no)"""


def line_use_sql(unknown_is_failure: bool) -> str:
    """SELECT for `line_use`: the line whose reason counts stands for its job, the job's other lines are `same_job`.

    A job of which any socket ended by a failure is a failure: there a line that gives such a reason stands for it.
    """
    return f"""
        WITH ended AS (
          SELECT vehicle_id, component_code, odometer_miles, bool_or(is_failure) AS is_failure
          FROM socket_end GROUP BY ALL),
        ranked AS (
          SELECT l.repair_order_id, l.line_no, l.mention_no, e.is_failure,
            l.odometer_miles <= w.first_miles AS is_first_visit,
            row_number() OVER (PARTITION BY l.vehicle_id, l.component_code, l.odometer_miles
              ORDER BY e.is_failure AND l.reason NOT IN {failure_reasons_sql(unknown_is_failure)}, l.reason_rank,
                l.repair_order_id, l.line_no, l.mention_no) AS place
          FROM line_class l JOIN vehicle_window w USING (vehicle_id)
          LEFT JOIN ended e USING (vehicle_id, component_code, odometer_miles) WHERE l.use = 'job')
        SELECT repair_order_id, line_no, mention_no, CASE
            WHEN is_failure IS NULL THEN 'no_end'
            WHEN place > 1 THEN 'same_job'
            WHEN is_first_visit THEN CASE WHEN is_failure THEN 'walk_in' ELSE 'first_visit_removal' END
            WHEN is_failure THEN 'failure' ELSE 'removal' END AS use
        FROM ranked
        UNION ALL SELECT repair_order_id, line_no, mention_no, use FROM line_class WHERE use <> 'job'"""
