"""The miles each vehicle was watched: from its first used reading to its last. Nothing before, nothing after."""

from __future__ import annotations

from longmile.schemas.lives import FROM_NEW_BELOW_MILES, MILES_DECIMALS


def vehicle_window_sql(follow_up: str, cap_months: int) -> str:
    """SELECT for `vehicle_window`; vehicles of a family that has not landed have none, and their lines say so.

    follow_up `last_reading`: the window ends at the last used reading. `to_date`: it is carried on to the as-of date at
    the vehicle's own miles a day between its first and last reading, for at most cap_months; an assumption.
    """
    days_on = f"""date_diff('day', last_on, least(asked.as_of, (last_on + INTERVAL {cap_months} MONTH)::DATE))"""
    projected = f"""round(last_miles + CASE WHEN last_on > first_on THEN (last_miles - first_miles)
            / date_diff('day', first_on, last_on) * greatest(0, {days_on}) ELSE 0 END, {MILES_DECIMALS})"""
    return f"""
        WITH watched AS (
          SELECT vehicle_id, min(odometer_miles) AS first_miles, max(odometer_miles) AS last_miles,
            min(read_on) AS first_on, max(read_on) AS last_on
          FROM odometer_reading WHERE is_used GROUP BY vehicle_id),
        counted AS (SELECT vehicle_id, count(*) AS n_visits FROM visit GROUP BY vehicle_id)
        SELECT w.vehicle_id, v.engine_family, w.first_miles,
          {projected if follow_up == "to_date" else "w.last_miles"} AS last_miles,
          w.first_on, w.last_on, c.n_visits,
          CASE WHEN first_miles < {FROM_NEW_BELOW_MILES} THEN 'from_new' ELSE 'assumed_original' END AS origin
        FROM watched w JOIN settled_vehicle v USING (vehicle_id) JOIN counted c USING (vehicle_id)
          JOIN current_engine_family f USING (engine_family), asked"""
