"""English of Britain, long headers: a workbook of job cards and their entries, pounds, miles and kilometres."""

from __future__ import annotations

from cells import Made, amount, line, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, by
from texts_fresh import FRESH_MAKES
from writing import workbook

_KINDS = {"part": "Parts", "labor": "Labour", "sublet": "Subcontract", "fee": "Sundries"}
_ACTIONS = {"replaced": "Renewed", "repaired": "Repaired", "inspected": "Examined", "adjusted": "Adjusted"}
_REASONS = {
    "failed": "Broken", "worn": "Wear And Tear", "found_at_inspection": "Seen On Inspection",
    "preventive": "Precaution",
}  # fmt: skip
_UNITS = {"mi": "Miles", "km": "Kilometres"}


def _pounds(cents: int) -> str:
    return amount(cents, thousands=",", form="£{}")


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        302, language="en_uk", n_orders=27, n_vehicles=11, lines=(1, 2), units=("mi", "mi", "mi", "km"),
        order_form="JC/{}", vehicle_form="STK{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(
        drawn, ("Station Road Factors", "Main Agent"), ("DP", "RW", "KS"), ("High Street", "Mill Lane")
    )
    cards = Part("market_town_cards", [
        Col("Job Card Number", order(lambda o: o.order_id)),
        Col("Workshop Site", order(lambda o: o.location)),
        Col("Date Booked In", order(lambda o: o.opened_on)),
        Col("Date Due To Be Ready", order(lambda o: o.closed_on)),
        Col("Date Collected By Customer", order(lambda o: o.closed_on)),
        Col("Customer's Name", vehicle(lambda v: v.customer), personal=True),
        Col("Daytime Telephone Number", vehicle(lambda v: v.phone), personal=True),
        Col("Customer's Address", vehicle(lambda v: v.address), personal=True),
        Col("Registration Mark", vehicle(lambda v: v.plate), personal=True),
        Col("Vehicle Stock Reference", vehicle(lambda v: v.vehicle_id)),
        Col("Chassis (VIN) Number", vehicle(lambda v: v.vin)),
        Col("Make Of Vehicle", vehicle(lambda v: v.make)),
        Col("Model Of Vehicle", vehicle(lambda v: v.model)),
        Col("Engine Fitted", vehicle(lambda v: v.engine)),
        Col("Date First Registered", vehicle(lambda v: v.in_service_on)),
        Col("Recorded Mileage", order(lambda o: o.odometer_in)),
        Col("Mileage Recorded In", order(lambda o: _UNITS[o.odometer_unit])),
        Col("Nature Of Complaint", order(lambda o: o.concern)),
        Col("Job Card Status", order(lambda o: "Cancelled" if o.index == 16 else "Completed")),
        Col("Invoice Total Excluding VAT", order(lambda o: _pounds(o.total))),
        Col("VAT At 20%", order(lambda o: _pounds(o.total // 5))),
        Col("Invoice Number", order(lambda o: o.invoice)),
        Col("Taken In By", order(lambda o: o.advisor)),
    ], {
        "vehicle": TableFill({
            "vehicle_id": by("Vehicle Stock Reference"), "vin": by("Chassis (VIN) Number"),
            "make": by("Make Of Vehicle"), "model": by("Model Of Vehicle"),
            "engine_family": by("Make Of Vehicle", "Model Of Vehicle", "Engine Fitted"),
            "in_service_on": by("Date First Registered"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Job Card Number"), "location": by("Workshop Site"),
            "vehicle_id": by("Vehicle Stock Reference"), "opened_on": by("Date Booked In"),
            "closed_on": by("Date Collected By Customer"), "odometer_in": by("Recorded Mileage"),
            "odometer_unit": by("Mileage Recorded In", values=theirs(_UNITS)), "concern": by("Nature Of Complaint"),
            "status": by("Job Card Status", values=(("Completed", "closed"), ("Cancelled", "void")),
                         says=lambda row: "void" if row.order.index == 16 else "closed"),
            "total": by("Invoice Total Excluding VAT"),
        }),
    }, {"thousands": ","})  # fmt: skip
    entries = Part("market_town_entries", [
        Col("Job Card Number", order(lambda o: o.order_id)),
        Col("Entry Number", line(lambda x: x.line_no)),
        Col("Type Of Charge", line(lambda x: _KINDS[x.kind])),
        Col("Work Carried Out", line(lambda x: _ACTIONS[x.action])),
        Col("Reason For The Work", line(lambda x: _REASONS[x.reason])),
        Col("Component Or Operation", line(lambda x: x.description)),
        Col("Position On The Vehicle", line(lambda x: x.position)),
        Col("Manufacturer's Part Number", line(lambda x: x.part_number)),
        Col("Parts Obtained From", line(lambda x: x.supplier)),
        Col("Quantity Fitted", line(lambda x: float(x.quantity))),
        Col("Labour Time Charged (Hours)", line(lambda x: float(x.hours) if x.hours else "")),
        Col("Net Cost To The Garage", line(lambda x: _pounds(x.cost))),
        Col("Net Charge To The Customer", line(lambda x: _pounds(x.price))),
        Col("VAT Code", line(lambda x: "S" if x.kind != "fee" else "Z")),
        Col("Fault Found", line(lambda x: x.cause)),
        Col("Rectification", line(lambda x: x.correction)),
        Col("Initials Of Mechanic", line(lambda x: x.technician)),
        Col("Ramp", order(lambda o: int(o.bay))),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Job Card Number"), "line_no": by("Entry Number"),
        "kind": by("Type Of Charge", values=theirs(_KINDS)), "action": by("Work Carried Out", values=theirs(_ACTIONS)),
        "reason": by("Reason For The Work", values=theirs(_REASONS)), "description": by("Component Or Operation"),
        "position": by("Position On The Vehicle"), "part_number": by("Manufacturer's Part Number"),
        "supplier": by("Parts Obtained From"), "quantity": by("Quantity Fitted"),
        "hours": by("Labour Time Charged (Hours)"), "cost": by("Net Cost To The Garage"),
        "price": by("Net Charge To The Customer"), "cause": by("Fault Found"), "correction": by("Rectification"),
        "technician": by("Initials Of Mechanic"),
    })}, {"thousands": ","})  # fmt: skip
    for row in shop.order_rows():
        cards.add(row, [
            Spoil("Date Booked In", "31/06/2022", (("repair_order", "impossible date"),), order=4),
            Spoil("Recorded Mileage", "Illegible", (("repair_order", "not a number"),), order=10),
            Spoil("Job Card Number", "", (("repair_order", "missing required"),), order=19),
            Spoil("Date Collected By Customer", "2020-05-01", (("repair_order", "closed before opened"),), order=22),
        ])  # fmt: skip
    for row in shop.line_rows():
        entries.add(row, [
            Spoil("Work Carried Out", "Discussed", (("repair_line", "unknown value"),), order=6, line=1),
            Spoil("Net Cost To The Garage", "see invoice", (("repair_line", "not a number"),), order=14, line=1),
        ])  # fmt: skip
    sheets = {"Job Cards": cards, "Job Card Entries": entries}
    content = workbook(sheets)
    for part in sheets.values():
        part.place["file"] = "workshop records.xlsx"
    return Made("English (UK), long headers, workbook", {"workshop records.xlsx": content}, list(sheets.values()))
