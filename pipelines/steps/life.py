"""Lives: every touched socket's miles cut at the work done on it, and the vehicle's whole set of sockets likewise.

Only sockets on which something was done are written out. The rest of a vehicle's sockets ran through its window
untouched; they are the same for every component, so they are never multiplied out: `untouched` counts them.
"""

from __future__ import annotations

from longmile.schemas.lives import MILES_DECIMALS

SOCKET_POINT_SQL = """
    CREATE OR REPLACE TEMP TABLE socket_point AS
    WITH placed AS (
      SELECT e.*, w.first_miles, w.last_miles, w.origin FROM socket_end e JOIN vehicle_window w USING (vehicle_id))
    SELECT 'socket' AS unit, vehicle_id, engine_family, component_code, position, odometer_miles, first_miles,
      last_miles, origin, is_failure, renews, false AS is_mixed, is_position_known, reason, repair_order_id,
      install_order_id, sound_at, part_origin, supplier, location
    FROM placed
    UNION ALL
    SELECT 'vehicle', vehicle_id, any_value(engine_family), component_code, 'set', odometer_miles,
      any_value(first_miles), any_value(last_miles), any_value(origin), bool_or(is_failure),
      count(*) FILTER (renews) >= any_value(n_sockets),
      bool_or(renews) AND count(*) FILTER (renews) < any_value(n_sockets), bool_and(is_position_known),
      min_by(reason, (NOT is_failure, reason_rank)),
      min_by(repair_order_id, (NOT is_failure, reason_rank, repair_order_id)),
      min(install_order_id), min(sound_at) FILTER (is_failure), min(part_origin), min(supplier), min(location)
    FROM placed GROUP BY vehicle_id, component_code, odometer_miles"""
"""Statement making `socket_point`: the odometers at which a socket, or a vehicle's set of them, was worked on.

A set is renewed only when all its sockets are renewed at once; when some are, its parts are of mixed age (`is_mixed`)
and its lives are not continued until the next time all are renewed. Its reason and order are those of the first of its
sockets by failure, then reason, then order number."""

LIFE_SQL = f"""
    WITH points AS (
      FROM socket_point
      UNION ALL BY NAME
      SELECT unit, vehicle_id, any_value(engine_family) AS engine_family, component_code, position,
        any_value(first_miles) AS odometer_miles, any_value(first_miles) AS first_miles,
        any_value(last_miles) AS last_miles, any_value(origin) AS origin, false AS is_failure, false AS renews,
        false AS is_mixed, true AS is_position_known
      FROM socket_point GROUP BY unit, vehicle_id, component_code, position
      HAVING min(odometer_miles) > any_value(first_miles)),
    cut AS (
      SELECT *, lead(odometer_miles) OVER socket AS next_miles, lead(is_failure) OVER socket AS next_failure,
        lead(reason) OVER socket AS next_reason, lead(repair_order_id) OVER socket AS next_order,
        lead(sound_at) OVER socket AS next_sound, lead(is_position_known) OVER socket AS next_known,
        last_value(CASE WHEN renews THEN odometer_miles END IGNORE NULLS) OVER so_far AS installed_miles,
        last_value(CASE WHEN renews THEN {{'o': install_order_id, 'p': part_origin, 's': supplier, 'l': location}} END
          IGNORE NULLS) OVER so_far AS installed,
        last_value(CASE WHEN renews THEN false WHEN is_mixed THEN true END IGNORE NULLS) OVER so_far AS is_mixed_now
      FROM points
      WINDOW socket AS (PARTITION BY unit, vehicle_id, component_code, position ORDER BY odometer_miles),
        so_far AS (PARTITION BY unit, vehicle_id, component_code, position ORDER BY odometer_miles
          ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW)),
    aged AS (
      SELECT *, coalesce(installed_miles, 0) AS start_miles, coalesce(next_miles, last_miles) AS end_miles
      FROM cut WHERE coalesce(next_miles, last_miles) > odometer_miles AND NOT coalesce(is_mixed_now, false))
    SELECT unit, vehicle_id, engine_family, component_code, position, coalesce(next_known, true) AS is_position_known,
      row_number() OVER (PARTITION BY unit, vehicle_id, component_code, position ORDER BY odometer_miles) AS life_no,
      CASE WHEN installed_miles IS NULL THEN origin ELSE 'replacement' END AS origin,
      start_miles, round(odometer_miles - start_miles, {MILES_DECIMALS}) AS entry_miles,
      round(end_miles - start_miles, {MILES_DECIMALS}) AS exit_miles,
      CASE WHEN next_miles IS NULL THEN 'running' WHEN next_failure THEN 'failed' ELSE 'removed' END AS outcome,
      coalesce(next_failure, false) AS is_event,
      CASE WHEN next_failure AND next_sound IS NOT NULL
        THEN round(greatest(next_sound, odometer_miles) - start_miles, {MILES_DECIMALS}) END AS last_sound_miles,
      next_reason AS reason, next_order AS end_order_id, installed.o AS install_order_id, installed.p AS part_origin,
      installed.s AS supplier, installed.l AS location
    FROM aged"""
"""SELECT for `life`. A socket's points, its first reading among them, cut its miles; the age of what is in it counts
from the last renewal, or from 0 on the odometer where there was none."""

WALK_IN_SQL = """
    SELECT vehicle_id, engine_family, component_code, position, is_position_known, odometer_miles, repair_order_id,
      reason
    FROM socket_point WHERE unit = 'socket' AND is_failure AND odometer_miles <= first_miles"""
"""SELECT for `walk_in`: failures at the very reading at which watching begins."""

TOUCHED_SQL = """
    CREATE OR REPLACE TEMP TABLE touched AS
    SELECT unit, vehicle_id, any_value(engine_family) AS engine_family, component_code,
      count(DISTINCT position) AS n_touched, any_value(first_miles) AS first_miles, any_value(last_miles) AS last_miles
    FROM socket_point GROUP BY unit, vehicle_id, component_code"""
"""Statement making `touched`: sockets (or sets) with lives of their own, which are taken out of the shared windows."""

IDENTITY_SQL = """
    WITH own AS (
      SELECT vehicle_id, component_code, sum(exit_miles - entry_miles) AS miles
      FROM life WHERE unit = 'socket' GROUP BY ALL)
    SELECT t.vehicle_id, t.component_code, coalesce(o.miles, 0) AS life_miles,
      t.n_touched * (t.last_miles - t.first_miles) AS window_miles
    FROM touched t LEFT JOIN own o USING (vehicle_id, component_code)
    WHERE t.unit = 'socket' AND abs(coalesce(o.miles, 0) - t.n_touched * (t.last_miles - t.first_miles)) > 1e-6
    ORDER BY ALL"""
"""Offenders against the identity: the lives of the touched sockets add up to touched sockets x
(last - first reading)."""
