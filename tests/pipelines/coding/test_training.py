from __future__ import annotations

import random

import pytest

from longmile.pipelines.coding.line_text import LineText, text_key
from longmile.pipelines.coding.training import FEWEST_LINES, Known, distinct, trained

PARTS = {"water pump": "water_pump", "alternator": "alternator", "starter": "starter_motor", "radiator": "radiator"}
CODENAMES = {"job alpha": "heater_core", "job beta": "turbocharger"}


def line(text: str) -> LineText:
    return LineText("labor", text, "", "")


def known_lines(n: int) -> list[Known]:
    """Plain lines by name, and lines whose words name no part and are known to be about one."""
    made = []
    for i in range(n):
        name, code = list(PARTS.items())[i % len(PARTS)]
        made.append(Known(line(f"replaced {name} order {i}"), frozenset({code}), True, f"R{i:04}"))
    for i in range(n // 4):
        name, code = list(CODENAMES.items())[i % len(CODENAMES)]
        made.append(Known(line(f"{name} as usual visit {i}"), frozenset({code}), True, f"S{i:04}"))
    return made


@pytest.fixture(scope="module")
def shop():
    return trained(known_lines(400))


def test_the_same_lines_in_any_order_give_the_same_coder(shop):
    mixed = known_lines(400)
    random.Random(5).shuffle(mixed)
    other = trained(mixed)
    asked = [line("replaced alternator"), line("job alpha today"), line("nothing of the kind")]
    assert (other.version, other.threshold, other.codings(asked)) == (shop.version, shop.threshold, shop.codings(asked))


def test_another_line_known_is_another_version(shop):
    assert (
        trained([*known_lines(400), Known(line("one more"), frozenset({"radiator"}), True, "T1")]).version
        != shop.version
    )


def test_texts_that_name_no_part_are_coded_by_likeness_to_known_lines(shop):
    (coding,) = shop.codings([line("job alpha as usual visit 999")])
    assert (coding.state, coding.stage) == ("coded", "learned")
    assert [mention.component_code for mention in coding.mentions] == ["heater_core"]


def test_plain_texts_are_coded_by_the_vocabulary(shop):
    (coding,) = shop.codings([line("replaced water pump order 999")])
    assert (coding.state, coding.stage) == ("coded", "vocabulary")


def test_with_few_lines_the_vocabulary_decides_alone():
    coder = trained(known_lines(FEWEST_LINES // 2))
    assert coder.second is None and coder.accuracy is None
    (coding,) = coder.codings([line("job alpha as usual visit 1")])
    assert coding.state == "unsure"


def test_what_was_measured_holds_the_share_asked_for(shop):
    assert shop.accuracy is not None and shop.accuracy >= 0.97


def test_one_text_with_two_answers_counts_the_reviewers():
    text = line("r&r pump")
    given = Known(text, frozenset({"fuel_pump"}), False, "A")
    reviewed = Known(text, frozenset({"water_pump"}), True, "B")
    assert distinct([given, reviewed]) == [reviewed] == distinct([reviewed, given])


def test_capitals_spaces_and_the_concern_make_no_other_text():
    one = LineText("labor", "R&R  Pump", "", "", "noise")
    assert text_key(one) == text_key(LineText("labor", "r&r pump", "", ""))
    assert text_key(one) != text_key(LineText("part", "r&r pump", "", ""))
