"""Italian: one sheet, the order's cells merged over its lines, day numbers, real numbers beside odometers as text."""

from __future__ import annotations

from cells import Made, excel_day, grouped, line, once, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from writing import workbook

_KINDS = {"part": "Ricambio", "labor": "Manodopera", "sublet": "Lavoro esterno", "fee": "Spese"}
_ACTIONS = {"replaced": "Sostituito", "repaired": "Riparato", "inspected": "Controllato", "adjusted": "Registrato"}
_ORIGINS = {"new": "Nuovo", "remanufactured": "Rigenerato", "used": "Usato"}


def make() -> Made:
    """The shape."""
    shop = make_shop(201, language="it", n_orders=17, units=("km",), order_form="C{}", lines=(2, 4))
    merged = ["Commessa", "Entrata", "Uscita", "Cliente", "Targa", "Mezzo", "Telaio", "Chilometri", "Difetto lamentato"]
    columns = [
        Col("Commessa", once(order(lambda o: o.order_id))),
        Col("Entrata", once(order(lambda o: excel_day(o.opened_on)))),
        Col("Uscita", once(order(lambda o: excel_day(o.closed_on)))),
        Col("Cliente", once(vehicle(lambda v: v.customer)), personal=True),
        Col("Targa", once(vehicle(lambda v: v.plate)), personal=True),
        Col("Mezzo", once(vehicle(lambda v: v.vehicle_id))),
        Col("Telaio", once(vehicle(lambda v: v.vin)), or_fills=("vehicle.vin",)),
        Col("Chilometri", once(order(lambda o: grouped(str(o.odometer_in), ".")))),
        Col("Difetto lamentato", once(order(lambda o: o.concern))),
        Col("Voce", line(lambda x: _KINDS[x.kind])),
        Col("Intervento", line(lambda x: _ACTIONS[x.action])),
        Col("Descrizione", line(lambda x: x.description)),
        Col("Posizione", line(lambda x: x.position)),
        Col("Codice ricambio", line(lambda x: x.part_number)),
        Col("Stato ricambio", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Fornitore", line(lambda x: x.supplier)),
        Col("Quantità", line(lambda x: float(x.quantity))),
        Col("Ore", line(lambda x: float(x.hours) if x.hours else "")),
        Col("Costo", line(lambda x: x.cost / 100)),
        Col("Prezzo al cliente", line(lambda x: x.price / 100)),
        Col("IVA", line(lambda x: x.price * 22 // 100 / 100)),
        Col("Causa", line(lambda x: x.cause)),
        Col("Lavoro eseguito", line(lambda x: x.correction)),
        Col("Meccanico", line(lambda x: x.technician)),
    ]
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Commessa"), "vehicle_id": by("Mezzo"), "opened_on": by("Entrata"),
            "closed_on": by("Uscita"), "odometer_in": by("Chilometri", decimal=",", thousands="."),
            "odometer_unit": always("km"), "concern": by("Difetto lamentato"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Commessa"), "line_no": counted_within("Commessa"),
            "kind": by("Voce", values=theirs(_KINDS)), "action": by("Intervento", values=theirs(_ACTIONS)),
            "description": by("Descrizione"), "position": by("Posizione"), "part_number": by("Codice ricambio"),
            "part_origin": by("Stato ricambio", values=theirs(_ORIGINS)), "supplier": by("Fornitore"),
            "quantity": by("Quantità"), "hours": by("Ore"), "cost": by("Costo"), "price": by("Prezzo al cliente"),
            "cause": by("Causa"), "correction": by("Lavoro eseguito"), "technician": by("Meccanico"),
        }),
    }  # fmt: skip
    stated = {"dates": ("excel",), "fill_down": tuple(h for h in merged if h not in ("Cliente", "Targa", "Telaio"))}
    part = Part("officina", columns, tables, stated)
    part.place["merge"] = merged
    spoils = [
        Spoil("Entrata", "marzo", (("repair_order", "impossible date"),), order=3, first_only=True),
        Spoil("Chilometri", "circa 90000", (("repair_order", "not a number"),), order=10, first_only=True),
        Spoil("Intervento", "Preventivo", (("repair_line", "unknown value"),), order=6, line=1),
        Spoil("Costo", "omaggio", (("repair_line", "not a number"),), order=8, line=1),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
    content = workbook({"Lavori": part})
    part.place["file"] = "officina.xlsx"
    return Made("Italian, merged cells over the lines of an order", {"officina.xlsx": content}, [part])
