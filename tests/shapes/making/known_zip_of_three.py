"""English, mixed case: a zip of three files, two-digit years, quoted line ends, minus behind, yes and no."""

from __future__ import annotations

from cells import Made, amount, line, order, theirs, vehicle
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import delimited, zipped

_ACTIONS = {"replaced": "REPL", "repaired": "REP", "inspected": "CHK", "adjusted": "ADJ"}
_KINDS = {"part": "Y", "labor": "N"}


def _minus_behind(cents: int) -> str:
    return amount(cents, thousands=",", below_zero="{}-")


def make() -> Made:
    """The shape. Work sent out and fees are labour here: the file only says whether a line is a part."""
    shop = credited(make_shop(108, n_orders=16, n_vehicles=25, order_form="{}-J"), 2, 9)
    tickets = Part("zip_tickets", [
        Col("Ticket", order(lambda o: o.order_id)),
        Col("Car", vehicle(lambda v: v.vehicle_id)),
        Col("date IN", order(lambda o: f"{o.opened_on:%m/%d/%y}")),
        Col("date OUT", order(lambda o: f"{o.closed_on:%m/%d/%y}")),
        Col("date PRINTED", order(lambda o: f"{o.closed_on:%m/%d/%y}")),
        Col("Mileage", order(lambda o: o.odometer_in)),
        Col("Complaint", order(lambda o: f"{o.concern}\nSince last week")),
        Col("Void?", order(lambda o: "Y" if o.index == 5 else "N")),
        Col("Grand Total", order(lambda o: _minus_behind(o.total))),
        Col("Sales Tax", order(lambda o: _minus_behind(o.total // 12))),
        Col("Paid by", order(lambda o: ("Cash", "Card")[o.index % 2])),
        Col("Customer", vehicle(lambda v: v.customer), personal=True),
        Col("Cell phone", vehicle(lambda v: v.phone), personal=True),
        Col("Street", vehicle(lambda v: v.address), personal=True),
        Col("Written by", order(lambda o: o.advisor)),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Ticket"), "vehicle_id": by("Car"), "opened_on": by("date IN"),
        "closed_on": by("date OUT"), "odometer_in": by("Mileage"), "odometer_unit": always("mi"),
        "concern": by("Complaint", says=lambda row: f"{row.order.concern}\nSince last week"),
        "status": by("Void?", values=(("Y", "void"), ("N", "")), says=lambda r: "void" if r.order.index == 5 else None),
        "total": by("Grand Total"),
    })}, {"dates": ("%m/%d/%y",), "two_digit_years_to": 2026, "thousands": ","})  # fmt: skip
    jobs = Part("zip_jobs", [
        Col("Ticket", order(lambda o: o.order_id)),
        Col("Job", line(lambda x: x.line_no)),
        Col("Is Part", line(lambda x: _KINDS.get(x.kind, "N"))),
        Col("Did", line(lambda x: _ACTIONS[x.action])),
        Col("What", line(lambda x: x.description)),
        Col("Where", line(lambda x: x.position)),
        Col("Part no", line(lambda x: x.part_number)),
        Col("Bought from", line(lambda x: x.supplier)),
        Col("New/Reman/Used", line(lambda x: x.part_origin[:1].upper())),
        Col("Count", line(lambda x: x.quantity)),
        Col("Hours", line(lambda x: x.hours)),
        Col("Cost $", line(lambda x: _minus_behind(x.cost))),
        Col("Price $", line(lambda x: _minus_behind(x.price))),
        Col("Mechanic", line(lambda x: x.technician)),
        Col("Bay", order(lambda o: o.bay)),
        Col("Notes", line(lambda x: x.correction)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Ticket"), "line_no": by("Job"),
        "kind": by("Is Part", values=theirs(_KINDS), says=lambda r: "part" if r.line.kind == "part" else "labor"),
        "action": by("Did", values=theirs(_ACTIONS)), "description": by("What"), "position": by("Where"),
        "part_number": by("Part no"), "supplier": by("Bought from"),
        "part_origin": by("New/Reman/Used", values=(("N", "new"), ("R", "remanufactured"), ("U", "used"))),
        "quantity": by("Count"), "hours": by("Hours"), "cost": by("Cost $"), "price": by("Price $"),
        "technician": by("Mechanic"), "correction": by("Notes"),
    })}, {"thousands": ","})  # fmt: skip
    cars = Part("zip_cars", [
        Col("Car", vehicle(lambda v: v.vehicle_id)),
        Col("Vin", vehicle(lambda v: v.vin.lower())),
        Col("License plate", vehicle(lambda v: v.plate), personal=True),
        Col("Year", vehicle(lambda v: v.model_year)),
        Col("Make", vehicle(lambda v: v.make.upper())),
        Col("Model", vehicle(lambda v: v.model.upper())),
        Col("Engine family", vehicle(lambda v: v.family_code)),
        Col("Owner", vehicle(lambda v: v.customer), personal=True),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Car"), "vin": by("Vin", says=lambda r: r.vehicle.vin.lower()), "model_year": by("Year"),
        "make": by("Make", says=lambda r: r.vehicle.make.upper()),
        "model": by("Model", says=lambda r: r.vehicle.model.upper()),
        "engine_family": by("Engine family", says=lambda r: r.vehicle.family_code),
    })})  # fmt: skip
    for row in shop.order_rows():
        tickets.add(row, [
            Spoil("date IN", "2/29/23", (("repair_order", "impossible date"),), order=7),
            Spoil("Mileage", "12A400", (("repair_order", "not a number"),), order=11),
            Spoil("Ticket", "", (("repair_order", "missing required"),), order=13),
        ])  # fmt: skip
    for row in shop.line_rows():
        jobs.add(row, [
            Spoil("Did", "SOLD", (("repair_line", "unknown value"),), order=4, line=1),
            Spoil("Hours", "half", (("repair_line", "not a number"),), order=10, line=1),
        ])  # fmt: skip
    for index, row in enumerate(shop.vehicle_rows()):
        cars.add(row, [Spoil("Year", "20l8", (("vehicle", "not a number"),), vehicle=6)], index)
    jobs.odd("unreadable line", text="4011-J,3,Y,REPL,Water pump")
    parts = {"tickets.csv": tickets, "jobs.csv": jobs, "cars.csv": cars}
    packed = zipped({name: delimited(part) for name, part in parts.items()})
    for name, part in parts.items():
        part.place |= {"file": "export.zip", "member": name}
    return Made("English, zip of three files, two-digit years", {"export.zip": packed}, list(parts.values()))
