"""Dutch: semicolon, UTF-8, days with dashes, kilometres and miles mixed by row within the odometer's cell."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, by
from writing import delimited

_KINDS = {"part": "Onderdeel", "labor": "Arbeid", "sublet": "Uitbesteed", "fee": "Toeslag"}
_ACTIONS = {"replaced": "vervangen", "repaired": "hersteld", "inspected": "nagekeken", "adjusted": "afgesteld"}
_REASONS = {"failed": "kapot", "worn": "versleten", "found_at_inspection": "bij controle", "preventive": "preventief"}


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "€ {}", "-{}")


def make() -> Made:
    """The shape."""
    shop = credited(make_shop(202, language="nl", n_orders=18, units=("km", "mi"), order_form="W{}"), 4, 11)
    odometer = "Tellerstand"
    columns = [
        Col("Werkorder", order(lambda o: o.order_id)),
        Col("Regel", line(lambda x: x.line_no)),
        Col("Vestiging", order(lambda o: o.location)),
        Col("Binnengekomen", order(lambda o: f"{o.opened_on:%d-%m-%Y}")),
        Col("Opgehaald", order(lambda o: f"{o.closed_on:%d-%m-%Y}")),
        Col("Factuurdatum", order(lambda o: f"{o.closed_on:%d-%m-%Y}")),
        Col("Factuurnummer", order(lambda o: o.invoice)),
        Col("Klantnaam", vehicle(lambda v: v.customer), personal=True),
        Col("Kenteken", vehicle(lambda v: v.plate), personal=True),
        Col("Telefoonnummer", vehicle(lambda v: v.phone), personal=True),
        Col("Voertuignummer", vehicle(lambda v: v.vehicle_id)),
        Col("Merk", vehicle(lambda v: v.make)),
        Col("Model", vehicle(lambda v: v.model)),
        Col("Motortype", vehicle(lambda v: v.engine)),
        Col("Bouwjaar", vehicle(lambda v: v.model_year)),
        Col(odometer, order(lambda o: f"{grouped(str(o.odometer_in), '.')} {o.odometer_unit}")),
        Col("Klacht", order(lambda o: o.concern)),
        Col("Soort", line(lambda x: _KINDS[x.kind])),
        Col("Wat gedaan", line(lambda x: _ACTIONS[x.action])),
        Col("Waarom", line(lambda x: _REASONS[x.reason])),
        Col("Omschrijving", line(lambda x: x.description)),
        Col("Plaats", line(lambda x: x.position)),
        Col("Onderdeelnummer", line(lambda x: x.part_number)),
        Col("Aantal", line(lambda x: number(x.quantity, ","))),
        Col("Uren", line(lambda x: number(x.hours, ","))),
        Col("Inkoop", line(lambda x: _euro(x.cost))),
        Col("Verkoop", line(lambda x: _euro(x.price))),
        Col("BTW", line(lambda x: _euro(x.price * 21 // 100))),
        Col("Monteur", line(lambda x: x.technician)),
    ]
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("Voertuignummer"), "make": by("Merk"), "model": by("Model"),
            "engine_family": by("Merk", "Model", "Motortype"), "model_year": by("Bouwjaar"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Werkorder"), "location": by("Vestiging"), "vehicle_id": by("Voertuignummer"),
            "opened_on": by("Binnengekomen"), "closed_on": by("Opgehaald"), "odometer_in": by(odometer, part="number"),
            "odometer_unit": by(odometer, part="unit"), "concern": by("Klacht"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Werkorder"), "line_no": by("Regel"), "kind": by("Soort", values=theirs(_KINDS)),
            "action": by("Wat gedaan", values=theirs(_ACTIONS)), "reason": by("Waarom", values=theirs(_REASONS)),
            "description": by("Omschrijving"), "position": by("Plaats"), "part_number": by("Onderdeelnummer"),
            "quantity": by("Aantal"), "hours": by("Uren"), "cost": by("Inkoop"), "price": by("Verkoop"),
            "technician": by("Monteur"),
        }),
    }  # fmt: skip
    part = Part("werkplaats", columns, tables, {"dates": ("%d-%m-%Y",), "decimal": ",", "thousands": "."})
    spoils = [
        Spoil("Binnengekomen", "31-04-2023", (("repair_order", "impossible date"),), order=7),
        Spoil(odometer, "onbekend", (("repair_order", "not a number"),), order=9),
        Spoil("Wat gedaan", "overlegd", (("repair_line", "unknown value"),), order=2, line=1),
        Spoil("Opgehaald", "01-01-2020", (("repair_order", "closed before opened"),), order=14),
        Spoil("Regel", "een", (("repair_line", "not a number"),), order=5, line=1),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
    part.odd("unreadable line", text="W9999;1;North;01-02-2023")
    part.place["file"] = "werkorders.csv"
    return Made("Dutch, semicolon, mixed units in the cell", {"werkorders.csv": delimited(part, ";")}, [part])
