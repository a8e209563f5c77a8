"""Text rows to typed rows, in a real DuckDB: what can be typed, exactly; what cannot is empty beside its text."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from longmile.pipelines.steps.staged import distinct_view_sql, repeated_sql, staged_sql, staged_view_sql
from longmile.pipelines.store.store import Store
from longmile.schemas.contract import Table
from longmile.schemas.registry import table
from longmile.schemas.shop import TRADE_TABLES

LANDED = datetime(2025, 1, 10, 12)
LINE = table("repair_line")
Stage = Callable[..., list[tuple[Any, ...]]]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory):
    with Store(Path(tmp_path_factory.mktemp("staged")) / "shop.duckdb") as opened:
        yield opened


@pytest.fixture(scope="module")
def stage(store: Store) -> Stage:
    """Puts one row per dictionary of texts into the raw table under a file of their own; gives the asked columns."""
    numbers = count()

    def staged(of: Table, rows: list[dict[str, str | None]], asked: str) -> list[tuple[Any, ...]]:
        file_id = f"file{next(numbers)}"
        for row_number, row in enumerate(rows, 2):
            values = {"file_id": file_id, "part_name": "p", "row_number": row_number, "landed_at": LANDED}
            values |= {f"text_{name}": text for name, text in row.items()}
            marks = ", ".join("?" for _ in values)
            store.run(f"INSERT INTO raw_{of.name} ({', '.join(values)}) VALUES ({marks})", tuple(values.values()))
        store.run(staged_sql(of, "staged_rows"), (file_id, "p"))
        return store.rows(f"SELECT {asked} FROM staged_rows ORDER BY row_number")

    return staged


def typed(stage: Stage, of: str, column: str, text: str | None) -> Any:
    """The typed value of one text; that the text stands unchanged beside it is checked each time."""
    ((value, beside),) = stage(table(of), [{column: text}], f'"{column}", text_{column}')
    assert beside == text
    return value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1", 1),
        ("1.0", 1),  # spreadsheets write whole numbers so
        ("1.000", 1),
        ("007", 7),
        ("-3", -3),
        ("+3", 3),
        ("0", 0),
        ("999999999999999", 999_999_999_999_999),
        ("1.5", None),
        ("1.01", None),
        ("1.", None),
        ("1e5", None),
        ("nan", None),
        ("inf", None),
        ("12,000", None),
        ("12 000", None),
        ("1_000", None),
        ("0x10", None),
        ("--1", None),
        ("", None),
        ("one", None),
        ("1234567890123456", None),  # 16 digits: longer than any line number, and refused rather than rounded
        (None, None),
    ],
)
def test_whole_numbers(stage: Stage, text: str | None, value: int | None):
    assert typed(stage, "repair_line", "line_no", text) == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("52000", 52_000.0),
        ("52000.7", 52_000.7),
        ("0.1", 0.1),
        (".5", 0.5),
        ("5.", 5.0),
        ("-4", -4.0),
        ("+4", 4.0),
        ("1e5", None),
        ("1E5", None),
        ("nan", None),
        ("NaN", None),
        ("inf", None),
        ("-infinity", None),
        ("12,000", None),
        ("12.000,5", None),
        (".", None),
        ("52000 mi", None),
        (" 52000", None),
        ("", None),
        (None, None),
    ],
)
def test_numbers(stage: Stage, text: str | None, value: float | None):
    assert typed(stage, "repair_order", "odometer_in", text) == value


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        ("12.3", 1_230),
        ("12.30", 1_230),
        ("12", 1_200),
        ("0.29", 29),  # 0.29 x 100 is 28.999999999999996 in binary floating point (IEEE 754 doubles)
        ("1.15", 115),  # 1.15 x 100 is 114.99999999999999 there
        ("4.35", 435),
        ("-45.10", -4_510),
        ("-0.05", -5),
        ("+7.5", 750),
        ("0", 0),
        ("9999999999999.99", 999_999_999_999_999),
        ("12.345", None),  # a tenth of a cent is never rounded away
        ("12.300", None),
        ("1,234.50", None),
        ("12,50", None),
        ("$12.50", None),
        ("(12.50)", None),
        ("1e2", None),
        ("nan", None),
        ("", None),
        (None, None),
    ],
)
def test_money_in_whole_cents(stage: Stage, text: str | None, cents: int | None):
    found = typed(stage, "repair_line", "cost_cents", text)
    assert found == cents
    assert cents is None or type(found) is int


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2024-02-29", date(2024, 2, 29)),  # 2024 is divisible by 4 and not by 100: a leap year
        ("1999-12-31", date(1999, 12, 31)),
        ("2023-02-29", None),
        ("2024-02-30", None),
        ("2024-13-01", None),
        ("2024-00-10", None),
        ("2024-2-3", None),
        ("24-02-03", None),
        ("03/02/2024", None),
        ("2024/02/03", None),
        ("20240203", None),
        ("2024-02-03 00:00:00", None),
        ("2024-02-03T00:00", None),
        ("infinity", None),
        ("today", None),
        ("", None),
        (None, None),
    ],
)
def test_dates(stage: Stage, text: str | None, value: date | None):
    assert typed(stage, "repair_order", "opened_on", text) == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        *[(text, True) for text in ("true", "TRUE", "True", "1", "yes", "Yes")],
        *[(text, False) for text in ("false", "FALSE", "False", "0", "no", "NO")],
        *[(text, None) for text in ("2", "-1", "y", "t", "ok", "passed", "1.0", "", None)],
    ],
)
def test_booleans(stage: Stage, text: str | None, value: bool | None):
    assert typed(stage, "verification", "passed", text) is value


@pytest.mark.parametrize(
    ("of", "column", "text", "value"),
    [
        ("repair_line", "kind", "Labor", "labor"),
        ("repair_line", "action", "REPLACED", "replaced"),
        ("repair_line", "component_code", "Water_Pump", "water_pump"),
        ("repair_line", "component_code", "No Such Part", "no such part"),
        ("repair_line", "position", "Front Left", "front left"),
        ("repair_order", "odometer_unit", "KM", "km"),
        # Free text and the shop's own numbers stay as they are.
        ("repair_line", "cause", "Found WORN", "Found WORN"),
        ("repair_line", "part_number", "Ab-1", "Ab-1"),
        ("repair_line", "repair_order_id", "RO-7a", "RO-7a"),
        ("vehicle", "engine_family", "Alder 2.0", "Alder 2.0"),
        ("repair_line", "kind", None, None),
    ],
)
def test_closed_lists_and_positions_are_lower_case_and_no_other_text(
    stage: Stage, of: str, column: str, text: str | None, value: str | None
):
    assert typed(stage, of, column, text) == value


def test_no_row_is_dropped_and_repeats_are_numbered(stage: Stage):
    same = {"repair_order_id": "A", "line_no": "1", "kind": "labor"}
    rows = [same, {**same, "line_no": "1.0"}, same, {**same, "cause": "worn"}, same, {"line_no": "rubbish"}]
    # Repeats are the same to the letter: "1.0" is another text than "1", though the same number.
    assert stage(LINE, rows, "row_number, line_no, repeat_no, landed_at") == [
        (2, 1, 1, LANDED),
        (3, 1, 1, LANDED),
        (4, 1, 2, LANDED),
        (5, 1, 1, LANDED),
        (6, 1, 3, LANDED),
        (7, None, 1, LANDED),
    ]


def test_only_the_part_that_is_asked_for(store: Store, stage: Stage):
    stage(LINE, [{"line_no": "1"}, {"line_no": "2"}], "line_no")
    assert stage(LINE, [{"line_no": "3"}], "line_no") == [(3,)]
    store.run(staged_sql(LINE, "staged_rows"), ("no such file", "p"))
    assert store.value("SELECT count(*) FROM staged_rows") == 0


@pytest.mark.parametrize("of", TRADE_TABLES, ids=lambda of: of.name)
def test_every_trade_table_is_staged_in_the_types_of_its_store_table(store: Store, stage: Stage, of: Table):
    stage(of, [{}], "row_number")
    made = {name: kind for name, kind, *_ in store.rows("DESCRIBE staged_rows")}
    kept = {name: kind for name, kind, *_ in store.rows(f"DESCRIBE {of.name}")}
    assert {name: made[name] for name in of.column_names} == {name: kept[name] for name in of.column_names}
    assert all(made[f"text_{name}"] == "VARCHAR" for name in of.column_names)


@pytest.mark.parametrize("of", TRADE_TABLES, ids=lambda of: of.name)
def test_the_view_has_the_columns_of_the_table(store: Store, stage: Stage, of: Table):
    stage(of, [{}], "row_number")
    made = [column[:2] for column in store.rows("DESCRIBE staged_rows")]
    store.run(staged_view_sql(of, "viewed_rows", "f", "p"))
    assert [*(column[:2] for column in store.rows("DESCRIBE viewed_rows")), ("repeat_no", "BIGINT")] == made


def test_repeats_are_found_among_rows_of_one_key_alone(store: Store, stage: Stage):
    same = {"repair_order_id": "A", "line_no": "1", "kind": "labor"}
    rows = [same, {**same, "line_no": "1.0"}, same, {**same, "cause": "worn"}, same, {}, {}, {"line_no": "rubbish"}]
    stage(LINE, rows, "row_number")
    ((file_id,),) = store.rows("SELECT DISTINCT file_id FROM staged_rows")
    store.run(staged_view_sql(LINE, "viewed_rows", file_id, "p"))
    store.run(repeated_sql(LINE, "viewed_rows", "repeated_rows"))
    # Row numbers from 2: the third and fifth say what the first says, and of two rows with nothing one is enough.
    assert store.rows("SELECT row_number FROM repeated_rows ORDER BY 1") == [(4,), (6,), (8,)]
    store.run(distinct_view_sql("viewed_rows", "repeated_rows", "distinct_rows", 3))
    assert store.rows("SELECT row_number FROM distinct_rows ORDER BY 1") == [(2,), (3,), (5,), (7,), (9,)]
