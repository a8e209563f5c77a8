"""Which vehicles are one. Numbers begin with A0, a maker's code given to nobody; check digits by schemas.vin."""

import json
from datetime import date, datetime

import numpy as np
import pytest

from longmile.pipelines.flows.settle import settle_vehicles
from longmile.schemas.vin import VIN_SIGNS, check_digit, repaired

SOUND = "A0DBB11C1GA100001"
SOUND = SOUND[:8] + check_digit(SOUND) + SOUND[9:]


def vehicle(
    bench, vehicle_id: str, vin: str | None, family: str = "Elm", year: int | None = None, day: int = 1
) -> None:
    bench.store.run(
        "INSERT INTO vehicle (vehicle_id, vin, engine_family, model_year, file_id, part_name, row_number, landed_at) "
        "VALUES (?, ?, ?, ?, 'f', 'p', 1, ?)",
        (vehicle_id, vin, family, year, datetime(2025, 1, day)),
    )


def decide(bench, subject: str, answer: object, day: int = 1) -> None:
    number = bench.store.value("SELECT coalesce(max(decision_no), 0) + 1 FROM decision")
    bench.store.run(
        "INSERT INTO decision (decision_no, decided_at, decision_kind, subject, answer) VALUES (?, ?, 'vehicle', ?, ?)",
        (number, datetime(2025, 2, day), subject, json.dumps(answer)),
    )


def settled(bench, known: datetime = datetime(2026, 1, 1)) -> dict[str, tuple]:
    bench.store.ask(date(2030, 1, 1), known)
    settle_vehicles(bench.store)
    rows = bench.rows(
        "SELECT vehicle_id, vin_read, vin_state, joined_vehicle_id, join_basis, n_joined FROM vehicle_identity"
    )
    return {row[0]: row[1:] for row in rows}


def test_one_vehicle_under_two_ids_is_joined_by_its_number(bench):
    vehicle(bench, "B7", SOUND, day=2)
    vehicle(bench, "A9", SOUND.lower()[:8] + " - " + SOUND.lower()[8:], day=3)
    found = settled(bench)
    assert found["A9"] == (SOUND, "sound", "B7", "same_vin", 2)
    assert found["B7"] == (SOUND, "sound", "B7", "same_vin", 2)


def test_o_and_i_are_read_as_digits_only_where_the_check_digit_then_holds(bench):
    misread = "AO" + SOUND[2:].replace("1", "I")
    vehicle(bench, "V1", misread)
    vehicle(bench, "V2", SOUND, day=2)
    vehicle(bench, "V3", misread[:-1] + "2", day=3)
    found = settled(bench)
    assert found["V1"][:4] == (SOUND, "repaired", "V1", "same_vin") and found["V2"][2] == "V1"
    assert found["V3"][1:4] == ("sign_not_allowed", "V3", "alone")


def test_a_number_that_fills_a_field_joins_nothing(bench):
    for name in ("V1", "V2"):
        vehicle(bench, name, "1" * 17)
    vehicle(bench, "V3", None)
    vehicle(bench, "V4", "12345")
    found = settled(bench)
    assert {name: row[1] for name, row in found.items()} == {
        "V1": "placeholder", "V2": "placeholder", "V3": "absent", "V4": "wrong_length",
    }  # fmt: skip
    assert all(row[3] == "alone" for row in found.values())


def test_two_families_under_one_number_are_not_joined_and_that_is_said(bench):
    bench.put("engine_family", engine_family="Oak", cylinders=6)
    vehicle(bench, "V1", SOUND)
    vehicle(bench, "V2", SOUND, family="Oak")
    assert {row[3] for row in settled(bench).values()} == {"not_joined_families_differ"}


def test_six_vehicles_with_one_number_are_not_believed(bench):
    for number in range(6):
        vehicle(bench, f"V{number}", SOUND)
    assert {row[3] for row in settled(bench).values()} == {"not_joined_too_many"}


def test_a_number_from_where_the_check_digit_is_not_used_joins_too(bench):
    other = SOUND[:8] + ("Z" if SOUND[8] != "Z" else "Y") + SOUND[9:]
    vehicle(bench, "V1", other)
    vehicle(bench, "V2", other)
    assert settled(bench)["V2"][1:4] == ("check_digit_differs", "V1", "same_vin")


def test_a_decision_sets_apart_and_joins_and_is_taken_back(bench):
    vehicle(bench, "V1", SOUND)
    vehicle(bench, "V2", SOUND, day=2)
    vehicle(bench, "V3", None, day=3)
    decide(bench, "V2", {"apart": True})
    decide(bench, "V3", {"join": "V2"}, day=5)
    found = settled(bench)
    assert found["V2"][2:4] == ("V2", "decided_apart") and found["V3"][2:4] == ("V2", "decided_join")
    assert found["V1"][2:] == ("V1", "alone", 1)
    decide(bench, "V2", None, day=8)
    found = settled(bench)
    assert found["V2"][2] == "V1" and found["V3"][2] == "V1" and found["V1"][4] == 3
    assert settled(bench, known=datetime(2025, 2, 3))["V3"][3] == "alone", "decided later than what was asked about"


def test_joins_that_lead_round_in_a_ring_join_nothing(bench):
    for name, to in (("V1", "V2"), ("V2", "V3"), ("V3", "V1"), ("V4", "V4"), ("V5", "nobody")):
        vehicle(bench, name, None)
        decide(bench, name, {"join": to})
    assert {name: row[2] for name, row in settled(bench).items()} == {f"V{n}": f"V{n}" for n in range(1, 6)}


@pytest.mark.parametrize(
    ("year", "agrees"), [(1986, True), (2016, True), (2015, False), (None, None)]
)  # G: 1986 and 2016 (49 CFR 565.15(d), from memory)
def test_the_model_year_is_held_against_the_tenth_sign(bench, year: int | None, agrees: bool | None):
    vehicle(bench, "V1", SOUND, year=year)
    settled(bench)
    assert bench.rows("SELECT is_year_agreeing FROM vehicle_identity") == [(agrees,)]


# The SQL against schemas.vin on random numbers, some with O, I and lower case.
@pytest.mark.parametrize("seed", range(3))
def test_the_statement_reads_numbers_as_the_functions_do(bench, seed: int):
    rng = np.random.default_rng(seed)
    expected = {}
    for number in range(300):
        vin = "".join(rng.choice(list(VIN_SIGNS), 17))
        if rng.random() < 0.7:
            vin = vin[:8] + check_digit(vin) + vin[9:]
        written = "".join({"0": "O", "1": "I"}.get(s, s) if rng.random() < 0.5 else s for s in vin)
        vehicle(bench, f"V{number}", written)
        if all(sign in VIN_SIGNS for sign in written):
            state = "sound" if check_digit(written) == written[8] else "check_digit_differs"
        else:
            state = "repaired" if repaired(written) else "sign_not_allowed"
        expected[f"V{number}"] = (repaired(written) or written, state)
    assert {name: row[:2] for name, row in settled(bench).items()} == expected
