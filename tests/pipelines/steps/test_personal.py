"""Masking in free text. Numbers are of ranges reserved for fiction (555-01xx) or made up; hosts are of example.org."""

import duckdb
import pytest

from longmile.pipelines.steps.personal import masked, masked_columns_sql, shortened_vins
from longmile.schemas.shop import REPAIR_LINE, TROUBLE_CODE, VEHICLE


def mask(text: str) -> str:
    return duckdb.execute(f"SELECT {masked('t')} FROM (SELECT ?::VARCHAR AS t)", [text]).fetchall()[0][0]


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("call 555-555-0123 when done", "call [phone] when done"),
        ("cust (555) 555-0123 or 555.555.0199.", "cust [phone] or [phone]."),
        ("1-555-555-0123", "[phone]"),
        ("Rückruf +49 30 1234567 bitte", "Rückruf [phone] bitte"),
        ("+44 20 7946 0123", "[phone]"),
        ("Tel. 030/1234567, Kunde wartet", "Tel. [phone], Kunde wartet"),
        ("tél: 01 23 45 67 89", "tél: [phone]"),
        ("06 12 34 56 78 après 17h", "[phone] après 17h"),
        ("ph 5550123", "ph [phone]"),
        ("mail Joe.Bloggs+car@mail.example.org re brakes", "mail [e-mail] re brakes"),
        ("plate ABC-1234 parked outside", "plate [plate] parked outside"),
        ("Kennzeichen B AB 1234", "Kennzeichen [plate]"),
        ("license plate: 7ABC123", "license plate: [plate]"),
        ("reg no AB12 CDE", "reg no [plate]"),
        ("immatriculation AB-123-CD", "immatriculation [plate]"),
    ],
)
def test_personal_data_is_masked(text: str, left: str):
    assert mask(text) == left


# What a technician writes and nobody is to lose.
@pytest.mark.parametrize(
    "text",
    [
        "Replaced water pump, torqued to 80-90 ft lb",
        "R&R LF hub, 0.05 mm play, 123456 km",
        "cyl 1 145 psi, cyl 2 150 psi, cyl 3 90 psi",
        "P0301 P0302, misfire count 1200",
        "skid plate loose, plate bent, pressure plate 240 mm",
        "fuel pressure reg 3.5 bar",
        "pads 3 mm, rotors 24.1 mm, min 23.0",
        "2023-04-05 returned, 12/03/2024 due",
        "5W-30 5.5 qt, filter",
        "odometer 1 234 567",
        "plate off, 2 bolts; backing plate out 12 mm",
        "bulb 12V 21/5W",
        "license plate lamp 12 V out",
        "10.2 s, 12.6 V, 0.5 A",
    ],
)
def test_what_is_no_personal_data_stays(text: str):
    assert mask(text) == text


def test_empty_stays_empty():
    assert duckdb.execute(f"SELECT {masked('t')} FROM (SELECT NULL::VARCHAR AS t)").fetchall() == [(None,)]


def test_free_texts_of_a_table_are_masked_and_nothing_else():
    columns = ", ".join(f"'{c.name} 555-555-0123' AS text_{c.name}" for c in REPAIR_LINE.columns)
    row = duckdb.sql(masked_columns_sql(REPAIR_LINE, f"SELECT 7 AS row_number, {columns}")).pl().to_dicts()[0]
    free = {"text_description", "text_cause", "text_correction"}
    assert {name for name, value in row.items() if "[phone]" in str(value)} == free
    assert masked_columns_sql(VEHICLE, "SELECT 1") == masked_columns_sql(TROUBLE_CODE, "SELECT 1") == "SELECT 1"


def test_identification_numbers_are_cut_to_their_last_six_signs():
    text = '{"vin": "1M8GDM9AXKP042788", "vehicle_id": "V00012"} and wp0zzz99zts392124 but not ABCDEFGHJKLMNPRST'
    short = duckdb.execute(f"SELECT {shortened_vins('t')} FROM (SELECT ? AS t)", [text]).fetchall()[0][0]
    assert short == '{"vin": "…042788", "vehicle_id": "V00012"} and …392124 but not ABCDEFGHJKLMNPRST'
