"""JSON lines to a RawTable: one object a line, values as they are written, columns the union of the keys."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import polars as pl

from longmile.pipelines.sources.encoded import Line, lines_from, text_file
from longmile.pipelines.sources.headers import MAX_COLUMNS, checked_headers
from longmile.pipelines.sources.shape import (
    ROW_NUMBER,
    BadLine,
    RawTable,
    bad_lines_frame,
    cut,
    unreadable,
    with_nulls,
    without_long_cells,
)

_BATCH = 50_000


class _BadObject(ValueError):
    """Why a line is not an object that can become a row."""


def _row(pairs: list[tuple[str, Any]]) -> dict[str, str | None]:
    """The object's values as text. A nested object has come through here before: it is refused as a value."""
    row: dict[str, str | None] = {}
    for written, value in pairs:
        key = written.strip()
        if not key:
            raise _BadObject("has a key that is blank")
        if key in row:
            raise _BadObject(f"has the key {cut(key)[:60]!r} twice")
        row[key] = _text(key, value)
    return row


def _text(key: str, value: Any) -> str | None:
    """One value as text; null stays empty."""
    if isinstance(value, dict | list):
        kind = "an object" if isinstance(value, dict) else "a list"
        raise _BadObject(f"holds {kind} under {key[:60]!r}, where a single value is expected")
    if isinstance(value, bool):
        return "true" if value else "false"
    return value if value is None else str(value)


def _no_constant(name: str) -> str:
    """NaN and Infinity are not JSON."""
    raise _BadObject(f"holds {name}, which is not JSON")


_DECODER = json.JSONDecoder(
    object_pairs_hook=_row, parse_int=str, parse_float=str, parse_constant=_no_constant, strict=True
)


def _parsed(text: str) -> dict[str, str | None] | str:
    """The row, or why there is none."""
    try:
        row = _DECODER.decode(text)
        if not isinstance(row, dict):
            return "is not a JSON object"
        joined = "".join([*row, *filter(None, row.values())])
        joined.encode()
    except _BadObject as error:
        return str(error)
    except json.JSONDecodeError as error:
        return f"is not JSON ({error.msg} at character {error.pos + 1:,})"
    except RecursionError:
        return "is nested too deeply"
    except UnicodeEncodeError:
        return "holds half of a surrogate pair, which is not a character"
    return "holds a NUL character" if "\0" in joined else row


def is_json_line(text: str) -> bool:
    """Whether a line is meant as a JSON object, whatever the file is called."""
    return text.lstrip().startswith("{") and isinstance(_parsed(text), dict)


class _Account:
    """What has been read so far; rows are turned into frames in batches to keep memory low."""

    def __init__(self, known_as: str) -> None:
        self._known_as = known_as
        self._numbers: list[int] = []
        self._rows: list[dict[str, str | None]] = []
        self._frames: list[pl.DataFrame] = []
        self.keys: dict[str, None] = {}
        self.bad: list[BadLine] = []
        self.n_blank = 0

    def take(self, line: Line) -> None:
        """One physical line."""
        if not line.text.strip():
            self.n_blank += 1
            return
        row = line.trouble or _parsed(line.text)
        if isinstance(row, str):
            self.bad.append(BadLine(line.number, line.text if line.trouble else cut(line.text), row))
            return
        self._numbers.append(line.number)
        self._rows.append(row)
        self.keys.update(dict.fromkeys(row))
        if len(self.keys) > MAX_COLUMNS:
            checked_headers(self._known_as, self.keys, [])
        if len(self._rows) >= _BATCH:
            self._flush()

    def _flush(self) -> None:
        """The batch as a frame with the keys known by now; later keys are added when all are known."""
        columns = [pl.Series(ROW_NUMBER, self._numbers, dtype=pl.Int64)]
        columns += [pl.Series(f"key {key}", [row.get(key) for row in self._rows], dtype=pl.String) for key in self.keys]
        self._frames.append(pl.DataFrame(columns))
        self._numbers, self._rows = [], []

    def frame(self, names: tuple[str, ...]) -> pl.DataFrame:
        """All rows under these names, one for each key."""
        self._flush()
        rows = pl.concat(self._frames, how="diagonal")
        return rows.rename({f"key {key}": name for key, name in zip(self.keys, names, strict=True)})


def read_json_lines(path: Path, known_as: str) -> RawTable:
    """The file's objects as text rows. Raises UnreadableFileError where not one line is an object."""
    source = text_file(path, known_as)
    account = _Account(known_as)
    for line in lines_from(source, 1):
        account.take(line)
    if not account.keys:
        raise _no_object(known_as, account.bad)
    notes = list(source.notes)
    named = checked_headers(known_as, account.keys, notes)
    rows, long = without_long_cells(with_nulls(account.frame(named.names)), "\t")
    if account.n_blank:
        notes.append(f"{account.n_blank:,} blank {'line' if account.n_blank == 1 else 'lines'} ignored")
    n_physical = source.n_lines - account.n_blank
    bad = bad_lines_frame([*account.bad, *long])
    return RawTable(Path(known_as).stem, rows, bad, n_physical, tuple(notes), named.repeated)


def _no_object(known_as: str, bad: list[BadLine]) -> Exception:
    """The error of a file that may be JSON, but not one object a line."""
    found = f"line {bad[0].row_number} {bad[0].reason}" if bad else "there is no key in any line"
    return unreadable(
        known_as,
        f"no line holds a JSON object with values ({found})",
        "one JSON object on each line",
        "Export as JSON lines, not as one list or over several lines",
    )
