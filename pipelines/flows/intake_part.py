"""One part of a file into the store, inside the file's transaction: landed, typed, checked, joined, reconciled."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.checks.broken_rules import entries_sql
from longmile.pipelines.checks.gate import Gate
from longmile.pipelines.checks.run import check_rows
from longmile.pipelines.errors import ReconciliationError
from longmile.pipelines.flows.landing import Landing, land
from longmile.pipelines.flows.part_rows import Part
from longmile.pipelines.flows.set_aside import add_lines_aside, add_masked, add_quarantined
from longmile.pipelines.steps.quarantined import quarantined_sql
from longmile.pipelines.steps.staged import distinct_view_sql, repeated_sql, staged_view_sql
from longmile.pipelines.steps.versions import add_sql, known_sql, replace_sql, withdraw_sql
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.store import CHECK_RESULT, SOURCE_PART

_BROKEN = "broken_now"


class PartLoader:
    """Loads parts of files into a store; makes the gate (an import of seconds) only when there is a part to check."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self._gate: Gate | None = None

    def load(self, landing: Landing, part: Part) -> list[dict[str, int]]:
        """All tables of the part, in order; what became of the rows of each."""
        n_landed = land(self.store, landing, part)
        counts = []
        for place, rows in enumerate(part.rows):
            n_aside = add_lines_aside(self.store, landing, part, rows.table) if place == 0 else 0
            counts.append(self._load_table(landing, part, rows.table, n_landed[rows.table.name], n_aside))
        self._mark_returned(landing, part)
        return counts

    def _load_table(self, landing: Landing, part: Part, table: Table, n_rows: int, n_aside: int) -> dict[str, int]:
        """One table of the part.   n_rows: landed in its table; n_aside: lines set aside that are no rows."""
        staged, repeated, distinct = f"staged_{table.name}", f"repeated_{table.name}", f"distinct_{table.name}"
        self.store.run(staged_view_sql(table, staged, landing.file_id, part.name))
        self.store.run(repeated_sql(table, staged, repeated))
        n_repeated = self.store.value(f"SELECT count(*) FROM {repeated}")
        self.store.run(distinct_view_sql(staged, repeated, distinct, n_repeated))
        self._check(landing, part, table, distinct)
        broken = quarantined_sql(table, staged, _BROKEN)
        n_quarantined = n_aside + add_quarantined(self.store, landing, part, table, broken)
        counts = self._join(landing, table, staged, distinct, is_return=part.is_return)
        counts["n_repeats"] += n_repeated
        counts.update(n_landed=n_rows + n_aside, n_quarantined=n_quarantined)
        self._book(landing, part, table, counts)
        return counts

    def _ready_gate(self) -> Gate:
        if self._gate is None:
            self._gate = Gate(self.store.connection)
        return self._gate

    def _check(self, landing: Landing, part: Part, table: Table, distinct: str) -> None:
        """Both readings of the rules, kept; what sets a row aside is in the temporary table `broken_now`."""
        setting_aside = [rule for rule in table.row_rules if rule.severity != "warn"]
        warning = [rule for rule in table.row_rules if rule.severity == "warn"]
        self.store.run(f"CREATE OR REPLACE TEMP TABLE {_BROKEN} AS {entries_sql(table, distinct, setting_aside)}")
        entries = f"SELECT * FROM {_BROKEN} UNION ALL {entries_sql(table, distinct, warning)}"
        outcome = check_rows(self._ready_gate(), table, distinct, entries)
        where = {"run_id": landing.run_id, "file_id": landing.file_id, "part_name": part.name}
        rows = [{**row, **where} for row in outcome.as_rows()]
        add_masked(self.store, CHECK_RESULT, pl.DataFrame(rows, infer_schema_length=None), "examples")

    def _join(self, landing: Landing, table: Table, staged: str, distinct: str, *, is_return: bool) -> dict[str, int]:
        """Sound rows joined to what is known; counts of kept, known, replaced and withdrawn rows.

        is_return: rows that were set aside come back; what the file does not have of an order is not withdrawn.
        """
        known = f"known_{table.name}"
        self.store.run(known_sql(table, distinct, _BROKEN, known))
        moment = (landing.landed_at, landing.file_id)
        n_withdrawn = 0
        if table.order_column and table.key != (table.order_column,) and not is_return:
            n_withdrawn = self.store.value(withdraw_sql(table, staged), (*moment, landing.file_id))
        n_replaced = self.store.value(replace_sql(table, known), moment)
        n_kept = self.store.value(add_sql(table, distinct, _BROKEN, known))
        n_known = self.store.value(f"SELECT count(*) FROM {known} WHERE standing = 'same'")
        return {"n_kept": n_kept, "n_repeats": n_known, "n_replaced": n_replaced, "n_withdrawn": n_withdrawn}

    def _mark_returned(self, landing: Landing, part: Part) -> None:
        """Quarantined rows that this part brings back are marked so, whatever became of what came."""
        if not part.returned:
            return
        named = pl.DataFrame(part.returned, schema=["table_name", "file_id", "part_name", "row_number"], orient="row")
        tables = {rows.table.name for rows in part.rows}
        self.store.connection.register("returned_now", named.filter(pl.col("table_name").is_in(tables)))
        self.store.run(
            "UPDATE quarantined_row AS q SET returned_at = ?, returned_by = ? FROM returned_now r "
            "WHERE q.returned_at IS NULL AND (q.table_name, q.file_id, q.part_name, q.row_number) "
            "= (r.table_name, r.file_id, r.part_name, r.row_number)",
            (landing.landed_at, landing.file_id),
        )
        self.store.connection.unregister("returned_now")

    def _book(self, landing: Landing, part: Part, table: Table, counts: dict[str, int]) -> None:
        """The table's reconciliation, checked and kept."""
        accounted = counts["n_kept"] + counts["n_quarantined"] + counts["n_repeats"]
        if counts["n_landed"] != accounted:
            raise ReconciliationError(
                f"{landing.name} ({part.name}): {counts['n_landed']:,} rows landed, but {counts['n_kept']:,} "
                f"kept + {counts['n_quarantined']:,} quarantined + {counts['n_repeats']:,} repeats = {accounted:,}. "
                "Expected both to be the same. Nothing of this file was loaded; this is a fault of the program, please "
                "report it with the file."
            )
        row = {
            "file_id": landing.file_id,
            "part_name": part.name,
            "table_name": table.name,
            "landed_at": landing.landed_at,
            **counts,
            "ignored_headers": ", ".join(part.ignored) or None,
            "map_name": part.map_name,
        }
        self.store.append(SOURCE_PART, pl.DataFrame([row]))
