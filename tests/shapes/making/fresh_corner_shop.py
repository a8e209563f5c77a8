"""English of the United States, terse, capitals: order and line in one row, dashes in dates, own job codes."""

from __future__ import annotations

from cells import Made, amount, line, order, theirs, vehicle
from drawing import credited, make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "PARTS", "labor": "LABOR", "sublet": "OUTSIDE", "fee": "SHOP FEE"}
_ACTIONS = {"replaced": "R/R", "repaired": "RPR", "inspected": "CHECK", "adjusted": "ADJ"}
_ORIGINS = {"new": "NEW", "remanufactured": "REMAN", "used": "USED"}
_CODES = {
    "starter_motor": "STRTR", "brake_rotor": "ROTOR", "shock_absorber": "SHOCK", "timing_belt": "TBELT",
    "clutch": "CLTCH", "radiator": "RAD", "fuel_injector": "INJ", "battery": "BATT",
}  # fmt: skip


def _usd(cents: int) -> str:
    return amount(cents, thousands=",")


def _each(row: Row) -> str:
    return _usd(round(row.line.price / float(row.line.quantity))) if row.line else ""


def _columns() -> list[Col]:
    return [
        Col("TKT NO", order(lambda o: o.order_id)),
        Col("LINE", line(lambda x: x.line_no)),
        Col("WRITTEN UP", order(lambda o: f"{o.opened_on:%m-%d-%Y}")),
        Col("PROMISED", order(lambda o: f"{o.closed_on:%m-%d-%Y}")),
        Col("FINISHED", order(lambda o: f"{o.closed_on:%m-%d-%Y}")),
        Col("CUST NAME", vehicle(lambda v: v.customer), personal=True),
        Col("HOME PH", vehicle(lambda v: v.phone), personal=True),
        Col("LIC PLATE", vehicle(lambda v: v.plate), personal=True),
        Col("CAR ID", vehicle(lambda v: v.vehicle_id)),
        Col("SERIAL (VIN)", vehicle(lambda v: v.vin)),
        Col("MODEL YR", vehicle(lambda v: v.model_year)),
        Col("CAR MAKE", vehicle(lambda v: v.make)),
        Col("CAR MODEL", vehicle(lambda v: v.model)),
        Col("ENG SIZE", vehicle(lambda v: v.engine)),
        Col("MILES IN", order(lambda o: o.odometer_in)),
        Col("MILES OUT", order(lambda o: o.odometer_out)),
        Col("CUST STATES", order(lambda o: o.concern)),
        Col("SALE TYPE", line(lambda x: _KINDS[x.kind])),
        Col("JOB CD", line(lambda x: _CODES[x.component_code])),
        Col("WORK", line(lambda x: _ACTIONS[x.action])),
        Col("WHICH SIDE", line(lambda x: x.position)),
        Col("JOB DESCR", line(lambda x: x.description)),
        Col("PART NUM", line(lambda x: x.part_number)),
        Col("NEW/REMAN/USED", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("VENDOR", line(lambda x: x.supplier)),
        Col("QTY SOLD", line(lambda x: x.quantity)),
        Col("FLAT RATE HRS", line(lambda x: x.hours)),
        Col("UNIT PRICE", _each),
        Col("LINE COST", line(lambda x: _usd(x.cost))),
        Col("LINE AMT", line(lambda x: _usd(x.price))),
        Col("SALES TAX", line(lambda x: _usd(x.price // 14))),
        Col("MECH", line(lambda x: x.technician)),
        Col("SVC WRITER", order(lambda o: o.advisor)),
        Col("PAID BY", order(lambda o: ("CASH", "CARD", "CHECK")[o.index % 3])),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        301, language="en_us", n_orders=15, n_vehicles=9, order_form="T{}", vehicle_form="C{}", makes=FRESH_MAKES
    )
    shop = locally_named(credited(drawn, 7), ("MAIN ST PARTS", "YARD ON 5TH"), ("12", "17", "23", "31"))
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("CAR ID"), "vin": by("SERIAL (VIN)"), "make": by("CAR MAKE"), "model": by("CAR MODEL"),
            "engine_family": by("CAR MAKE", "CAR MODEL", "ENG SIZE"), "model_year": by("MODEL YR"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("TKT NO"), "vehicle_id": by("CAR ID"), "opened_on": by("WRITTEN UP"),
            "closed_on": by("FINISHED"), "odometer_in": by("MILES IN"), "odometer_out": by("MILES OUT"),
            "odometer_unit": always("mi"), "concern": by("CUST STATES"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("TKT NO"), "line_no": by("LINE"), "kind": by("SALE TYPE", values=theirs(_KINDS)),
            "component_code": by("JOB CD", values=theirs(_CODES)), "action": by("WORK", values=theirs(_ACTIONS)),
            "position": by("WHICH SIDE"), "description": by("JOB DESCR"), "part_number": by("PART NUM"),
            "part_origin": by("NEW/REMAN/USED", values=theirs(_ORIGINS)), "supplier": by("VENDOR"),
            "quantity": by("QTY SOLD"), "hours": by("FLAT RATE HRS"), "cost": by("LINE COST"),
            "price": by("LINE AMT"), "technician": by("MECH"),
        }),
    }  # fmt: skip
    part = Part("corner_shop", _columns(), tables, {"dates": ("%m-%d-%Y",), "thousands": ","})
    spoils = [
        Spoil("WRITTEN UP", "02-29-2023", (("repair_order", "impossible date"),), order=3),
        Spoil("MILES IN", "NOT READ", (("repair_order", "not a number"),), order=6),
        Spoil("WORK", "SEE NOTE", (("repair_line", "unknown value"),), order=9, line=1),
        Spoil("LINE AMT", "NO CHG", (("repair_line", "not a number"),), order=12, line=1),
    ]
    for count, row in enumerate(shop.line_rows()):
        part.add(row, spoils)
        if count == 18:
            part.odd("unreadable line", text="T9999,1,03-04-2023,PAGE JAM")
    part.sparse("total line", c1="Total", c29="9,876.54", c30="14,567.89", c31="1,040.56")
    part.place["file"] = "tickets 2023.csv"
    content = delimited(part, ",", "cp1252", "\r\n")
    return Made("English (US), terse, one file, unit prices beside line amounts", {"tickets 2023.csv": content}, [part])
