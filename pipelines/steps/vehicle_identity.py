"""Which vehicles are one: the same identification number under several of the shop's own numbers.

The rule. A number is read in capitals, without spaces and signs between. Where it holds the letters O or I, which no
number has, they are read as 0 and 1 if the check digit then holds, and not otherwise. Vehicles with the same number of
17 allowed signs, whether or not its check digit holds (outside North America the ninth sign may be anything), are one
vehicle if they say the same engine family; a number of fewer than 5 different signs, or one that more than 5 vehicles
bear, fills a field and joins nothing. They count as the one that landed first. A person's decision comes before all of
this: `join` to another vehicle, or `apart`.
Nothing is changed in the vehicle table: who is joined stands in `vehicle_identity`, and is undone by a decision.
"""

from __future__ import annotations

from longmile.pipelines.sql import literal
from longmile.schemas.vin import (
    CHECK_PLACE,
    FEWEST_SIGNS,
    FIRST_YEAR,
    LETTER_VALUES,
    LETTERS,
    VIN_LENGTH,
    VIN_SIGNS,
    WEIGHTS,
    YEAR_PLACE,
    YEAR_SIGNS,
)

MOST_JOINED = 5
"""Vehicles of one number that are still believed to be one (our own choice)."""


def _rest(vin: str) -> str:
    """SQL for the check digit that belongs to a number of 17 allowed signs."""
    digits = f"translate({vin}, '{LETTERS}', '{LETTER_VALUES}')"
    terms = " + ".join(
        f"{w} * TRY_CAST(substr({digits}, {place}, 1) AS INT)" for place, w in enumerate(WEIGHTS, 1) if w
    )
    return f"CASE ({terms}) % 11 WHEN 10 THEN 'X' ELSE (({terms}) % 11)::VARCHAR END"


def _is_allowed(vin: str) -> str:
    return f"regexp_full_match({vin}, '[{VIN_SIGNS}]{{{VIN_LENGTH}}}')"


def _holds(vin: str) -> str:
    return f"coalesce({_is_allowed(vin)} AND substr({vin}, {CHECK_PLACE}, 1) = {_rest(vin)}, false)"


_YEAR = f"{FIRST_YEAR - 1} + nullif(instr('{YEAR_SIGNS}', substr(vin_read, {YEAR_PLACE}, 1)), 0)"

VIN_READING_SQL = f"""
    CREATE OR REPLACE TEMP TABLE vin_reading AS
    WITH written AS (
      SELECT vehicle_id, engine_family, model_year, landed_at, row_number, nullif(trim(vin), '') AS vin_as_written,
        nullif(regexp_replace(upper(vin), '[^A-Z0-9]', '', 'g'), '') AS plain,
        replace(replace(plain, 'O', '0'), 'I', '1') AS mended
      FROM current_vehicle),
    judged AS (
      SELECT *, CASE
        WHEN plain IS NULL THEN 'absent'
        WHEN length(plain) <> {VIN_LENGTH} THEN 'wrong_length'
        WHEN len(list_distinct(string_split(plain, ''))) < {FEWEST_SIGNS} THEN 'placeholder'
        WHEN {_holds("plain")} THEN 'sound'
        WHEN plain <> mended AND {_holds("mended")} THEN 'repaired'
        WHEN {_is_allowed("plain")} THEN 'check_digit_differs'
        ELSE 'sign_not_allowed' END AS vin_state,
        CASE WHEN vin_state = 'repaired' THEN mended ELSE plain END AS vin_read
      FROM written)
    SELECT *, CASE WHEN vin_state IN ('sound', 'repaired') AND model_year IS NOT NULL AND {_YEAR} IS NOT NULL
      THEN model_year IN ({_YEAR}, {_YEAR} + {len(YEAR_SIGNS)}) END AS is_year_agreeing
    FROM judged"""
"""Statement making `vin_reading`: every current vehicle with what its number says. The year's sign is looked at only in
numbers whose check digit holds: the others may use the tenth sign otherwise."""

_STANDING_SQL = """
    SELECT subject AS vehicle_id, answer->>'join' AS join_to, coalesce((answer->>'apart')::BOOLEAN, false) AS is_apart
    FROM (SELECT subject, answer::JSON AS answer, decision_no FROM decision, asked
      WHERE decision_kind = 'vehicle' AND decided_at <= asked.known_at)
    QUALIFY row_number() OVER (PARTITION BY subject ORDER BY decision_no DESC) = 1"""

VEHICLE_JOIN_SQL = f"""
    CREATE OR REPLACE TEMP TABLE vehicle_join AS
    WITH decided AS ({_STANDING_SQL}),
    read AS (
      SELECT v.*, coalesce(d.is_apart, false) AS is_apart, o.vehicle_id AS decided_to
      FROM vin_reading v LEFT JOIN decided d USING (vehicle_id)
      LEFT JOIN vin_reading o ON o.vehicle_id = d.join_to AND o.vehicle_id <> v.vehicle_id),
    shared AS (
      SELECT vin_read, count(*) AS n, count(DISTINCT engine_family) AS n_families,
        min_by(vehicle_id, (landed_at, vehicle_id)) AS first_id
      FROM read
      WHERE vin_state IN ('sound', 'repaired', 'check_digit_differs') AND NOT is_apart AND decided_to IS NULL
      GROUP BY vin_read HAVING count(*) > 1)
    SELECT r.*,
      CASE WHEN decided_to IS NOT NULL THEN decided_to
        WHEN s.vin_read IS NOT NULL AND NOT is_apart AND n <= {MOST_JOINED} AND n_families = 1 THEN first_id
        ELSE vehicle_id END AS joined_vehicle_id,
      CASE WHEN decided_to IS NOT NULL THEN 'decided_join'
        WHEN is_apart THEN 'decided_apart'
        WHEN s.vin_read IS NULL THEN 'alone'
        WHEN n > {MOST_JOINED} THEN 'not_joined_too_many'
        WHEN n_families > 1 THEN 'not_joined_families_differ'
        ELSE 'same_vin' END AS join_basis
    FROM read r LEFT JOIN shared s ON s.vin_read = r.vin_read
      AND r.vin_state IN ('sound', 'repaired', 'check_digit_differs') AND decided_to IS NULL"""
"""Statement making `vehicle_join`: the vehicle each counts as, one step."""

FOLLOW_JOINS_SQL = """
    UPDATE vehicle_join AS v SET joined_vehicle_id = t.joined_vehicle_id FROM vehicle_join AS t
    WHERE t.vehicle_id = v.joined_vehicle_id AND t.joined_vehicle_id <> v.joined_vehicle_id
      AND t.joined_vehicle_id <> v.vehicle_id"""
"""Follows a join to where that vehicle is joined in turn; run until it changes nothing."""

UNSETTLED_JOINS_SQL = """
    SELECT count(*) FROM vehicle_join v JOIN vehicle_join t ON t.vehicle_id = v.joined_vehicle_id
    WHERE t.joined_vehicle_id <> t.vehicle_id AND t.joined_vehicle_id <> v.vehicle_id"""

BREAK_RINGS_SQL = """
    UPDATE vehicle_join SET joined_vehicle_id = vehicle_id, join_basis = 'alone'
    WHERE joined_vehicle_id <> vehicle_id AND joined_vehicle_id IN (
      SELECT vehicle_id FROM vehicle_join WHERE joined_vehicle_id <> vehicle_id)"""
"""Decisions that lead round in a ring join nothing."""

VEHICLE_IDENTITY_SQL = """
    SELECT vehicle_id, vin_as_written, vin_read, vin_state, is_year_agreeing, joined_vehicle_id, join_basis,
      count(*) OVER (PARTITION BY joined_vehicle_id) AS n_joined
    FROM vehicle_join"""
"""SELECT for `vehicle_identity`."""


def joined_vehicle_sql(vehicle_id: str) -> str:
    """The other vehicles that count as the same one as this: SELECT giving their own numbers."""
    same = f"SELECT joined_vehicle_id FROM vehicle_identity WHERE vehicle_id = {literal(vehicle_id)}"
    return f"SELECT vehicle_id FROM vehicle_identity WHERE joined_vehicle_id IN ({same}) ORDER BY vehicle_id"
