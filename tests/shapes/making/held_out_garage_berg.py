"""German of the mountains: record types, apostrophes between thousands, francs, two-digit years, Windows-1252."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from cells import Made, amount, grouped, line, theirs
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from writing import delimited

_KINDS = {"part": "ET", "labor": "AW", "sublet": "FL", "fee": "PA"}
_ACTIONS = {"replaced": "neu", "repaired": "rep.", "inspected": "kontr.", "adjusted": "einst."}
_STATUS = {"closed": "erledigt", "open": "offen", "void": "storniert"}


def _francs(cents: int) -> str:
    return amount(cents, ".", "'", "CHF {}")


def _head(read: Callable[[Row], Any]) -> Callable[[Row], Any]:
    return lambda row: "" if row.line else read(row)


def make() -> Made:
    """The shape."""
    shop = make_shop(208, language="de", n_orders=15, n_vehicles=10, units=("km",), order_form="{}/G", lines=(1, 3))
    columns = [
        Col("Satzart", lambda row: "P" if row.line else "A"),
        Col("Auftrag", lambda row: row.order.order_id),
        Col("Pos", line(lambda x: x.line_no)),
        Col("Filiale", _head(lambda row: row.order.location)),
        Col("Eingang", _head(lambda row: f"{row.order.opened_on:%d.%m.%y}")),
        Col("Ausgang", _head(lambda row: f"{row.order.closed_on:%d.%m.%y}")),
        Col("Bezahlt am", _head(lambda row: f"{row.order.closed_on:%d.%m.%y}")),
        Col("Wagen", _head(lambda row: row.vehicle.vehicle_id)),
        Col("Stamm-Nr. (VIN)", _head(lambda row: row.vehicle.vin), or_fills=("vehicle.vin",)),
        Col("km Eingang", _head(lambda row: grouped(str(row.order.odometer_in), "'"))),
        Col("km Ausgang", _head(lambda row: grouped(str(row.order.odometer_out), "'"))),
        Col("Status", _head(lambda row: _STATUS[row.order.status])),
        Col("Kundenangabe", _head(lambda row: row.order.concern)),
        Col("Halter", _head(lambda row: row.vehicle.customer), personal=True),
        Col("Mobiltelefon", _head(lambda row: row.vehicle.phone), personal=True),
        Col("Strasse", _head(lambda row: row.vehicle.address), personal=True),
        Col("Typ", line(lambda x: _KINDS[x.kind])),
        Col("Was", line(lambda x: _ACTIONS[x.action])),
        Col("Text", line(lambda x: x.description)),
        Col("Seite", line(lambda x: x.position)),
        Col("Art.-Nr.", line(lambda x: x.part_number)),
        Col("Lieferant", line(lambda x: x.supplier)),
        Col("Anz.", line(lambda x: x.quantity)),
        Col("Std.", line(lambda x: x.hours)),
        Col("Einkauf", line(lambda x: _francs(x.cost))),
        Col("Verkauf", line(lambda x: _francs(x.price))),
        Col("Befund", line(lambda x: x.cause)),
        Col("Ausgeführt", line(lambda x: x.correction)),
        Col("Mech.", line(lambda x: x.technician)),
    ]
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Auftrag"), "location": by("Filiale"), "vehicle_id": by("Wagen"),
            "opened_on": by("Eingang"), "closed_on": by("Ausgang"), "odometer_in": by("km Eingang"),
            "odometer_out": by("km Ausgang"), "odometer_unit": always("km"),
            "status": by("Status", values=theirs(_STATUS)), "concern": by("Kundenangabe"),
        }, ("Satzart", ("A",)), lambda row: row.line is None),
        "repair_line": TableFill({
            "repair_order_id": by("Auftrag"), "line_no": by("Pos"), "kind": by("Typ", values=theirs(_KINDS)),
            "action": by("Was", values=theirs(_ACTIONS)), "description": by("Text"), "position": by("Seite"),
            "part_number": by("Art.-Nr."), "supplier": by("Lieferant"), "quantity": by("Anz."), "hours": by("Std."),
            "cost": by("Einkauf"), "price": by("Verkauf"), "cause": by("Befund"), "correction": by("Ausgeführt"),
            "technician": by("Mech."),
        }, ("Satzart", ("P",)), lambda row: row.line is not None),
    }  # fmt: skip
    stated = {"dates": ("%d.%m.%y",), "two_digit_years_to": 2026, "decimal": ".", "thousands": "'"}
    part = Part("garage_berg", columns, tables, stated)
    heads = [
        Spoil("Eingang", "29.02.23", (("repair_order", "impossible date"),), order=4),
        Spoil("km Eingang", "unb.", (("repair_order", "not a number"),), order=7),
        Spoil("Wagen", "", (("repair_order", "missing required"),), order=10),
    ]
    lines = [
        Spoil("Was", "geredet", (("repair_line", "unknown value"),), order=2, line=1),
        Spoil("Std.", "1:30", (("repair_line", "not a number"),), order=8, line=1),
    ]
    for each in shop.orders:
        part.add(Row(each.vehicle, each), heads)
        for item in each.lines:
            part.add(Row(each.vehicle, each, item, False), lines)
    part.odd("unreadable line", text="P;9999/G;1;abgebrochen")
    part.sparse("total line", c1="Total", c25="CHF 9'999.00", c26="CHF 14'998.50")
    content = delimited(part, ";", "cp1252", "\r\n", ("Garage am Beispielberg", "Stand 03.01.25"))
    part.place["file"] = "garage.txt"
    return Made("German, record types, apostrophes, francs", {"garage.txt": content}, [part])
