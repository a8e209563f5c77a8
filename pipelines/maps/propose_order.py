"""The order number, settled together with everything else: the one under which all headers agree best.

Which columns belong to orders and which to their lines is told by the order number. One that is taken wrongly turns
every other column's level round, so each header that could be it is tried.
"""

from __future__ import annotations

from longmile.pipelines.maps.propose_assign import assign
from longmile.pipelines.maps.propose_scores import Scores, columns_of, order_headers, score
from longmile.pipelines.maps.words_meanings import MEANINGS
from longmile.pipelines.sources.shape import RawTable

OWN_WEIGHT = 0.5


def best_scores(raw: RawTable) -> Scores:
    """The evidence under the order number with which all headers together agree best."""
    known = columns_of(raw)
    tried = [score(known, header) for header in (order_headers(known) or [""])]
    return max(tried, key=_agreed)


def _agreed(scores: Scores) -> tuple[bool, float]:
    """Whether the header is taken for the order number by its own levels, and the agreement over all headers."""
    found = assign(scores, {meaning.name for meaning in MEANINGS})
    own = scores.levels.order_header
    agreed = sum(found.score.values()) + OWN_WEIGHT * scores.total.get(own, {}).get("order_no", 0.0)
    return found.header_of.get("order_no", "") == own, agreed
