from __future__ import annotations

import re
from collections import Counter
from dataclasses import FrozenInstanceError

import pytest

from longmile.schemas.vocabulary import (
    ACTIONS,
    ALL_POSITIONS,
    BY_CODE,
    COMPONENTS,
    FAILURE_REASONS,
    LINE_KINDS,
    MEASURE_UNITS,
    MEASURES,
    ODOMETER_UNITS,
    ORDER_STATUSES,
    PART_ORIGINS,
    POSITION_SYNONYMS,
    REASONS,
    REMOVAL_REASONS,
    SAFETY_SYSTEMS,
    SOCKET_SCHEMES,
    SYSTEMS,
    TROUBLE_CODE_STAGES,
    VERIFICATION_CHECKS,
    Component,
    UnknownComponentError,
    component,
    socket_positions,
    socket_rows,
)

SNAKE = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")

CLOSED_LISTS = {
    "line kinds": LINE_KINDS,
    "actions": ACTIONS,
    "reasons": REASONS,
    "part origins": PART_ORIGINS,
    "order statuses": ORDER_STATUSES,
    "odometer units": ODOMETER_UNITS,
    "trouble code stages": TROUBLE_CODE_STAGES,
    "measures": MEASURES,
    "verification checks": VERIFICATION_CHECKS,
}


@pytest.mark.parametrize("name", CLOSED_LISTS)
def test_closed_list_holds_lower_snake_codes_each_once(name: str) -> None:
    codes = CLOSED_LISTS[name]
    assert all(SNAKE.fullmatch(code) for code in codes)
    assert len(set(codes)) == len(codes) > 1


def test_reasons_are_failures_removals_and_unknown_and_nothing_else() -> None:
    assert not set(FAILURE_REASONS) & set(REMOVAL_REASONS)
    assert set(REASONS) == {*FAILURE_REASONS, *REMOVAL_REASONS, "unknown"}


def test_every_measure_has_a_unit_and_no_unit_twice() -> None:
    assert tuple(MEASURE_UNITS) == MEASURES
    assert all(units and len(set(units)) == len(units) for units in MEASURE_UNITS.values())


# 130: the fewest components that were asked of the vocabulary.
def test_there_are_at_least_130_components() -> None:
    assert len(COMPONENTS) >= 130


def test_component_codes_are_snake_case_and_unique() -> None:
    assert all(SNAKE.fullmatch(entry.code) for entry in COMPONENTS)
    assert len(BY_CODE) == len(COMPONENTS)


def test_component_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        component("water_pump").name = "pump"  # type: ignore[misc]


def test_no_spelling_belongs_to_two_components() -> None:
    spellings = Counter(
        spelling
        for entry in COMPONENTS
        for spelling in {*entry.shorthand, entry.name, entry.code, entry.code.replace("_", " ")}
    )
    assert [spelling for spelling, n in spellings.items() if n > 1] == []


def test_shorthand_is_lower_case_trimmed_and_listed_once() -> None:
    for entry in COMPONENTS:
        assert entry.shorthand, entry.code
        assert len(set(entry.shorthand)) == len(entry.shorthand), entry.code
        assert all(text == " ".join(text.lower().split()) for text in entry.shorthand), entry.code


def test_usual_shorthand_finds_its_component() -> None:
    owner = {text: entry.code for entry in COMPONENTS for text in entry.shorthand}
    assert owner["w/p"] == "water_pump"
    assert owner["exh vlv"] == "exhaust_valve"
    assert owner["alt"] == "alternator"
    assert owner["tie rod o/t"] == "tie_rod_outer"


def test_every_system_is_known_and_used() -> None:
    assert {entry.system for entry in COMPONENTS} == set(SYSTEMS)


def test_every_socket_scheme_is_known_and_used() -> None:
    assert {entry.sockets for entry in COMPONENTS} == set(SOCKET_SCHEMES)


def test_every_component_of_a_safety_system_is_flagged() -> None:
    assert {"brakes", "steering", "suspension", "fuel"} <= set(SAFETY_SYSTEMS) <= set(SYSTEMS)
    unflagged = [e.code for e in COMPONENTS if e.system in SAFETY_SYSTEMS and not e.is_safety_relevant]
    assert unflagged == []


def test_flags_are_set_where_they_are_meant_and_nowhere_by_default() -> None:
    renewed = {entry.code for entry in COMPONENTS if entry.is_renewed_by_repair}
    assert renewed == {"oil_drain_thread", "spark_plug_thread"}
    assert component("engine_oil").is_service_item
    assert not component("spark_plug").is_service_item
    assert not component("water_pump").is_safety_relevant
    assert component("u_joint").is_safety_relevant
    assert Component("a", "a", "fuel", "one") == Component("a", "a", "fuel", "one", False, False, False, ())


# Four cylinders, two exhaust and two intake valves each: 8 of a kind, 16 in all.
FOUR_BY_TWO_PLUS_TWO = {
    "one": ("only",),
    "per_cylinder": ("1", "2", "3", "4"),
    "per_exhaust_valve": ("1a", "1b", "2a", "2b", "3a", "3b", "4a", "4b"),
    "per_intake_valve": ("1a", "1b", "2a", "2b", "3a", "3b", "4a", "4b"),
    "per_valve": (
        *("in1a", "in1b", "in2a", "in2b", "in3a", "in3b", "in4a", "in4b"),
        *("ex1a", "ex1b", "ex2a", "ex2b", "ex3a", "ex3b", "ex4a", "ex4b"),
    ),
    "per_bank": ("bank_1",),
    "per_wheel": ("lf", "rf", "lr", "rr"),
    "per_front_wheel": ("lf", "rf"),
    "per_rear_wheel": ("lr", "rr"),
    "per_axle": ("front", "rear"),
    "per_side": ("left", "right"),
    "per_door": ("lf", "rf", "lr", "rr"),
}


def test_hand_listed_positions_cover_every_scheme() -> None:
    assert FOUR_BY_TWO_PLUS_TWO.keys() == SOCKET_SCHEMES.keys()


@pytest.mark.parametrize("scheme", FOUR_BY_TWO_PLUS_TWO)
def test_positions_of_a_four_cylinder_with_four_valves_each(scheme: str) -> None:
    assert socket_positions(scheme, 4, 2, 2) == FOUR_BY_TWO_PLUS_TWO[scheme]


def test_positions_of_an_eight_cylinder_with_two_valves_each() -> None:
    eight = ("1", "2", "3", "4", "5", "6", "7", "8")
    assert socket_positions("per_cylinder", 8, 1, 1) == eight
    assert socket_positions("per_exhaust_valve", 8, 1, 1) == eight
    assert socket_positions("per_intake_valve", 8, 1, 1) == eight
    assert socket_positions("per_bank", 8, 1, 1) == ("bank_1", "bank_2")
    assert socket_positions("per_valve", 8, 1, 1) == (
        *("in1", "in2", "in3", "in4", "in5", "in6", "in7", "in8"),
        *("ex1", "ex2", "ex3", "ex4", "ex5", "ex6", "ex7", "ex8"),
    )


# Three cylinders, one exhaust and two intake valves each: the two counts are not mixed up.
def test_exhaust_and_intake_valves_are_counted_apart() -> None:
    assert socket_positions("per_exhaust_valve", 3, 1, 2) == ("1", "2", "3")
    assert socket_positions("per_intake_valve", 3, 1, 2) == ("1a", "1b", "2a", "2b", "3a", "3b")
    both = ("in1a", "in1b", "in2a", "in2b", "in3a", "in3b", "ex1", "ex2", "ex3")
    assert socket_positions("per_valve", 3, 1, 2) == both


def test_banks_change_between_five_and_six_cylinders() -> None:
    assert socket_positions("per_bank", 5, 2, 2) == ("bank_1",)
    assert socket_positions("per_bank", 6, 2, 2) == ("bank_1", "bank_2")


def test_unknown_scheme_is_refused_with_the_nearest() -> None:
    with pytest.raises(ValueError, match=r"'per_cylindre'; nearest is 'per_cylinder'\. Known: one, "):
        socket_positions("per_cylindre", 4, 2, 2)


@pytest.mark.parametrize("scheme", SOCKET_SCHEMES)
@pytest.mark.parametrize("cylinders", [0, -4])
def test_fewer_than_one_cylinder_is_refused_by_every_scheme(scheme: str, cylinders: int) -> None:
    with pytest.raises(ValueError, match=f"cylinders is {cylinders}; expected 1 or more"):
        socket_positions(scheme, cylinders, 2, 2)


# The alphabet has 26 letters, so a 27th valve of a cylinder could not be named.
@pytest.mark.parametrize("valves", [0, -1, 27])
def test_valve_count_is_refused_only_where_it_is_used(valves: int) -> None:
    with pytest.raises(ValueError, match=f"exhaust_valves_per_cylinder is {valves}; expected 1 to 26"):
        socket_positions("per_exhaust_valve", 4, valves, 2)
    with pytest.raises(ValueError, match=f"intake_valves_per_cylinder is {valves}; expected 1 to 26"):
        socket_positions("per_valve", 4, 2, valves)
    assert socket_positions("per_cylinder", 4, valves, valves) == ("1", "2", "3", "4")
    assert socket_positions("per_intake_valve", 1, valves, 1) == ("1",)


def _legal_codes(scheme: str) -> set[str]:
    """Every code the scheme has on any listed engine: 1 to 16 cylinders, 1 to 3 valves of a kind."""
    return {
        code
        for cylinders in range(1, 17)
        for valves in range(1, 4)
        for code in socket_positions(scheme, cylinders, valves, valves)
    }


@pytest.mark.parametrize("scheme", SOCKET_SCHEMES)
def test_synonyms_lead_to_legal_codes_and_never_hide_one(scheme: str) -> None:
    legal = _legal_codes(scheme)
    synonyms = POSITION_SYNONYMS[scheme]
    assert set(synonyms.values()) <= legal | {ALL_POSITIONS}
    assert not synonyms.keys() & (legal | {ALL_POSITIONS})
    assert all(spelling == spelling.lower().strip() for spelling in synonyms)
    assert ALL_POSITIONS not in legal


def test_synonyms_are_listed_for_the_known_schemes() -> None:
    assert POSITION_SYNONYMS.keys() == SOCKET_SCHEMES.keys()


# Common practice, no source.
@pytest.mark.parametrize(
    ("scheme", "spelling", "code"),
    [
        ("per_wheel", "l/f", "lf"),
        ("per_wheel", "fl", "lf"),
        ("per_wheel", "left front", "lf"),
        ("per_wheel", "front left", "lf"),
        ("per_wheel", "rl", "lr"),
        ("per_wheel", "fr", "rf"),
        ("per_wheel", "right rear", "rr"),
        ("per_wheel", "all 4", "all"),
        ("per_front_wheel", "right", "rf"),
        ("per_rear_wheel", "right", "rr"),
        ("per_rear_wheel", "both", "all"),
        ("per_axle", "fronts", "front"),
        ("per_side", "lh", "left"),
        ("per_side", "rf", "right"),
        ("per_side", "both", "all"),
        ("per_bank", "b2s1", "bank_2"),
        ("per_door", "front left door", "lf"),
        ("per_door", "lr door", "lr"),
        ("per_cylinder", "cyl 3", "3"),
        ("per_cylinder", "#3", "3"),
        ("per_cylinder", "no 3", "3"),
        ("per_cylinder", "3.0", "3"),
        ("per_cylinder", "cyl #12", "12"),
        ("per_cylinder", "set", "all"),
        ("per_exhaust_valve", "#3b", "3b"),
        ("per_exhaust_valve", "cyl 3", "3"),
        ("per_valve", "exh #3", "ex3"),
        ("per_valve", "intake 2a", "in2a"),
        ("one", "set", "all"),
    ],
)
def test_usual_spelling_of_a_position_is_understood(scheme: str, spelling: str, code: str) -> None:
    assert POSITION_SYNONYMS[scheme][spelling] == code


# Each of these may mean more than one place, or a place that depends on the country or the engine.
@pytest.mark.parametrize(
    ("scheme", "spelling"),
    [
        ("per_wheel", "driver front"),
        ("per_wheel", "front"),
        ("per_wheel", "left"),
        ("per_wheel", "both"),
        ("per_side", "passenger side"),
        ("per_side", "l/r"),
        ("per_rear_wheel", "l/r"),
        ("per_front_wheel", "lr"),
        ("per_bank", "left"),
        ("per_bank", "2"),
        ("per_valve", "#3"),
    ],
)
def test_doubtful_spelling_of_a_position_is_not_guessed(scheme: str, spelling: str) -> None:
    assert spelling not in POSITION_SYNONYMS[scheme]


def test_component_is_found_by_its_code() -> None:
    found = component("exhaust_valve")
    assert (found.name, found.system, found.sockets) == ("exhaust valve", "valve train", "per_exhaust_valve")


@pytest.mark.parametrize(
    ("asked", "nearest"),
    [("exhaust_vlave", "exhaust_valve"), ("W/P", "water_pump"), ("", None), ("zzz", None)],
)
def test_unknown_component_is_refused_with_the_nearest(asked: str, nearest: str | None) -> None:
    with pytest.raises(UnknownComponentError) as refused:
        component(asked)
    assert isinstance(refused.value, KeyError)
    said = re.fullmatch(r"unknown component '(.*)'; nearest of the (\d+) known is '(\w+)'\.", str(refused.value))
    assert said is not None
    assert said[1] == asked
    assert int(said[2]) == len(COMPONENTS)
    assert said[3] == nearest if nearest else said[3] in BY_CODE


def test_socket_rows_of_two_families_by_hand() -> None:
    rows = socket_rows([("F4", 4, 2, 2), ("F8", 8, 1, 1)])
    assert len(set(rows)) == len(rows)
    assert [row for row in rows if row[1] == "water_pump"] == [
        ("F4", "water_pump", "only", 1),
        ("F8", "water_pump", "only", 1),
    ]
    assert [row for row in rows if row[:2] == ("F4", "fuel_injector")] == [
        ("F4", "fuel_injector", "1", 4),
        ("F4", "fuel_injector", "2", 4),
        ("F4", "fuel_injector", "3", 4),
        ("F4", "fuel_injector", "4", 4),
    ]
    # 4 cylinders x (2 + 2) valves; 8 cylinders x (1 + 1) valves: sixteen guides each.
    guides = [(family, n) for family, code, _, n in rows if code == "valve_guide"]
    assert guides == [("F4", 16)] * 16 + [("F8", 16)] * 16


def test_socket_rows_say_how_many_there_are_and_leave_out_service_items() -> None:
    rows = socket_rows([("F4", 4, 2, 2), ("F8", 8, 1, 1)])
    counted = Counter((family, code) for family, code, _, _ in rows)
    assert all(counted[family, code] == n_sockets for family, code, _, n_sockets in rows)
    with_statistics = {entry.code for entry in COMPONENTS if not entry.is_service_item}
    assert {code for _, code, _, _ in rows} == with_statistics
    assert "engine_oil" not in with_statistics


def test_socket_rows_of_no_family_are_none() -> None:
    assert socket_rows([]) == []


def test_socket_rows_name_the_family_that_is_refused() -> None:
    with pytest.raises(ValueError, match="engine family 'F0': cylinders is 0; expected 1 or more"):
        socket_rows([("F4", 4, 2, 2), ("F0", 0, 2, 2)])
    with pytest.raises(ValueError, match="engine family 'F4' is listed twice"):
        socket_rows([("F4", 4, 2, 2), ("F4", 8, 1, 1)])
