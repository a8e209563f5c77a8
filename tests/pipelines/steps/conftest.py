"""A store whose trade tables are filled straight from small tables, for the steps alone."""

from __future__ import annotations

import importlib.util
import sys
from datetime import date, datetime
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from longmile.pipelines.flows.lives import cut_lives
from longmile.pipelines.settings import Settings
from longmile.pipelines.store.store import Store


class Bench:
    """An open store; `put` adds rows to a trade table, `cut` cuts lives as of a date."""

    def __init__(self, path: Path) -> None:
        self.store = Store(path)
        self.put("engine_family", engine_family="Elm", cylinders=4)

    def put(self, table: str, **values: object) -> None:
        row = {**values, "file_id": "f", "part_name": "p", "row_number": 1, "landed_at": datetime(2025, 1, 1)}
        marks = ", ".join("?" for _ in row)
        self.store.run(f"INSERT INTO {table} ({', '.join(row)}) VALUES ({marks})", tuple(row.values()))

    def vehicle(self, vehicle_id: str, *readings: tuple[str, float], unit: str | None = None) -> None:
        """A vehicle with one order a reading, named `<vehicle>1`, `<vehicle>2`, ..."""
        self.put("vehicle", vehicle_id=vehicle_id, engine_family="Elm", odometer_unit=unit)
        for number, (day, odometer) in enumerate(readings, 1):
            self.put(
                "repair_order",
                repair_order_id=f"{vehicle_id}{number}",
                vehicle_id=vehicle_id,
                opened_on=date.fromisoformat(day),
                odometer_in=odometer,
            )

    def line(self, order: str, line_no: int, component: str, **values: object) -> None:
        given = {"kind": "labor", "action": "replaced", "reason": "failed", **values}
        self.put("repair_line", repair_order_id=order, line_no=line_no, component_code=component, **given)

    def cut(self, as_of: date = date(2030, 1, 1), settings: Settings | None = None) -> None:
        self.store.ask(as_of, datetime(2026, 1, 1))
        cut_lives(self.store, settings or Settings())

    def rows(self, sql: str, *parameters: object) -> list[tuple]:
        return self.store.rows(sql, parameters)


@pytest.fixture
def bench(tmp_path: Path):
    made = Bench(tmp_path / "bench.duckdb")
    yield made
    made.store.close()


def _plain(part: str) -> ModuleType:
    """A part of the plain cutter, loaded from its file and kept under a name by which the other parts import it."""
    name = f"longmile_tests_plain_{part}"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"plain_{part}.py"))
        if spec is None or spec.loader is None:
            raise ImportError(f"{name} cannot be loaded")
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


@pytest.fixture(scope="session")
def plain() -> SimpleNamespace:
    """The second cutter of lives: `readings.Shop`, `cutter.cut_shop(shop)`, `counts.estimate(shop, unit)`."""
    return SimpleNamespace(**{part: _plain(part) for part in ("odometer", "readings", "cutter", "counts")})
