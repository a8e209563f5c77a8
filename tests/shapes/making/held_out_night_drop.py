"""English, terse: gzip, bars, two-digit years, header repeated, parentheses, the order only on its first line."""

from __future__ import annotations

from cells import Made, amount, line, once, order, theirs, vehicle
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from writing import delimited, gzipped

_KINDS = {"part": "PT", "labor": "LB", "sublet": "OS", "fee": "FE"}
_ACTIONS = {"replaced": "RR", "repaired": "FX", "inspected": "CK", "adjusted": "AJ"}
_REASONS = {"failed": "BRK", "worn": "WRN", "found_at_inspection": "FND", "preventive": "PM"}


def _usd(cents: int) -> str:
    return amount(cents, thousands=",", form="$ {}", below_zero="({})")


def make() -> Made:
    """The shape."""
    shop = credited(make_shop(207, n_orders=16, n_vehicles=9, order_form="{}", vehicle_form="U-{}", lines=(1, 4)), 6)
    columns = [
        Col("Ord", once(order(lambda o: o.order_id))),
        Col("Rcvd", once(order(lambda o: f"{o.opened_on.month}/{o.opened_on.day}/{o.opened_on:%y}"))),
        Col("Rel'd", once(order(lambda o: f"{o.closed_on.month}/{o.closed_on.day}/{o.closed_on:%y}"))),
        Col("Veh", once(vehicle(lambda v: v.vehicle_id))),
        Col("Odo", once(order(lambda o: o.odometer_in))),
        Col("Cust Nm", once(vehicle(lambda v: v.customer)), personal=True),
        Col("Tel", once(vehicle(lambda v: v.phone)), personal=True),
        Col("Lic", once(vehicle(lambda v: v.plate)), personal=True),
        Col("Compl", once(order(lambda o: o.concern))),
        Col("Wrtr", once(order(lambda o: o.advisor))),
        Col("T", line(lambda x: _KINDS[x.kind])),
        Col("Act", line(lambda x: _ACTIONS[x.action])),
        Col("Rsn", line(lambda x: _REASONS[x.reason])),
        Col("Item", line(lambda x: x.description)),
        Col("Loc", line(lambda x: x.position)),
        Col("P/N", line(lambda x: x.part_number)),
        Col("Vndr", line(lambda x: x.supplier)),
        Col("Q", line(lambda x: x.quantity)),
        Col("Hr", line(lambda x: x.hours)),
        Col("Ext Cost", line(lambda x: _usd(x.cost))),
        Col("Ext Price", line(lambda x: _usd(x.price))),
        Col("Mech", line(lambda x: x.technician)),
        Col("Stall", once(order(lambda o: o.bay))),
    ]
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Ord"), "vehicle_id": by("Veh"), "opened_on": by("Rcvd"), "closed_on": by("Rel'd"),
            "odometer_in": by("Odo"), "odometer_unit": always("mi"), "concern": by("Compl"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Ord"), "line_no": counted_within("Ord"), "kind": by("T", values=theirs(_KINDS)),
            "action": by("Act", values=theirs(_ACTIONS)), "reason": by("Rsn", values=theirs(_REASONS)),
            "description": by("Item"), "position": by("Loc"), "part_number": by("P/N"), "supplier": by("Vndr"),
            "quantity": by("Q"), "hours": by("Hr"), "cost": by("Ext Cost"), "price": by("Ext Price"),
            "technician": by("Mech"),
        }),
    }  # fmt: skip
    down = ("Ord", "Rcvd", "Rel'd", "Veh", "Odo", "Compl")
    stated = {"dates": ("%m/%d/%y",), "two_digit_years_to": 2026, "thousands": ",", "fill_down": down}
    part = Part("night_drop", columns, tables, stated)
    spoils = [
        Spoil("Rcvd", "6/31/22", (("repair_order", "impossible date"),), order=3, first_only=True),
        Spoil("Odo", "8l200", (("repair_order", "not a number"),), order=9, first_only=True),
        Spoil("Act", "QQ", (("repair_line", "unknown value"),), order=5, line=1),
        Spoil("T", "", (("repair_line", "missing required"),), order=12, line=1),
        Spoil("Ext Price", "N/C", (("repair_line", "not a number"),), order=13, line=1),
    ]
    for count, row in enumerate(shop.line_rows(), 1):
        part.add(row, spoils)
        if count % 12 == 0:
            part.odd("repeated header")
    content = gzipped(delimited(part, "|"))
    part.place |= {"file": "drop.csv.gz"}
    return Made("English, terse, gzip, order only on its first line", {"drop.csv.gz": content}, [part])
