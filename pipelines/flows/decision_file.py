"""Decisions written in a table: the list of corrections with its column `answer` filled in, as CSV or workbook."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.flows.answers import MAY_BE, answer_of
from longmile.pipelines.flows.decide import Decided
from longmile.pipelines.flows.spreadsheet import plain
from longmile.pipelines.sources.read import read_file
from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable

NEEDED = ("subject", "answer")


@dataclass(frozen=True)
class Read:
    """Decisions found, rows left open (no answer), and rows that cannot be understood: (sheet, row, why)."""

    made: tuple[Decided, ...]
    n_open: int
    refused: tuple[tuple[str, int, str], ...]


def read_decisions(path: Path, by: str) -> Read:
    """The decisions of a file: one row each, the sheet's name or a column `decision_kind` says of what kind.

    Raises LongmileError where the file or its columns cannot be used.
    """
    made: list[Decided] = []
    refused: list[tuple[str, int, str]] = []
    n_open = 0
    for raw in read_file(path):
        _refuse_other_tables(path, raw)
        refused += [(raw.name, row[0], row[2]) for row in raw.bad_lines.iter_rows()]
        for row in raw.rows.iter_rows(named=True):
            answer = plain(row["answer"])
            if not answer or not answer.strip():
                n_open += 1
                continue
            kind = row.get("decision_kind") or raw.name
            try:
                made.append(
                    Decided(
                        kind, plain(row["subject"]) or "", answer_of(kind, answer), by, plain(row.get("note")) or ""
                    )
                )
            except LongmileError as error:
                refused.append((raw.name, row[ROW_NUMBER], str(error)))
    return Read(tuple(made), n_open, tuple(refused))


def _refuse_other_tables(path: Path, raw: RawTable) -> None:
    missing = [name for name in NEEDED if name not in raw.headers]
    is_kind_told = raw.name in MAY_BE or "decision_kind" in raw.headers
    if missing or not is_kind_told:
        what = f"no column {' and no column '.join(missing)}" if missing else "neither a column decision_kind"
        raise LongmileError(
            f"{path} ({raw.name}): {what}{'' if missing else ' nor a sheet named after a kind'}. Expected a list as "
            f"`longmile corrections --export` writes it; kinds are {', '.join(MAY_BE)}."
        )
