"""Every cell of the committed shapes under the map that a person would accept, against the truth beside them."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from longmile.pipelines.maps.map_file import parse_map
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.source_map import SourceMap
from longmile.pipelines.maps.translate import NOT_AS_MAPPED, contract_select
from longmile.pipelines.sources.read import read_file
from longmile.schemas.shop import TRADE_TABLES

FOLDER = Path(__file__).parents[2] / "shapes"
NOT_READ = ("impossible date", "not a number")
"""Kinds of broken cells that no stated format may read; other kinds are read and broken by the contract's rules."""


def _shapes() -> ModuleType:
    name = "longmile_tests_shapes"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, FOLDER / "shapes.py")
        if spec is None or spec.loader is None:
            raise ImportError("shapes.py cannot be loaded")
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


SHAPES = _shapes()
ALL = [shape for folder in (SHAPES.KNOWN, SHAPES.HELD_OUT, SHAPES.FRESH) for shape in SHAPES.load_shapes(folder)]


def translated(connection: Any, shape: Any, part: Any, source_map: SourceMap) -> dict[str, dict[int, dict[str, Any]]]:
    """Contract table -> row number -> contract column as named in the neutral layout -> neutral text."""
    (raw,) = [raw for file in shape.files for raw in read_file(file) if raw.name == part.name]
    connection.register("shape_rows", raw.rows)
    found: dict[str, dict[int, dict[str, Any]]] = {}
    for how in source_map.tables:
        (table,) = [one for one in TRADE_TABLES if one.name == how.table]
        rows = connection.sql(contract_select(source_map, how, "shape_rows", raw.headers)).pl().iter_rows(named=True)
        found[how.table] = {
            row["row_number"]: {column.incoming: row[f"text_{column.name}"] for column in table.columns} for row in rows
        }
    return found


@pytest.mark.parametrize("shape", ALL, ids=lambda shape: shape.name)
def test_every_cell_lands_as_the_truth_says(connection, shape):
    n_checked = 0
    for part in (part for part in shape.parts if part.source_map):
        found = translated(connection, shape, part, SHAPES.source_map_of(part.source_map))
        for landed in part.landed:
            for row in landed.rows:
                for column, text in found[landed.table][row].items():
                    expected = landed.values.get(column)
                    assert SHAPES.same_value(landed.table, column, expected, text), (part.name, row, column)
                    n_checked += 1
    assert n_checked > 100


@pytest.mark.parametrize("shape", ALL, ids=lambda shape: shape.name)
def test_every_broken_cell_is_not_as_mapped_or_stays_as_it_is(connection, shape):
    for part in (part for part in shape.parts if part.source_map):
        found = translated(connection, shape, part, SHAPES.source_map_of(part.source_map))
        for one in (one for one in part.quarantined if one.table and one.kind in NOT_READ):
            assert found[one.table][one.row][one.column] == f"{NOT_AS_MAPPED}{one.cell}"


@pytest.mark.parametrize("shape", ALL, ids=lambda shape: shape.name)
def test_the_accepted_map_of_every_shape_is_one_that_can_be_written_and_read(shape):
    for part in (part for part in shape.parts if part.source_map):
        source_map = SHAPES.source_map_of(part.source_map)
        assert parse_map(map_text(source_map), source_map.name) == source_map
