"""Orders of one vehicle that may be one: the same work under two numbers, split, merged or reopened orders.

The rule. Two orders of one vehicle opened at most 30 days apart are compared by their lines (component, or else its
words; kind of line; price), each line once. With `a` the later and `b` the earlier:
- `duplicate`: at most 3 days and 5 miles apart and at least 7 of 10 lines of the two in common, or the same number but
  for letters, signs and leading zeros at the start, on one day;
- `part_of`: at most 3 days and 5 miles apart, all lines of the one are among the other's, which has more;
- `reopened`: the number is the other's with one to three signs added (-1, /A, R2), at most 500 miles apart;
- `same_visit`: one day, at most 5 miles apart, no line in common. It changes nothing: work at one mileage is one job.
The first three are proposals. Accepted, a duplicate and a part_of are left out (their lines count once), a reopened
order counts at the mileage of the one before. Nothing is merged without a decision, and each can be taken back.
"""

from __future__ import annotations

from longmile.schemas.units import KM_PER_MILE

DAYS_ALIKE, MILES_ALIKE, SHARE_ALIKE = 3, 5.0, 0.7
DAYS_REOPENED, MILES_REOPENED = 30, 500.0
"""Our own choices; on each the pages show what was found, so that a shop can judge them."""


def order_brief_sql(default_unit: str) -> str:
    """Statement making `order_brief`: what orders are first compared by; default_unit as in `odometer_reading_sql`."""
    return f"""
        CREATE OR REPLACE TEMP TABLE order_brief AS
        SELECT o.repair_order_id, o.vehicle_id, o.opened_on, o.total_cents,
          o.odometer_in / CASE coalesce(o.odometer_unit, v.odometer_unit, '{default_unit}')
            WHEN 'km' THEN {KM_PER_MILE} ELSE 1 END AS miles,
          upper(trim(o.repair_order_id)) AS number,
          regexp_replace(upper(o.repair_order_id), '^[^0-9]*0*', '') AS bare_number
        FROM joined_repair_order o JOIN current_vehicle v USING (vehicle_id), asked
        WHERE o.status IS DISTINCT FROM 'void' AND o.opened_on <= asked.as_of"""


LINE_MARK_SQL = """
    CREATE OR REPLACE TEMP TABLE line_mark AS
    WITH near AS (
      SELECT repair_order_id FROM order_pair UNION SELECT earlier_order_id FROM order_pair)
    SELECT l.repair_order_id, concat_ws('|', l.kind, coalesce(l.component_code,
        lower(regexp_replace(concat_ws(' ', l.description, l.correction), '\\s+', ' ', 'g'))), l.price_cents) AS mark,
      row_number() OVER (PARTITION BY l.repair_order_id, mark ORDER BY l.line_no) AS mark_no
    FROM current_repair_line l SEMI JOIN near USING (repair_order_id)"""
"""Statement making `line_mark`: what lines are compared by, the second of two equal ones apart from the first."""

ORDER_PAIR_SQL = f"""
    CREATE OR REPLACE TEMP TABLE order_pair AS
    SELECT a.repair_order_id, b.repair_order_id AS earlier_order_id,
      date_diff('day', b.opened_on, a.opened_on) AS days_apart,
      abs(a.miles - b.miles) AS miles_apart, a.bare_number = b.bare_number AND a.bare_number <> '' AS is_same_number,
      starts_with(a.number, b.number) AND regexp_full_match(substr(a.number, length(b.number) + 1),
        '[-/. ][A-Z0-9]{{1,2}}|[A-Z][0-9]?') AS is_number_added,
      a.total_cents = b.total_cents AS is_same_total
    FROM order_brief a JOIN order_brief b ON a.vehicle_id = b.vehicle_id
      AND (b.opened_on, b.repair_order_id) < (a.opened_on, a.repair_order_id)
      AND a.opened_on <= b.opened_on + {DAYS_REOPENED}
    WHERE miles_apart <= CASE WHEN days_apart <= {DAYS_ALIKE} AND NOT is_number_added THEN {MILES_ALIKE}
      WHEN is_number_added THEN {MILES_REOPENED} ELSE -1 END"""
"""Statement making `order_pair`: the pairs near enough in time and miles to be looked at."""

_STANDING_SQL = """
    SELECT split_part(subject, '|', 1) AS repair_order_id, split_part(subject, '|', 2) AS earlier_order_id,
      answer->>'link' AS answer
    FROM (SELECT subject, answer::JSON AS answer, decision_no FROM decision, asked
      WHERE decision_kind = 'order_link' AND decided_at <= asked.known_at)
    QUALIFY row_number() OVER (PARTITION BY subject ORDER BY decision_no DESC) = 1"""

ORDER_LINK_SQL = f"""
    WITH counted AS (SELECT repair_order_id, count(*) AS n FROM line_mark GROUP BY ALL),
    shared AS (
      SELECT p.repair_order_id, p.earlier_order_id, count(*) AS n_shared
      FROM order_pair p JOIN line_mark a ON a.repair_order_id = p.repair_order_id
        JOIN line_mark b ON b.repair_order_id = p.earlier_order_id AND b.mark = a.mark AND b.mark_no = a.mark_no
      GROUP BY ALL),
    compared AS (
      SELECT p.*, coalesce(s.n_shared, 0) AS n_shared, coalesce(a.n, 0) AS n_own, coalesce(b.n, 0) AS n_other,
        n_shared / greatest(n_own + n_other - n_shared, 1) AS share
      FROM order_pair p LEFT JOIN shared s USING (repair_order_id, earlier_order_id)
      LEFT JOIN counted a ON a.repair_order_id = p.repair_order_id
      LEFT JOIN counted b ON b.repair_order_id = p.earlier_order_id),
    named AS (
      SELECT *, CASE
        WHEN days_apart <= {DAYS_ALIKE} AND miles_apart <= {MILES_ALIKE}
          AND (share >= {SHARE_ALIKE} OR (is_same_number AND days_apart = 0)) THEN 'duplicate'
        WHEN days_apart <= {DAYS_ALIKE} AND miles_apart <= {MILES_ALIKE} AND n_shared > 0
          AND n_shared = least(n_own, n_other) THEN 'part_of'
        WHEN is_number_added THEN 'reopened'
        WHEN days_apart = 0 AND n_shared = 0 THEN 'same_visit' END AS link_kind
      FROM compared)
    SELECT n.repair_order_id, n.earlier_order_id, link_kind,
      CASE WHEN link_kind = 'same_visit' THEN 'noted' WHEN d.answer = 'accept' THEN 'accepted'
        WHEN d.answer = 'refuse' THEN 'refused' ELSE 'proposed' END AS link_state,
      round(CASE link_kind WHEN 'duplicate' THEN greatest(share, {SHARE_ALIKE}) - 0.1 * days_apart
          + CASE WHEN is_same_total THEN 0.1 ELSE 0 END - 0.1
        WHEN 'part_of' THEN share WHEN 'reopened' THEN 0.9 - days_apart / 100.0 ELSE 0 END, 3) AS likeness,
      n_shared AS n_lines_shared, n_own AS n_lines, days_apart,
      concat_ws('; ', n_shared || ' of ' || n_own || ' and ' || n_other || ' lines in common',
        days_apart || CASE days_apart WHEN 1 THEN ' day' ELSE ' days' END || ' and ' || round(miles_apart)::BIGINT
          || ' miles apart',
        CASE WHEN is_same_number THEN 'the same number but for how it begins' END,
        CASE WHEN is_number_added THEN 'the number with something added' END,
        CASE WHEN is_same_total THEN 'the same total' END) AS because
    FROM named n LEFT JOIN ({_STANDING_SQL}) d USING (repair_order_id, earlier_order_id)
    WHERE link_kind IS NOT NULL"""
"""SELECT for `order_link`."""

DAYS_COMEBACK, MILES_COMEBACK = 90, 4_000.0
"""What counts as coming back: both within (common practice, no source; shops differ)."""

COMEBACK_SQL = f"""
    WITH ends AS (
      SELECT e.vehicle_id, e.component_code, e.position, e.odometer_miles, e.is_failure, e.repair_order_id, v.opened_on,
        lag(e.repair_order_id) OVER socket AS earlier_order_id, lag(v.opened_on) OVER socket AS earlier_on,
        lag(e.odometer_miles) OVER socket AS earlier_miles
      FROM socket_end e JOIN visit v USING (repair_order_id)
      WINDOW socket AS (PARTITION BY e.vehicle_id, e.component_code, e.position ORDER BY e.odometer_miles)),
    judged AS (
      SELECT *, coalesce(is_failure AND date_diff('day', earlier_on, opened_on) BETWEEN 0 AND {DAYS_COMEBACK}
        AND odometer_miles - earlier_miles <= {MILES_COMEBACK}, false) AS is_comeback
      FROM ends),
    chained AS (
      SELECT *, sum((NOT is_comeback)::INT) OVER (PARTITION BY vehicle_id, component_code, position
        ORDER BY odometer_miles) AS chain
      FROM judged)
    SELECT repair_order_id, component_code, position, earlier_order_id,
      date_diff('day', earlier_on, opened_on) AS days_apart, odometer_miles - earlier_miles AS miles_apart,
      first_value(repair_order_id) OVER whole AS first_order_id, row_number() OVER whole - 1 AS chain_no
    FROM chained
    WINDOW whole AS (PARTITION BY vehicle_id, component_code, position, chain ORDER BY odometer_miles)
    QUALIFY is_comeback"""
"""SELECT for `comeback`: work on a socket that failed again soon after work on it. Each stays the failure it is: it
ends the life of the part put in before. The chain is for people, and for what a warranty costs."""
