"""What the pages are made from: one frozen bundle of result frames, with the columns each of them must have.

Nothing is computed here. Tables of the contract keep its column names; the counts made only for the pages
are declared below, in the same words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

import polars as pl

from longmile.schemas.coding import CODING_MODEL
from longmile.schemas.contract import Table
from longmile.schemas.results import RESULT_TABLES
from longmile.schemas.shop import ENGINE_FAMILY_TABLE
from longmile.schemas.store import CHECK_RESULT, COMPONENT, QUARANTINED_ROW, SOURCE_FILE, SOURCE_PART

Columns = tuple[tuple[str, pl.DataType], ...]

_TEXT, _COUNT, _NUMBER, _DATE = pl.String(), pl.Int64(), pl.Float64(), pl.Date()
_FRAME_TYPE: Mapping[str, pl.DataType] = {
    "text": _TEXT,
    "integer": _COUNT,
    "decimal": _NUMBER,
    "cents": _COUNT,
    "date": _DATE,
    "moment": pl.Datetime("us"),
    "boolean": pl.Boolean(),
}


def _contract(table: Table) -> Columns:
    """The columns of a contract table, as frame types."""
    return tuple((column.name, _FRAME_TYPE[column.type]) for column in table.columns)


FRAME_COLUMNS: Mapping[str, Columns] = {
    **{table.name: _contract(table) for table in RESULT_TABLES},
    "component": _contract(COMPONENT),
    "engine_family": _contract(ENGINE_FAMILY_TABLE),
    "source_file": _contract(SOURCE_FILE),
    "source_part": _contract(SOURCE_PART),
    "quarantined_row": _contract(QUARANTINED_ROW),
    "check_result": _contract(CHECK_RESULT),
    # One row per failed socket: the repair order that ended its life.
    "evidence": (
        ("component_code", _TEXT),
        ("engine_family", _TEXT),
        ("repair_order_id", _TEXT),
        ("opened_on", _DATE),
        ("location", _TEXT),
        ("vehicle_id", _TEXT),
        ("odometer_miles", _NUMBER),
        ("age_miles", _NUMBER),
        ("position", _TEXT),
        ("reason", _TEXT),
        ("concern", _TEXT),
        ("cause", _TEXT),
        ("correction", _TEXT),
        ("part_origin", _TEXT),
        ("supplier", _TEXT),
    ),
    # Failures on a first visit, per component: sockets and repair orders.
    "walk_in_count": (("component_code", _TEXT), ("n_walk_ins", _COUNT), ("n_orders", _COUNT)),
    # Rows set aside per table and rule; a row that breaks two rules counts under both.
    "quarantine_count": (("table_name", _TEXT), ("rule", _TEXT), ("n_rows", _COUNT)),
    # One row.
    "odometer_summary": (
        ("n_readings", _COUNT),
        ("n_used", _COUNT),
    ),
    # What was settled before lives were cut: what it is about, what was found, what was done; codes in settled_words.
    "settled_count": (("about", _TEXT), ("kind", _TEXT), ("state", _TEXT), ("n", _COUNT)),
    "coding_model": _contract(CODING_MODEL),
    "line_use_count": (("use", _TEXT), ("n_lines", _COUNT)),
    "visit_basis_count": (("basis", _TEXT), ("n_visits", _COUNT)),
    # One row: vehicles with a window; from new; seen once, so no mile watched; miles of all windows together.
    "vehicle_window_summary": (
        ("n_vehicles", _COUNT),
        ("n_from_new", _COUNT),
        ("n_walk_once", _COUNT),
        ("miles_watched", _NUMBER),
    ),
}
"""Every frame of ResultFrames with the columns and types it must have, in order."""


def empty_frame(name: str) -> pl.DataFrame:
    """A frame of that name with its columns and no rows."""
    return pl.DataFrame(schema=dict(FRAME_COLUMNS[name]))


@dataclass(frozen=True)
class ResultFrames:
    """All that the pages of one run say, as frames named as their tables, and what the run was asked.

    check_result: rows as checked when their file landed, whole tables in the latest run.
    quarantined_row: a limited sample (the counts are in quarantine_count).
    known_at, built_at: moments in UTC. confidence: that of all limits, between 0 and 1.
    Extra columns and other integer widths are fine. Raises ValueError naming a frame's missing columns.
    """

    estimate: pl.DataFrame
    survival_point: pl.DataFrame
    conditional_survival: pl.DataFrame
    model_fit: pl.DataFrame
    family_value: pl.DataFrame
    unknown_age_value: pl.DataFrame
    family_comparison: pl.DataFrame
    removal_incidence: pl.DataFrame
    recurrence: pl.DataFrame
    covariate_effect: pl.DataFrame
    sensitivity: pl.DataFrame
    component: pl.DataFrame
    engine_family: pl.DataFrame
    source_file: pl.DataFrame
    source_part: pl.DataFrame
    quarantined_row: pl.DataFrame
    check_result: pl.DataFrame
    evidence: pl.DataFrame
    walk_in_count: pl.DataFrame
    quarantine_count: pl.DataFrame
    odometer_summary: pl.DataFrame
    settled_count: pl.DataFrame
    coding_model: pl.DataFrame
    line_use_count: pl.DataFrame
    visit_basis_count: pl.DataFrame
    vehicle_window_summary: pl.DataFrame
    shop_name: str
    as_of: date
    known_at: datetime
    built_at: datetime
    version: str
    confidence: float
    currency: str

    def __post_init__(self) -> None:
        """Refuse a frame without the columns declared for it, and a confidence that is none."""
        for name, columns in FRAME_COLUMNS.items():
            found = getattr(self, name).columns
            missing = [column for column, _ in columns if column not in found]
            if missing:
                raise ValueError(
                    f"result frame {name}: {len(missing)} of {len(columns)} columns are missing: "
                    f"{', '.join(missing)}. It has {', '.join(found) or 'none'}."
                )
        if not 0 < self.confidence < 1:
            raise ValueError(f"confidence is {self.confidence}; expected a share between 0 and 1.")
