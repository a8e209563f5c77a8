"""How often what was settled before lives were cut: about what, what was found, what was done."""

from __future__ import annotations

SETTLED_COUNT_SQL = """
    SELECT 'vehicle' AS about, join_basis AS kind,
      CASE WHEN n_joined > 1 THEN 'joined' ELSE 'apart' END AS state, count(*) AS n
    FROM vehicle_identity WHERE join_basis <> 'alone' GROUP BY ALL
    UNION ALL SELECT 'vin', vin_state, 'noted', count(*) FROM vehicle_identity GROUP BY ALL
    UNION ALL SELECT 'vin', 'model_year_differs', 'noted', count(*) FROM vehicle_identity WHERE NOT is_year_agreeing
    UNION ALL SELECT 'odometer', fault, treatment, count(*) FROM odometer_reading
      WHERE fault <> 'none' OR treatment <> 'as_written' GROUP BY ALL
    UNION ALL SELECT 'order_link', link_kind, link_state, count(*) FROM order_link GROUP BY ALL
    UNION ALL SELECT 'comeback', component_name, 'counted', count(*)
      FROM comeback JOIN component USING (component_code) GROUP BY ALL
    UNION ALL SELECT 'text', coding_stage, coding_state, count(DISTINCT (repair_order_id, line_no))
      FROM coded_line GROUP BY ALL
    UNION ALL SELECT 'decision', decision_kind, CASE place WHEN 1 THEN 'standing' ELSE 'superseded' END, count(*) FROM (
      SELECT decision_kind, row_number() OVER (PARTITION BY decision_kind, subject ORDER BY decision_no DESC) AS place
      FROM decision, asked WHERE decided_at <= asked.known_at) GROUP BY ALL
    UNION ALL SELECT 'quarantine', 'returned', 'counted', count(*) FROM quarantined_row WHERE returned_at IS NOT NULL
    ORDER BY ALL"""
"""SELECT with columns about, kind, state, n."""
