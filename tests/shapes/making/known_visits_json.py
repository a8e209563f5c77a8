"""English keys as programmers write them: JSON lines, one visit and its one job a line, miles and kilometres by row."""

from __future__ import annotations

from cells import Made, line, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import json_lines

_KINDS = {"part": "parts", "labor": "work", "sublet": "outside", "fee": "charge"}
_UNITS = {"mi": "miles", "km": "kilometres"}


def make() -> Made:
    """The shape."""
    shop = make_shop(106, n_orders=32, n_vehicles=10, lines=(1, 1), units=("mi", "km"), order_form="visit-{}")
    columns = [
        Col("visitId", order(lambda o: o.order_id)),
        Col("site", order(lambda o: o.location)),
        Col("carId", vehicle(lambda v: v.vehicle_id)),
        Col("chassisNo", vehicle(lambda v: v.vin)),
        Col("engineGroup", vehicle(lambda v: v.family_code)),
        Col("arrivedAt", order(lambda o: f"{o.opened_on}T{o.minutes // 60:02d}:{o.minutes % 60:02d}:00")),
        Col("leftAt", order(lambda o: f"{o.closed_on}T17:30:00")),
        Col("meterReading", order(lambda o: o.odometer_in)),
        Col("meterUnit", order(lambda o: _UNITS[o.odometer_unit])),
        Col("driverSays", order(lambda o: o.concern)),
        Col("driverName", vehicle(lambda v: v.customer), personal=True),
        Col("driverMail", vehicle(lambda v: v.email), personal=True),
        Col("jobType", line(lambda x: _KINDS[x.kind])),
        Col("jobText", line(lambda x: x.description)),
        Col("jobWhere", line(lambda x: x.position)),
        Col("jobDone", line(lambda x: x.action)),
        Col("jobWhy", line(lambda x: x.reason)),
        Col("hoursBooked", line(lambda x: float(x.hours) if x.hours else "")),
        Col("costAmount", line(lambda x: x.cost / 100)),
        Col("billedAmount", line(lambda x: x.price / 100)),
        Col("workedBy", line(lambda x: x.technician)),
        Col("isPaid", order(lambda o: o.index % 3 != 0)),
    ]
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("carId"), "vin": by("chassisNo"),
            "engine_family": by("engineGroup", says=lambda row: row.vehicle.family_code),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("visitId"), "location": by("site"), "vehicle_id": by("carId"),
            "opened_on": by("arrivedAt"), "closed_on": by("leftAt"), "odometer_in": by("meterReading"),
            "odometer_unit": by("meterUnit", values=theirs(_UNITS)), "concern": by("driverSays"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("visitId"), "line_no": always("1"), "kind": by("jobType", values=theirs(_KINDS)),
            "description": by("jobText"), "position": by("jobWhere"), "action": by("jobDone"),
            "reason": by("jobWhy"), "hours": by("hoursBooked"), "cost": by("costAmount"), "price": by("billedAmount"),
            "technician": by("workedBy"),
        }),
    }  # fmt: skip
    part = Part("visits_json", columns, tables, {"dates": ("%Y-%m-%dT%H:%M:%S",)})
    spoils = [
        Spoil("arrivedAt", "2022-02-31T08:00:00", (("repair_order", "impossible date"),), order=6),
        Spoil("meterReading", -5, (("repair_order", "out of range"),), order=13),
        Spoil("meterUnit", "leagues", (("repair_order", "unknown value"),), order=19),
        Spoil("jobDone", "pondered", (("repair_line", "unknown value"),), order=22),
        Spoil("carId", "", (("vehicle", "missing required"), ("repair_order", "missing required")), order=25),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
        if row.order and row.order.index in (9, 20):
            part.odd("unreadable line", text='{"visitId": "visit-9999", "site": ')
    part.place["file"] = "visits.jsonl"
    return Made("JSON lines, one visit with one job a line", {"visits.jsonl": json_lines(part)}, [part])
