"""Sentences: every number in them comes from the facts, and what is not known is said in words."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from longmile.reports import figures, wording
from longmile.reports.facts import briefing
from longmile.reports.stratum import Limited

# Numbers that are words of a rule or a unit, not findings: per 100,000 miles; of 100; 1 in 10.
FIXED = {"100,000", "100", "1", "10"}
SAYINGS = (figures.count, figures.miles, figures.rate, figures.per_hundred, figures.times, figures.plain)
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def numbers_of(value: Any) -> Iterator[float]:
    """Every number in a tree of facts."""
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, int | float):
        yield value
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from numbers_of(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from numbers_of(inner)
    elif isinstance(value, list | tuple):
        yield len(value)
        for inner in value:
            yield from numbers_of(inner)


def said(value: float) -> set[str]:
    """All ways in which a number may be said."""
    ways = set()
    for say in SAYINGS:
        if math.isfinite(value):
            ways |= set(NUMBER.findall(say(value)))
    return ways


def sentences_of(told) -> list[str]:
    """Every sentence of the briefing."""
    strata = [*told.standing_out, *told.leading, *([told.wrong_answer] if told.wrong_answer else [])]
    per_stratum = [
        text
        for s in strata
        for text in (
            wording.rate_sentence(s),
            wording.others_sentence(s),
            wording.hazard_sentence(s),
            wording.fit_sentence(s),
            wording.ages_sentence(s),
            wording.curve_start_sentence(s),
            *wording.milestone_sentences(s),
            wording.conditional_sentence(s),
            *wording.counts_sentences(s),
            wording.thin_sentence(s),
            wording.evidence_sentence(s),
            wording.lives_behind_sentence(s),
        )
    ]
    return [
        wording.trust_sentence(told.trust),
        wording.confidence(told.header),
        *wording.comparison_sentences(told.comparison, told.header),
        *per_stratum,
        *(wording.bound_sentence(row) for row in told.no_failures),
        wording.walk_in_sentence(told.trust),
        *wording.quality_sentences(told.trust),
        *wording.wrong_answer_sentences(told),
        wording.lower_sentence(told.comparison),
        wording.little_sentence(told),
        wording.empty_sentence(told.trust),
    ]


def pump(invented_shop, **changed):
    found = next(s for s in briefing(invented_shop.frames()).standing_out if s.component_code == "water_pump")
    return dataclasses.replace(found, **changed)


@pytest.mark.parametrize("which", ["frames", "empty_frames"])
def test_every_number_in_a_sentence_comes_from_the_facts(invented_shop, which):
    told = briefing(getattr(invented_shop, which)())
    allowed = FIXED | {way for value in numbers_of(told) for way in said(value)}
    strange = {n for text in sentences_of(told) for n in NUMBER.findall(text) if n.rstrip(",") not in allowed}
    assert strange == set()


@pytest.mark.parametrize("which", ["frames", "empty_frames"])
def test_no_sentence_says_none_or_nan(invented_shop, which):
    for text in sentences_of(briefing(getattr(invented_shop, which)())):
        assert not re.search(r"\b(None|nan|NaN|inf|null)\b", text), text


def test_milestones_are_said_with_their_limits(invented_shop):
    # invented: 97,640 (84,910 to 112,300) to three significant digits
    first, *_ = wording.milestone_sentences(pump(invented_shop))
    assert first == "1 in 10 by about 97,600 miles, between 84,900 and 112,000."


def test_extrapolation_is_said(invented_shop):
    texts = wording.milestone_sentences(pump(invented_shop))
    assert ["extrapolated" in text for text in texts] == [False, False, True]


def test_a_missing_limit_is_said_in_words(invented_shop):
    assert wording.between(Limited(1.0, 0.5, None), figures.plain) == "at least 0.50, without an upper limit"
    assert wording.between(Limited(1.0, None, 2.0), figures.plain) == "at most 2.00, no lower limit could be found"
    assert wording.between(Limited(1.0, None, None)) == "its limits could not be found"


def test_no_failure_is_said_as_a_bound(invented_shop):
    (row,) = briefing(invented_shop.frames()).no_failures
    # 3.69 / 1,000,000 * 100,000 = 0.369
    assert wording.bound_sentence(row) == "No failure in 1 million miles: at most 0.37 per 100,000 miles."


def test_safety_relevant_parts_are_inspected_not_predicted(invented_shop):
    pads = briefing(invented_shop.frames()).standing_out[0]
    assert pads.is_safety_relevant
    assert wording.conditional_sentence(pads) == ""
    (text,) = wording.milestone_sentences(pads)
    assert text.startswith("A failure of this part can hurt someone. Inspect the brake pads at every visit")


@pytest.mark.parametrize(
    ("hazard", "start"),
    [
        ("wears_out", "It wears out: the risk grows with miles"),
        ("early", "Early failures: the risk is highest when the part is new"),
        ("cannot_tell", "These records cannot tell wear-out from failures at random"),
    ],
)
def test_the_hazard_is_said_in_plain_words(invented_shop, hazard, start):
    assert wording.hazard_sentence(pump(invented_shop, hazard=hazard)).startswith(start)


def test_standing_out_no_more_than_chance_is_called_so(invented_shop):
    told = briefing(invented_shop.frames())
    c = dataclasses.replace(told.comparison, n_by_chance=7.0, is_more_than_chance=False)
    assert "no more than chance would give" in " ".join(wording.comparison_sentences(c, told.header))


def test_an_empty_shop_is_told_what_to_do(invented_shop):
    told = briefing(invented_shop.empty_frames())
    assert "inbox" in wording.empty_sentence(told.trust)
    assert wording.trust_sentence(told.trust) == "No repair records have come in yet."


def test_a_curve_that_does_not_follow_is_said_to(invented_shop):
    assert wording.fit_sentence(pump(invented_shop)) == ""
    told = wording.fit_sentence(pump(invented_shop, is_followed=False, share_outside=0.37))
    assert "does not follow these failures well: at 37 in 100 of them" in told


def test_the_lives_behind_the_ages_are_named(invented_shop):
    # invented: half of 40 failures, and 41,000 miles
    assert "rests on 20 of these failures" in wording.ages_sentence(pump(invented_shop))
    assert "below 41,000 miles" in wording.ages_sentence(pump(invented_shop))
    assert wording.ages_sentence(pump(invented_shop, original_below_miles=None)) == ""
    assert wording.curve_start_sentence(pump(invented_shop)) == ""
    assert "reach 30,000 miles" in wording.curve_start_sentence(pump(invented_shop, curve_from_miles=30_000.0))
