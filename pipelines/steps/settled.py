"""The records as lives are cut from them: loaded rows with what was settled about vehicles, orders and texts laid over.

Views only; the trade tables stay as loaded. A vehicle counts as the one it is joined to. An order accepted as a
duplicate, or as part of another, has the status `duplicate` and counts for nothing. A line without a component has
those that were read from its text, one row for each (`mention_no`, from 1): its price and hours are shared out evenly
among them, and its quantity is left out where there are several. Action, position and reason are taken from the text
where the line gives none.
"""

from __future__ import annotations

JOINED_REPAIR_ORDER_SQL = """
    CREATE OR REPLACE TEMP VIEW joined_repair_order AS
    SELECT o.* REPLACE (coalesce(i.joined_vehicle_id, o.vehicle_id) AS vehicle_id)
    FROM current_repair_order o LEFT JOIN vehicle_identity i USING (vehicle_id)"""

LEFT_OUT_ORDER_SQL = """
    CREATE OR REPLACE TEMP TABLE left_out_order AS
    SELECT DISTINCT CASE WHEN link_kind = 'part_of' AND n_lines_shared < n_lines THEN earlier_order_id
      ELSE repair_order_id END AS repair_order_id
    FROM order_link WHERE link_state = 'accepted' AND link_kind IN ('duplicate', 'part_of')"""
"""Statement making `left_out_order`: of two orders that are one, the later; of a part and its whole, the part."""

PLACED_WITH_SQL = """
    CREATE OR REPLACE TEMP TABLE placed_with AS
    SELECT repair_order_id, min(earlier_order_id) AS earlier_order_id
    FROM order_link WHERE link_state = 'accepted' AND link_kind = 'reopened' GROUP BY ALL"""
"""Statement making `placed_with`: reopened orders that count at the mileage of the one before."""

SETTLED_VEHICLE_SQL = """
    CREATE OR REPLACE TEMP VIEW settled_vehicle AS
    SELECT v.* FROM current_vehicle v JOIN vehicle_identity i USING (vehicle_id)
    WHERE i.joined_vehicle_id = v.vehicle_id"""

SETTLED_REPAIR_ORDER_SQL = """
    CREATE OR REPLACE TEMP VIEW settled_repair_order AS
    SELECT o.* REPLACE (CASE WHEN x.repair_order_id IS NOT NULL THEN 'duplicate' ELSE o.status END AS status)
    FROM joined_repair_order o LEFT JOIN left_out_order x USING (repair_order_id)"""

SETTLED_REPAIR_LINE_SQL = """
    CREATE OR REPLACE TEMP VIEW settled_repair_line AS
    WITH mention AS (
      SELECT *, count(*) OVER (PARTITION BY repair_order_id, line_no) AS n_mentions
      FROM coded_line WHERE coding_state = 'coded')
    SELECT l.* REPLACE (
        coalesce(l.component_code, m.component_code) AS component_code,
        coalesce(l.position, m.position) AS position,
        coalesce(l.action, m.action) AS action,
        coalesce(l.reason, m.reason) AS reason,
        CASE WHEN m.n_mentions > 1 THEN NULL ELSE l.quantity END AS quantity,
        l.labor_hours / coalesce(m.n_mentions, 1) AS labor_hours,
        l.cost_cents // coalesce(m.n_mentions, 1)
          + CASE WHEN m.mention_no <= l.cost_cents % m.n_mentions THEN 1 ELSE 0 END AS cost_cents,
        l.price_cents // coalesce(m.n_mentions, 1)
          + CASE WHEN m.mention_no <= l.price_cents % m.n_mentions THEN 1 ELSE 0 END AS price_cents),
      coalesce(m.mention_no, 1) AS mention_no, m.coding_state IS NOT NULL AS is_coded
    FROM current_repair_line l LEFT JOIN mention m USING (repair_order_id, line_no)"""

SETTLED_VIEWS: tuple[str, ...] = (
    LEFT_OUT_ORDER_SQL,
    PLACED_WITH_SQL,
    SETTLED_VEHICLE_SQL,
    SETTLED_REPAIR_ORDER_SQL,
    SETTLED_REPAIR_LINE_SQL,
)
"""In order; they need `vehicle_identity`, `order_link` and `coded_line` filled, and `joined_repair_order` made."""
