"""A workspace under tmp_path with files in the neutral layout written from small tables, and the job run on it."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from pathlib import Path

import duckdb
import pytest

from longmile.pipelines.flows.run import run_job
from longmile.pipelines.workspace import create_workspace


class Shop:
    """A workspace whose clock moves one minute a look, from 2025-06-01 on, so that every landing has its moment."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.workspace = create_workspace(folder)
        self.now = datetime(2025, 6, 1)
        self.said: list[str] = []

    def clock(self) -> datetime:
        self.now += timedelta(minutes=1)
        return self.now

    def write(self, file_name: str, header: str, rows: Iterable[Iterable[object]]) -> Path:
        """A CSV file in the inbox; header as one string with commas, None as an empty cell."""
        path = self.workspace.inbox / file_name
        with path.open("w", newline="", encoding="utf-8") as stream:
            writer = csv.writer(stream)
            writer.writerow(header.split(","))
            writer.writerows([["" if cell is None else cell for cell in row] for row in rows])
        return path

    def run(self, as_of: date | None = None, known_at: datetime | None = None):
        """Run the job; what was said is in `said`."""
        return run_job(self.folder, as_of=as_of, known_at=known_at, say=self.said.append, clock=self.clock)

    def query(self, sql: str, *parameters: object) -> list[tuple]:
        """Rows of a query on the store, opened for reading only."""
        with duckdb.connect(str(self.workspace.store), read_only=True) as connection:
            return connection.execute(sql, list(parameters)).fetchall()

    def tables(self, *, without: tuple[str, ...] = ()) -> dict[str, list[tuple]]:
        """Every table's rows in a fixed order, columns named in `without` left out."""
        names = [
            name for (name,) in self.query("SELECT table_name FROM duckdb_tables() WHERE NOT temporary ORDER BY 1")
        ]
        found = {}
        for name in names:
            columns = [
                c
                for (c,) in self.query("SELECT column_name FROM duckdb_columns() WHERE table_name = ?", name)
                if c not in without
            ]
            listed = ", ".join(f'"{c}"' for c in columns)
            found[name] = self.query(f'SELECT {listed} FROM "{name}" ORDER BY ALL')
        return found


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return Shop(tmp_path / "shop")


@pytest.fixture(scope="session")
def shop_at() -> type[Shop]:
    """Makes a shop in a folder of the caller's choice."""
    return Shop
