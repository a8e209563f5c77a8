"""English, a fleet's workshop: a sheet a year under one header, title above in merged cells, promises, sums below."""

from __future__ import annotations

from cells import Made, line, order, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from writing import workbook

_KINDS = (("Material", "part"), ("Time", "labor"), ("Contract", "sublet"), ("Levy", "fee"))
_ACTIONS = (("Renewed", "replaced"), ("Mended", "repaired"), ("Checked", "inspected"), ("Reset", "adjusted"))
_ORIGINS = (("Brand new", "new"), ("Reconditioned", "remanufactured"), ("Second hand", "used"))


def _theirs(values: tuple[tuple[str, str], ...], code: str) -> str:
    return next((written for written, ours in values if ours == code), "")


def _is_promised(row: Row) -> bool:
    return row.line is not None and row.line.kind == "part"


def _columns() -> list[Col]:
    return [
        Col("Job Card", order(lambda o: o.order_id)),
        Col("Item", line(lambda x: x.line_no)),
        Col("Depot", order(lambda o: o.location)),
        Col("Fleet Number", vehicle(lambda v: v.vehicle_id)),
        Col("Driver", vehicle(lambda v: v.customer), personal=True),
        Col("Driver Mobile", vehicle(lambda v: v.phone), personal=True),
        Col("Registration", vehicle(lambda v: v.plate), personal=True),
        Col("Off Road Date", order(lambda o: o.opened_on)),
        Col("Back On Road Date", order(lambda o: o.closed_on)),
        Col("Speedo (Km)", order(lambda o: o.odometer_in)),
        Col("Defect Reported", order(lambda o: o.concern)),
        Col("Entry Type", line(lambda x: _theirs(_KINDS, x.kind))),
        Col("Task", line(lambda x: _theirs(_ACTIONS, x.action))),
        Col("Component Or Job", line(lambda x: x.description)),
        Col("Which One", line(lambda x: x.position)),
        Col("Stores Part No", line(lambda x: x.part_number)),
        Col("Condition Of Part", line(lambda x: _theirs(_ORIGINS, x.part_origin))),
        Col("Qty Issued", line(lambda x: float(x.quantity))),
        Col("Man Hours", line(lambda x: float(x.hours) if x.hours else "")),
        Col("Cost To Us", line(lambda x: x.cost / 100)),
        Col("Recharged", line(lambda x: x.price / 100)),
        Col("Cost Centre", vehicle(lambda v: f"CC{v.model_year % 7}")),
        Col("Fitter", line(lambda x: x.technician)),
        Col("Guarantee Months", lambda row: 12 if _is_promised(row) else ""),
        Col("Guarantee Miles", lambda row: 12000 if _is_promised(row) else ""),
    ]


def _tables() -> dict[str, TableFill]:
    return {
        "repair_order": TableFill({
            "repair_order_id": by("Job Card"), "location": by("Depot"), "vehicle_id": by("Fleet Number"),
            "opened_on": by("Off Road Date"), "closed_on": by("Back On Road Date"), "odometer_in": by("Speedo (Km)"),
            "odometer_unit": always("km"), "concern": by("Defect Reported"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Job Card"), "line_no": by("Item"), "kind": by("Entry Type", values=_KINDS),
            "action": by("Task", values=_ACTIONS), "description": by("Component Or Job"), "position": by("Which One"),
            "part_number": by("Stores Part No"), "part_origin": by("Condition Of Part", values=_ORIGINS),
            "quantity": by("Qty Issued"), "hours": by("Man Hours"), "cost": by("Cost To Us"),
            "price": by("Recharged"), "technician": by("Fitter"),
        }),
        "warranty_promise": TableFill({
            "repair_order_id": by("Job Card"), "line_no": by("Item"),
            "months": by("Guarantee Months", says=lambda _: "12"),
            "miles": by("Guarantee Miles", says=lambda _: "12000"),
        }, ("Guarantee Months", ()), _is_promised),
    }  # fmt: skip


def make() -> Made:
    """The shape: the first half of the orders on one sheet, the second on the other."""
    shop = make_shop(
        211, n_orders=24, n_vehicles=10, units=("km",), order_form="JC-{}", vehicle_form="F{}", lines=(1, 3)
    )
    sheets = {name: Part("fleet_years", _columns(), _tables()) for name in ("First half", "Second half")}
    spoils = [
        Spoil("Off Road Date", "31 June", (("repair_order", "impossible date"),), order=4),
        Spoil("Speedo (Km)", "broken", (("repair_order", "not a number"),), order=16),
        Spoil("Task", "Debated", (("repair_line", "unknown value"),), order=8, line=1),
        Spoil("Qty Issued", "some", (("repair_line", "not a number"),), order=19, line=1),
        Spoil("Back On Road Date", "1999-12-31", (("repair_order", "closed before opened"),), order=10),
    ]
    for row in shop.line_rows():
        is_early = row.order is not None and row.order.index < 12
        sheets["First half" if is_early else "Second half"].add(row, spoils)
    for part in sheets.values():
        part.sparse("total line", c1="TOTAL", c20=12345.67, c21=18518.5)
    title = ("Workshop of the Example Fleet: job cards", "Printed 4 January 2025", "")
    content = workbook(sheets, dict.fromkeys(sheets, title))
    for part in sheets.values():
        part.place["file"] = "fleet.xlsx"
    return Made(
        "English, two sheets under one header, title above, promises", {"fleet.xlsx": content}, list(sheets.values())
    )
