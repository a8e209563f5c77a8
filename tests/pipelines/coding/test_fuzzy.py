from __future__ import annotations

import pytest

from longmile.pipelines.coding.company import read_words
from longmile.pipelines.coding.fuzzy import SHORTEST, cutoff, is_slip, mended


@pytest.mark.parametrize(
    ("slip", "word"),
    [
        ("altenator", "alternator"),
        ("rpelaced", "replace"),
        ("thermostta", "thermostat"),
        ("beraing", "bearing"),
        ("resevior", "reservoir"),
        ("vavle", "valve"),
        ("boddy", "body"),
    ],
)
def test_a_slip_comes_out_as_the_word(slip: str, word: str):
    assert mended(slip) == (word,)


# One letter apart, and both words of the trade.
@pytest.mark.parametrize("word", ["seal", "seat", "belt", "bolt", "line", "link", "hose", "lock"])
def test_a_known_word_is_never_taken_for_another(word: str):
    assert mended(word) == (word,)


@pytest.mark.parametrize("word", ["light", "right", "clear", "plane", "shoulder", "retract", "mess"])
def test_everyday_words_are_left_alone(word: str):
    assert not is_slip(word)


def test_short_words_have_no_cutoff():
    assert cutoff(SHORTEST - 1) == 0
    assert mended("xqz") == ("xqz",)


def test_two_words_written_as_one_come_apart():
    assert mended("brakerotor") == ("brake", "rotor")


@pytest.mark.parametrize(
    ("text", "words"),
    [("tie rdo", "tie rod"), ("lower bal jiont", "lower ball joint"), ("exhaus vlave", "exhaust valve")],
)
def test_a_doubtful_word_is_told_by_its_neighbour(text: str, words: str):
    assert " ".join(read_words(text).words) == words
