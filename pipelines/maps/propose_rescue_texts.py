"""Texts that no header names, told by what they speak of: complaint, finding, work done, name of the job or part.

Only where exactly one column that means nothing else fits. Taken with little confidence, and asked about.
"""

from __future__ import annotations

from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.propose_assign import Assigned
from longmile.pipelines.maps.propose_rescue_free import free, has_lines
from longmile.pipelines.maps.propose_scores import Scores

CLEARLY, AHEAD = 0.4, 0.15
SENTENCE_WORDS, NAME_WORDS = 2.3, 1.2
NAMES_COME_BACK = 0.6
_OF_PARTS = 0.25


def concern(scores: Scores, found: Assigned) -> tuple[str, str]:
    """What the customer said: sentences of the order that speak of complaints."""
    if "concern" in found.header_of or not {"order_no", "opened_on"} <= found.header_of.keys():
        return "", ""
    likely = [one for one in _sentences(scores, found, "said") if not scores.levels.is_of_line(one)]
    return "concern", likely[0] if len(likely) == 1 else ""


def cause(scores: Scores, found: Assigned) -> tuple[str, str]:
    """What was found: sentences of lines that speak of findings."""
    return _of_lines(scores, found, "cause", "found")


def correction(scores: Scores, found: Assigned) -> tuple[str, str]:
    """What was done: sentences of lines that speak of work."""
    return _of_lines(scores, found, "correction", "done")


def _of_lines(scores: Scores, found: Assigned, meaning: str, subject: str) -> tuple[str, str]:
    """Sentences of lines on a subject."""
    if meaning in found.header_of or not has_lines(found):
        return "", ""
    likely = [one for one in _sentences(scores, found, subject) if not scores.levels.is_of_order(one)]
    return meaning, likely[0] if len(likely) == 1 else ""


def _sentences(scores: Scores, found: Assigned, subject: str) -> list[str]:
    """Headers that mean nothing yet and hold sentences on this subject rather than another."""
    able = []
    for one in free(scores, found):
        values = scores.values[one]
        others = max((share for name, share in values.texts.items() if name != subject), default=0.0)
        said = values.texts.get(subject, 0.0)
        if values.words >= SENTENCE_WORDS and said >= CLEARLY and said >= others + AHEAD:
            able.append(one)
    return able


def description(scores: Scores, found: Assigned) -> tuple[str, str]:
    """Names of jobs and parts: short texts of lines that come back, some of them names of components."""
    if {"description", "component_code"} & found.header_of.keys() or not has_lines(found):
        return "", ""
    able = [one for one in free(scores, found) if _is_named(scores, one)]
    of_parts = [one for one in able if scores.values[one].lists.get("component", 0.0) >= _OF_PARTS]
    likely = of_parts or able
    return "description", likely[0] if len(likely) == 1 else ""


def _is_named(scores: Scores, header: str) -> bool:
    """Whether a column holds short texts of lines, the same ones again and again, without digits."""
    values = scores.values[header]
    is_short = NAME_WORDS <= values.words <= 5 and values.share["has_digit"] < 0.3
    comes_back = values.n_distinct <= NAMES_COME_BACK * values.filled and values.n_distinct >= 4
    return is_short and comes_back and scores.levels.is_of_line(header) and fit("named", values).can > 0.6
