"""What is read from the texts of repair lines (`coded_line`), and the model by which it was read (`coding_model`).

A line without a component of the vocabulary is read, if it says anything: the decision about that very line stands
first, then the decision about its text, then the coder's own coding. A line that comes with its component keeps it;
where its action, position or reason is empty, what the text tells of that component is taken. Lines that say the same
are read once. The coder learns from the lines that came with their component and from the decisions. A fee is about no
component unless somebody decides it is. The concern is context only: it is no part of the text that is decided about.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from longmile.pipelines.coding.coder import Coder, Coding
from longmile.pipelines.coding.line_text import LineText, text_key
from longmile.pipelines.coding.mentions import Mention
from longmile.pipelines.coding.training import MOST_LINES, TARGET, Known, trained
from longmile.pipelines.steps.coding_decisions import Answers, answered, answers, with_subject
from longmile.pipelines.steps.coding_filled import filled
from longmile.pipelines.steps.coding_rows import KEY, TEXTS, at_lines, told
from longmile.schemas.vocabulary import BY_CODE

_OWN_TEXTS = TEXTS[:-1]


@dataclass(frozen=True)
class CodedLines:
    """Rows of `coded_line` and `coding_model`, and what was counted.   n_read: distinct texts read.   n_without_text:
    lines without component and without text.   n_filled: lines that came with their component of which something else
    was read.
    """

    coded_line: pl.DataFrame
    coding_model: pl.DataFrame
    n_read: int
    n_without_text: int
    n_filled: int


def coded_lines(
    lines: pl.DataFrame,
    decisions: pl.DataFrame,
    target: float = TARGET,
    driver: str = "left",
    earlier: pl.DataFrame | None = None,
) -> CodedLines:
    """Codings of repair lines.

    lines: repair_order_id, line_no, kind, component_code, position, action, reason, description, cause, correction,
    concern (of the order).   decisions: subject, answer: those that stand; `text|<key>` for all lines that say the
    same, `line|<order>|<line>` for one; answer as JSON {"mentions": [{component, position, action, reason}]} or null.
    target: share of decided lines that shall be right.   driver: side a driver sits on, left, right or "".
    earlier: rows of `coded_line` from the run before; what the same model read from the same text is not read again.
    Raises LongmileError naming a decision that names what the vocabulary does not have.
    """
    decided = answers(decisions)
    read = with_subject(_with_keys(lines), decided)
    coder = trained(_known(read, decided), target, driver)
    without = read.filter(~pl.col("is_known"))
    unread = without.filter("says", pl.col("subject").is_null())
    kept = _kept(earlier, unread, coder.version)
    unread = unread.join(kept, on=[*KEY, "text_key"], how="anti")
    texts = [LineText(*row) for row in unread.select(TEXTS).unique().sort(TEXTS).iter_rows()]
    codings = zip(texts, coder.codings(texts), strict=True)
    rows = [row for line, coding in codings for row in _rows(line, coding, coder.version)]
    own = filled(read.filter("is_known", "says"), driver, coder.version)
    table = pl.concat([kept, at_lines(unread, rows, TEXTS), answered(without, decided), own]).sort(*KEY, "mention_no")
    n_without = without.filter(~pl.col("says"), pl.col("subject").is_null()).height
    return CodedLines(table, _model(coder), len(texts), n_without, own.height)


def _kept(earlier: pl.DataFrame | None, unread: pl.DataFrame, version: str) -> pl.DataFrame:
    """Rows of the run before that the same model read from the same lines."""
    empty = at_lines(unread.clear(), [], TEXTS)
    if earlier is None:
        return empty
    same = earlier.filter(pl.col("model_version") == version, pl.col("confidence").is_not_null())
    return same.join(unread, on=[*KEY, "text_key"], how="semi").select(empty.columns)


def _with_keys(lines: pl.DataFrame) -> pl.DataFrame:
    """Lines with empty texts for missing ones, the key of their text, and whether they say or bring anything.

    Parts and fees are read without the concern: it is not about them.
    """
    read = lines.with_columns(
        *(pl.col(name).fill_null("") for name in _OWN_TEXTS),
        concern=pl.when(~pl.col("kind").is_in(["part", "fee"])).then("concern").fill_null(""),
        is_known=pl.col("component_code").is_in(list(BY_CODE)).fill_null(False),
    )
    named = read.select(_OWN_TEXTS).unique()
    keys = [text_key(LineText(*row)) for row in named.iter_rows()]
    named = named.with_columns(text_key=pl.Series(keys, dtype=pl.String))
    says = pl.concat_str(pl.col(name).str.strip_chars() for name in _OWN_TEXTS[1:]) != ""
    return read.join(named, on=list(_OWN_TEXTS), how="left").with_columns(says=says)


def _known(read: pl.DataFrame, decided: Answers) -> list[Known]:
    """Lines to learn from: the last of those that came with their component, and those that were decided about."""
    columns = (*TEXTS, "component_code", "repair_order_id")
    coded = read.filter("is_known", "says", pl.col("kind") != "fee")
    coded = coded.group_by(columns[:-1]).agg(pl.col("repair_order_id").max())
    coded = coded.sort("repair_order_id", *columns[:-1]).tail(MOST_LINES).select(columns)
    known = [Known(LineText(*texts), frozenset((code,)), False, order) for *texts, code, order in coded.iter_rows()]
    reviewed = read.filter(~pl.col("is_known"), pl.col("says"), pl.col("subject").is_not_null())
    for *texts, subject, order in reviewed.select(*TEXTS, "subject", "repair_order_id").iter_rows():
        components = frozenset(one["component"] for one in decided[subject])
        known.append(Known(LineText(*texts), components, True, order))
    return known


def _rows(line: LineText, coding: Coding, version: str) -> list[dict[str, Any]]:
    """Rows of one text: one for each component, or one where it is unsure or about none."""
    said = dict(zip(TEXTS, line, strict=True)) | {
        "confidence": coding.confidence,
        "coding_state": coding.state,
        "coding_stage": coding.stage,
        "because": coding.because,
        "model_version": version,
    }
    likeliest: Sequence[Mention | None] = coding.mentions[:1] or (None,)
    mentions = coding.mentions if coding.state == "coded" else likeliest
    return [said | {"mention_no": i} | told(mention) for i, mention in enumerate(mentions, 1)]


def _model(coder: Coder) -> pl.DataFrame:
    """The one row of `coding_model`."""
    row = {
        "model_version": coder.version,
        "n_lines": coder.n_lines,
        "is_used": coder.second is not None,
        "threshold": coder.threshold,
        "accuracy": coder.accuracy,
        "decided_share": coder.decided_share,
    }
    decimals = dict.fromkeys(("threshold", "accuracy", "decided_share"), pl.Float64())
    return pl.DataFrame([row], schema_overrides=decimals | {"n_lines": pl.Int64()})
