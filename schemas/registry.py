"""All tables in build order, looked up by name. Refuses, at import, a column name with two meanings."""

from __future__ import annotations

from difflib import get_close_matches

from longmile.schemas.contract import Table
from longmile.schemas.lives import LIFE_TABLES
from longmile.schemas.results import RESULT_TABLES
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.store import STORE_TABLES
from longmile.schemas.units import UNITS

TABLES: tuple[Table, ...] = (*STORE_TABLES, *TRADE_TABLES, *LIFE_TABLES, *RESULT_TABLES)


def table(name: str) -> Table:
    """The table of that name; KeyError naming the nearest where there is none."""
    by_name = {t.name: t for t in TABLES}
    if name not in by_name:
        nearest = get_close_matches(name, by_name, n=1, cutoff=0.0)[0]
        raise KeyError(f"no table {name!r}; nearest is {nearest!r}")
    return by_name[name]


def refuse_double_meanings(tables: tuple[Table, ...]) -> None:
    """ValueError where one column name is declared with two types or two units, or a unit is not on the list."""
    seen: dict[str, tuple[str, str, str]] = {}
    for declared in tables:
        for column in declared.columns:
            if column.unit not in UNITS:
                raise ValueError(f"{declared.name}.{column.name}: unit {column.unit!r} is not in units.UNITS")
            first = seen.setdefault(column.name, (column.type, column.unit, declared.name))
            if first[:2] != (column.type, column.unit):
                raise ValueError(
                    f"column {column.name}: {first[0]} in {first[1]!r} in {first[2]}, "
                    f"but {column.type} in {column.unit!r} in {declared.name}. Same name, same meaning."
                )


def _refuse_double_tables(tables: tuple[Table, ...]) -> None:
    names = [t.name for t in tables]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise ValueError(f"tables declared twice: {', '.join(twice)}")


_refuse_double_tables(TABLES)
refuse_double_meanings(TABLES)
