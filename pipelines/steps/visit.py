"""Every order that counts, placed at a mileage: its own used reading, or the date between two used readings."""

from __future__ import annotations

from longmile.schemas.lives import MILES_DECIMALS

VISIT_SQL = f"""
    WITH read_here AS (
      SELECT repair_order_id, coalesce(min(odometer_miles) FILTER (which = 'in'), min(odometer_miles)) AS odometer_miles
      FROM odometer_reading WHERE is_used GROUP BY repair_order_id),
    by_day AS (
      SELECT vehicle_id, read_on, min(odometer_miles) AS low, max(odometer_miles) AS high
      FROM odometer_reading WHERE is_used GROUP BY vehicle_id, read_on),
    counted AS (
      SELECT o.repair_order_id, o.vehicle_id, o.location, o.opened_on, r.odometer_miles
      FROM settled_repair_order o JOIN settled_vehicle v USING (vehicle_id)
      LEFT JOIN read_here r USING (repair_order_id), asked
      WHERE coalesce(o.status, '') NOT IN ('void', 'duplicate') AND o.opened_on <= asked.as_of),
    earlier AS (
      SELECT c.*, d.read_on AS before_on, d.high AS before_miles
      FROM counted c ASOF LEFT JOIN by_day d ON c.vehicle_id = d.vehicle_id AND c.opened_on >= d.read_on),
    between_two AS (
      SELECT e.*, d.read_on AS after_on, d.low AS after_miles
      FROM earlier e ASOF LEFT JOIN by_day d ON e.vehicle_id = d.vehicle_id AND e.opened_on <= d.read_on),
    placed AS (
      SELECT *, CASE
        WHEN before_on IS NULL OR after_on IS NULL THEN NULL
        WHEN after_on = before_on THEN before_miles
        ELSE round(before_miles + (after_miles - before_miles) * date_diff('day', before_on, opened_on)
          / date_diff('day', before_on, after_on), {MILES_DECIMALS}) END AS by_date_miles
      FROM between_two),
    own AS (
      SELECT *, coalesce(odometer_miles, by_date_miles) AS own_miles,
        CASE WHEN odometer_miles IS NOT NULL THEN 'read'
          WHEN by_date_miles IS NOT NULL THEN 'by_date' ELSE 'unplaced' END AS own_basis
      FROM placed)
    SELECT p.repair_order_id, p.vehicle_id, p.location, p.opened_on,
      coalesce(e.own_miles, p.own_miles) AS odometer_miles,
      CASE WHEN e.own_miles IS NOT NULL THEN 'reopened' ELSE p.own_basis END AS basis
    FROM own p LEFT JOIN placed_with w USING (repair_order_id)
    LEFT JOIN own e ON e.repair_order_id = w.earlier_order_id AND e.vehicle_id = p.vehicle_id"""
"""SELECT for `visit`. Without a used reading of its own, an order lies on the straight line, by date, between the used
readings before and after it, and on a day with used readings at the highest of that day; where there is none before or
none after, it is unplaced, and ends no life. An order of which only the reading on leaving is used lies there. A
reopened order, where a person says it is one, lies with the order before."""
