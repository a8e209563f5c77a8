"""French: tabs, UTF-16, dates with time, the unit in the odometer's cell, the order only on its first line."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, once, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, by, counted_within
from writing import delimited

_KINDS = {"part": "Pièce", "labor": "Main-d'œuvre", "sublet": "Sous-traitance", "fee": "Frais"}
_ACTIONS = {"replaced": "remplacé", "repaired": "réparé", "inspected": "contrôlé", "adjusted": "réglé"}
_STATUS = {"closed": "Clos", "open": "Ouvert", "void": "Annulé"}


def _euro(cents: int) -> str:
    return amount(cents, ",", " ", "{} €")


def make() -> Made:
    """The shape."""
    shop = make_shop(103, language="fr", n_orders=16, units=("km", "km", "mi"), order_form="{}", lines=(2, 4))
    columns = [
        Col("N° OR", once(order(lambda o: o.order_id))),
        Col(
            "Date d'entrée", once(order(lambda o: f"{o.opened_on:%d/%m/%Y} {o.minutes // 60:02d}:{o.minutes % 60:02d}"))
        ),
        Col("Date de sortie", once(order(lambda o: f"{o.closed_on:%d/%m/%Y} 18:05"))),
        Col("Client", once(vehicle(lambda v: v.customer)), personal=True),
        Col("Courriel", once(vehicle(lambda v: v.email)), personal=True),
        Col("Immatriculation", once(vehicle(lambda v: v.plate)), personal=True),
        Col("Véhicule", once(vehicle(lambda v: v.vehicle_id))),
        Col("Kilométrage", once(order(lambda o: f"{grouped(str(o.odometer_in), ' ')} {o.odometer_unit}"))),
        Col("État", once(order(lambda o: _STATUS[o.status]))),
        Col("Plainte du client", once(order(lambda o: o.concern))),
        Col("Nature", line(lambda x: _KINDS[x.kind])),
        Col("Opération", line(lambda x: _ACTIONS[x.action])),
        Col("Désignation", line(lambda x: x.description)),
        Col("Côté", line(lambda x: x.position)),
        Col("Réf. pièce", line(lambda x: x.part_number)),
        Col("Fournisseur", line(lambda x: x.supplier)),
        Col("Qté", line(lambda x: number(x.quantity, ","))),
        Col("Temps (h)", line(lambda x: number(x.hours, ","))),
        Col("Prix d'achat HT", line(lambda x: _euro(x.cost))),
        Col("Prix de vente HT", line(lambda x: _euro(x.price))),
        Col("TVA", line(lambda x: _euro(x.price // 5))),
        Col("Cause", line(lambda x: x.cause)),
        Col("Travaux effectués", line(lambda x: x.correction)),
        Col("Mécanicien", line(lambda x: x.technician)),
    ]
    odometer = "Kilométrage"
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("N° OR"), "vehicle_id": by("Véhicule"), "opened_on": by("Date d'entrée"),
            "closed_on": by("Date de sortie"), "odometer_in": by(odometer, part="number"),
            "odometer_unit": by(odometer, part="unit"), "status": by("État", values=theirs(_STATUS)),
            "concern": by("Plainte du client"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("N° OR"), "line_no": counted_within("N° OR"),
            "kind": by("Nature", values=theirs(_KINDS)), "action": by("Opération", values=theirs(_ACTIONS)),
            "description": by("Désignation"), "position": by("Côté"), "part_number": by("Réf. pièce"),
            "supplier": by("Fournisseur"), "quantity": by("Qté"), "hours": by("Temps (h)"),
            "cost": by("Prix d'achat HT"), "price": by("Prix de vente HT"), "cause": by("Cause"),
            "correction": by("Travaux effectués"), "technician": by("Mécanicien"),
        }),
    }  # fmt: skip
    down = ("N° OR", "Date d'entrée", "Date de sortie", "Véhicule", odometer, "État", "Plainte du client")
    stated = {"dates": ("%d/%m/%Y %H:%M",), "decimal": ",", "thousands": " ", "fill_down": down}
    part = Part("carnet", columns, tables, stated)
    spoils = [
        Spoil("Date d'entrée", "31/06/2022 09:00", (("repair_order", "impossible date"),), order=5, first_only=True),
        Spoil(odometer, "illisible", (("repair_order", "not a number"),), order=9, first_only=True),
        Spoil("Opération", "vendu", (("repair_line", "unknown value"),), order=2, line=2),
        Spoil("Qté", "deux", (("repair_line", "not a number"),), order=7, line=1),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
    content = delimited(part, "\t", "utf-16-le", "\r\n")
    part.place["file"] = "carnet.txt"
    return Made("French, tabs, UTF-16, order only on its first line", {"carnet.txt": content}, [part])
