"""Proposals for small tables written by hand, each with one difficulty. People, codes and headers are invented."""

from __future__ import annotations

import re
from datetime import date

import polars as pl
import pytest

from longmile.pipelines.maps.map_checks import check_map
from longmile.pipelines.maps.map_file import parse_map
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.propose import Proposal, propose_map
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap
from longmile.pipelines.sources.shape import ROW_NUMBER, RawTable, bad_lines_frame

TODAY = date(2026, 3, 1)
ORDERS = """
RO   | Date In    | Date Out   | Unit # | Mileage | Complaint
4001 | 03/19/2022 | 03/22/2022 | V1     | 45,210  | Noise at idle
4002 | 04/20/2022 | 04/20/2022 | V2     | 88,954  | Heater blows cold
4003 | 05/02/2022 | 05/03/2022 | V3     | 12,877  | Oil light on
4004 | 05/13/2022 | 05/14/2022 | V1     | 47,002  | Noise at idle
"""
LINES = """
RO   | Ln | Type  | Work     | Description | Part No | Qty | Hours | Cost  | Price
4001 | 1  | Labor | Replaced | Water pump  |         | 1   | 2.5   | 10.50 | 250.00
4001 | 2  | Part  | Replaced | Water pump  | K12-881 | 1   |       | 80.25 | 160.50
4002 | 1  | Labor | Repaired | Heater tap  |         | 1   | 1.0   | 9.75  | 110.00
4002 | 2  | Part  | Repaired | Heater tap  | K44-002 | 2   |       | 12.10 | 30.25
4003 | 1  | Labor | Inspect  | Oil sender  |         | 1   | 0.5   | 5.00  | 55.00
"""


def raw(text: str, name: str = "export", repeated: tuple[str, ...] = ()) -> RawTable:
    """A table drawn with bars; an empty cell is empty."""
    drawn = [[cell.strip() for cell in line.split("|")] for line in text.strip().splitlines()]
    headers, rows = drawn[0], drawn[1:]
    frame = pl.DataFrame(rows, schema=dict.fromkeys(headers, pl.String), orient="row")
    frame = frame.select(pl.when(pl.all() != "").then(pl.all()).name.keep())
    numbers = pl.Series(ROW_NUMBER, range(2, len(rows) + 2), dtype=pl.Int64)
    return RawTable(name, frame.insert_column(0, numbers), bad_lines_frame([]), len(rows), repeated=repeated)


def proposed(text: str, name: str = "export") -> Proposal:
    return propose_map(raw(text, name), "mine", TODAY)


def column(proposal: Proposal, table: str, name: str) -> ColumnMap:
    found = proposal.map.table(table)
    assert found is not None, f"no {table} among {[one.table for one in proposal.map.tables]}"
    mapped = found.column(name)
    assert mapped is not None, f"no {name} in {table}"
    return mapped


def why_not(proposal: Proposal, header: str) -> str:
    return dict(proposal.not_mapped)[header]


def test_orders_are_proposed_and_not_accepted():
    proposal = proposed(ORDERS)
    assert not proposal.map.is_accepted
    assert [table.table for table in proposal.map.tables] == ["repair_order"]
    assert column(proposal, "repair_order", "opened_on").headers == ("Date In",)
    assert column(proposal, "repair_order", "closed_on").headers == ("Date Out",)
    assert (proposal.map.dates, proposal.map.decimal, proposal.map.thousands) == (("%m/%d/%Y",), ".", ",")
    assert all(0 < one.confidence <= 1 and one.because for table in proposal.map.tables for one in table.columns)


def test_lines_are_proposed_with_their_translations():
    proposal = proposed(LINES)
    assert [table.table for table in proposal.map.tables] == ["repair_line"]
    assert dict(column(proposal, "repair_line", "action").values) == {
        "Replaced": "replaced",
        "Repaired": "repaired",
        "Inspect": "inspected",
    }
    assert dict(column(proposal, "repair_line", "kind").values) == {"Labor": "labor", "Part": "part"}


def test_a_value_that_is_not_known_stays_and_is_named():
    action = column(proposed(LINES.replace("Inspect ", "Discussed")), "repair_line", "action")
    assert "Discussed" not in dict(action.values)
    assert "not translated: 'Discussed'" in action.because
    assert action.confidence < column(proposed(LINES), "repair_line", "action").confidence


def test_order_line_and_vehicle_in_one_row_fill_three_tables():
    proposal = proposed(
        """
        Auftrag | Annahme    | Fzg | FIN               | Marke   | Modell | Motorcode | KM-Stand | Art  | Text  | Menge
        A-1     | 19.03.2022 | V7  | A0KABRJU3JB005901 | Velmaro | Kestra | VK16P     | 105.841  | Lohn | Lager | 1
        A-1     | 19.03.2022 | V7  | A0KABRJU3JB005901 | Velmaro | Kestra | VK16P     | 105.841  | Teil | Lager | 1
        A-2     | 20.04.2022 | V9  | A0KBRVEZ7HC008576 | Brontal | Lumo   | BL14P     | 47.310   | Lohn | Welle | 1,5
        """
    )
    assert [table.table for table in proposal.map.tables] == ["vehicle", "repair_order", "repair_line"]
    assert column(proposal, "repair_order", "repair_order_id").headers == ("Auftrag",)
    assert column(proposal, "repair_line", "repair_order_id").headers == ("Auftrag",)
    assert column(proposal, "vehicle", "vehicle_id").headers == ("Fzg",)
    assert column(proposal, "repair_order", "vehicle_id").headers == ("Fzg",)
    assert column(proposal, "vehicle", "engine_family").headers == ("Motorcode",)
    assert column(proposal, "repair_order", "odometer_unit").constant == "km"
    assert (proposal.map.decimal, proposal.map.thousands) == (",", ".")


def test_a_missing_line_number_is_counted_within_the_order():
    without = "\n".join("|".join(line.split("|")[:1] + line.split("|")[2:]) for line in LINES.strip().splitlines())
    assert column(proposed(without), "repair_line", "line_no").numbered_within == ("RO",)


GROUPED = """
Order | In         | Car | Miles  | Type  | Work     | Text       | Hours
A1    | 03/19/2022 | V1  | 45,210 | Labor | Replaced | Water pump | 2.5
      |            |     |        | Labor | Cleaned  | Radiator   | 1.0
      |            |     |        | Labor | Adjusted | Drive belt | 0.3
A2    | 04/20/2022 | V2  | 88,954 | Labor | Replaced | Heater tap | 1.0
      |            |     |        | Labor | Repaired | Hose       | 0.4
"""


def test_an_order_written_once_for_its_lines_is_filled_down():
    assert proposed(GROUPED).map.fill_down == ("Order", "In", "Car", "Miles")


def test_a_single_missing_order_number_is_no_reason_to_fill_down():
    rows = "\n".join(f"{4010 + n} | 1 | Labor | Replaced | Fan | | 1 | 1.0 | 2.00 | 9.00" for n in range(12))
    proposal = proposed(f"{LINES.strip()}\n{rows}\n | 1 | Labor | Replaced | Fan | | 1 | 1.0 | 2.00 | 9.00")
    assert proposal.map.fill_down == ()


RECORDS = """
Rec | WO | Opened     | Truck | Odo   | Mi/Km | Ln | Work     | Descr      | Qty
H   | W1 | 2022-02-23 | V1    | 92845 | mi    |    |          |            |
L   | W1 |            |       |       |       | 1  | Replaced | Water pump | 1
P   | W1 |            |       |       |       | 2  | Replaced | Water pump | 1
H   | W2 | 2022-03-01 | V2    | 14203 | mi    |    |          |            |
L   | W2 |            |       |       |       | 1  | Repaired | Hose       | 1
P   | W2 |            |       |       |       | 2  | Replaced | Clamp      | 2
"""


def test_kinds_of_records_say_which_rows_are_of_which_table():
    proposal = proposed(RECORDS)
    orders, lines = proposal.map.table("repair_order"), proposal.map.table("repair_line")
    assert orders is not None and orders.only_where == ("Rec", ("H",))
    assert lines is not None and lines.only_where == ("Rec", ("L", "P"))
    assert dict(column(proposal, "repair_line", "kind").values) == {"L": "labor", "P": "part"}
    assert column(proposal, "repair_order", "odometer_unit").headers == ("Mi/Km",)


def test_day_and_month_are_told_by_another_date_column_of_the_file():
    text = ORDERS.replace("03/19", "03/09").replace("04/20", "04/10").replace("05/13", "05/11")
    text = text.replace("03/22", "03/10").replace("05/14", "05/12").replace("04/10/2022 | V", "04/21/2022 | V")
    proposal = proposed(text)
    assert proposal.map.dates == ("%m/%d/%Y",)
    assert not any("comes first" in one for one in proposal.questions)


def test_day_and_month_that_cannot_be_told_are_asked_about():
    open_ = ORDERS.replace("03/19", "03/09").replace("03/22", "03/10").replace("04/20", "04/10")
    open_ = open_.replace("05/13", "05/11").replace("05/14", "05/12")
    proposal = proposed(open_)
    assert any("whether the day or the month comes first" in one for one in proposal.questions)
    sure = column(proposed(ORDERS), "repair_order", "opened_on").confidence
    assert column(proposal, "repair_order", "opened_on").confidence < sure


def test_two_digit_years_take_the_year_of_the_proposal():
    proposal = proposed(ORDERS.replace("/2022", "/22"))
    assert (proposal.map.dates, proposal.map.two_digit_years_to) == (("%m/%d/%y",), 2026)
    assert proposed(ORDERS).map.two_digit_years_to == 0


def test_one_broken_date_does_not_change_the_format():
    rows = "\n".join(f"{n} | 1{n % 9 + 1}/05/2022 | V1 | {40_000 + 937 * (n % 7)} | Noise" for n in range(10, 30))
    proposal = proposed(f"RO | Date In | Unit # | Miles | Complaint\n{rows}\n99 | 31/31/2022 | V1 | 12000 | Noise")
    assert proposal.map.dates == ("%d/%m/%Y",)


def test_a_date_column_of_day_numbers_states_its_own_format():
    text = ORDERS.replace("Date Out  ", "Completed ")
    for day, number in (
        ("03/22/2022", "44642"),
        ("04/20/2022", "44671"),
        ("05/03/2022", "44684"),
        ("05/14/2022", "44695"),
    ):
        text = text.replace(f"| {day} | V", f"| {number} | V")
    assert column(proposed(text), "repair_order", "closed_on").dates == ("excel",)


def test_a_column_with_other_signs_than_the_file_states_them():
    text = LINES.replace("2.5", "2,5").replace("1.0 ", "1,25").replace("| 0.5", "| 0,5")
    hours = column(proposed(text), "repair_line", "hours")
    assert (hours.decimal, hours.thousands) == (",", "")
    assert proposed(text).map.decimal == "."


def test_a_cell_with_its_unit_fills_number_and_unit():
    text = ORDERS.replace("45,210 ", "45,210 km").replace("88,954 ", "88,954 mi").replace("12,877 ", "12,877 km")
    proposal = proposed(text.replace("47,002 ", "47,002 km").replace("Mileage", "Odo"))
    assert column(proposal, "repair_order", "odometer_in").part == "number"
    unit = column(proposal, "repair_order", "odometer_unit")
    assert (unit.headers, unit.part) == (("Odo",), "unit")


@pytest.mark.parametrize(
    ("header", "unit"), [("Odometer (km)", "km"), ("Miles In", "mi"), ("Kilometres", "km"), ("Mileage", "mi")]
)
def test_the_odometers_unit_is_read_from_the_header(header: str, unit: str):
    found = column(proposed(ORDERS.replace("Mileage", header)), "repair_order", "odometer_unit")
    assert found.constant == unit


def test_a_unit_that_is_not_said_is_asked_about():
    iso = re.sub(r"(\d\d)/(\d\d)/(\d{4})", r"\3-\1-\2", ORDERS)
    proposal = proposed(iso.replace("Mileage", "Odometer"))
    orders = proposal.map.table("repair_order")
    assert orders is not None and orders.column("odometer_unit") is None
    assert any("unit of the odometer is not said" in one for one in proposal.questions)


def test_where_months_are_written_first_miles_are_taken_and_asked_about():
    proposal = proposed(ORDERS.replace("Mileage", "Odometer"))
    unit = column(proposal, "repair_order", "odometer_unit")
    assert (unit.constant, unit.confidence) == ("mi", 0.6)
    assert any("taken to be mi" in one for one in proposal.questions)


def test_two_headers_that_could_be_the_odometer_are_asked_about():
    lines = ORDERS.strip().splitlines()
    twice = "\n".join([f"{lines[0]} | Odometer", *(f"{line} | {n}1,950" for n, line in enumerate(lines[1:], 3))])
    proposal = proposed(twice)
    assert any("'Mileage'" in one and "'Odometer'" in one for one in proposal.questions)
    assert "unsure" in why_not(proposal, "Odometer") or "unsure" in why_not(proposal, "Mileage")


PEOPLE = """
RO   | Date In    | Unit # | Miles  | Customer    | Phone    | E-mail        | Plate   | Street         | Contact
4001 | 03/19/2022 | V1     | 45,210 | Ada Example | 555-0101 | a@example.org | ZZ-0001 | 3 Example Road | b@example.org
4002 | 04/20/2022 | V2     | 88,954 | Bo Example  | 555-0102 | b@example.org | ZZ-0002 | 4 Example Road | c@example.org
4003 | 05/02/2022 | V3     | 12,877 | Cy Example  | 555-0103 | c@example.org | ZZ-0003 | 5 Example Road | d@example.org
"""


def test_personal_data_is_never_mapped():
    proposal = proposed(PEOPLE)
    for header in ("Customer", "Phone", "E-mail", "Plate", "Street", "Contact"):
        assert why_not(proposal, header) == "personal data"


def test_no_reason_shows_personal_data_or_free_text():
    told = map_text(proposed(PEOPLE).map) + map_text(proposed(ORDERS).map)
    for text in ("Example", "555-01", "ZZ-00", "Noise at idle"):
        assert text not in told


def test_technicians_by_name_are_not_mapped_and_their_code_is_asked_for():
    lines = LINES.strip().splitlines()
    named = "\n".join([f"{lines[0]} | Technician", *(f"{line} | Ada Example" for line in lines[1:])])
    proposal = proposed(named)
    assert why_not(proposal, "Technician") == "personal data"
    assert any("the shop's own code" in one for one in proposal.questions)
    coded = "\n".join([f"{lines[0]} | Technician", *(f"{line} | T0{n}" for n, line in enumerate(lines[1:]))])
    assert column(proposed(coded), "repair_line", "technician").headers == ("Technician",)


def test_the_vin_stands_for_a_missing_vehicle_number():
    text = ORDERS.replace("Unit #", "VIN").replace("V1 ", "A0KABRJU3JB005901").replace("V2 ", "A0KBRVEZ7HC008576")
    found = column(proposed(text.replace("V3 ", "A0KNW3ZD9MC003222")), "repair_order", "vehicle_id")
    assert found.headers == ("VIN",)
    assert found.confidence < 0.9


VEHICLES = """
Car no | VIN               | Make    | Model  | Engine | Year
C1     | A0KXK8U76HD006999 | Velmaro | Kestra | 1.6 P4 | 2017
C2     | A0KLCBC99KC004656 | Velmaro | Kestra | 2.0 D4 | 2019
C3     | A0K4YC9W09D002730 | Brontal | Lumo   | 1.4 P4 | 2009
"""


def test_engines_named_by_size_make_a_family_with_maker_and_model():
    family = column(proposed(VEHICLES), "vehicle", "engine_family")
    assert family.headers == ("Make", "Model", "Engine")


def test_engines_named_by_code_are_the_family():
    text = VEHICLES.replace("1.6 P4", "VK16P").replace("2.0 D4", "VK20D").replace("1.4 P4", "BL14P")
    assert column(proposed(text), "vehicle", "engine_family").headers == ("Engine",)


def test_an_engine_that_is_not_there_is_asked_about():
    without = "\n".join("|".join(line.split("|")[:4] + line.split("|")[5:]) for line in VEHICLES.strip().splitlines())
    proposal = proposed(without)
    assert column(proposal, "vehicle", "engine_family").headers == ("Make", "Model")
    assert any("engine" in one for one in proposal.questions)


def test_the_amount_of_the_line_is_taken_and_not_that_of_a_piece():
    lines = LINES.strip().replace("Price", "Unit Price").splitlines()
    both = "\n".join([f"{lines[0]} | Ext Price", *(f"{line} | {n}0.50" for n, line in enumerate(lines[1:], 1))])
    assert column(proposed(both), "repair_line", "price").headers == ("Ext Price",)
    only = proposed("\n".join(lines))
    assert column(only, "repair_line", "price").headers == ("Unit Price",)
    assert any("one piece" in one for one in only.questions)


def test_lines_with_hours_and_no_part_numbers_are_labor():
    kept = [0, 1, 3, 4, 7, 9]
    text = "\n".join("|".join(line.split("|")[place] for place in kept) for line in LINES.strip().splitlines())
    kind = column(proposed(text), "repair_line", "kind")
    assert (kind.headers, kind.constant) == ((), "labor")


def test_yes_and_no_are_translated_to_what_the_header_asks():
    text = LINES.replace("Type ", "Is Part").replace("| Labor |", "| N |").replace("| Part  |", "| Y |")
    assert dict(column(proposed(text), "repair_line", "kind").values) == {"N": "labor", "Y": "part"}


def test_trouble_codes_beside_orders_are_rows_only_where_there_is_one():
    lines = ORDERS.strip().splitlines()
    codes = ("P0301", "", "P0420", "")
    text = "\n".join([f"{lines[0]} | DTC", *(f"{line} | {code}" for line, code in zip(lines[1:], codes, strict=True))])
    table = proposed(text).map.table("trouble_code")
    assert table is not None and table.only_where == ("DTC", ())


def test_several_trouble_codes_in_a_cell_are_asked_about():
    lines = ORDERS.strip().splitlines()
    text = "\n".join([f"{lines[0]} | DTC", *(f"{line} | P0301, P0420" for line in lines[1:])])
    assert any("several trouble codes" in one for one in proposed(text).questions)


@pytest.mark.parametrize(
    ("text", "table", "columns"),
    [
        (
            "Order | Part tested | Cyl | Measurement | Reading | Unit\n"
            "A1 | compressor | 1 | Compression | 178.5 | psi\nA1 | compressor | 2 | Compression | 140.0 | psi",
            "measurement",
            {"repair_order_id", "position", "measure", "value", "unit"},
        ),
        (
            "Order | Fault code | When read\nA1 | P0301 | arrival\nA2 | P0420 | after repair",
            "trouble_code",
            {"repair_order_id", "code", "stage"},
        ),
        (
            "Order | Check | Result | Passed\nA1 | Leak check | 0 | yes\nA2 | Road test | 12 | no",
            "verification",
            {"repair_order_id", "check", "value", "passed"},
        ),
        (
            "Order | Line | Warranty months | Warranty miles\nA1 | 1 | 12 | 12000\nA2 | 1 | 24 | 24000",
            "warranty_promise",
            {"repair_order_id", "line_no", "months", "miles"},
        ),
        (
            "Engine family | Cylinders | Exhaust valves per cylinder\nVK16P | 4 | 2\nOV22D | 6 | 1",
            "engine_family",
            {"engine_family", "cylinders", "exhaust_valves_per_cylinder"},
        ),
    ],
)
def test_the_other_tables_of_the_contract_are_proposed_too(text: str, table: str, columns: set[str]):
    found = proposed(text).map.table(table)
    assert found is not None
    assert columns <= {one.column for one in found.columns}


def test_an_odometer_without_a_telling_header_is_found_by_its_values_and_asked_about():
    miles = (45_210, 88_954, 12_877, 47_002, 91_300, 15_010, 60_120, 33_415)
    rows = "\n".join(f"{4001 + n} | 2022-03-{10 + n} | V{n % 4} | {one} | Noise" for n, one in enumerate(miles))
    proposal = proposed(f"RO | Date In | Unit # | Zz | Complaint\n{rows}")
    assert column(proposal, "repair_order", "odometer_in").headers == ("Zz",)
    assert column(proposal, "repair_order", "odometer_in").confidence < 0.5
    assert any("by its values alone" in one for one in proposal.questions)


def test_an_empty_column_and_one_of_no_use_are_said_to_be_so():
    lines = ORDERS.strip().splitlines()
    text = "\n".join([f"{lines[0]} | Status | Lift", *(f"{line} | | 3" for line in lines[1:])])
    proposal = proposed(text)
    assert why_not(proposal, "Status") == "nothing in it"
    assert why_not(proposal, "Lift") == "not of the contract"


def test_a_header_that_stands_there_twice_is_not_mapped_and_asked_about():
    text = ORDERS.replace("Date Out  ", "Date In (2)")
    proposal = propose_map(raw(text, repeated=("Date In",)), "mine", TODAY)
    assert why_not(proposal, "Date In") == why_not(proposal, "Date In (2)") == "the file has this header more than once"
    assert any("'Date In'" in one and "more than once" in one for one in proposal.questions)


def test_what_a_table_needs_and_lacks_is_asked_for():
    without = "\n".join("|".join(line.split("|")[:4] + line.split("|")[5:]) for line in ORDERS.strip().splitlines())
    assert any("needs odometer_in" in one for one in proposed(without).questions)


def test_a_file_of_nothing_known_is_asked_about():
    proposal = proposed("Colour | Weight\nred | 3\nblue | 4")
    assert proposal.map.tables == ()
    assert "What is in this file?" in proposal.questions[0]


def test_a_file_in_the_neutral_layout_needs_no_map():
    text = "repair_order_id | vehicle_id | opened_on | odometer_in\nA1 | V1 | 2022-03-19 | 45210"
    proposal = proposed(text, "repair_order_2022")
    assert "neutral layout already" in proposal.questions[0]
    assert {one.confidence for one in proposal.map.tables[0].columns} == {1.0}
    assert column(proposal, "repair_order", "opened_on").headers == ("opened_on",)


EARLIER = SourceMap(
    "last_year",
    ("RO", "Date In", "Date Out", "Unit #", "Complaint"),
    (
        TableMap(
            "repair_order",
            (
                ColumnMap("repair_order_id", ("RO",)),
                ColumnMap("opened_on", ("Date Out",)),
                ColumnMap("concern", ("Complaint",)),
            ),
        ),
    ),
    is_accepted=True,
    dates=("%d/%m/%Y",),
    thousands="'",
)


def test_an_earlier_map_is_taken_over_where_both_have_the_headers():
    proposal = propose_map(raw(ORDERS), "mine", TODAY, EARLIER)
    opened = column(proposal, "repair_order", "opened_on")
    assert (opened.headers, opened.confidence) == (("Date Out",), 1.0)
    assert opened.because == "as in the accepted map last_year"
    assert proposal.map.dates == ("%d/%m/%Y",)
    assert not proposal.map.is_accepted


def test_new_columns_are_proposed_beside_an_earlier_map_and_what_it_left_out_stays_out():
    proposal = propose_map(raw(ORDERS), "mine", TODAY, EARLIER)
    odometer = column(proposal, "repair_order", "odometer_in")
    assert (odometer.headers, odometer.thousands) == (("Mileage",), ",")
    assert {"Date In", "Unit #"} <= {header for header, _ in proposal.not_mapped}


def test_an_earlier_map_of_other_columns_is_not_taken_over():
    other = SourceMap("other", ("A", "B", "C", "RO"), EARLIER.tables, is_accepted=True)
    assert column(propose_map(raw(ORDERS), "mine", TODAY, other), "repair_order", "opened_on").headers == ("Date In",)


@pytest.mark.parametrize("text", [ORDERS, LINES, GROUPED, RECORDS, PEOPLE, VEHICLES])
def test_a_proposal_can_be_written_read_and_checked(text: str):
    proposal = proposed(text)
    check_map(proposal.map, "mine.toml")
    written = parse_map(map_text(proposal.map, proposal.not_mapped, proposal.questions), "mine.toml")
    assert written.tables[0].table == proposal.map.tables[0].table


def test_the_order_of_columns_does_not_matter():
    drawn = [line.split("|") for line in ORDERS.strip().splitlines()]
    turned = "\n".join("|".join(reversed(line)) for line in drawn)
    there = {one.column: one.headers for one in proposed(ORDERS).map.tables[0].columns}
    assert {one.column: one.headers for one in proposed(turned).map.tables[0].columns} == there
