"""English, long headers: UTF-16, commas, lines above the header, four kinds of date, orders only."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from cells import Made, order, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from records import Order, Row
from writing import delimited


def _day(read: Callable[[Order], date]) -> Callable[[Row], Any]:
    return order(lambda o: f"{read(o):%d-%b-%Y}")


def make() -> Made:
    """The shape."""
    shop = make_shop(206, n_orders=34, n_vehicles=12, order_form="No. {}")
    columns = [
        Col("Repair Order Number", order(lambda o: o.order_id)),
        Col("Shop Location", order(lambda o: o.location)),
        Col("Date Vehicle Brought In", _day(lambda o: o.opened_on)),
        Col("Date Promised To Customer", _day(lambda o: o.closed_on)),
        Col("Date Vehicle Picked Up", _day(lambda o: o.closed_on)),
        Col("Date Invoice Paid", _day(lambda o: o.closed_on)),
        Col("Odometer When Received (miles)", order(lambda o: f"{o.odometer_in:,}")),
        Col("Odometer When Returned (miles)", order(lambda o: f"{o.odometer_out:,}")),
        Col("Shop's Vehicle Number", vehicle(lambda v: v.vehicle_id)),
        Col("Vehicle Identification Number", vehicle(lambda v: v.vin)),
        Col("Vehicle Year", vehicle(lambda v: v.model_year)),
        Col("Vehicle Make", vehicle(lambda v: v.make)),
        Col("Vehicle Model", vehicle(lambda v: v.model)),
        Col("Engine Description", vehicle(lambda v: v.engine)),
        Col("License Plate Number", vehicle(lambda v: v.plate), personal=True),
        Col("Customer Full Name", vehicle(lambda v: v.customer), personal=True),
        Col("Customer Telephone", vehicle(lambda v: v.phone), personal=True),
        Col("Customer E-mail Address", vehicle(lambda v: v.email), personal=True),
        Col("Customer Mailing Address", vehicle(lambda v: v.address), personal=True),
        Col("Customer States", order(lambda o: o.concern)),
        Col("Status Of Repair Order", order(lambda o: "Void" if o.index == 20 else "Closed")),
        Col("Total Amount Charged", order(lambda o: f"{o.total / 100:,.2f}")),
        Col("Sales Tax Collected", order(lambda o: f"{o.total / 1200:,.2f}")),
        Col("Method Of Payment", order(lambda o: ("Cash", "Card", "Check")[o.index % 3])),
        Col("Service Writer", order(lambda o: o.advisor)),
        Col("Number Of Lines", order(lambda o: len(o.lines))),
    ]
    status = by(
        "Status Of Repair Order",
        says=lambda row: "void" if row.order.index == 20 else "closed",
        values=(("Void", "void"), ("Closed", "closed"), ("Open", "open")),
    )
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("Shop's Vehicle Number"), "vin": by("Vehicle Identification Number"),
            "engine_family": by("Vehicle Make", "Vehicle Model", "Engine Description"), "make": by("Vehicle Make"),
            "model": by("Vehicle Model"), "model_year": by("Vehicle Year"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Repair Order Number"), "location": by("Shop Location"),
            "vehicle_id": by("Shop's Vehicle Number"), "opened_on": by("Date Vehicle Brought In"),
            "closed_on": by("Date Vehicle Picked Up"), "odometer_in": by("Odometer When Received (miles)"),
            "odometer_out": by("Odometer When Returned (miles)"), "odometer_unit": always("mi"), "status": status,
            "concern": by("Customer States"), "total": by("Total Amount Charged"),
        }),
    }  # fmt: skip
    part = Part("long_memo", columns, tables, {"dates": ("%d-%b-%Y",), "thousands": ","})
    spoils = [
        Spoil("Date Vehicle Brought In", "30-Feb-2023", (("repair_order", "impossible date"),), order=8),
        Spoil("Odometer When Received (miles)", "TMU", (("repair_order", "not a number"),), order=15),
        Spoil("Repair Order Number", "", (("repair_order", "missing required"),), order=21),
        Spoil("Status Of Repair Order", "Pending?", (("repair_order", "unknown value"),), order=26),
        Spoil("Vehicle Year", "19", (("vehicle", "out of range"),), order=30),
    ]
    for row in shop.order_rows():
        part.add(row, spoils)
        if row.order and row.order.index in (12, 28):
            part.odd("unreadable line", text="No. 9999,South,broken off here")
    part.sparse("total line", c1="Grand total", c22="123,456.78", c23="10,288.06")
    preamble = ("Example Road Repair", "Repair orders by date. Printed 02-Jan-2025 at 4:15 PM", "")
    content = delimited(part, ",", "utf-16-le", "\r\n", preamble)
    part.place["file"] = "orders memo.csv"
    return Made("English, long headers, UTF-16, four kinds of date", {"orders memo.csv": content}, [part])
