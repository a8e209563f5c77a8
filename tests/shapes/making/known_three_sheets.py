"""English, long headers: a workbook of three sheets, real dates, day numbers, kilometres in the header."""

from __future__ import annotations

from cells import Made, excel_day, line, order, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import workbook

_KINDS = {"part": "Part", "labor": "Labour", "sublet": "Sent out", "fee": "Fee"}
_ACTIONS = {"replaced": "Replaced", "repaired": "Repaired", "inspected": "Inspected", "adjusted": "Adjusted"}
_REASONS = {"failed": "Failed", "worn": "Worn", "found_at_inspection": "Found at check", "preventive": "Preventive"}


def _lower(codes: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Only what differs from our own code needs a translation."""
    return tuple((theirs, ours) for ours, theirs in codes.items() if theirs != ours)


def make() -> Made:
    """The shape."""
    shop = make_shop(104, n_orders=18, n_vehicles=26, units=("km",), order_form="{}")
    orders = Part("three_sheets_orders", [
        Col("Work Order Number", order(lambda o: int(o.order_id))),
        Col("Branch", order(lambda o: o.location)),
        Col("Vehicle Number", vehicle(lambda v: v.vehicle_id)),
        Col("Customer Name", vehicle(lambda v: v.customer), personal=True),
        Col("Customer Address", vehicle(lambda v: v.address), personal=True),
        Col("Date Received", order(lambda o: o.opened_on)),
        Col("Date Promised", order(lambda o: o.closed_on)),
        Col("Date Completed", order(lambda o: o.closed_on)),
        Col("Date Paid", order(lambda o: excel_day(o.closed_on) + 3)),
        Col("Odometer Received (km)", order(lambda o: o.odometer_in)),
        Col("Odometer Returned (km)", order(lambda o: o.odometer_out)),
        Col("Order State", order(lambda o: o.status.upper())),
        Col("Customer Concern", order(lambda o: o.concern)),
        Col("Order Total", order(lambda o: o.total / 100)),
        Col("Service Advisor", order(lambda o: o.advisor)),
        Col("Bay", order(lambda o: int(o.bay))),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Work Order Number"), "location": by("Branch"), "vehicle_id": by("Vehicle Number"),
        "opened_on": by("Date Received"), "closed_on": by("Date Completed"),
        "odometer_in": by("Odometer Received (km)"), "odometer_out": by("Odometer Returned (km)"),
        "odometer_unit": always("km"), "status": by("Order State", values=(("CLOSED", "closed"),)),
        "concern": by("Customer Concern"), "total": by("Order Total"),
    })})  # fmt: skip
    lines = Part("three_sheets_lines", [
        Col("Work Order Number", order(lambda o: int(o.order_id))),
        Col("Line Number", line(lambda x: x.line_no)),
        Col("Line Type", line(lambda x: _KINDS[x.kind])),
        Col("Work Performed", line(lambda x: _ACTIONS[x.action])),
        Col("Reason For Work", line(lambda x: _REASONS[x.reason])),
        Col("Description Of Work Or Part", line(lambda x: x.description)),
        Col("Location On Vehicle", line(lambda x: x.position)),
        Col("Part Number", line(lambda x: x.part_number)),
        Col("Supplier Name", line(lambda x: x.supplier)),
        Col("Quantity Used", line(lambda x: float(x.quantity))),
        Col("Labour Hours", line(lambda x: float(x.hours) if x.hours else "")),
        Col("Unit Tax", line(lambda x: x.price // 10 / 100)),
        Col("Our Cost", line(lambda x: x.cost / 100)),
        Col("Charged To Customer", line(lambda x: x.price / 100)),
        Col("What Was Found", line(lambda x: x.cause)),
        Col("What Was Done", line(lambda x: x.correction)),
        Col("Technician Code", line(lambda x: x.technician)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Work Order Number"), "line_no": by("Line Number"),
        "kind": by("Line Type", values=_lower(_KINDS)), "action": by("Work Performed", values=_lower(_ACTIONS)),
        "reason": by("Reason For Work", values=_lower(_REASONS)),
        "description": by("Description Of Work Or Part"), "position": by("Location On Vehicle"),
        "part_number": by("Part Number"), "supplier": by("Supplier Name"), "quantity": by("Quantity Used"),
        "hours": by("Labour Hours"), "cost": by("Our Cost"), "price": by("Charged To Customer"),
        "cause": by("What Was Found"), "correction": by("What Was Done"), "technician": by("Technician Code"),
    })})  # fmt: skip
    vehicles = Part("three_sheets_vehicles", [
        Col("Vehicle Number", vehicle(lambda v: v.vehicle_id)),
        Col("Chassis Number (VIN)", vehicle(lambda v: v.vin)),
        Col("Registration Plate", vehicle(lambda v: v.plate), personal=True),
        Col("Owner", vehicle(lambda v: v.customer), personal=True),
        Col("Owner Phone", vehicle(lambda v: v.phone), personal=True),
        Col("Owner E-mail", vehicle(lambda v: v.email), personal=True),
        Col("Manufacturer", vehicle(lambda v: v.make)),
        Col("Model", vehicle(lambda v: v.model)),
        Col("Engine Code", vehicle(lambda v: v.family_code)),
        Col("Model Year", vehicle(lambda v: v.model_year)),
        Col("First Registered", vehicle(lambda v: excel_day(v.in_service_on))),
        Col("Colour", vehicle(lambda v: ("Grey", "Blue", "White")[v.model_year % 3])),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Vehicle Number"), "vin": by("Chassis Number (VIN)"), "make": by("Manufacturer"),
        "model": by("Model"), "engine_family": by("Engine Code", says=lambda row: row.vehicle.family_code),
        "model_year": by("Model Year"), "in_service_on": by("First Registered", dates=("excel",)),
    })})  # fmt: skip
    spoils = [
        Spoil("Odometer Received (km)", "n/a", (("repair_order", "not a number"),), order=6),
        Spoil("Date Received", "", (("repair_order", "missing required"),), order=11),
    ]
    line_spoils = [
        Spoil("Work Performed", "Discussed", (("repair_line", "unknown value"),), order=4, line=1),
        Spoil("Our Cost", "warranty", (("repair_line", "not a number"),), order=13, line=1),
    ]
    for row in shop.order_rows():
        orders.add(row, spoils)
    for row in shop.line_rows():
        lines.add(row, line_spoils)
    vehicle_spoils = [Spoil("Engine Code", "", (("vehicle", "missing required"),), vehicle=20)]
    for index, row in enumerate(shop.vehicle_rows()):
        vehicles.add(row, vehicle_spoils, index)
    parts = {"Orders": orders, "Lines": lines, "Vehicles": vehicles}
    content = workbook(parts)
    for part in parts.values():
        part.place["file"] = "shop.xlsx"
    return Made("English, long headers, workbook of three sheets", {"shop.xlsx": content}, list(parts.values()))
