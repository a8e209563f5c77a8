"""The page of estimates in detail and the table of sensitivity: what is chosen, and how it is said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import polars as pl
import pytest

from longmile.reports import detail_words
from longmile.reports.detail import Detail, detail
from longmile.reports.page import estimates_page, methods_page
from longmile.reports.sensitivity import furthest, sensitivities

NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def sentences_of(told: Detail) -> Iterator[str]:
    yield detail_words.against_sentence(told)
    for row in told.models:
        yield from (detail_words.resting_on(row), detail_words.next_best(row), detail_words.plot_words(row))
    for effect in told.effects:
        yield detail_words.effect_words(effect)


def test_a_safety_part_is_given_no_mileage(invented_shop):
    value = invented_shop.frames().family_value
    brakes = value.with_columns(pl.lit("brake_pads").alias("component_code"))
    told = detail(invented_shop.frames(family_value=pl.concat([value, brakes])))
    by_name = {row.component_name: row for row in told.families}
    assert by_name["brake pads"].is_safety_relevant
    assert by_name["brake pads"].b10_held is None and by_name["brake pads"].b10_shrunk is None
    assert by_name["thermostat"].b10_held.value == 143_700.0
    assert by_name["thermostat"].is_constant_rate


def test_only_differences_beyond_chance_are_listed_and_all_are_counted(invented_shop):
    told = detail(invented_shop.frames())
    assert [row.component_name for row in told.against] == ["water pump"]
    # two comparisons at 1 in 100: 0.02 by chance alone
    assert (told.n_tests, told.n_by_chance) == (2, pytest.approx(0.02))
    assert detail_words.against_sentence(told) == (
        "2 comparisons made. In 1 of them the family lies further off than chance puts 1 in 100; were all families "
        "alike, about 0.02 would."
    )


def test_the_next_curve_is_named_with_its_distance(invented_shop):
    pump = next(row for row in detail(invented_shop.frames()).models if row.component_name == "water pump")
    assert detail_words.model_name(pump.model) == "Weibull"
    assert detail_words.next_best(pump) == "log-logistic, behind by 3.47"
    assert detail_words.resting_on(pump) == "25 of 50 (first parts only of vehicles first seen below 41,000)"


@pytest.mark.parametrize("which", ["frames", "empty_frames"])
def test_no_sentence_says_none(invented_shop, which: str):
    for text in sentences_of(detail(getattr(invented_shop, which)())):
        assert not re.search(r"\b(None|nan|NaN|inf|null)\b", text), text


def test_ages_taken_for_unknown_stand_beside_those_shown_and_safety_parts_do_not(invented_shop):
    (row,) = detail(invented_shop.frames()).ages
    assert (row.component_name, row.is_all_families, row.is_in_doubt) == ("water pump", True, False)
    assert (row.mean.value, row.mean_unknown.value) == (186_400.0, 171_300.0)
    assert "171,000" in estimates_page(invented_shop.frames())


def test_a_small_chance_is_only_said_to_be_small():
    assert detail_words.chance(0.00003) == "below 0.0001"
    assert detail_words.chance(0.0042) == "0.0042"


def test_the_table_of_sensitivity_has_every_other_way(invented_shop):
    (row,) = sensitivities(invented_shop.frames())
    assert (row.component_name, row.n_failures) == ("water pump", 50)
    assert [way.variant for way in row.ways] == ["from_new", "every_first_part"]
    assert [way.mean for way in row.ways] == [0.71, 1.13]
    assert row.ways[0].b10 is None


def test_a_way_with_few_failures_is_not_summed_up(invented_shop):
    (row,) = furthest(invented_shop.frames())
    assert (row.variant, row.n_components, row.middle) == ("every_first_part", 1, 1.13)
    assert "1 component the mean miles to failure becomes 1.13 times" in detail_words.furthest_sentence(row)


def test_every_way_and_model_has_words():
    from longmile.schemas.results import LIMIT_METHODS, MODELS, VARIANTS

    assert set(detail_words.VARIANT_WORDS) == set(VARIANTS)
    assert set(detail_words.MODEL_WORDS) == set(MODELS)
    from longmile.reports.wording import LIMITS_WORDS

    assert set(LIMITS_WORDS) == set(LIMIT_METHODS)


def test_the_pages_show_what_the_facts_hold(invented_shop):
    frames: Any = invented_shop.frames()
    page = estimates_page(frames)
    for text in ("log-logistic, behind by 3.47", "below 0.0001", "Northfield Parts", "11</td>", "0.71", "no limit"):
        assert text in page, text
    methods = methods_page(frames)
    assert "every first part taken for the original" in methods
    assert "1.13" in methods
