"""What was done to which socket at which mileage: the ends from which lives are cut.

Positions. A line's position is read as a code of the family, one of its usual other spellings, several of either, or
`all`; where any part of it cannot be read, none of it is. Part lines without a readable position whose quantities, each
rounded to a whole number, together cover every socket are `all`, and so are the other lines of their job that name
none. Otherwise the lines of a job without a readable position, on a component with several sockets, speak of as many
sockets as the part lines among them say, and of one at least; it is not known which. They are taken to be the
never-named sockets first, then those not worked on for longest, then in order of position, and marked
`is_position_known = false`. On a job some of whose lines name positions, the lines that name none belong to those
positions.
"""

from __future__ import annotations

from longmile.pipelines.sql import literals
from longmile.pipelines.steps.line_use import REASON_RANK, failure_reasons_sql
from longmile.schemas.vocabulary import FAILURE_REASONS

_FAILED = literals(FAILURE_REASONS)

POSITION_READING_SQL = r"""
    CREATE OR REPLACE TEMP TABLE position_reading AS
    WITH written AS (
      SELECT DISTINCT engine_family, component_code, socket_scheme, position AS written
      FROM line_class WHERE use IN ('job', 'sound_inspection') AND position IS NOT NULL),
    whole AS (
      SELECT w.*, k.position IS NOT NULL OR s.position IS NOT NULL AS is_whole
      FROM written w
      LEFT JOIN socket k ON k.engine_family = w.engine_family AND k.component_code = w.component_code
        AND k.position = w.written
      LEFT JOIN position_spelling s ON s.socket_scheme = w.socket_scheme AND s.spelling = w.written),
    pieces AS (
      SELECT *, trim(unnest(CASE WHEN is_whole THEN [written]
        ELSE regexp_split_to_array(written, '[,;/&+]') END)) AS piece FROM whole),
    parts AS (
      SELECT p.*, unnest(CASE WHEN k.position IS NOT NULL OR s.position IS NOT NULL THEN [piece] ELSE
        list_filter(regexp_split_to_array(piece, '\s+'), lambda part: part <> '') END) AS part
      FROM pieces p
      LEFT JOIN socket k ON k.engine_family = p.engine_family AND k.component_code = p.component_code
        AND k.position = p.piece
      LEFT JOIN position_spelling s ON s.socket_scheme = p.socket_scheme AND s.spelling = p.piece),
    read AS (
      SELECT p.*, coalesce(k.position, CASE WHEN s.position = 'all' THEN 'all' ELSE m.position END) AS code
      FROM parts p
      LEFT JOIN socket k ON k.engine_family = p.engine_family AND k.component_code = p.component_code
        AND k.position = p.part
      LEFT JOIN position_spelling s ON s.socket_scheme = p.socket_scheme AND s.spelling = p.part
      LEFT JOIN socket m ON m.engine_family = p.engine_family AND m.component_code = p.component_code
        AND m.position = s.position),
    sound AS (
      SELECT engine_family, component_code, written, list(DISTINCT code) AS codes
      FROM read GROUP BY ALL HAVING bool_and(code IS NOT NULL))
    SELECT DISTINCT x.engine_family, x.component_code, x.written, k.position
    FROM sound x JOIN socket k ON k.engine_family = x.engine_family AND k.component_code = x.component_code
      AND (list_contains(x.codes, 'all') OR list_contains(x.codes, k.position))"""
"""Statement making `position_reading`: written position -> position codes; no row where it cannot be read. Spaces
separate only within a piece that is no code or spelling itself: `left front, right rear` is two, `cyl 1, cyl 3` too."""

JOB_LINE_SQL = """
    CREATE OR REPLACE TEMP TABLE job_line AS
    WITH counted AS (
      SELECT engine_family, component_code, min(n_sockets) AS n_sockets FROM socket GROUP BY ALL),
    read AS (
      SELECT l.*, n.n_sockets, r.position AS read_position
      FROM line_class l JOIN counted n USING (engine_family, component_code)
      LEFT JOIN position_reading r ON r.engine_family = l.engine_family AND r.component_code = l.component_code
        AND r.written = l.position
      WHERE l.use IN ('job', 'sound_inspection')),
    sized AS (
      SELECT *, least(n_sockets, greatest(1, coalesce(sum(round(coalesce(quantity, 1)))
        FILTER (use = 'job' AND kind = 'part' AND read_position IS NULL)
        OVER (PARTITION BY vehicle_id, component_code, odometer_miles), 1)))::BIGINT AS n_unplaced
      FROM read)
    SELECT s.*, coalesce(s.read_position, k.position) AS socket_position,
      s.read_position IS NULL AND k.position IS NULL AS is_unplaced
    FROM sized s
    LEFT JOIN socket k ON k.engine_family = s.engine_family AND k.component_code = s.component_code
      AND s.read_position IS NULL AND s.n_unplaced >= s.n_sockets"""
"""Statement making `job_line`: one row per line and socket it names; one row, unplaced, where it names none. On a job
the quantities of the part lines that name none are added up: two lines for one injector each are two injectors."""

_ATTRIBUTES = """min(reason_rank) AS reason_rank, min_by(reason, reason_rank) AS reason, bool_or(renews) AS renews,
        min_by(repair_order_id, (reason_rank, repair_order_id)) AS repair_order_id,
        min(repair_order_id) FILTER (renews) AS install_order_id, any_value(engine_family) AS engine_family,
        min(part_origin) FILTER (renews) AS part_origin, min(supplier) FILTER (renews) AS supplier,
        min(location) FILTER (renews) AS location, any_value(n_sockets) AS n_sockets"""

NAMED_END_SQL = f"""
    CREATE OR REPLACE TEMP TABLE named_end AS
    WITH unplaced AS (
      SELECT vehicle_id, component_code, odometer_miles, min(reason_rank) AS job_rank,
        min_by(reason, reason_rank) AS job_reason
      FROM job_line WHERE use = 'job' AND is_unplaced GROUP BY ALL),
    named AS (
      SELECT vehicle_id, component_code, odometer_miles, socket_position AS position, {_ATTRIBUTES}
      FROM job_line WHERE use = 'job' AND NOT is_unplaced GROUP BY ALL)
    SELECT n.* EXCLUDE (reason), true AS is_position_known,
      CASE WHEN n.reason = 'unknown' OR (u.job_reason IN {_FAILED}
          AND NOT bool_or(n.reason IN {_FAILED}) OVER (PARTITION BY n.vehicle_id, n.component_code, n.odometer_miles))
        THEN coalesce(u.job_reason, 'unknown') ELSE n.reason END AS reason
    FROM named n LEFT JOIN unplaced u USING (vehicle_id, component_code, odometer_miles)"""
"""Statement making `named_end`: work on sockets that are known. The reason of the job's lines that name no position
counts for the positions that give none, and for all of them where it says failed and none of theirs does."""

ONE_OF_SET_JOB_SQL = f"""
    CREATE OR REPLACE TEMP TABLE one_of_set_job AS
    WITH jobs AS (
      SELECT vehicle_id, component_code, odometer_miles, max(n_unplaced) AS n_ends, {_ATTRIBUTES}
      FROM job_line j WHERE use = 'job' AND is_unplaced
        AND NOT EXISTS (SELECT 1 FROM named_end n WHERE n.vehicle_id = j.vehicle_id
          AND n.component_code = j.component_code AND n.odometer_miles = j.odometer_miles)
      GROUP BY ALL)
    SELECT *, row_number() OVER (PARTITION BY vehicle_id, component_code ORDER BY odometer_miles) AS job_no FROM jobs"""
"""Statement making `one_of_set_job`: jobs on sockets that are not known, numbered within a vehicle's component."""

NO_ONE_OF_SET_END_SQL = "CREATE OR REPLACE TEMP TABLE one_of_set_end AS FROM named_end LIMIT 0"

ONE_OF_SET_END_SQL = """
    INSERT INTO one_of_set_end BY NAME
    WITH jobs AS (FROM one_of_set_job WHERE job_no = ?),
    worked_on AS (
      SELECT vehicle_id, component_code, e.position, bool_or(e.is_position_known) AS is_ever_named,
        max(e.odometer_miles) FILTER (e.odometer_miles < j.odometer_miles) AS last_at
      FROM jobs j JOIN (FROM named_end UNION ALL BY NAME FROM one_of_set_end) e USING (vehicle_id, component_code)
      GROUP BY ALL)
    SELECT j.* EXCLUDE (n_ends, job_no), k.position, false AS is_position_known
    FROM jobs j JOIN socket k USING (engine_family, component_code)
    LEFT JOIN worked_on w USING (vehicle_id, component_code, position)
    QUALIFY row_number() OVER (PARTITION BY vehicle_id, component_code
      ORDER BY coalesce(w.is_ever_named, false), w.last_at NULLS FIRST, k.position) <= n_ends"""
"""Statement adding to `one_of_set_end` the sockets of every vehicle's job number ?, given places by the rule above;
each job's depend on the ones before, so it is run for 1, 2, ... in turn."""


def socket_end_sql(unknown_is_failure: bool) -> str:
    """Statement making `socket_end`: work that ends a life, by failure or by renewing the part, and how it was found.

    `sound_at` is the odometer at which a failure found at inspection was last known not to be there: the last visit,
    since the socket's end before this one, at which it was inspected sound; else the visit before. An inspection speaks
    of the positions it names, and of all where none is written; one whose position cannot be read speaks of none.
    Inspections on the visit itself, or up to the visit at which the part was put in or put right, say nothing.
    """
    return f"""
        CREATE OR REPLACE TEMP TABLE socket_end AS
        WITH done AS (
          SELECT * EXCLUDE (reason_rank), {REASON_RANK} AS reason_rank,
            reason IN {failure_reasons_sql(unknown_is_failure)} AS is_failure
          FROM (FROM named_end UNION ALL BY NAME FROM one_of_set_end)),
        ends AS (
          SELECT *, lag(odometer_miles) OVER (PARTITION BY vehicle_id, component_code, position ORDER BY odometer_miles)
            AS began_at
          FROM done WHERE is_failure OR renews),
        found AS (FROM ends WHERE is_failure AND reason = 'found_at_inspection'),
        inspected AS (
          SELECT f.vehicle_id, f.component_code, f.position, f.odometer_miles, max(i.odometer_miles) AS inspected_at
          FROM found f JOIN job_line i ON i.use = 'sound_inspection' AND i.vehicle_id = f.vehicle_id
            AND i.component_code = f.component_code AND i.odometer_miles < f.odometer_miles
            AND i.odometer_miles > coalesce(f.began_at, -1)
            AND (i.position IS NULL OR i.n_sockets = 1 OR i.read_position = f.position)
          GROUP BY ALL),
        seen AS (
          SELECT f.vehicle_id, f.component_code, f.position, f.odometer_miles, max(v.odometer_miles) AS seen_at
          FROM found f JOIN visit v ON v.vehicle_id = f.vehicle_id AND v.odometer_miles < f.odometer_miles
          GROUP BY ALL)
        SELECT e.* EXCLUDE (began_at), coalesce(i.inspected_at, s.seen_at) AS sound_at
        FROM ends e
        LEFT JOIN inspected i USING (vehicle_id, component_code, position, odometer_miles)
        LEFT JOIN seen s USING (vehicle_id, component_code, position, odometer_miles)"""
