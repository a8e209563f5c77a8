"""Their words for the closed lists. The words are common practice, no source."""

from __future__ import annotations

import pytest

from longmile.pipelines.maps import words_states, words_work
from longmile.pipelines.maps.evidence_lists import letters, list_share, ours
from longmile.pipelines.maps.words_letters import LETTERS
from longmile.schemas import vocabulary as v


@pytest.mark.parametrize(
    ("name", "cell", "code"),
    [
        ("action", "R&R", "replaced"),
        ("action", "R/R", "replaced"),
        ("action", "repl", "replaced"),
        ("action", "Instandgesetzt", "repaired"),
        ("action", "réglée", "adjusted"),
        ("action", "sustituida", "replaced"),
        ("action", "pulito", "cleaned"),
        ("action", "nagekeken", "inspected"),
        ("action", "recusado", "declined"),
        ("action", "bytt", "replaced"),
        ("action", "wymiana", "replaced"),
        ("kind", "Main-d'œuvre", "labor"),
        ("kind", "Fremdleistung", "sublet"),
        ("kind", "Gebuehr", "fee"),
        ("reason", "bei Prüfung", "found_at_inspection"),
        ("reason", "Wear", "worn"),
        ("origin", "OEM", "new"),
        ("origin", "aftermarket", "new"),
        ("origin", "échange standard", "remanufactured"),
        ("origin", "rebuilt", "rebuilt"),
        ("status", "storniert", "void"),
        ("odometer_unit", "Kilometres", "km"),
        ("yes_no", "Ja", "true"),
        ("component", "W/P", "water_pump"),
        ("component", "WP", "water_pump"),
    ],
)
def test_words_are_translated(name: str, cell: str, code: str):
    assert ours(name, cell) == code


@pytest.mark.parametrize(
    ("name", "cell"), [("action", "besprochen"), ("action", "??"), ("kind", "7"), ("component", "coil")]
)
def test_what_is_not_known_or_not_clear_stays_untranslated(name: str, cell: str):
    assert ours(name, cell) == ""


def test_two_meanings_in_one_cell_are_no_answer():
    assert ours("action", "replaced and repaired") == ""


def test_single_letters_are_read_in_the_files_language_only():
    assert ours("kind", "P") == ""
    assert ours("kind", "P", "en") == "part"
    assert ours("kind", "T", "de") == "part"
    assert ours("kind", "M", "fr") == "labor"


def test_every_translation_is_a_code_of_the_contract():
    lists = {
        "kind": v.LINE_KINDS,
        "action": v.ACTIONS,
        "origin": v.PART_ORIGINS,
        "status": v.ORDER_STATUSES,
        "reason": v.REASONS,
    }
    words = {
        "kind": words_work.KINDS,
        "action": words_work.ACTIONS,
        "reason": words_work.REASONS,
        "origin": words_states.ORIGINS,
        "status": words_states.STATUSES,
    }
    for name, codes in lists.items():
        assert words[name].keys() <= set(codes)
        for language in LETTERS:
            assert set(letters(name, language).values()) <= set(codes)
    assert words_states.MEASURES.keys() <= set(v.MEASURES)
    assert words_states.CHECKS.keys() <= set(v.VERIFICATION_CHECKS)
    assert words_states.STAGES.keys() == set(v.TROUBLE_CODE_STAGES)


def test_a_letter_stands_for_one_code_in_each_language():
    for lists in LETTERS.values():
        for said in lists.values():
            all_letters = [letter for one in said.split(",") for letter in one.split("=")[1].split()]
            assert len(all_letters) == len(set(all_letters)), said


def test_the_share_of_a_list_counts_cells():
    assert list_share("action", {"Replaced": 3, "Sold": 1}) == 0.75
