"""Every odometer reading in miles, and which ones are used: a vehicle's readings must agree with one another.

The rule. Two readings of one vehicle contradict each other where the later one is lower, or where the miles between
them are more than 1,000 and 500 for each day between them. The reading that contradicts most others is left out; where
several contradict equally many, all of them are, since nothing tells which is wrong. Again, until no two contradict
each other. Left-out readings are kept, counted and shown; nothing is corrected here.
"""

from __future__ import annotations

from longmile.schemas.lives import MILES_DECIMALS
from longmile.schemas.units import KM_PER_MILE

MILES_AT_ONCE, MILES_A_DAY = 1_000, 500
"""No customer's vehicle does more: a long trip at once, and day after day (common practice, no source)."""


def odometer_reading_sql(default_unit: str) -> str:
    """SELECT giving every reading on or before the as-of date, in miles, all that can be used still marked so.

    default_unit: `mi` or `km`, where neither the order nor the vehicle says. A reading on leaving below the one on
    arrival is left out from the start (`below_in`). Void orders give no reading.
    """
    return f"""
        WITH stated AS (
          SELECT o.vehicle_id, o.repair_order_id, o.opened_on, coalesce(o.closed_on, o.opened_on) AS left_on,
            o.odometer_in, o.odometer_out,
            CASE coalesce(o.odometer_unit, v.odometer_unit, '{default_unit}')
              WHEN 'km' THEN {KM_PER_MILE} ELSE 1 END AS per_mile
          FROM current_repair_order o JOIN current_vehicle v USING (vehicle_id), asked
          WHERE o.status IS DISTINCT FROM 'void' AND o.opened_on <= asked.as_of)
        SELECT vehicle_id, repair_order_id, 'in' AS which, opened_on AS read_on,
          round(odometer_in / per_mile, {MILES_DECIMALS}) AS odometer_miles, true AS is_used, NULL::VARCHAR AS reason
        FROM stated
        UNION ALL
        SELECT vehicle_id, repair_order_id, 'out', left_on, round(odometer_out / per_mile, {MILES_DECIMALS}),
          odometer_out >= odometer_in, CASE WHEN odometer_out < odometer_in THEN 'below_in' END
        FROM stated, asked WHERE odometer_out IS NOT NULL AND left_on <= asked.as_of"""


CONTRADICTIONS_SQL = f"""
    CREATE OR REPLACE TEMP TABLE contradicting AS
    WITH used AS (
      SELECT vehicle_id, repair_order_id, which, read_on, odometer_miles,
        max(odometer_miles) OVER before AS highest_before,
        odometer_miles - {MILES_A_DAY} * date_diff('day', DATE '1900-01-01', read_on) AS ahead,
        min(ahead) OVER before AS least_ahead_before
      FROM odometer_reading WHERE is_used
      WINDOW before AS (PARTITION BY vehicle_id ORDER BY read_on, odometer_miles
        ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING)),
    suspect AS (
      SELECT DISTINCT vehicle_id FROM used
      WHERE odometer_miles < highest_before OR ahead - least_ahead_before > {MILES_AT_ONCE} - 1),
    kept AS (SELECT * FROM used WHERE vehicle_id IN (FROM suspect)),
    pairs AS (
      SELECT a.vehicle_id, a.repair_order_id AS order_a, a.which AS which_a, b.repair_order_id AS order_b,
        b.which AS which_b
      FROM kept a JOIN kept b ON a.vehicle_id = b.vehicle_id
        AND (a.read_on, a.odometer_miles, a.repair_order_id, a.which)
          < (b.read_on, b.odometer_miles, b.repair_order_id, b.which)
      WHERE (a.read_on < b.read_on AND b.odometer_miles < a.odometer_miles)
        OR b.odometer_miles - a.odometer_miles
          > {MILES_AT_ONCE} + {MILES_A_DAY} * date_diff('day', a.read_on, b.read_on)),
    counted AS (
      SELECT vehicle_id, repair_order_id, which, count(*) AS n FROM (
        SELECT vehicle_id, order_a AS repair_order_id, which_a AS which FROM pairs
        UNION ALL SELECT vehicle_id, order_b, which_b FROM pairs)
      GROUP BY ALL)
    SELECT vehicle_id, repair_order_id, which FROM counted
    QUALIFY n = max(n) OVER (PARTITION BY vehicle_id)"""
"""One pass: the readings that contradict most others, of each vehicle that still has contradictions.

Vehicles are first sifted by running extremes (`ahead`: miles beyond 500 a day), which miss none and let a mile more in:
neighbours in time may agree where readings further apart do not. Only the suspect ones are compared pair by pair."""

LEAVE_OUT_SQL = """
    UPDATE odometer_reading AS r SET is_used = false, reason = 'contradicts' FROM contradicting AS c
    WHERE r.vehicle_id = c.vehicle_id AND r.repair_order_id = c.repair_order_id AND r.which = c.which"""
"""Leaves out what the pass found. Run both until the pass finds nothing."""
