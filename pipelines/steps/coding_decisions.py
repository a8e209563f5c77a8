"""What people decided about the texts of lines: of one line, or of all lines that say the same."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.steps.coding_rows import at_lines
from longmile.schemas.vocabulary import ACTIONS, BY_CODE, REASONS

Answers = Mapping[str, Sequence[Mapping[str, Any]]]
"""Subject, `line|<order>|<line>` or `text|<key>`, to the mentions decided."""

_ALLOWED = (("component", BY_CODE), ("action", ACTIONS), ("reason", REASONS))


def answers(decisions: pl.DataFrame) -> Answers:
    """Mentions decided for each subject; a decision taken back is left out.

    Raises LongmileError naming a subject whose decision says what the vocabulary does not have.
    """
    found = {}
    for subject, answer in decisions.select("subject", "answer").iter_rows():
        decided = json.loads(answer) if answer is not None else None
        if decided is not None:
            found[subject] = [_checked(subject, one) for one in decided["mentions"]]
    return found


def _checked(subject: str, one: Mapping[str, Any]) -> Mapping[str, Any]:
    """One mention decided; LongmileError where its words are not of the vocabulary."""
    for name, allowed in _ALLOWED:
        value = one.get(name)
        if value not in allowed and (value is not None or name == "component"):
            raise LongmileError(
                f"decision about {subject}: {value!r} is no {name}. Expected one of the vocabulary; "
                "take the decision back, or decide anew."
            )
    return one


def with_subject(lines: pl.DataFrame, decided: Answers) -> pl.DataFrame:
    """Lines with the subject that was decided about: the line itself before its text; null where nobody decided."""
    own = pl.concat_str(pl.lit("line|"), "repair_order_id", pl.lit("|"), pl.col("line_no").cast(pl.String))
    text = pl.concat_str(pl.lit("text|"), "text_key")
    subjects = list(decided)
    return lines.with_columns(subject=pl.when(own.is_in(subjects)).then(own).when(text.is_in(subjects)).then(text))


def answered(lines: pl.DataFrame, decided: Answers) -> pl.DataFrame:
    """Rows of `coded_line` for lines with a subject that was decided about."""
    asked = lines.filter(pl.col("subject").is_not_null())
    rows = [row for subject in asked["subject"].unique() for row in _rows(subject, decided[subject])]
    return at_lines(asked, rows, ["subject"])


def _rows(subject: str, mentions: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Rows of one decision; one without component where it is about none."""
    said = {
        "subject": subject,
        "confidence": 1.0,
        "coding_state": "coded" if mentions else "no_component",
        "coding_stage": "reviewed",
        "because": "decided by a person",
    }
    told = [
        {"component_code": one["component"]} | {name: one.get(name) for name in ("position", "action", "reason")}
        for one in mentions
    ]
    return [said | {"mention_no": i} | one for i, one in enumerate(told or [{}], 1)]
