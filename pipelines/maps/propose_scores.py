"""Every header scored against every meaning: header words, values and levels brought together. Decides nothing.

Levels hang on which header is the order number; `order_headers` names those that could be.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

import polars as pl

from longmile.pipelines.maps.evidence_fit import fit, total_score
from longmile.pipelines.maps.evidence_header import header_scores, language_of, notions_in
from longmile.pipelines.maps.evidence_levels import Levels, levels
from longmile.pipelines.maps.evidence_sample import sample
from longmile.pipelines.maps.evidence_values import Values, values_of
from longmile.pipelines.maps.propose_sums import with_sums
from longmile.pipelines.maps.words_meaning import Meaning
from longmile.pipelines.maps.words_meanings import BY_NAME, MEANINGS
from longmile.pipelines.maps.words_meanings_refused import REFUSED
from longmile.pipelines.sources.shape import RawTable

WRONG_LEVEL = 0.45
CONSTANT_LINE = 0.8
LEAST_ORDER_SCORE = 0.3
MOST_ORDER_HEADERS = 4
COUNTED = 0.75
_CONTEXTS = (
    "engine",
    "vehicle",
    "fleet",
    "dtc",
    "measure",
    "check",
    "warranty",
    "line",
    "job",
    "part",
    "item",
    "order",
    "visit",
    "repair",
)
_SAME_CONTEXT = {"fleet": "vehicle", "item": "line", "job": "line", "part": "line", "visit": "order", "repair": "order"}


@dataclass(frozen=True)
class Scores:
    """All that is known of a file before anything is decided.

    rows: the rows looked at.   words: header -> meaning -> agreement of the header alone.
    total: header -> meaning -> agreement of header, values and level.
    says: header -> how much its values alone speak for what may be mapped.   left_out: headers that must not be taken.
    """

    rows: pl.DataFrame
    language: str
    context: str
    values: Mapping[str, Values]
    words: Mapping[str, Mapping[str, float]]
    total: Mapping[str, Mapping[str, float]]
    levels: Levels
    says: Mapping[str, float]
    left_out: frozenset[str] = frozenset()

    def without(self, headers: Collection[str]) -> Scores:
        """The same with nothing known of some headers' meanings, so that they are not taken."""
        total = {one: {} if one in headers else found for one, found in self.total.items()}
        return replace(self, total=total, left_out=frozenset(headers))


@dataclass(frozen=True)
class Columns:
    """What headers and values say before levels are known.   flat: header -> meaning -> agreement without levels."""

    rows: pl.DataFrame
    language: str
    context: str
    values: Mapping[str, Values]
    words: Mapping[str, Mapping[str, float]]
    flat: Mapping[str, Mapping[str, float]]


def columns_of(raw: RawTable) -> Columns:
    """The evidence of headers and of a bounded sample of rows, each column by itself."""
    rows = sample(raw)
    language = language_of(raw.headers)
    context = _context(raw.name, language)
    values = {header: values_of(rows[header], language) for header in raw.headers}
    words = {header: header_scores(header, language, context) for header in raw.headers}
    flat = {header: _totals(words[header], values[header]) for header in raw.headers}
    return Columns(rows, language, context, values, words, flat)


def score(known: Columns, order_header: str) -> Scores:
    """The evidence where this header is the order number; empty: there is none."""
    found = levels(known.rows, order_header)
    values = known.values
    levelled = {header: _levelled(header, known.flat[header], values[header], found) for header in values}
    total = with_sums(known.rows, values, levelled, found)
    says = {header: max(fit(one.looks, values[header]).says for one in MEANINGS) for header in values}
    return Scores(known.rows, known.language, known.context, values, known.words, total, found, says)


def _context(name: str, language: str) -> str:
    """The notion that the name of the file or sheet gives to all its headers; empty where none or several."""
    found = notions_in(name, language, only_listed=True)
    named = {_SAME_CONTEXT.get(one, one) for one in _CONTEXTS if one in found}
    if "line" in named:
        named.discard("order")
    return named.pop() if len(named) == 1 else ""


def _totals(words: Mapping[str, float], values: Values) -> dict[str, float]:
    """Agreement with every meaning that header or values speak for."""
    found = {}
    for meaning in (*MEANINGS, *REFUSED):
        agreed = total_score(words.get(meaning.name, 0.0), fit(meaning.looks, values))
        if agreed > 0:
            found[meaning.name] = agreed
    return found


def order_headers(known: Columns) -> list[str]:
    """Headers that could be the order number, to group rows by, the likeliest first."""
    likely = {
        header: found.get("order_no", 0.0) + 0.02 * min(known.values[header].n_distinct, 50) / 50
        for header, found in known.flat.items()
        if known.values[header].n_distinct > 1
    }
    able = [header for header in likely if likely[header] >= LEAST_ORDER_SCORE]
    return sorted(able, key=lambda header: -likely[header])[:MOST_ORDER_HEADERS]


def _levelled(header: str, found: Mapping[str, float], values: Values, known: Levels) -> dict[str, float]:
    """The totals, less where the column changes within orders and the meaning does not, or the other way round."""
    levelled = {name: agreed * _level_factor(BY_NAME[name], header, values, known) for name, agreed in found.items()}
    if header in known.counted:
        levelled["line_no"] = 1 - (1 - levelled.get("line_no", 0.0)) * (1 - COUNTED)
    return levelled


def _level_factor(meaning: Meaning, header: str, values: Values, known: Levels) -> float:
    """1 where the level fits."""
    if header == known.order_header:
        return 1.0
    if meaning.level in ("order", "vehicle", "family") and known.is_of_line(header):
        return WRONG_LEVEL
    if meaning.level == "line" and known.is_of_order(header) and values.n_distinct > 3:
        return CONSTANT_LINE
    return 1.0
