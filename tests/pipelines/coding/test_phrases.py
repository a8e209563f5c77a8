from __future__ import annotations

import pytest

from longmile.pipelines.coding.company import read_words
from longmile.pipelines.coding.lexicon import component_texts
from longmile.pipelines.coding.mentions import read_line
from longmile.pipelines.coding.phrases import names_in
from longmile.schemas.vocabulary import BY_CODE, COMPONENTS


def kinds(text: str, is_catalogue: bool = False) -> list[tuple[str, str]]:
    return [(named.kind, named.what) for named in names_in(read_words(text).words, is_catalogue)]


def test_every_spelling_of_the_coder_names_a_component_of_the_vocabulary():
    assert {code for _, codes in component_texts() for code in codes.split("+")} == set(BY_CODE)


@pytest.mark.parametrize("entry", COMPONENTS, ids=lambda entry: entry.code)
def test_every_component_is_found_by_its_own_name(entry):
    reading = read_line("labor", {"correction": f"Replaced {entry.name}"})
    assert entry.code in {mention.component_code for mention in reading.mentions}


@pytest.mark.parametrize(
    "text", ["water pump gasket", "starter relay", "fuel pump fuse", "gasket for water pump", "alternator bracket bolt"]
)
def test_a_piece_or_neighbour_of_a_part_is_not_the_part(text: str):
    assert [kind for kind, _ in kinds(text)] == ["other"]


def test_what_belongs_to_a_part_can_be_a_component_itself():
    assert kinds("belt for alternator") == [("component", "drive_belt")]
    assert kinds("thermostat housing") == [("component", "thermostat_housing")]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("PUMP, WATER", "water_pump"),
        ("SENSOR, OXYGEN, DOWNSTREAM", "oxygen_sensor_downstream"),
        ("TIE ROD END, INNER", "tie_rod_inner"),
        ("GASKET SET, VALVE COVER", "valve_cover_gasket"),
    ],
)
def test_a_parts_list_names_the_head_first(text: str, code: str):
    assert kinds(text, is_catalogue=True) == [("component", code)]


def test_two_parts_with_a_comma_between_are_two():
    assert kinds("radiator, fan clutch") == [("component", "radiator"), ("component", "fan_clutch")]


@pytest.mark.parametrize("text", ["pump", "sensor", "gasket", "hose"])
def test_a_bare_head_names_no_component(text: str):
    assert [kind for kind, _ in kinds(text)] == ["half"]
