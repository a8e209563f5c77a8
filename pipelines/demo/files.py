"""Writes the export files of the invented shop: CSV, one XLSX, one JSON-lines, one Parquet, one legacy CSV.

The bytes depend on the tables alone: no clock is read, and the spreadsheet carries a fixed date.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.dirt import REEXPORT_LOCATION, REEXPORT_MONTH, Dirt

PERIODS = ((2018, 2019), (2020, 2021), (2022, 2023), (2024, 2024), (2025, 2025))
"""Years exported together."""
BROKEN_FILE = "repair_line_harbor_road_2017.xlsx"
_BROKEN_BYTES = 3_000
_SLUGS = tuple(name.lower().replace(" ", "_") for name in sc.LOCATIONS)
_ORDER_COLUMNS = (
    "repair_order_id", "location_name", "vehicle_id", "opened_on", "closed_on", "odometer_in", "odometer_out",
    "odometer_unit", "status", "concern", "total",
)  # fmt: skip
_LINE_COLUMNS = (
    "repair_order_id", "line_no", "kind", "component_code", "position", "action", "reason", "part_number",
    "part_origin", "supplier", "quantity", "hours", "cost", "price", "cause", "correction", "technician",
)  # fmt: skip
_NUMBERS = {
    "line_no": pl.Int64,
    "quantity": pl.Float64,
    "hours": pl.Float64,
    "cost": pl.Float64,
    "price": pl.Float64,
}
_LINE_FORMATS: dict[tuple[int, int], str] = {
    (0, 2018): "parquet",
    (1, 2020): "windows",
    (1, 2024): "xlsx",
    (1, 2025): "jsonl",
}
"""Formats other than CSV, by location and first year."""


def write_files(folder: Path, dirt: Dirt) -> dict[str, tuple[str, int]]:
    """Write everything into the folder; gives table and rows of every file that can be read, by file name."""
    folder.mkdir(parents=True, exist_ok=True)
    written: dict[str, tuple[str, int]] = {}

    def keep(table: str, name: str, frame: pl.DataFrame, how: str = "csv") -> None:
        path = folder / f"{table}{name}.{_ENDINGS[how]}"
        _WRITERS[how](frame, path)
        written[path.name] = (table, len(frame))

    keep("engine_family", "", dirt.tables.engine_family)
    for at, slug in enumerate(_SLUGS):
        keep("vehicle", f"_{slug}", dirt.tables.vehicle.filter(pl.col("home") == at).drop("home"))
        for first, last in PERIODS:
            years = str(first) if first == last else f"{first}-{last}"
            lines = lines_of(dirt, at, first, last)
            keep("repair_order", f"_{slug}_{years}", orders_of(dirt, at, first, last))
            keep("repair_line", f"_{slug}_{years}", lines, _LINE_FORMATS.get((at, first), "csv"))
    again = f"_{_SLUGS[REEXPORT_LOCATION]}_{REEXPORT_MONTH}_again"
    keep("repair_order", again, _orders(dirt.again_orders))
    keep("repair_line", again, dirt.again_lines.select(_LINE_COLUMNS))
    for table in ("measurement", "trouble_code", "verification", "warranty_promise"):
        keep(table, "", getattr(dirt.tables, table))
    _write_broken(folder / BROKEN_FILE, dirt.tables.line)
    return written


def orders_of(dirt: Dirt, location: int, first: int, last: int) -> pl.DataFrame:
    """Orders in one location's file of those years, those it exported for the other location last."""
    years = pl.col("year").is_between(first, last)
    own = dirt.tables.order.filter(years & (pl.col("location") == location))
    others = dirt.twice_orders.filter(years & (pl.col("location") != location))
    return _orders(pl.concat([own, others]))


def lines_of(dirt: Dirt, location: int, first: int, last: int) -> pl.DataFrame:
    """Lines in one location's file of those years, those it exported for the other location last."""
    years = pl.col("year").is_between(first, last)
    own = dirt.tables.line.filter(years & (pl.col("location") == location))
    others = dirt.twice_lines.filter(years & (pl.col("location") != location))
    return pl.concat([own, others]).select(_LINE_COLUMNS)


def _orders(frame: pl.DataFrame) -> pl.DataFrame:
    return frame.select(_ORDER_COLUMNS).rename({"location_name": "location"})


def _typed(frame: pl.DataFrame) -> pl.DataFrame:
    """Lines with their numbers as numbers, for the formats that keep types."""
    return frame.with_columns(pl.col(name).cast(kind) for name, kind in _NUMBERS.items())


def _write_csv(frame: pl.DataFrame, path: Path) -> None:
    frame.write_csv(path)


def _write_windows(frame: pl.DataFrame, path: Path) -> None:
    """Semicolons and Windows-1252, as older office programs export."""
    text = io.BytesIO()
    frame.write_csv(text, separator=";", line_terminator="\r\n")
    path.write_bytes(text.getvalue().decode("utf-8").encode("cp1252"))


def _write_jsonl(frame: pl.DataFrame, path: Path) -> None:
    _typed(frame).write_ndjson(path)


def _write_parquet(frame: pl.DataFrame, path: Path) -> None:
    _typed(frame).write_parquet(path)


def _write_xlsx(frame: pl.DataFrame, path: Path) -> None:
    import xlsxwriter

    options = {"strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(str(path), options) as book:
        book.set_properties({"created": datetime(2026, 1, 2), "title": "Repair lines"})
        _typed(frame).write_excel(book, worksheet="Repair lines", float_precision=2, autofilter=False)


def _write_broken(path: Path, line: pl.DataFrame) -> None:
    """A spreadsheet whose transfer broke off: the first bytes of a sound one."""
    _write_xlsx(line.select(_LINE_COLUMNS).head(200), path)
    path.write_bytes(path.read_bytes()[:_BROKEN_BYTES])


_ENDINGS = {"csv": "csv", "windows": "csv", "jsonl": "jsonl", "parquet": "parquet", "xlsx": "xlsx"}
_WRITERS: dict[str, Callable[[pl.DataFrame, Path], None]] = {
    "csv": _write_csv,
    "windows": _write_windows,
    "jsonl": _write_jsonl,
    "parquet": _write_parquet,
    "xlsx": _write_xlsx,
}
