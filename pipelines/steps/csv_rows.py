"""Rows of a file as text, read cell by cell: numbers and names out, faulty rows set aside with the reason.

Knows no layout and makes no estimate; a module that reads one kind of file says which columns there are.
"""

from __future__ import annotations

import difflib
from collections.abc import Collection
from dataclasses import dataclass, field

import numpy as np
import polars as pl

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.estimators.lives import Codes, Flags, Floats

_MISSING = ("", "na", "n/a", "nan", "null", "none")


@dataclass
class CsvRows:
    """Cells of a file whose columns are all text, and the faults found so far."""

    frame: pl.DataFrame
    faults: list[pl.DataFrame] = field(default_factory=list)

    def number(self, column: str) -> Floats:
        """Column as numbers, NaN where the cell is empty or not a number."""
        cells = pl.col(column).str.strip_chars()
        return self.frame.select(cells.cast(pl.Float64, strict=False)).to_series().fill_null(np.nan).to_numpy()

    def missing(self, column: str) -> Flags:
        """True where the cell is empty or says so."""
        cells = pl.col(column).str.strip_chars().str.to_lowercase().fill_null("")
        return self.frame.select(cells.is_in(list(_MISSING))).to_series().to_numpy()

    def refuse(self, column: str, wrong: Flags, reason: str) -> None:
        """Sets aside the rows marked wrong; a {cell} in the reason is filled with what the cell holds."""
        rows = np.flatnonzero(wrong)
        if not rows.size:
            return
        before, _, after = reason.partition("{cell}")
        shown = self.frame[column].fill_null("")[rows] if "{cell}" in reason else pl.Series([""] * rows.size)
        text = pl.Series([before] * rows.size) + shown.str.slice(0, 40) + after
        self.faults.append(pl.DataFrame({"row": rows + 1, "column": [column] * rows.size, "reason": text}))

    def checked_number(self, column: str, *, empty: str = "empty") -> Floats:
        """Column as numbers of 0 or more; other rows are set aside."""
        value, missing = self.number(column), self.missing(column)
        self.refuse(column, missing, empty)
        self.refuse(column, ~missing & ~np.isfinite(value), "not a number: {cell}")
        self.refuse(column, value < 0, "below 0: {cell}")
        return value

    def name(self, column: str) -> pl.Series:
        """Column as names without surrounding blanks; rows without one are set aside."""
        names = self.frame.select(pl.col(column).str.strip_chars().fill_null("")).to_series()
        self.refuse(column, (names == "").to_numpy(), "empty")
        return names

    def set_aside(self) -> pl.DataFrame:
        """One row per fault: row (1 is the first below the header), column, reason."""
        empty = pl.DataFrame(schema={"row": pl.Int64, "column": pl.String, "reason": pl.String})
        return pl.concat([empty, *self.faults]).sort("row", maintain_order=True)

    def is_bad(self) -> Flags:
        """True for the rows that are set aside."""
        bad = np.zeros(self.frame.height, np.bool_)
        bad[self.set_aside()["row"].to_numpy() - 1] = True
        return bad


def with_plain_names(frame: pl.DataFrame, expected: Collection[str]) -> pl.DataFrame:
    """Headers without surrounding blanks; the expected names in any case. Raises UnreadableFileError on two alike."""
    plain = {name: name.strip() for name in frame.columns}
    known = {name: text.lower() if text.lower() in expected else text for name, text in plain.items()}
    if len(set(known.values())) < len(known):
        raise UnreadableFileError(
            f"two columns have the same name (found: {', '.join(frame.columns)}). Expected each name once."
        )
    return frame.rename(known).cast(pl.String)


def asked_column(frame: pl.DataFrame, name: str, option: str) -> str:
    """The column that a name given with an option means. Raises UnreadableFileError where there is none."""
    if name.strip() in frame.columns:
        return name.strip()
    near = difflib.get_close_matches(name, frame.columns, n=1)
    hint = f" Nearest: {near[0]}." if near else ""
    raise UnreadableFileError(f"no column `{name}` (asked by {option}). Found: {', '.join(frame.columns)}.{hint}")


def missing_columns(absent: list[str], found: list[str], expected: str) -> UnreadableFileError:
    """The error for a file that lacks columns, naming what was found and what is nearest."""
    near = [match for name in absent for match in difflib.get_close_matches(name, sorted(found), n=1)]
    hint = f" Nearest to what is missing: {', '.join(near)}." if near else ""
    return UnreadableFileError(
        f"missing column{'s' if len(absent) > 1 else ''} {', '.join(absent)}. "
        f"Found: {', '.join(found) or 'none'}. Expected {expected}, separated by commas.{hint}"
    )


def coded_groups(frame: pl.DataFrame, keys: list[str], by: list[str]) -> tuple[Codes, list[dict[str, str | None]]]:
    """Group code of each row, and the values of each group under the names asked for, by first appearance."""
    if not keys:
        return np.zeros(frame.height, np.int64), [{}] if frame.height else []
    cells = frame.select(pl.col(key).str.strip_chars().alias(name) for key, name in zip(keys, by, strict=True))
    groups = cells.unique(maintain_order=True).with_row_index("_stratum")
    coded = cells.join(groups, on=by, how="left", nulls_equal=True, maintain_order="left")
    return coded["_stratum"].cast(pl.Int64).to_numpy(), groups.drop("_stratum").to_dicts()
