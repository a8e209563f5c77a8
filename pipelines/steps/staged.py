"""Text rows to typed rows, as SQL: what cannot be typed comes out empty beside its text, and no row is dropped."""

from __future__ import annotations

from longmile.pipelines.sql import literal
from longmile.schemas.contract import Column, Table

_WHOLE = r"[+-]?\d{1,15}(\.0+)?"
_NUMBER = r"[+-]?(\d{1,15}(\.\d*)?|\.\d+)"
_MONEY = r"[+-]?\d{1,13}(\.\d{1,2})?"
_DATE = r"\d{4}-\d{2}-\d{2}"


def staged_sql(table: Table, staged: str) -> str:
    """Statement making the temporary table `staged` from the raw rows of one part of one file ($file_id, $part_name).

    For each contract column both `text_<name>` and the typed `<name>`; `repeat_no` numbers rows that are the same to
    the letter, so that all but the first are repeats. Numbers: digits, one decimal point, no thousands sign. Money: at
    most two decimals, into whole cents. Dates: YYYY-MM-DD. Closed lists and positions: lower case.
    """
    numbered = f"row_number() OVER (PARTITION BY {_texts(table)} ORDER BY row_number) AS repeat_no"
    return f"""
        CREATE OR REPLACE TEMP TABLE {staged} AS
        SELECT {_columns(table)}, {numbered} FROM raw_{table.name} WHERE file_id = ? AND part_name = ?"""


def staged_view_sql(table: Table, staged: str, file_id: str, part_name: str) -> str:
    """Statement making the temporary view `staged`: the same columns without `repeat_no`, typed whenever it is read.

    For a file of any size: nothing is copied, and a check on one column reads and types that column only.
    """
    return f"""
        CREATE OR REPLACE TEMP VIEW {staged} AS SELECT {_columns(table)} FROM raw_{table.name}
        WHERE file_id = {literal(file_id)} AND part_name = {literal(part_name)}"""


def repeated_sql(table: Table, staged: str, repeated: str) -> str:
    """Statement making the temporary table `repeated`: `row_number` of rows the same to the letter as an earlier one.

    Such rows have the same key, so only rows whose key comes more than once (by its hash) are compared in full.
    """
    key = ", ".join(f"text_{name}" for name in table.key or table.column_names)
    return f"""
        CREATE OR REPLACE TEMP TABLE {repeated} AS
        WITH shared AS (SELECT hash({key}) AS h FROM {staged} GROUP BY h HAVING count(*) > 1),
        numbered AS (
          SELECT row_number, row_number() OVER (PARTITION BY {_texts(table)} ORDER BY row_number) AS repeat_no
          FROM {staged} WHERE hash({key}) IN (FROM shared))
        SELECT row_number FROM numbered WHERE repeat_no > 1"""


def distinct_view_sql(staged: str, repeated: str, distinct: str, n_repeated: int) -> str:
    """Statement making the temporary view `distinct`: the staged rows that repeat none before them.

    n_repeated: rows in `repeated`; where it has none, no row is looked up in it.
    """
    others = f" ANTI JOIN {repeated} USING (row_number)" if n_repeated else ""
    return f"CREATE OR REPLACE TEMP VIEW {distinct} AS SELECT * FROM {staged}{others}"


def _columns(table: Table) -> str:
    """Where the row came from, its texts and its typed values."""
    typed = ", ".join(f'{_typed(c)} AS "{c.name}"' for c in table.columns)
    return f"row_number, file_id, part_name, landed_at, {_texts(table)}, {typed}"


def _texts(table: Table) -> str:
    """The columns with the texts as they came."""
    return ", ".join(f"text_{c.name}" for c in table.columns)


def _typed(column: Column) -> str:
    """DuckDB expression for the typed value of a column."""
    text = f"text_{column.name}"
    if column.type == "text":
        is_code = bool(column.allowed) or column.name == "position"
        return f"lower({text})" if is_code else text
    return {
        "integer": _guarded(text, _WHOLE, f"TRY_CAST(TRY_CAST({text} AS DECIMAL(18, 2)) AS BIGINT)"),
        "decimal": _guarded(text, _NUMBER, f"TRY_CAST({text} AS DOUBLE)"),
        "cents": _guarded(text, _MONEY, f"CAST(TRY_CAST({text} AS DECIMAL(18, 2)) * 100 AS BIGINT)"),
        "date": _guarded(text, _DATE, f"TRY_CAST({text} AS DATE)"),
        "moment": f"TRY_CAST({text} AS TIMESTAMP)",
        "boolean": f"CASE lower({text}) WHEN 'true' THEN true WHEN '1' THEN true WHEN 'yes' THEN true "
        "WHEN 'false' THEN false WHEN '0' THEN false WHEN 'no' THEN false END",
    }[column.type]


def _guarded(text: str, pattern: str, cast: str) -> str:
    """The cast, where the whole text has that pattern: a bare cast would take '1e5', 'nan' or round '1.5'."""
    return f"CASE WHEN regexp_full_match({text}, '{pattern}') THEN {cast} END"
