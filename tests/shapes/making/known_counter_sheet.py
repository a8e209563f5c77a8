"""English, terse: order and line in one row, comma, US dates, dollars, code letters, a total line at the end."""

from __future__ import annotations

from cells import Made, amount, line, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import delimited

_KINDS = {"part": "P", "labor": "L", "sublet": "S", "fee": "F"}
_ACTIONS = {"replaced": "R", "repaired": "F", "inspected": "I", "adjusted": "A"}


def _usd(cents: int) -> str:
    return amount(cents, thousands=",", form="${}", below_zero="({})")


def make() -> Made:
    """The shape."""
    shop = make_shop(101, n_orders=15, n_vehicles=8)
    columns = [
        Col("RO", order(lambda o: o.order_id)),
        Col("Ln", line(lambda x: x.line_no)),
        Col("In", order(lambda o: f"{o.opened_on:%m/%d/%Y}")),
        Col("Out", order(lambda o: f"{o.closed_on:%m/%d/%Y}")),
        Col("Mi In", order(lambda o: f"{o.odometer_in:,}")),
        Col("Mi Out", order(lambda o: f"{o.odometer_out:,}")),
        Col("Unit #", vehicle(lambda v: v.vehicle_id)),
        Col("VIN", vehicle(lambda v: v.vin)),
        Col("Yr", vehicle(lambda v: v.model_year)),
        Col("Make", vehicle(lambda v: v.make)),
        Col("Mdl", vehicle(lambda v: v.model)),
        Col("Eng", vehicle(lambda v: v.engine)),
        Col("Cust", vehicle(lambda v: v.customer), personal=True),
        Col("Ph", vehicle(lambda v: v.phone), personal=True),
        Col("Tag", vehicle(lambda v: v.plate), personal=True),
        Col("Typ", line(lambda x: _KINDS[x.kind])),
        Col("Op", line(lambda x: _ACTIONS[x.action])),
        Col("Desc", line(lambda x: x.description)),
        Col("Pos", line(lambda x: x.position)),
        Col("Part #", line(lambda x: x.part_number)),
        Col("Qty", line(lambda x: x.quantity)),
        Col("Hrs", line(lambda x: x.hours)),
        Col("Cost", line(lambda x: _usd(x.cost))),
        Col("Sell", line(lambda x: _usd(x.price))),
        Col("Tax", line(lambda x: _usd(x.price // 12))),
        Col("Tech", line(lambda x: x.technician)),
        Col("Inv #", order(lambda o: o.invoice)),
    ]
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("Unit #"), "vin": by("VIN"), "engine_family": by("Make", "Mdl", "Eng"),
            "make": by("Make"), "model": by("Mdl"), "model_year": by("Yr"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("RO"), "vehicle_id": by("Unit #"), "opened_on": by("In"), "closed_on": by("Out"),
            "odometer_in": by("Mi In"), "odometer_out": by("Mi Out"), "odometer_unit": always("mi"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("RO"), "line_no": by("Ln"), "kind": by("Typ", values=theirs(_KINDS)),
            "action": by("Op", values=theirs(_ACTIONS)), "description": by("Desc"), "position": by("Pos"),
            "part_number": by("Part #"), "quantity": by("Qty"), "hours": by("Hrs"), "cost": by("Cost"),
            "price": by("Sell"), "technician": by("Tech"),
        }),
    }  # fmt: skip
    part = Part("counter_sheet", columns, tables, {"dates": ("%m/%d/%Y",), "decimal": ".", "thousands": ","})
    spoils = [
        Spoil("In", "02/30/2023", (("repair_order", "impossible date"),), order=4),
        Spoil("Mi In", "see dash", (("repair_order", "not a number"),), order=7),
        Spoil("Op", "ZZ", (("repair_line", "unknown value"),), order=9, line=1),
        Spoil("RO", "", (("repair_order", "missing required"), ("repair_line", "missing required")), order=11, line=1),
        Spoil("Cost", "call", (("repair_line", "not a number"),), order=2, line=1),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
    part.sparse("total line", c1="Total", c23="$12,345.67", c24="$18,518.51")
    part.place["file"] = "counter.csv"
    return Made("English, terse, comma, US dates, dollars", {"counter.csv": delimited(part)}, [part])
