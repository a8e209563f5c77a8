"""Great Expectations over one lent DuckDB connection: one context for all files of a run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from longmile.pipelines.errors import LongmileError

if TYPE_CHECKING:
    import duckdb

    from longmile.pipelines.checks.library import ExpectationSuite


class CheckNotRunError(LongmileError):
    """A rule the contract states could not be run, or gave no answer."""


class Gate:
    """Runs expectation suites on the connection it is lent, inside whatever transaction is open there.

    It reads and does nothing else: no table is made, no transaction begun or ended, no file written. It must
    be the only user of the connection while it runs, since a result still being fetched there would be lost.
    Making one imports the library (seconds); keep it for the run.
    """

    def __init__(self, connection: duckdb.DuckDBPyConnection) -> None:
        from longmile.pipelines.checks.engine import URL, BorrowedConnection
        from longmile.pipelines.checks.library import new_context

        self.connection = connection
        self._borrowed = borrowed = BorrowedConnection(connection)
        self._source = new_context().data_sources.add_sql(
            "lent", connection_string=URL, create_temp_table=False, kwargs={"creator": lambda: borrowed}
        )

    def run_on_table(self, suite: ExpectationSuite, name: str) -> Mapping[str, Any]:
        """Rule name -> what the library found, for a suite run on the table or view `name` (quoted here)."""
        from sqlalchemy import quoted_name

        return self._run(suite, self._source.add_table_asset("rows", table_name=quoted_name(name, quote=True)))

    def run_on_store(self, suite: ExpectationSuite) -> Mapping[str, Any]:
        """Rule name -> what the library found, for a suite whose queries name their tables themselves."""
        return self._run(suite, self._source.add_query_asset("store", query="SELECT 1 AS one"))

    def _run(self, suite: ExpectationSuite, asset: Any) -> Mapping[str, Any]:
        """One result per rule; the asset is forgotten. CheckNotRunError if a rule raised."""
        self._borrowed.failures.clear()
        try:
            batch = asset.add_batch_definition_whole_table("whole").get_batch()
            found = batch.validate(suite, result_format="BASIC").results
        finally:
            self._source.delete_asset(asset.name)
        _raise_if_duckdb_refused(self._borrowed.failures)
        for result in found:
            _raise_if_it_raised(result)
        return {result.expectation_config.meta["rule"]: result for result in found}


def _raise_if_duckdb_refused(failures: Sequence[tuple[str, str]]) -> None:
    """CheckNotRunError with the first statement DuckDB refused; its rule's name is in it as a comment."""
    if failures:
        statement, message = failures[0]
        raise CheckNotRunError(
            f"checks: a rule could not be run: {message}. Expected every rule of the contract to give an "
            f"answer; look at its predicate and at the tables it names. The statement: {statement}"
        )


def _raise_if_it_raised(result: Any) -> None:
    """CheckNotRunError where the library caught an exception instead of answering."""
    told = result.exception_info or {}
    entries = [told] if "raised_exception" in told else list(told.values())
    raised = [entry for entry in entries if entry["raised_exception"]]
    if raised:
        raise CheckNotRunError(
            f"checks: rule {result.expectation_config.meta['rule']} could not be run: "
            f"{raised[0]['exception_message']}. Expected every rule of the contract to give an answer; "
            "look at its predicate and at the tables it names."
        )
