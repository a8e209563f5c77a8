from __future__ import annotations

import pytest

from longmile.pipelines.coding.company import read_words
from longmile.pipelines.coding.fuzzy import mended
from longmile.pipelines.coding.normal_text import MAX_CHARACTERS, words_of


# Common practice, no source.
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("R&R W/P", "rnr water pump"),
        ("r & r'd exh vlv", "rnr exhaust valve"),
        ("T-belt kit", "timing belt kit"),
        ("brake-pads", "brake pad"),
        ("lf/rf", "lf / rf"),
        ("#3 inj.", "# 3 injector ."),
        ("cyl3", "cylinder 3"),
        ("bank 2 sensor 1", "b2s1"),
        ("due at 75,000 miles", "due at <miles>"),
        ("60k svc", "<miles> service"),
        ("pads 2mm", "pad <length>"),
        ("12.1V", "<reading>"),
        ("gasket (4)", "gasket x4"),
        ("CRANK SHAFT", "crankshaft"),
        ("A/C & a.c.", "ac & ac"),
    ],
)
def test_text_comes_out_as_words_of_the_trade(text: str, words: str):
    assert " ".join(words_of(text, mended).words) == words


def test_accents_and_curly_quotes_make_no_difference():
    assert words_of("didn\u2019t \u201cfit\u201d \u00e0 l\u2019eau").words == words_of("didn't \"fit\" a l'eau").words


def test_words_and_what_stood_there_are_as_many():
    read = read_words("R&R W/P, T-belt and #3 inj. (4) plugs")
    assert len(read.words) == len(read.raws)


def test_a_long_text_is_read_up_to_a_limit():
    assert len(words_of("pump " * MAX_CHARACTERS).words) == MAX_CHARACTERS // 5
