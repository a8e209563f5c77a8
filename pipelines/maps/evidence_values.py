"""What the values of one column say of themselves, whatever its header: dates, numbers, lists, lengths, repeats."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import polars as pl

from longmile.pipelines.maps.evidence_dates import MAYBE_DATE, format_shares
from longmile.pipelines.maps.evidence_lists import list_share
from longmile.pipelines.maps.evidence_numbers import (
    NUMBER,
    NUMBER_AND_DISTANCE,
    Signs,
    likely_decimal,
    number_in,
    signs_of,
)
from longmile.pipelines.maps.evidence_texts import text_shares
from longmile.schemas.vin import CHECK_PLACE, check_digit

MOST_LOOKED_AT = 1_000
LONGEST_LIST = 40
FEWEST_WORDS = 1.8
LISTS = (
    "kind",
    "action",
    "reason",
    "origin",
    "status",
    "odometer_unit",
    "yes_no",
    "stage",
    "measure",
    "check",
    "unit",
    "component",
)
_PATTERNS = {
    "vin": r"(?i)^[A-HJ-NPR-Z0-9]{17}$",
    "dtc": r"(?i)^[PBCU][0-3][0-9A-F]{3}(?:-?[0-9A-F]{2})?(?:[ ,;/]+[PBCU][0-3][0-9A-F]{3}(?:-?[0-9A-F]{2})?)*$",
    "email": r"(?i)^[^@\s]+@[^@\s]+\.[a-z]{2,}$",
    "phone": r"^\+?\(?\d{1,4}\)?[-. /]\d[\d\-. /()]{3,}$",
    "year": r"^(?:19[5-9]\d|20[0-4]\d)(?:\.0)?$",
    "number_and_unit": NUMBER_AND_DISTANCE,
    "clock": r"^\d{1,2}[:.h]\d{2}(?::\d{2})?(?: ?[AaPp]\.?[Mm]\.?)?$",
    "full_name": r"^\p{Lu}[\p{L}'\u2019-]+,? \p{Lu}[\p{L}.'\u2019-]+(?: \p{Lu}[\p{L}.'\u2019-]+)?$",
    "has_letter": r"\p{L}",
    "has_digit": r"\d",
    "engine_size": r"(?i)^\d[.,]\d\b|^\d{3,4} ?(?:cc|ccm|cm3)|^[VILRHB]\d{1,2}\b|\b\d[.,]\d ?(?:l|litre|liter)?\b",
    "maybe_date": MAYBE_DATE,
    "number": NUMBER,
}
_MEDIAN, _LOW, _HIGH = 50, 2, 98


@dataclass(frozen=True)
class Values:
    """n: rows looked at.   filled: how many have a value.   counts: the commonest values, at most 1,000.

    n_distinct: different values.   share: of filled cells, by what they look like (a key of the patterns).
    dates: share by format.   signs: decimal and thousands signs.   median, low, high: of the numbers.
    whole: share of numbers without cents.   words: mean number of words.   length: mean length.
    runs: share of filled cells equal to the one above.   texts: share of sentences by what they speak of.
    """

    n: int = 0
    filled: int = 0
    n_distinct: int = 0
    counts: Mapping[str, int] = field(default_factory=dict)
    share: Mapping[str, float] = field(default_factory=dict)
    dates: Mapping[str, float] = field(default_factory=dict)
    lists: Mapping[str, float] = field(default_factory=dict)
    letters: Mapping[str, float] = field(default_factory=dict)
    texts: Mapping[str, float] = field(default_factory=dict)
    signs: Signs = field(default_factory=lambda: Signs({}, {}, {}))
    median: float = 0.0
    low: float = 0.0
    high: float = 0.0
    whole: float = 0.0
    words: float = 0.0
    length: float = 0.0
    runs: float = 0.0

    @property
    def best_date(self) -> tuple[str, float]:
        """The format that reads most cells, and their share."""
        return max(self.dates.items(), key=lambda one: one[1], default=("", 0.0))

    @property
    def is_in_blocks(self) -> bool:
        """Whether equal values stand together, several rows each, as the number of an order does over its lines."""
        n_blocks = self.filled * (1 - self.runs)
        return self.n_distinct > 2 and self.filled >= 1.3 * self.n_distinct and self.n_distinct >= 0.97 * n_blocks

    @property
    def is_list(self) -> bool:
        """Whether the column holds few different short values."""
        return 0 < self.n_distinct <= min(LONGEST_LIST, max(8, self.filled // 3)) and self.length <= 30


def values_of(column: pl.Series, language: str = "en") -> Values:
    """What a column's stripped text values say; an empty column says nothing. language: that of the headers."""
    column = column.rename("")
    filled = column.drop_nulls()
    if filled.is_empty():
        return Values(n=len(column))
    counted = filled.value_counts(sort=True)
    texts, times = counted.head(MOST_LOOKED_AT).to_series(0), counted.head(MOST_LOOKED_AT).to_series(1)
    counts = dict(zip(texts.to_list(), times.to_list(), strict=True))
    share = {name: _weighted(texts.str.contains(pattern), times) for name, pattern in _PATTERNS.items()}
    share["vin_checked"] = _checked_share(texts, times) if share["vin"] > 0.3 else 0.0
    number_counts = {text: counts[text] for text in texts.filter(texts.str.contains(NUMBER)).to_list()}
    signs = signs_of(number_counts) if share["number"] > 0.3 else Signs({}, {}, {})
    median, low, high, whole = _magnitude(number_counts, likely_decimal(signs)) if share["number"] > 0.3 else (0.0,) * 4
    n_distinct = counted.height
    words = _weighted(texts.str.count_matches(r"\S+"), times)
    return Values(
        n=len(column),
        filled=len(filled),
        n_distinct=n_distinct,
        counts=counts,
        share=share,
        dates=format_shares(counts) if share["maybe_date"] > 0.3 else {},
        lists=_lists(counts, "") if n_distinct <= MOST_LOOKED_AT // 4 else {},
        letters=_lists(counts, language) if n_distinct <= LONGEST_LIST else {},
        texts=text_shares(counts) if share["has_letter"] > 0.5 and words >= FEWEST_WORDS else {},
        signs=signs,
        median=median,
        low=low,
        high=high,
        whole=whole,
        words=words,
        length=_weighted(texts.str.len_chars(), times),
        runs=float((column == column.shift(1)).sum()) / max(len(filled), 1),
    )


def _weighted(seen: pl.Series, times: pl.Series) -> float:
    """Mean over cells of something known of each different value."""
    return float((seen.cast(pl.Float64) * times).sum()) / float(times.sum())


def _checked_share(texts: pl.Series, times: pl.Series) -> float:
    """Share of cells that are vehicle identification numbers whose check digit holds."""
    seen = [
        len(text) == 17 and text.isalnum() and not set("IOQ") & set(text) and text[CHECK_PLACE - 1] == check_digit(text)
        for text in texts.str.to_uppercase().to_list()
    ]
    return _weighted(pl.Series(seen), times)


def _magnitude(counts: Mapping[str, int], decimal: str) -> tuple[float, float, float, float]:
    """Median, low and high of the numbers, and the share of whole ones."""
    read = np.array([number_in(cell, decimal) for cell in counts])
    known = ~np.isnan(read)
    if not known.any():
        return 0.0, 0.0, 0.0, 0.0
    numbers = np.repeat(read[known], np.array(list(counts.values()))[known])
    median, low, high = (float(one) for one in np.percentile(numbers, (_MEDIAN, _LOW, _HIGH)))
    return median, low, high, float(np.mean(numbers == np.round(numbers)))


def _lists(counts: Mapping[str, int], language: str) -> dict[str, float]:
    """Share of cells that each closed list explains; with a language, its single letters too."""
    names = ("kind", "action", "origin", "status", "stage", "reason") if language else LISTS
    return {name: list_share(name, counts, language) for name in names}
