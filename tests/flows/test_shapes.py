"""Every committed export shape through the real intake, by the map a person would accept: each row lands right, or is
quarantined for the right reason; and no personal value is in the store.

The truth of a shape is written beside it (tests/shapes/README.md).
"""

from __future__ import annotations

import importlib.util
import shutil
import sys
from collections import Counter
from datetime import datetime
from pathlib import Path
from types import ModuleType

import pytest

from longmile.pipelines.flows.intake import InboxLoader
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.match import read_maps
from longmile.pipelines.store.store import Store
from longmile.schemas.shop import TRADE_TABLES

HERE = Path(__file__).parents[1] / "shapes"
TABLES = {table.name: table for table in TRADE_TABLES}


def _module(name: str, path: Path) -> ModuleType:
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec is not None and spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


SHAPES = _module("longmile_tests_shapes", HERE / "shapes.py")
ALL = [shape for folder in (SHAPES.KNOWN, SHAPES.HELD_OUT, SHAPES.FRESH) for shape in SHAPES.load_shapes(folder)]

RULES = {
    "impossible date": "typed",
    "not a number": "typed",
    "unknown value": "one_of",
    "missing required": "required",
    "out of range": "between",
}


def taken_in(shape, folder: Path) -> Store:
    """A store into which the shape's files were loaded by its stated maps."""
    for name in ("sources", "inbox", "landed"):
        (folder / name).mkdir()
    for part in shape.parts:
        if part.source_map:
            made = SHAPES.source_map_of({**part.source_map, "is_accepted": True})
            (folder / "sources" / f"{made.name}.toml").write_text(map_text(made), encoding="utf-8")
    for path in shape.files:
        shutil.copy(path, folder / "inbox" / path.name)
    store = Store(folder / "shape.duckdb")
    loader = InboxLoader(store, 1, lambda: datetime(2026, 11, 1), read_maps(folder / "sources"))
    done = loader.load(folder / "inbox", folder / "landed", lambda _: None)
    assert not done.set_aside, done.set_aside
    return store


@pytest.fixture(scope="module", params=ALL, ids=lambda shape: shape.name)
def loaded(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory):
    store = taken_in(request.param, tmp_path_factory.mktemp(request.param.name))
    yield request.param, store
    store.close()


def written(column, value: object) -> str | None:
    """A stored value as neutral text."""
    if value is None:
        return None
    if column.type == "cents":
        return f"{value / 100:.2f}"  # type: ignore[operator]
    if column.type == "boolean":
        return "true" if value else "false"
    return str(value)


def rule_of(one) -> str:
    """The rule, after its table's name, that a stated fault breaks."""
    names = {"closed before opened": "closed_not_before_opened", "contradicting rows": "key.unique"}
    if one.kind in names:
        return names[one.kind]
    column = next(c.name for c in TABLES[one.table].columns if c.incoming == one.column)
    return f"{column}.{RULES[one.kind]}"


def is_line(rules: str) -> bool:
    """Whether it is a line that is no row of any table."""
    return rules.split(".", 1)[1] in ("line.readable", "line.claimed")


def test_every_row_lands_right(loaded):
    shape, store = loaded
    for part in (part for part in shape.parts if part.source_map):
        for name in {row.table for row in part.landed}:
            table = TABLES[name]
            listed = ", ".join(f'"{column}"' for column in table.column_names)
            stated = {number: row for row in part.landed_in(name) for number in row.rows}
            found = store.rows(f'SELECT row_number, {listed} FROM "{name}" WHERE part_name = ?', (part.name,))
            for number, *values in found:
                assert number in stated, f"{part.name} {name} row {number} should not have landed"
                for column, value in zip(table.columns, values, strict=True):
                    said = stated[number].values.get(column.incoming)
                    told = written(column, value)
                    assert SHAPES.same_value(name, column.incoming, told, said), (part.name, name, number, column.name)


def test_no_row_is_missing(loaded):
    """What a table holds, whichever part brought it first, is what all parts state."""
    shape, store = loaded
    for name, table in TABLES.items():
        stated = {
            tuple(row.values.get(c) for c in _key(table))
            for part in shape.parts
            if part.source_map
            for row in part.landed_in(name)
        }
        listed = ", ".join(f'"{column}"' for column in table.key)
        found = store.rows(f'SELECT DISTINCT {listed} FROM "{name}"')
        assert {tuple(None if v is None else str(v).lower() for v in row) for row in found} == {
            tuple(None if v is None else v.lower() for v in row) for row in stated
        }, name


def _key(table) -> list[str]:
    """The key's columns, as the neutral layout names them."""
    return [column.incoming for column in table.columns if column.name in table.key]


def test_every_bad_row_is_quarantined_for_the_right_reason(loaded):
    shape, store = loaded
    for part in (part for part in shape.parts if part.source_map):
        found = store.rows(
            "SELECT table_name, row_number, rules, reason FROM quarantined_row WHERE part_name = ?", (part.name,)
        )
        lines = Counter(number for _, number, rules, _ in found if is_line(rules))
        assert lines == Counter(one.row for one in part.quarantined if one.table is None), part.name
        rules = {
            (name, number, rule.removeprefix(f"{name}."))
            for name, number, broken, _ in found
            for rule in broken.split(", ")
            if not is_line(broken)
        }
        stated = {(one.table, one.row, rule_of(one)) for one in part.quarantined if one.table}
        assert stated <= rules, sorted(stated - rules)
        assert {row[:2] for row in rules} == {row[:2] for row in stated}, "a row set aside that is sound"


def test_every_file_adds_up(loaded):
    _, store = loaded
    parts = store.rows("SELECT n_landed, n_kept, n_quarantined, n_repeats FROM source_part")
    assert parts and all(landed == kept + aside + repeats for landed, kept, aside, repeats in parts)


def test_no_personal_value_is_in_the_store(loaded):
    shape, store = loaded
    tables = [name for (name,) in store.rows("SELECT table_name FROM duckdb_tables() WHERE NOT temporary")]
    held = repr([store.rows(f'SELECT * FROM "{name}"') for name in tables])
    assert not [value for value in shape.personal_values if value in held]
