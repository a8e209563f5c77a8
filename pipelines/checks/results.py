"""What a check gives back: frozen rows, ready for the table `check_result`. Nothing is run here."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Literal

from longmile.schemas.contract import Severity

Outcome = Literal["passed", "failed"]


@dataclass(frozen=True)
class Example:
    """One row that broke a rule: its number in the file, and the text that came (None for an empty cell)."""

    row_number: int
    value: str | None


@dataclass(frozen=True)
class RowRuleResult:
    """One row rule against one staged file: how many rows it was asked of, and how many broke it."""

    table_name: str
    rule: str
    severity: Severity
    sentence: str
    n_checked: int
    n_failed: int
    examples: tuple[Example, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """Passed where no row broke it."""
        return "failed" if self.n_failed else "passed"

    def as_row(self) -> dict[str, object]:
        """A row of `check_result`; `observed` is the share of rows that broke the rule, None of no rows."""
        return {
            "table_name": self.table_name,
            "rule": self.rule,
            "severity": self.severity,
            "sentence": self.sentence,
            "n_checked": self.n_checked,
            "n_failed": self.n_failed,
            "observed": self.n_failed / self.n_checked if self.n_checked else None,
            "outcome": self.outcome,
            "examples": json.dumps([[e.row_number, e.value] for e in self.examples], ensure_ascii=False),
        }


@dataclass(frozen=True)
class RowCheckOutcome:
    """Every row rule of one table against one staged file, in the order of declaration."""

    table_name: str
    n_rows: int
    rules: tuple[RowRuleResult, ...] = field(default=())

    @property
    def broken(self) -> tuple[RowRuleResult, ...]:
        """The rules that at least one row broke."""
        return tuple(result for result in self.rules if result.n_failed)

    def as_rows(self) -> list[dict[str, object]]:
        """One row of `check_result` for each rule."""
        return [result.as_row() for result in self.rules]


@dataclass(frozen=True)
class TableCheckResult:
    """One rule about a whole table: the value observed and the limits it was held against.

    `observed` is None where the query could give no finite number, and the rule has then failed.
    """

    table_name: str
    rule: str
    severity: Severity
    sentence: str
    observed: float | None
    minimum: float | None
    maximum: float | None
    n_checked: int
    n_failed: int
    outcome: Outcome

    def as_row(self) -> dict[str, object]:
        """A row of `check_result`."""
        return {
            "table_name": self.table_name,
            "rule": self.rule,
            "severity": self.severity,
            "sentence": self.sentence,
            "n_checked": self.n_checked,
            "n_failed": self.n_failed,
            "observed": self.observed,
            "outcome": self.outcome,
            "examples": "[]",
        }
