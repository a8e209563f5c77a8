"""English keys, JSON lines: one line of work each, trouble codes, kilometres and miles by row, broken objects."""

from __future__ import annotations

from cells import Made, line, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from writing import json_lines

_KINDS = {"part": "material", "labor": "hours", "sublet": "contractor", "fee": "surcharge"}
_ACTIONS = {"replaced": "swap", "repaired": "mend", "inspected": "look", "adjusted": "set"}


def _code(row: Row) -> str:
    """A trouble code on the first line of every third order."""
    is_read = row.order is not None and row.order.index % 3 == 0 and row.first
    return f"P0{300 + row.order.index}" if is_read and row.order else ""


def make() -> Made:
    """The shape."""
    shop = make_shop(209, n_orders=17, n_vehicles=9, units=("km", "mi"), order_form="job-{}")
    columns = [
        Col("job_ref", order(lambda o: o.order_id)),
        Col("seq", line(lambda x: x.line_no)),
        Col("workshop", order(lambda o: o.location)),
        Col("asset", vehicle(lambda v: v.vehicle_id)),
        Col("asset_vin", vehicle(lambda v: v.vin)),
        Col("asset_engine", vehicle(lambda v: v.family_code)),
        Col("checked_in", order(lambda o: f"{o.opened_on} {o.minutes // 60:02d}:{o.minutes % 60:02d}")),
        Col("checked_out", order(lambda o: f"{o.closed_on} 16:00")),
        Col("reading_in", order(lambda o: o.odometer_in)),
        Col("reading_out", order(lambda o: o.odometer_out)),
        Col("reading_unit", order(lambda o: o.odometer_unit.upper())),
        Col("reported_fault", order(lambda o: o.concern)),
        Col("reporter", vehicle(lambda v: v.customer), personal=True),
        Col("reporter_phone", vehicle(lambda v: v.phone), personal=True),
        Col("fault_code", _code),
        Col("line_class", line(lambda x: _KINDS[x.kind])),
        Col("verb", line(lambda x: _ACTIONS[x.action])),
        Col("object", line(lambda x: x.description)),
        Col("position_on_asset", line(lambda x: x.position)),
        Col("stock_number", line(lambda x: x.part_number)),
        Col("count", line(lambda x: float(x.quantity))),
        Col("labour_time_h", line(lambda x: float(x.hours) if x.hours else "")),
        Col("purchase_value", line(lambda x: x.cost / 100)),
        Col("sales_value", line(lambda x: x.price / 100)),
        Col("finding", line(lambda x: x.cause)),
        Col("remedy", line(lambda x: x.correction)),
        Col("hand", line(lambda x: x.technician)),
        Col("invoiced", order(lambda o: o.index % 2 == 0)),
    ]
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("asset"), "vin": by("asset_vin"),
            "engine_family": by("asset_engine", says=lambda row: row.vehicle.family_code),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("job_ref"), "location": by("workshop"), "vehicle_id": by("asset"),
            "opened_on": by("checked_in"), "closed_on": by("checked_out"), "odometer_in": by("reading_in"),
            "odometer_out": by("reading_out"), "odometer_unit": by("reading_unit", values=(("KM", "km"), ("MI", "mi"))),
            "concern": by("reported_fault"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("job_ref"), "line_no": by("seq"), "kind": by("line_class", values=theirs(_KINDS)),
            "action": by("verb", values=theirs(_ACTIONS)), "description": by("object"),
            "position": by("position_on_asset"), "part_number": by("stock_number"), "quantity": by("count"),
            "hours": by("labour_time_h"), "cost": by("purchase_value"), "price": by("sales_value"),
            "cause": by("finding"), "correction": by("remedy"), "technician": by("hand"),
        }),
        "trouble_code": TableFill({
            "repair_order_id": by("job_ref"), "code": by("fault_code", says=_code), "stage": always("arrival"),
        }, ("fault_code", ()), lambda row: bool(_code(row))),
    }  # fmt: skip
    part = Part("bay_log", columns, tables, {"dates": ("%Y-%m-%d %H:%M",)})
    spoils = [
        Spoil("checked_in", "2023-04-31 08:10", (("repair_order", "impossible date"),), order=11),
        Spoil("reading_in", "unread", (("repair_order", "not a number"),), order=7),
        Spoil("verb", "ponder", (("repair_line", "unknown value"),), order=4, line=1),
        Spoil("seq", "", (("repair_line", "missing required"),), order=10, line=1),
        Spoil("sales_value", "tbd", (("repair_line", "not a number"),), order=13, line=1),
        Spoil("reading_unit", "HRS", (("repair_order", "unknown value"),), order=14),
    ]
    for count, row in enumerate(shop.line_rows()):
        part.add(row, spoils)
        if count == 9:
            part.odd("unreadable line", text='{"job_ref": "job-9999", "seq": 1, "verb": swap}')
        if count == 21:
            part.odd("unreadable line", text='["job-9999", 1, "swap"]')
        if count == 25:
            part.odd("unreadable line", text='{"job_ref": "job-9998", "parts": [{"stock_number": "K1"}]}')
    part.place["file"] = "bay_log.ndjson"
    return Made("JSON lines, work by row, trouble codes", {"bay_log.ndjson": json_lines(part)}, [part])
