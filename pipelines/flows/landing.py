"""The rows of one part into the landing tables, as text: nothing typed, nothing judged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.flows.part_rows import SOURCE_ROWS, Part, Rows
from longmile.pipelines.steps.personal import masked_columns_sql
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table

_WHOLE = "whole_source_rows"
UNCLAIMED_ROWS = "unclaimed_now"


@dataclass(frozen=True)
class Landing:
    """One file on its way in."""

    path: Path
    file_id: str
    landed_at: datetime
    run_id: int

    @property
    def name(self) -> str:
        """The file's name as text."""
        return name_of(self.path)


def name_of(path: Path) -> str:
    """The file's name as text; bytes that are no text, as in names from other systems, in escapes."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def land(store: Store, landing: Landing, part: Part) -> dict[str, int]:
    """Put the part's rows into `raw_<table>` of each of its tables; table -> rows landed there.

    Rows that no table takes are in the temporary table `unclaimed_now` afterwards. Raises ReconciliationError where a
    row of the part is neither there nor in a table.
    """
    store.run(f"CREATE OR REPLACE TEMP TABLE {UNCLAIMED_ROWS} (row_number BIGINT, raw_text VARCHAR, reason VARCHAR)")
    n_landed = dict.fromkeys((rows.table.name for rows in part.rows), 0)
    for chunk in _chunks(store, part):
        for rows in part.rows:
            n_landed[rows.table.name] += _insert(store, landing, part, rows, chunk)
        if part.unclaimed:
            unclaimed = f"INSERT INTO {UNCLAIMED_ROWS} SELECT row_number, raw_text, reason FROM ({part.unclaimed})"
            store.change_from(unclaimed, (), chunk)
    _reconcile(store, landing, part, n_landed)
    return n_landed


def _chunks(store: Store, part: Part) -> Iterator[object]:
    """What is to stand as `SOURCE_ROWS`, chunk by chunk; where rows need each other all at once, as a table."""
    if part.is_by_row:
        yield from part.source.chunks()
        return
    for number, chunk in enumerate(part.source.chunks()):
        begin = f"INSERT INTO {_WHOLE}" if number else f"CREATE OR REPLACE TEMP TABLE {_WHOLE} AS"
        store.change_from(f"{begin} SELECT * FROM {SOURCE_ROWS}", (), chunk)
    yield store.connection.table(_WHOLE)
    store.run(f"DROP TABLE {_WHOLE}")


def _insert(store: Store, landing: Landing, part: Part, rows: Rows, chunk: object) -> int:
    """Rows of one table, personal data in free text masked; how many."""
    texts = ", ".join(f"text_{name}" for name in rows.table.column_names)
    return store.change_from(
        f"INSERT INTO raw_{rows.table.name} (file_id, part_name, landed_at, row_number, {texts}) "
        f"SELECT ?, ?, ?, row_number, {texts} FROM ({masked_columns_sql(rows.table, rows.select)})",
        (landing.file_id, part.name, landing.landed_at),
        chunk,
    )


def _reconcile(store: Store, landing: Landing, part: Part, n_landed: dict[str, int]) -> None:
    """Every row of the part is in a table, in several, or claimed by none."""
    n_rows = part.source.n_physical() - part.source.bad_lines().height
    n_unclaimed = store.value(f"SELECT count(*) FROM {UNCLAIMED_ROWS}")
    names = list(n_landed)
    n_claimed = n_landed[names[0]] if len(names) == 1 else _n_claimed(store, landing, part)
    if n_rows == n_claimed + n_unclaimed:
        return
    raise ReconciliationError(
        f"{landing.name} ({part.name}): {n_rows:,} rows were read, but {n_claimed:,} landed in {', '.join(names)} and "
        f"{n_unclaimed:,} in none. Expected every row once. Nothing of this file was loaded; this is a fault of the "
        "program, please report it with the file."
    )


def _n_claimed(store: Store, landing: Landing, part: Part) -> int:
    """Rows of the part that are in at least one table."""
    each = " UNION ALL ".join(_row_numbers_sql(rows.table) for rows in part.rows)
    where = (landing.file_id, part.name) * len(part.rows)
    return int(store.value(f"SELECT count(DISTINCT row_number) FROM ({each})", where))


def _row_numbers_sql(table: Table) -> str:
    return f"SELECT row_number FROM raw_{table.name} WHERE file_id = ? AND part_name = ?"
