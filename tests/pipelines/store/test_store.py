"""The store: all or nothing, what stood at a moment, frames in and out, and files that cannot be opened."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import duckdb
import polars as pl
import pytest

from longmile.pipelines.errors import LongmileError, StoreBusyError
from longmile.pipelines.store import store as store_module
from longmile.pipelines.store.store import Store
from longmile.schemas.registry import TABLES
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import POSITION_SPELLING, RUN

AS_OF = date(2025, 1, 31)
LANDED = datetime(2025, 1, 10, 12)
REPLACED = datetime(2025, 1, 20, 12)
TICK = timedelta(microseconds=1)  # DuckDB's TIMESTAMP has no finer moment


@pytest.fixture
def store(tmp_path: Path):
    with Store(tmp_path / "shop.duckdb") as opened:
        yield opened


def spellings(*words: str) -> pl.DataFrame:
    return pl.DataFrame([{"socket_scheme": "one", "spelling": word, "position": "only"} for word in words])


def kept(store: Store) -> list[str]:
    return [word for (word,) in store.rows("SELECT spelling FROM position_spelling ORDER BY spelling")]


def put_vehicle(store: Store, superseded_at: datetime | None) -> None:
    store.run(
        "INSERT INTO vehicle (vehicle_id, engine_family, file_id, part_name, row_number, landed_at, superseded_at) "
        "VALUES ('v', 'Elm', 'f', 'p', 2, ?, ?)",
        (LANDED, superseded_at),
    )


def test_a_new_store_has_every_declared_table_empty(store: Store):
    found = {name for (name,) in store.rows("SELECT table_name FROM duckdb_tables()")}
    assert found == {table.name for table in TABLES}
    assert all(store.value(f'SELECT count(*) FROM "{name}"') == 0 for name in found)


def test_opening_again_keeps_what_is_there(tmp_path: Path):
    path = tmp_path / "shop.duckdb"
    with Store(path) as first:
        first.append(POSITION_SPELLING, spellings("alone"))
    with Store(path) as second:
        assert kept(second) == ["alone"]


def test_result_tables_of_another_version_are_made_anew_and_records_stay(tmp_path: Path):
    path = tmp_path / "shop.duckdb"
    with Store(path) as store:
        store.run("ALTER TABLE estimate DROP COLUMN status")
        store.run("INSERT INTO position_spelling VALUES ('axle', 'f', 'front')")
    with Store(path) as again:
        assert "status" in [name for name, *_ in again.rows("DESCRIBE estimate")]
        assert again.value("SELECT count(*) FROM position_spelling") == 1


@pytest.mark.parametrize("raised", [ValueError, KeyboardInterrupt, SystemExit])
def test_a_transaction_rolls_back_on_any_exception_and_hands_it_on(store: Store, raised: type[BaseException]):
    store.append(POSITION_SPELLING, spellings("before"))
    with pytest.raises(raised), store.transaction():
        store.append(POSITION_SPELLING, spellings("within"))
        raise raised
    assert kept(store) == ["before"]
    with store.transaction():
        store.append(POSITION_SPELLING, spellings("after"))
    assert kept(store) == ["after", "before"]


def test_a_statement_that_fails_takes_the_transaction_with_it(store: Store):
    with pytest.raises(duckdb.ConstraintException, match="NOT NULL"), store.transaction():
        store.append(POSITION_SPELLING, spellings("within"))
        store.run("INSERT INTO position_spelling VALUES (NULL, 'x', 'only')")
    assert kept(store) == []


def test_what_a_transaction_did_is_there_after_closing(tmp_path: Path):
    path = tmp_path / "shop.duckdb"
    with Store(path) as writing, writing.transaction():
        writing.append(POSITION_SPELLING, spellings("kept"))
    with Store(path, read_only=True) as reading:
        assert kept(reading) == ["kept"]


def test_append_adds_and_replace_leaves_only_the_new_rows(store: Store):
    assert store.append(POSITION_SPELLING, spellings("a")) == 1
    assert store.append(POSITION_SPELLING, spellings("b", "c")) == 2
    assert kept(store) == ["a", "b", "c"]
    assert store.replace(POSITION_SPELLING, spellings("d", "e")) == 2
    assert kept(store) == ["d", "e"]
    assert store.replace(POSITION_SPELLING, spellings("f").clear()) == 0
    assert kept(store) == []


def test_replace_from_takes_columns_by_name(store: Store):
    store.append(POSITION_SPELLING, spellings("old"))
    select = "SELECT 'only' AS position, spelling, 'one' AS socket_scheme FROM (VALUES ('x'), ('y')) given(spelling)"
    assert store.replace_from(POSITION_SPELLING, select) == 2
    assert store.rows("SELECT * FROM position_spelling ORDER BY spelling") == [
        ("one", "x", "only"),
        ("one", "y", "only"),
    ]


@pytest.mark.parametrize("way", ["append", "replace"])
def test_wrong_columns_are_named_and_nothing_is_added(store: Store, way: str):
    wrong = spellings("a").rename({"spelling": "speling"})
    with pytest.raises(LongmileError, match=r"position_spelling: .*missing: spelling; not declared: speling"):
        getattr(store, way)(POSITION_SPELLING, wrong)
    assert kept(store) == []


def test_a_replacement_with_wrong_columns_leaves_the_rows_there_were(store: Store):
    store.append(POSITION_SPELLING, spellings("before"))
    with pytest.raises(LongmileError):
        store.replace(POSITION_SPELLING, spellings("a").drop("position"))
    assert kept(store) == ["before"]


def test_a_frame_comes_out_typed_and_takes_parameters(store: Store):
    frame = store.frame("SELECT ?::BIGINT AS n, NULL::TIMESTAMP AS moment", (3,))
    assert frame.rows() == [(3, None)]
    assert frame.dtypes == [pl.Int64, pl.Datetime("us")]


def test_moments_come_back_as_they_went_in_whatever_the_time_zone(store: Store):
    row = {
        "run_id": 1,
        "started_at": LANDED + TICK,
        "finished_at": None,
        "as_of": AS_OF,
        "known_at": LANDED,
        "fingerprint": "x",
        "version": "1",
        "n_files_loaded": 0,
        "n_files_set_aside": 0,
    }
    store.append(RUN, pl.DataFrame([row]))
    assert store.rows("SELECT started_at, known_at, as_of FROM run") == [(LANDED + TICK, LANDED, AS_OF)]
    assert store.value("SELECT current_setting('TimeZone')") == "UTC"


# A row stands from the moment it landed, that moment included, to the moment it was replaced, that one not included:
# there, the row that replaced it stands.
@pytest.mark.parametrize(
    ("known_at", "superseded_at", "stands"),
    [
        (LANDED - TICK, None, False),
        (LANDED, None, True),
        (LANDED + TICK, None, True),
        (LANDED - TICK, REPLACED, False),
        (LANDED, REPLACED, True),
        (REPLACED - TICK, REPLACED, True),
        (REPLACED, REPLACED, False),
        (REPLACED + TICK, REPLACED, False),
        # Landed and replaced within one file: it never stood.
        (LANDED, LANDED, False),
    ],
)
def test_what_stood_at_a_moment(store: Store, known_at: datetime, superseded_at: datetime | None, stands: bool):
    put_vehicle(store, superseded_at)
    store.ask(AS_OF, known_at)
    assert store.value("SELECT count(*) FROM current_vehicle") == int(stands)


def test_asking_again_replaces_what_was_asked(store: Store):
    put_vehicle(store, None)
    store.ask(AS_OF, LANDED - TICK)
    store.ask(AS_OF + timedelta(days=1), LANDED)
    assert store.rows("SELECT * FROM asked") == [(AS_OF + timedelta(days=1), LANDED)]
    assert store.value("SELECT count(*) FROM current_vehicle") == 1


def test_every_trade_table_has_its_current_view_and_none_is_written_to_the_file(tmp_path: Path):
    path = tmp_path / "shop.duckdb"
    with Store(path) as writing:
        writing.ask(AS_OF, LANDED)
        views = {name for (name,) in writing.rows("SELECT view_name FROM duckdb_views() WHERE NOT internal")}
        assert views == {f"current_{table.name}" for table in TRADE_TABLES}
    with duckdb.connect(str(path), read_only=True) as plain:
        assert plain.execute("SELECT count(*) FROM duckdb_views() WHERE NOT internal").fetchone() == (0,)


def test_read_only_reads_and_asks_and_cannot_write(tmp_path: Path):
    path = tmp_path / "shop.duckdb"
    with Store(path) as writing:
        put_vehicle(writing, None)
    with Store(path, read_only=True) as reading:
        reading.ask(AS_OF, LANDED)
        assert reading.value("SELECT vehicle_id FROM current_vehicle") == "v"
        with pytest.raises(duckdb.InvalidInputException, match="read-only"):
            reading.run("DELETE FROM vehicle")


def test_read_only_makes_no_file(tmp_path: Path):
    with pytest.raises(LongmileError, match=r"none\.duckdb: cannot be opened as the store \(.*does not exist"):
        Store(tmp_path / "none.duckdb", read_only=True)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_database_is_not_called_busy(tmp_path: Path):
    # The word "lock" in the path is not DuckDB saying that the file is locked.
    path = tmp_path / "engine blocks" / "shop.duckdb"
    path.parent.mkdir()
    path.write_text("vehicle_id,engine_family\n" * 1_000, encoding="utf-8")
    with pytest.raises(LongmileError, match="cannot be opened as the store") as caught:
        Store(path)
    assert not isinstance(caught.value, StoreBusyError)
    assert path.read_text(encoding="utf-8").startswith("vehicle_id")


# What DuckDB 2 says on Linux, and what Windows says of a file in use (from memory).
@pytest.mark.parametrize(
    ("message", "holder"),
    [
        (
            'Could not set lock on file "x": Conflicting lock is held in /usr/bin/python (PID 41). See also https://x',
            "/usr/bin/python (PID 41)",
        ),
        ('Could not set lock on file "x": Resource temporarily unavailable', "which one is not known"),
        ('Cannot open file "x": it is being used by another process.', "which one is not known"),
    ],
)
def test_a_lock_is_said_to_be_one(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, message: str, holder: str):
    def refuse(*_: object, **__: object) -> None:
        raise duckdb.IOException(message)

    monkeypatch.setattr(store_module.duckdb, "connect", refuse)
    with pytest.raises(StoreBusyError) as caught:
        Store(tmp_path / "shop.duckdb")
    assert f"another process is using the store ({holder}). " in str(caught.value)
    assert caught.value.exit_code == 5  # README, "Exit codes"


def test_memory_is_bounded_and_what_is_over_goes_to_disk_beside_the_store(store: Store):
    (limit,) = store.rows("SELECT current_setting('memory_limit')")[0]
    amount, unit = limit.split()
    assert float(amount) * {"GiB": 1, "MiB": 1 / 1024}[unit] <= 2.5
    assert store.value("SELECT current_setting('temp_directory')") == f"{store.path}.tmp"


def test_rows_are_streamed_in_order_in_chunks_of_row_groups_while_others_are_written(
    store: Store, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(store_module, "_ROW_GROUP", 2_000)
    seen = []
    with store.transaction():
        for chunk in store.stream("SELECT i FROM range(9_000) t(i) ORDER BY i", 2):
            wrote = store.change_from(
                "INSERT INTO position_spelling SELECT 'one', i::VARCHAR, 'only' FROM source_rows", (), chunk
            )
            seen.append((wrote, [len(batch) for batch in chunk.to_batches()]))
    assert seen == [(4_000, [2_000, 2_000]), (4_000, [2_000, 2_000]), (1_000, [1_000])]
    assert [int(word) for (word,) in store.rows("SELECT spelling FROM position_spelling")] == list(range(9_000))


def test_a_stream_does_not_see_what_is_not_committed(store: Store):
    with store.transaction():
        store.append(POSITION_SPELLING, spellings("left"))
        assert list(store.stream("SELECT * FROM position_spelling", 1)) == []
