"""Rows set aside: every rule they broke, why in words, and the row as it came. As SQL."""

from __future__ import annotations

from longmile.pipelines.sql import literal
from longmile.schemas.contract import Table

_MOST_RAW_TEXT = 10_000
_MOST_VALUE = 200


def quarantined_sql(table: Table, staged: str, broken: str) -> str:
    """SELECT giving `row_number`, `rules`, `reason` and `raw_text` of the rows with an entry in `broken`.

    broken: relation with `row_number`, `place`, `rule`, `columns`, `value`, one row for each rule a row broke.
    raw_text: JSON of the row's texts by header of the neutral layout.
    """
    sentences = ", ".join(f"({literal(rule.name)}, {literal(rule.sentence)})" for rule in table.row_rules)
    texts = ", ".join(f"{literal(c.incoming)}: text_{c.name}" for c in table.columns)
    found = f"coalesce('\"' || left(value, {_MOST_VALUE}) || '\"', 'nothing')"
    return f"""
        SELECT row_number, told.rules, told.reason, left(to_json({{{texts}}})::VARCHAR, {_MOST_RAW_TEXT}) AS raw_text
        FROM {staged} JOIN (
          SELECT row_number, string_agg(rule, ', ' ORDER BY place) AS rules,
            string_agg(sentence || ' (found ' || {found} || ' in ' || columns || ')', '; ' ORDER BY place) AS reason
          FROM {broken} JOIN (VALUES {sentences}) AS stated(rule, sentence) USING (rule) GROUP BY row_number) AS told
        USING (row_number)"""
