"""How a file's sound rows join what is already known: repeats, replacements, withdrawals. As SQL.

The rule. A row that says what the standing row of the same key says is a repeat. A row of the same key that says
something else replaces it. A file that holds again at least one standing row's key of a repair order is a re-export of
that order: standing rows of the order that the file no longer has are withdrawn. A file that only adds keys to an
order adds rows. What is replaced or withdrawn stays in the table with the moment from which it no longer stood.
"""

from __future__ import annotations

from longmile.pipelines.sql import column_list
from longmile.schemas.contract import Table
from longmile.schemas.store import VERSION_COLUMNS


def known_sql(table: Table, distinct: str, quarantined: str, known: str) -> str:
    """Statement making the temporary table `known`: rows whose key already stands, with `standing` = same or changed.

    distinct: the file's rows without repeats, typed. quarantined: those of them that are set aside, by `row_number`.
    """
    same = " AND ".join(f't."{c.name}" IS NOT DISTINCT FROM s."{c.name}"' for c in table.columns)
    return f"""
        CREATE OR REPLACE TEMP TABLE {known} AS
        SELECT s.row_number, {", ".join(f's."{name}"' for name in table.key)},
          CASE WHEN {same} THEN 'same' ELSE 'changed' END AS standing
        FROM {distinct} s JOIN "{table.name}" t ON t.superseded_at IS NULL AND {_key_match(table, "t", "s")}
        ANTI JOIN {quarantined} q ON q.row_number = s.row_number"""


def replace_sql(table: Table, known: str) -> str:
    """Statement that ends the standing of rows replaced by changed ones (parameters: moment, file_id)."""
    return f"""
        UPDATE "{table.name}" AS t SET superseded_at = ?, superseded_by = ?
        FROM (SELECT * FROM {known} WHERE standing = 'changed') AS s
        WHERE t.superseded_at IS NULL AND {_key_match(table, "t", "s")}"""


def withdraw_sql(table: Table, staged: str) -> str:
    """Statement that ends the standing of rows a re-export no longer has (parameters: moment, file_id, file_id).

    A row that the file has but that is quarantined keeps its standing version: the export did not withdraw it. Run
    before this file's own rows are added.
    """
    order = table.order_column
    return f"""
        UPDATE "{table.name}" AS t SET superseded_at = ?, superseded_by = ?
        WHERE t.superseded_at IS NULL AND t.file_id <> ?
          AND t."{order}" IN (
            SELECT DISTINCT s."{order}" FROM {staged} s JOIN "{table.name}" k
            ON k.superseded_at IS NULL AND {_key_match(table, "k", "s")})
          AND NOT EXISTS (SELECT 1 FROM {staged} s WHERE {_key_match(table, "t", "s")})"""


def add_sql(table: Table, distinct: str, quarantined: str, known: str) -> str:
    """Statement that adds new and changed rows to the table: neither set aside nor known as they are."""
    own = column_list(table.columns)
    where_from = column_list(c for c in VERSION_COLUMNS if not c.name.startswith("superseded"))
    return f"""
        INSERT INTO "{table.name}" ({own}, {where_from}) SELECT {own}, {where_from} FROM {distinct} ANTI JOIN (
          SELECT row_number FROM {quarantined} UNION ALL SELECT row_number FROM {known} WHERE standing = 'same')
        USING (row_number)"""


def _key_match(table: Table, left: str, right: str) -> str:
    return " AND ".join(f'{left}."{k}" IS NOT DISTINCT FROM {right}."{k}"' for k in table.key)
