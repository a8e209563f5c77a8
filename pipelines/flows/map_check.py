"""What a map does with a file: the first rows of each table as they would land, and what would be quarantined and why.

Nothing of the workspace is touched: the rows go through the intake's own statements in a store of memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from longmile.pipelines.checks.broken_rules import broken_rules_sql
from longmile.pipelines.flows.map import mapped_tables, sources_folder
from longmile.pipelines.maps.map_checks import missing_columns
from longmile.pipelines.maps.match import mapped_parts
from longmile.pipelines.maps.source_map import SourceMap, TableMap
from longmile.pipelines.maps.translate import contract_select, unclaimed_select
from longmile.pipelines.sources.shape import RawTable
from longmile.pipelines.steps.personal import masked_columns_sql
from longmile.pipelines.steps.staged import staged_sql
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table

N_SHOWN = 5
N_EXAMPLES = 3
_ROWS = "rows_to_map"


@dataclass(frozen=True)
class BrokenRule:
    """A rule that rows of a table would break.

    is_set_aside: whether such rows would be quarantined, or kept and counted. examples: (row number, headers of the
    neutral layout, value).
    """

    rule: str
    sentence: str
    is_set_aside: bool
    n_rows: int
    examples: tuple[tuple[int, str, str | None], ...]


@dataclass(frozen=True)
class TableCheck:
    """One contract table of a part. n_rows = n_kept + n_quarantined + n_repeats.

    columns: the mapped columns' names; first_rows: row number and neutral texts of the first rows that would be kept.
    """

    table: str
    n_rows: int
    n_kept: int
    n_quarantined: int
    n_repeats: int
    columns: tuple[str, ...]
    first_rows: tuple[tuple[int, tuple[str | None, ...]], ...]
    broken: tuple[BrokenRule, ...]


@dataclass(frozen=True)
class PartCheck:
    """One table of the file. unclaimed: (row number, reason) of the first of n_unclaimed rows that no table takes."""

    part: str
    map_name: str
    is_accepted: bool
    missing: tuple[str, ...]
    n_rows: int
    n_bad_lines: int
    n_unclaimed: int
    unclaimed: tuple[tuple[int, str], ...]
    tables: tuple[TableCheck, ...]


def check_file(path: Path, workspace: Path, now: datetime) -> list[PartCheck]:
    """What the maps of the workspace, accepted or not, do with the file as if landed now, part by part."""
    found = mapped_tables(path, sources_folder(workspace))
    with Store(Path(":memory:")) as store:
        return [_part_check(store, raw, source_map, now) for raw, source_map in found]


def _part_check(store: Store, raw: RawTable, source_map: SourceMap, now: datetime) -> PartCheck:
    """One part under its map."""
    store.connection.register(_ROWS, raw.rows)
    unclaimed = store.frame(unclaimed_select(source_map, _ROWS, raw.headers)).sort("row_number")
    done = PartCheck(
        part=raw.name,
        map_name=source_map.name,
        is_accepted=source_map.is_accepted,
        missing=missing_columns(source_map),
        n_rows=raw.rows.height,
        n_bad_lines=raw.bad_lines.height,
        n_unclaimed=unclaimed.height,
        unclaimed=tuple(unclaimed.head(N_EXAMPLES).select("row_number", "reason").iter_rows()),
        tables=tuple(
            _table_check(store, table, how, contract_select(source_map, how, _ROWS, raw.headers), now)
            for table, how in mapped_parts(raw.headers, source_map)
        ),
    )
    store.connection.unregister(_ROWS)
    return done


def _table_check(store: Store, table: Table, how: TableMap, select: str, now: datetime) -> TableCheck:
    """One table of one part, through the statements of the intake.   select: of its rows as neutral text."""
    store.run(
        f"CREATE OR REPLACE TEMP TABLE raw_{table.name} AS SELECT *, 'file' AS file_id, 'part' AS part_name, "
        f"CAST(? AS TIMESTAMP) AS landed_at FROM ({masked_columns_sql(table, select)})",
        (now,),
    )
    store.run(staged_sql(table, "checked_rows"), ("file", "part"))
    store.run("CREATE OR REPLACE TEMP VIEW distinct_rows AS SELECT * FROM checked_rows WHERE repeat_no = 1")
    store.run(f"CREATE OR REPLACE TEMP TABLE broken_rows AS {broken_rules_sql(table, 'distinct_rows')}")
    n_rows = store.value("SELECT count(*) FROM checked_rows")
    n_distinct = store.value("SELECT count(*) FROM distinct_rows")
    n_quarantined = store.value("SELECT count(*) FROM broken_rows WHERE len(quarantine) > 0")
    return TableCheck(
        table=table.name,
        n_rows=n_rows,
        n_kept=n_distinct - n_quarantined,
        n_quarantined=n_quarantined,
        n_repeats=n_rows - n_distinct,
        columns=tuple(column.column for column in how.columns),
        first_rows=_first_rows(store, table, how),
        broken=_broken(store, table),
    )


def _first_rows(store: Store, table: Table, how: TableMap) -> tuple[tuple[int, tuple[str | None, ...]], ...]:
    """The first rows that would be kept, in the mapped columns."""
    names = {column.incoming: column.name for column in table.columns}
    texts = "".join(f", text_{names[column.column]}" for column in how.columns)
    rows = store.rows(
        f"SELECT row_number{texts} FROM distinct_rows WHERE row_number NOT IN "
        f"(SELECT row_number FROM broken_rows WHERE len(quarantine) > 0) ORDER BY row_number LIMIT {N_SHOWN}"
    )
    return tuple((row[0], tuple(row[1:])) for row in rows)


def _broken(store: Store, table: Table) -> tuple[BrokenRule, ...]:
    """The rules that rows break, those that set a row aside first, the most frequent first."""
    sentences = {rule.name: rule.sentence for rule in table.row_rules}
    rows = store.rows(
        f"""SELECT entry.rule, entry.severity <> 'warn' AS is_set_aside, count(*) AS n_rows,
          arg_min({{'row': row_number, 'columns': entry.columns, 'value': left(entry.value, 200)}}, row_number,
            {N_EXAMPLES})
        FROM (SELECT row_number, unnest(broken) AS entry FROM broken_rows)
        GROUP BY 1, 2 ORDER BY is_set_aside DESC, n_rows DESC, 1"""
    )
    return tuple(
        BrokenRule(
            rule, sentences[rule], is_set_aside, n, tuple((e["row"], e["columns"], e["value"]) for e in examples)
        )
        for rule, is_set_aside, n, examples in rows
    )
