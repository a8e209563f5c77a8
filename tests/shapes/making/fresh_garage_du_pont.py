"""French: a file of sheets and a file of their lines, bars, Windows-1252, two-digit years, no currency."""

from __future__ import annotations

from cells import Made, amount, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "PR", "labor": "MO", "sublet": "ST", "fee": "DIV"}
_ACTIONS = {"replaced": "Échange", "repaired": "Réparation", "inspected": "Contrôle", "adjusted": "Réglage"}
_REASONS = {"failed": "Panne", "worn": "Usure", "found_at_inspection": "Vu au contrôle", "preventive": "Préventif"}
_ORIGINS = {"new": "Neuf", "remanufactured": "Éch. standard", "used": "Occasion"}


def _money(cents: int) -> str:
    return amount(cents, ",", "")


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        306, language="fr_fr", n_orders=26, n_vehicles=10, lines=(1, 2), units=("km",), order_form="FT{}",
        vehicle_form="P{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(credited(drawn, 10), ("Pièces du Bourg", "Casse du Canal"), ("Jo", "Mimi", "Le Grand"))
    stated = {"dates": ("%d/%m/%y",), "two_digit_years_to": 2026, "decimal": ","}
    sheets = Part("garage_du_pont_fiches", [
        Col("N° de fiche", order(lambda o: o.order_id)),
        Col("Entré le", order(lambda o: f"{o.opened_on:%d/%m/%y}")),
        Col("Promis pour le", order(lambda o: f"{o.closed_on:%d/%m/%y}")),
        Col("Sorti le", order(lambda o: f"{o.closed_on:%d/%m/%y}")),
        Col("Facturé le", order(lambda o: f"{o.closed_on:%d/%m/%y}")),
        Col("Nom et prénom", vehicle(lambda v: v.customer), personal=True),
        Col("Portable", vehicle(lambda v: v.phone), personal=True),
        Col("Mél", vehicle(lambda v: v.email), personal=True),
        Col("Plaque", vehicle(lambda v: v.plate), personal=True),
        Col("Repère voiture", vehicle(lambda v: v.vehicle_id)),
        Col("N° de série (VIN)", vehicle(lambda v: v.vin)),
        Col("Marque", vehicle(lambda v: v.make)),
        Col("Type", vehicle(lambda v: v.model)),
        Col("Code moteur", vehicle(lambda v: v.family_code)),
        Col("1re mise en circ.", vehicle(lambda v: f"{v.in_service_on:%d/%m/%y}")),
        Col("Kms arrivée", order(lambda o: o.odometer_in)),
        Col("Kms départ", order(lambda o: o.odometer_out)),
        Col("Le client se plaint de", order(lambda o: o.concern)),
        Col("Total HT", order(lambda o: _money(o.total))),
        Col("Total TTC", order(lambda o: _money(o.total * 6 // 5)), or_fills=("repair_order.total",)),
        Col("Règlement", order(lambda o: ("CB", "chèque", "espèces")[o.index % 3])),
        Col("Reçu par", order(lambda o: o.advisor)),
    ], {
        "vehicle": TableFill({
            "vehicle_id": by("Repère voiture"), "vin": by("N° de série (VIN)"), "make": by("Marque"),
            "model": by("Type"), "engine_family": by("Code moteur", says=lambda row: row.vehicle.family_code),
            "in_service_on": by("1re mise en circ."),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("N° de fiche"), "vehicle_id": by("Repère voiture"), "opened_on": by("Entré le"),
            "closed_on": by("Sorti le"), "odometer_in": by("Kms arrivée"), "odometer_out": by("Kms départ"),
            "odometer_unit": always("km"), "concern": by("Le client se plaint de"), "total": by("Total HT"),
        }),
    }, stated)  # fmt: skip
    lines = Part("garage_du_pont_lignes", [
        Col("N° de fiche", order(lambda o: o.order_id)),
        Col("Lg", line(lambda x: x.line_no)),
        Col("PR/MO/ST/DIV", line(lambda x: _KINDS[x.kind])),
        Col("Travail fait", line(lambda x: _ACTIONS[x.action])),
        Col("Raison", line(lambda x: _REASONS[x.reason])),
        Col("Organe", line(lambda x: x.description)),
        Col("Emplacement", line(lambda x: x.position)),
        Col("Réf. fabricant", line(lambda x: x.part_number)),
        Col("Neuf ou occasion", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Pris chez", line(lambda x: x.supplier)),
        Col("Nbre", line(lambda x: number(x.quantity, ","))),
        Col("Heures MO", line(lambda x: number(x.hours, ","))),
        Col("Achat HT", line(lambda x: _money(x.cost))),
        Col("Vente HT", line(lambda x: _money(x.price))),
        Col("Taux TVA", line(lambda x: "20")),
        Col("Constaté", line(lambda x: x.cause)),
        Col("Remède", line(lambda x: x.correction)),
        Col("Compagnon", line(lambda x: x.technician)),
        Col("Pont n°", order(lambda o: o.bay)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("N° de fiche"), "line_no": by("Lg"), "kind": by("PR/MO/ST/DIV", values=theirs(_KINDS)),
        "action": by("Travail fait", values=theirs(_ACTIONS)), "reason": by("Raison", values=theirs(_REASONS)),
        "description": by("Organe"), "position": by("Emplacement"), "part_number": by("Réf. fabricant"),
        "part_origin": by("Neuf ou occasion", values=theirs(_ORIGINS)), "supplier": by("Pris chez"),
        "quantity": by("Nbre"), "hours": by("Heures MO"), "cost": by("Achat HT"), "price": by("Vente HT"),
        "cause": by("Constaté"), "correction": by("Remède"), "technician": by("Compagnon"),
    })}, stated)  # fmt: skip
    for row in shop.order_rows():
        sheets.add(row, [
            Spoil("Entré le", "31/11/22", (("repair_order", "impossible date"),), order=5),
            Spoil("Kms arrivée", "compteur HS", (("repair_order", "not a number"),), order=11),
            Spoil(
                "Repère voiture", "", (("vehicle", "missing required"), ("repair_order", "missing required")), order=18
            ),
        ])  # fmt: skip
        if row.order and row.order.index == 14:
            sheets.odd("unreadable line", text="FT9999|04/05/23|déchiré")
    for row in shop.line_rows():
        lines.add(row, [
            Spoil("Travail fait", "Causette", (("repair_line", "unknown value"),), order=4, line=1),
            Spoil("Vente HT", "offert", (("repair_line", "not a number"),), order=16, line=1),
        ])  # fmt: skip
    sheets.place["file"], lines.place["file"] = "fiches.txt", "lignes.txt"
    files = {
        "fiches.txt": delimited(sheets, "|", "cp1252", "\r\n"), "lignes.txt": delimited(lines, "|", "cp1252", "\r\n")
    }  # fmt: skip
    return Made("French, two files, bars, two-digit years", files, [sheets, lines])
