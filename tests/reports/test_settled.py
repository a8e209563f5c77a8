"""Facts and sentences of what was settled before lives were cut."""

from __future__ import annotations

import polars as pl

from longmile.pipelines.steps.order_link import DAYS_COMEBACK, MILES_COMEBACK
from longmile.reports.page import quality_page
from longmile.reports.settled import model_facts, settled_groups
from longmile.reports.settled_words import ABOUT_WORDS, KIND_WORDS
from longmile.reports.wording import model_sentence
from longmile.schemas.decision import DECISION_KINDS
from longmile.schemas.identity import JOIN_BASES, LINK_KINDS, VIN_STATES
from longmile.schemas.lives import ODOMETER_FAULTS


def test_groups_come_in_order_with_words_and_counts(invented_shop):
    groups = settled_groups(invented_shop.frames())
    assert [group.heading for group in groups] == [
        ABOUT_WORDS[about][0] for about in ("vehicle", "vin", "odometer", "text")
    ]
    assert [(row.kind, row.done, row.n) for row in groups[2].rows] == [
        ("digit_too_many", "corrected", 6),
        ("a_kind_without_words", "left out", 1),
    ]
    assert groups[2].rows[1].words == "a kind without words"


def test_every_code_of_the_tables_has_words():
    for about, codes in {
        "vehicle": [code for code in JOIN_BASES if code != "alone"],
        "vin": VIN_STATES,
        "order_link": LINK_KINDS,
        "odometer": ODOMETER_FAULTS,
        "decision": DECISION_KINDS,
    }.items():
        assert not [code for code in codes if (about, code) not in KIND_WORDS], about


def test_what_the_page_says_of_comebacks_is_the_rule():
    said = ABOUT_WORDS["comeback"][1]
    assert f"{DAYS_COMEBACK} days" in said and f"{MILES_COMEBACK:,.0f} miles" in said


def test_the_model_is_described_by_its_figures(invented_shop):
    said = model_sentence(model_facts(invented_shop.frames()))
    assert "4,321 lines" in said and "decided 87 in 100" in said and "those 98 in 100" in said
    unused = invented_shop.frames().coding_model.with_columns(is_used=pl.lit(False), n_lines=pl.lit(12))
    assert "Only 12 lines" in model_sentence(model_facts(invented_shop.frames(coding_model=unused)))


def test_nothing_settled_is_said(invented_shop):
    page = quality_page(invented_shop.empty_frames())
    assert "Nothing had to be settled." in page and model_facts(invented_shop.empty_frames()) is None
