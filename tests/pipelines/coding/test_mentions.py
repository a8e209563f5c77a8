"""Lines written for these tests, in plain_lines.txt; what a line means is common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.coding.lexicon import FORMS
from longmile.pipelines.coding.mentions import mention_of, read_line
from longmile.schemas.vocabulary import ACTIONS, BY_CODE, REASONS

LINES = [
    tuple(line.split(" | "))
    for line in (Path(__file__).parent / "plain_lines.txt").read_text(encoding="utf-8").splitlines()
]


def told(kind: str, text: str) -> list[str]:
    mentions = read_line(kind, {"description": text}).mentions
    return sorted(
        " ".join((f"{m.component_code}@{m.position}" if m.position else m.component_code, m.action, m.reason))
        for m in mentions
    )


@pytest.mark.parametrize(("text", "meant"), LINES)
def test_a_line_is_read_as_it_is_meant(text: str, meant: str):
    kind = "part" if text.isupper() and text.count(",") and "R&R" not in text and "REPL" not in text else "labor"
    assert told(kind, text) == sorted(meant.split("; ") if meant != "nothing" else [])


def test_a_fee_is_about_no_component():
    assert read_line("fee", {"description": "Battery core charge"}).outcome == "nothing"


def test_a_bare_head_leaves_the_line_open():
    reading = read_line("labor", {"description": "Replaced pump"})
    assert (reading.outcome, reading.mentions) == ("open", ())
    assert "pump" in reading.because


def test_the_concern_is_never_the_source_of_a_component():
    assert read_line("labor", {"description": "Checked", "concern": "water pump leaks"}).mentions == ()


def test_the_concern_tells_why_and_where_of_what_was_done():
    texts = {"correction": "Replaced window motor", "concern": "left front window stuck down"}
    (mention,) = read_line("labor", texts).mentions
    assert (mention.position, mention.reason) == ("lf", "failed")


def test_cause_and_correction_are_read_together():
    texts = {"cause": "Water pump leaking at weep hole", "correction": "R&R"}
    (mention,) = read_line("labor", texts).mentions
    assert (mention.component_code, mention.reason) == ("water_pump", "failed")


def test_the_side_of_the_driver_depends_on_the_country():
    text = {"description": "Replaced driver side front caliper"}
    assert [read_line("labor", text, side).mentions[0].position for side in ("left", "right", "")] == ["lf", "rf", ""]


def test_a_known_component_is_read_for_what_else_is_told():
    mention = mention_of("alternator", "labor", {"description": "Replaced, not charging"})
    assert (mention.component_code, mention.action, mention.reason) == ("alternator", "replaced", "failed")


@settings(max_examples=300, deadline=None)
@given(
    st.lists(st.one_of(st.sampled_from(sorted(FORMS)), st.text(max_size=6)), max_size=20),
    st.sampled_from(["labor", "part", "sublet", "fee"]),
)
def test_any_text_is_read_without_complaint_into_the_vocabulary(words: list[str], kind: str):
    reading = read_line(
        kind, {"description": " ".join(words), "correction": "".join(words), "concern": " ".join(words)}
    )
    for mention in reading.mentions:
        assert mention.component_code in BY_CODE
        assert mention.action in (*ACTIONS, "")
        assert mention.reason in REASONS
