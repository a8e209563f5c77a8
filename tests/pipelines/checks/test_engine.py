"""The lent connection: what is read through it, and everything that must not be done to it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys

import pytest
import sqlalchemy

from longmile.pipelines.checks.engine import URL, BorrowedConnection, CheckWroteError
from longmile.pipelines.checks.gate import Gate
from longmile.pipelines.checks.run import check_rows, check_table
from longmile.schemas.contract import Check, Column, Table


def _tables(connection):
    return connection.execute(
        "SELECT table_name FROM duckdb_tables() UNION ALL "
        "SELECT view_name FROM duckdb_views() WHERE NOT internal ORDER BY 1"
    ).fetchall()


def test_rows_not_yet_committed_are_seen_and_a_rollback_afterwards_removes_them(
    connection, gate, stage, job, dirty_rows
):
    connection.begin()
    stage(connection, job, "staged_job", dirty_rows)
    assert check_rows(gate, job, "staged_job").n_rows == 12
    connection.rollback()  # refused by DuckDB had the checks ended the transaction
    assert _tables(connection) == []
    assert connection.execute("SELECT 1").fetchall() == [(1,)]


def test_rows_not_yet_committed_in_a_file_are_seen_and_can_be_committed_after_the_checks(
    tmp_path, stage, job, dirty_rows
):
    import duckdb

    with duckdb.connect(tmp_path / "store.duckdb") as connection:
        connection.begin()
        stage(connection, job, "staged_job", dirty_rows)
        gate = Gate(connection)
        assert len(check_rows(gate, job, "staged_job").broken) == 11
        with connection.cursor() as other:
            assert _tables(other) == []  # still uncommitted: a second connection sees nothing
        connection.commit()
        with connection.cursor() as other:
            assert _tables(other) == [("staged_job",)]


def test_no_table_or_view_is_left_behind(connection, gate, stage, job, dirty_rows):
    stage(connection, job, "staged_job", dirty_rows)
    check = Check("any", "any", "SELECT count(*), count(*), 0 FROM staged_job", level="table", minimum=1)
    check_rows(gate, job, "staged_job")
    check_table(gate, [Table("t", "trade", "T.", (Column("a", "text", "A."),), checks=(check,))])
    assert _tables(connection) == [("staged_job",)]


def test_one_gate_serves_many_files_and_sees_a_staging_table_made_anew_under_the_same_name(
    connection, gate, stage, job
):
    stage(connection, job, "staged_job", [{"order_no": "A", "line_no": "100"}])
    assert len(check_rows(gate, job, "staged_job").broken) == 1
    connection.execute("DROP TABLE staged_job")
    note = Table("note", "trade", "A note.", (Column("said", "text", "Words.", max_length=3),))
    stage(connection, note, "staged_job", [{"said": "four"}, {"said": "five5"}])
    (result,) = check_rows(gate, note, "staged_job").rules
    assert (result.n_checked, result.n_failed) == (2, 2)


def test_a_temporary_staging_table_is_read_and_hides_a_kept_one_of_its_name(connection, gate, stage, job):
    stage(connection, job, "staged_job", [{"order_no": "A", "line_no": "1"}])
    connection.execute("CREATE TEMP TABLE staged_job AS SELECT * REPLACE (100 AS line_no) FROM staged_job")
    assert [told.rule for told in check_rows(gate, job, "staged_job").broken] == ["job.line_no.between"]


def test_what_sqlalchemy_does_of_its_own_accord_leaves_the_transaction_open(connection):
    connection.begin()
    connection.execute("CREATE TABLE made (a INTEGER)")
    engine = sqlalchemy.create_engine(URL, creator=lambda: BorrowedConnection(connection))
    with engine.begin() as opened:  # ends with a commit
        assert opened.execute(sqlalchemy.text("SELECT count(*) FROM made")).fetchall() == [(0,)]
    with engine.connect() as opened:
        opened.rollback()
    engine.dispose()  # closes its connections
    connection.rollback()
    assert _tables(connection) == []


@pytest.mark.parametrize(
    "statement",
    [
        "INSERT INTO made VALUES (1)",
        "CREATE TEMP TABLE other AS SELECT 1",
        "DROP TABLE made",
        "COMMIT",
        "SELECT 1; DELETE FROM made",
        "COPY made TO 'made.csv'",
        "ATTACH 'other.duckdb'",
        "SET threads = 1",
        "",
    ],
)
def test_anything_but_one_select_is_refused_and_not_run(connection, statement):
    connection.execute("CREATE TABLE made AS SELECT 7 AS a")
    cursor = BorrowedConnection(connection).cursor()
    with pytest.raises(CheckWroteError, match="Expected one SELECT"):
        cursor.execute(statement)
    with pytest.raises(CheckWroteError):
        cursor.executemany("INSERT INTO made VALUES ($1)", [(1,)])
    assert connection.execute("FROM made").fetchall() == [(7,)]


def test_rows_are_handed_out_once_and_in_order(connection):
    cursor = BorrowedConnection(connection).cursor()
    cursor.execute("SELECT range AS n FROM range(5)")
    assert cursor.description[0][0] == "n"
    assert cursor.fetchone() == (0,)
    assert cursor.fetchmany() == [(1,)]
    assert cursor.fetchmany(2) == [(2,), (3,)]
    assert cursor.fetchall() == [(4,)]
    assert cursor.fetchone() is None
    cursor.close()
    assert connection.execute("SELECT 1").fetchall() == [(1,)]


def test_reflection_reads_columns_in_order_and_finds_no_keys(connection):
    connection.execute('CREATE TABLE made (b DOUBLE NOT NULL, "odd ""name""" VARCHAR, c DATE, d DECIMAL(9, 2))')
    with sqlalchemy.create_engine(URL, creator=lambda: BorrowedConnection(connection)).connect() as opened:
        inspector = sqlalchemy.inspect(opened)
        columns = inspector.get_columns("made")
        assert [column["name"] for column in columns] == ["b", 'odd "name"', "c", "d"]
        assert [column["nullable"] for column in columns] == [False, True, True, True]
        assert [type(column["type"]).__name__ for column in columns] == [
            "Float",
            "String",
            "Date",
            "NullType",
        ]
        assert inspector.get_pk_constraint("made")["constrained_columns"] == []
        assert inspector.get_indexes("made") == []
        assert inspector.get_foreign_keys("made") == []


class _Watch:
    """Files opened for writing and addresses connected to while it is on (a hook cannot be taken away)."""

    def __init__(self) -> None:
        self.is_on = False
        self.seen: list[object] = []
        sys.addaudithook(self._note)

    def _note(self, event: str, args: tuple) -> None:
        if not self.is_on:
            return
        writes = os.O_WRONLY | os.O_RDWR | os.O_CREAT
        if (event == "open" and args[2] & writes) or event in ("socket.connect", "os.mkdir"):
            self.seen.append((event, args))


def test_no_file_is_written_and_no_address_is_connected_to(connection, stage, job, dirty_rows, monkeypatch, tmp_path):
    def refuse(*_args):
        raise OSError("no network")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    stage(connection, job, "staged_job", dirty_rows)
    watch = _Watch()
    watch.is_on = True
    check_rows(Gate(connection), job, "staged_job")
    assert watch.seen == []
    (tmp_path / "written").write_text("the watch does notice a file")
    watch.is_on = False
    assert [event for event, _ in watch.seen] == ["open"]


def test_nothing_is_printed(connection, gate, stage, job, dirty_rows, capfd):
    stage(connection, job, "staged_job", dirty_rows)
    check_rows(gate, job, "staged_job")
    check = Check("one", "one", "SELECT 1, 1, 0", level="table")
    check_table(gate, [Table("t", "trade", "T.", (Column("a", "text", "A."),), checks=(check,))])
    assert capfd.readouterr() == ("", "")


def test_the_library_is_imported_only_when_a_gate_is_made_and_without_a_warning():
    # In a new process: here it is imported already.
    code = (
        "import sys, longmile.pipelines.checks.run, longmile.pipelines.checks.broken_rules\n"
        "heavy = {'great_expectations', 'sqlalchemy', 'duckdb', 'pandas'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
        "import duckdb\n"
        "longmile.pipelines.checks.run.Gate(duckdb.connect())\n"
        "assert 'great_expectations' in sys.modules\n"
    )
    done = subprocess.run([sys.executable, "-W", "error", "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
