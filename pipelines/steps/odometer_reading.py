"""Every odometer reading in miles, what is wrong with it, and which are used: held against the vehicle's own history.

The rule, in its order. Most vehicles need only the first four points; the rest is for those with a contradiction.

1. What a person decided about a reading stands: it is used as they said, or left out, and never doubted.
2. 0 is no reading (`not_read`), unless on the vehicle's first day, with no more than 1,000 miles and 150 a day to the
   next reading. A reading on leaving that is lower than the one on arrival by no more than 1,000 miles is left out
   (`below_in`). It counts on the day the order was closed, or on which the vehicle next came in, if that is earlier.
3. Readings are taken by day, those of one day by miles. Two readings agree where the later one is not lower, is not
   more than 1,000 miles and 500 a day above the earlier one, and is not the arrival of an order whose reading on
   leaving is lower. Where at least five legs of a fortnight or more, from one reading to the next, tell a vehicle's
   usual miles a day (their median; legs that do not agree left aside), the later one is also not more than 5,000 miles,
   and for each day five times the usual (150 at the least), above the earlier one.
4. A vehicle whose readings each agree with the one before is believed.
5. Sure readings. Of all chains of readings in which each agrees with the one before, those with most visits are taken.
   A reading is sure where it is on one of them, and there is no reading of another visit, nor one of its own visit
   that it contradicts, that could stand in its place on one. What contradicts a decided reading is on no chain.
6. Whole stretches are looked at where some reading is not sure: from a break (a reading that contradicts the one
   before) on, up to one, or between two; not where there are more than twelve. The explanations are:
   - `rollover`: 100,000 (or 1,000,000) more from a break on, where the number before it was in the upper half of the
     odometer's round, and that after it in the lower; the longest chain gains two visits;
   - `unit`: a stretch of at least two readings, and at most a third of all, times 1.609344 or divided by it; the
     longest chain gains a visit. The usual miles a day (over sure readings now, by legs of a fortnight) within and
     without, two legs in each, are then nearer to each other than the square root of 1.609344.
   Where the stretch begins and ends the leg is what the usual miles a day give, of two legs outside the edges at the
   least, give or take 1,000 miles and all (`rollover`) or half of it (`unit`). The explanation that gains most is
   applied, the shortest, then the first of them, unless one of another kind gains as much. Where there is none, and the
   readings can be parted in time so that each side has a chain of two visits or more, both together three more than the
   longest, the cluster was replaced (`cluster_replaced`): the side with fewer miles is left out, then that with fewer
   readings, then the later. All this three times at the most.
7. Where a doubted reading should lie. Beside a sure reading of its order: within 50 miles, on the right side of it.
   Between sure readings of earlier and later days: on the straight line, give or take six times the vehicle's scatter
   (the median distance of its sure readings from the line between their neighbours, by the root of the days; 100 where
   fewer than three tell) times the root of the days. Before the first or after the last: at its median miles a day from
   three legs of a fortnight or more, give or take six times the median distance from that. 50 miles at the least, and
   never beyond the sure readings around it. A doubted reading that agrees with what is fixed and lies there is sure
   after all, unless it contradicts another such one.
8. Slips. Any other is corrected where exactly one value explains it: of all that another unit, a full round more, a
   digit too many, two neighbours swapped, a digit missing or a wrong digit would have turned into what is written, only
   one lies there, and the range is so narrow that this is no accident (`odometer_slip.WIDEST`). Corrections that
   contradict each other are dropped. Everything else is left out.
9. Names. A reading left out is `cluster_replaced` where everything before the first or after the last sure day is left
   out and never falls over two days or more. Else it is called after the slip, where values of one kind alone lie where
   it should (the other unit, a digit too many or missing count in any range, the other kinds in a narrow one). Else
   it is `below_in`, `rollback`, `too_many_miles_a_day` or `contradicts`, as it lies beside the sure readings around it.

Corrections stand beside what was written, are listed by `odometer_faults_sql`, and are undone by a decision.
"""

from __future__ import annotations

from longmile.pipelines.steps.odometer_chain import (
    MILES_A_DAY,
    MILES_AT_ONCE,
    OWN_AT_LEAST,
    OWN_AT_ONCE,
    OWN_TIMES,
)
from longmile.pipelines.steps.odometer_named import CHANGED_COLUMNS
from longmile.pipelines.steps.odometer_stretch import LEAST_DAYS
from longmile.schemas.lives import MILES_DECIMALS
from longmile.schemas.units import KM_PER_MILE

LEGS_TO_KNOW = 5
"""Legs from which a vehicle's usual miles a day are known well enough to hold a reading against them."""

DECIDED_SQL = """
    CREATE OR REPLACE TEMP TABLE decided_odometer AS
    SELECT subject, answer->>'use' AS use, (answer->>'miles')::DOUBLE AS miles
    FROM (SELECT subject, answer::JSON AS answer, decision_no FROM decision, asked
      WHERE decision_kind = 'odometer' AND decided_at <= asked.known_at)
    QUALIFY row_number() OVER (PARTITION BY subject ORDER BY decision_no DESC) = 1"""
"""Statement making `decided_odometer`: what people said of readings; one taken back has neither use nor miles."""


def odometer_reading_sql(default_unit: str) -> str:
    """SELECT giving every reading on or before the as-of date, in miles, with what people decided about it.

    default_unit: `mi` or `km`, where neither the order nor the vehicle it was written for says. Void orders and those
    that are another order give no reading. A reading on leaving a little below the one on arrival is left out from the
    start.
    """
    return f"""
        WITH stated AS (
          SELECT s.vehicle_id, s.repair_order_id, s.opened_on, least(coalesce(s.closed_on, s.opened_on),
              lead(s.opened_on) OVER (PARTITION BY s.vehicle_id ORDER BY s.opened_on, s.repair_order_id)) AS left_on,
            s.odometer_in, s.odometer_out, coalesce(s.odometer_unit, v.odometer_unit, '{default_unit}') AS unit
          FROM settled_repair_order s JOIN settled_vehicle USING (vehicle_id)
          JOIN current_repair_order o USING (repair_order_id)
          JOIN current_vehicle v ON v.vehicle_id = o.vehicle_id, asked
          WHERE coalesce(s.status, '') NOT IN ('void', 'duplicate') AND s.opened_on <= asked.as_of),
        told AS (
          SELECT *, 'in' AS which, opened_on AS read_on, odometer_in AS odometer_written, false AS is_below FROM stated
          UNION ALL
          SELECT stated.*, 'out', left_on, odometer_out, odometer_out < odometer_in AND odometer_in - odometer_out
            <= {MILES_AT_ONCE} * CASE unit WHEN 'km' THEN {KM_PER_MILE} ELSE 1 END
          FROM stated, asked WHERE odometer_out IS NOT NULL AND left_on <= asked.as_of),
        in_miles AS (
          SELECT t.*, round(odometer_written / CASE unit WHEN 'km' THEN {KM_PER_MILE} ELSE 1 END, {MILES_DECIMALS})
            AS written_miles, d.use, d.miles, d.use IS NOT NULL OR d.miles IS NOT NULL AS is_decided
          FROM told t LEFT JOIN decided_odometer d ON d.subject = t.repair_order_id || '|' || t.which)
        SELECT vehicle_id, repair_order_id, which, read_on, odometer_written, unit AS written_unit, written_miles,
          coalesce(miles, written_miles) AS odometer_miles,
          CASE WHEN is_decided THEN coalesce(use, '') <> 'leave_out' ELSE NOT is_below END AS is_used,
          CASE WHEN is_below AND NOT is_decided THEN 'below_in' ELSE 'none' END AS fault,
          CASE WHEN is_decided THEN 'decided' WHEN is_below THEN 'left_out' ELSE 'as_written' END AS treatment,
          CASE WHEN use = 'leave_out' THEN 'decided' WHEN is_below AND NOT is_decided THEN 'below_in' END AS reason,
          NULL::DOUBLE AS prior_miles, NULL::DOUBLE AS next_miles
        FROM in_miles"""


NOT_READ_SQL = f"""
    UPDATE odometer_reading AS r SET is_used = false, fault = 'not_read', treatment = 'left_out', reason = 'not_read'
    FROM (
      SELECT vehicle_id, min(read_on) AS first_on, min(read_on) FILTER (odometer_miles > 0) AS next_on,
        arg_min(odometer_miles, ROW(read_on, odometer_miles)) FILTER (odometer_miles > 0) AS next_miles
      FROM odometer_reading WHERE vehicle_id IN (SELECT vehicle_id FROM odometer_reading WHERE written_miles = 0)
      GROUP BY vehicle_id) AS v
    WHERE r.vehicle_id = v.vehicle_id AND r.written_miles = 0 AND r.treatment = 'as_written' AND (r.read_on > v.first_on
      OR v.next_miles > {MILES_AT_ONCE} + {OWN_AT_LEAST} * date_diff('day', r.read_on, next_on))"""
"""Statement leaving out readings of 0 that stand for none."""

DOUBTED_READING_SQL = f"""
    WITH leg AS (
      SELECT vehicle_id, odometer_miles - lag(odometer_miles) OVER so_far AS miles,
        date_diff('day', lag(read_on) OVER so_far, read_on) AS days,
        repair_order_id = lag(repair_order_id) OVER so_far AND which = 'in' AS is_in_after_out
      FROM odometer_reading WHERE is_used
      WINDOW so_far AS (PARTITION BY vehicle_id ORDER BY read_on, odometer_miles, repair_order_id, which)),
    pace AS (
      SELECT vehicle_id, count(*) AS n, median(miles / days) AS usual FROM leg
      WHERE days >= {LEAST_DAYS} AND miles BETWEEN 0 AND {MILES_AT_ONCE} + {MILES_A_DAY} * days GROUP BY vehicle_id),
    suspect AS (
      SELECT DISTINCT vehicle_id, CASE WHEN n >= {LEGS_TO_KNOW} THEN usual END AS usual
      FROM leg LEFT JOIN pace USING (vehicle_id)
      WHERE miles < 0 OR (is_in_after_out AND miles > 0) OR miles > {MILES_AT_ONCE} + {MILES_A_DAY} * days
        OR (n >= {LEGS_TO_KNOW}
          AND miles > {OWN_AT_ONCE} + greatest({OWN_AT_LEAST}, {OWN_TIMES} * usual) * days))
    SELECT r.vehicle_id, r.repair_order_id, r.which, r.read_on, r.odometer_written, r.written_unit, r.odometer_miles,
      r.treatment = 'decided' AS is_fixed, s.usual
    FROM odometer_reading r JOIN suspect s USING (vehicle_id) WHERE r.is_used"""
"""SELECT giving the readings of vehicles of which one contradicts the reading before it; what `found_faults` takes."""

SETTLE_READINGS_SQL = f"""
    UPDATE odometer_reading AS r SET {", ".join(f"{name} = d.{name}" for name in CHANGED_COLUMNS[2:])}
    FROM doubted_reading AS d WHERE r.repair_order_id = d.repair_order_id AND r.which = d.which"""
"""Statement taking over what `found_faults` found, put in place as `doubted_reading`."""


def odometer_faults_sql() -> str:
    """SELECT giving every reading that is not used as written, first the subject of a decision on it."""
    return """
        SELECT repair_order_id || '|' || which AS subject, vehicle_id, read_on,
          CASE which WHEN 'in' THEN 'on arrival' ELSE 'on leaving' END AS reading,
          odometer_written AS written, written_unit AS unit, round(written_miles, 1) AS written_miles,
          round(CASE WHEN is_used THEN odometer_miles END, 1) AS used_miles, fault, treatment,
          round(prior_miles, 1) AS prior_miles, round(next_miles, 1) AS next_miles
        FROM odometer_reading WHERE fault <> 'none' OR treatment <> 'as_written'
        ORDER BY vehicle_id, read_on, repair_order_id, which"""
