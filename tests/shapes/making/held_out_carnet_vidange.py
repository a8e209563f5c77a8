"""French: visits only, tabs, Windows-1252, whole month names, minus behind; the VIN is the vehicle's number."""

from __future__ import annotations

from datetime import date

from cells import Made, amount, grouped, order, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, by
from records import Row
from writing import delimited

_NBSP = "\u00a0"
_MONTHS = (
    "janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre",
    "décembre",
)  # fmt: skip
_STATUS = (("clôturée", "closed"), ("en cours", "open"), ("annulée", "void"))


def _day(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def _euro(cents: int) -> str:
    return amount(cents, ",", _NBSP, "{}", "{}-")


def _is_credit(index: int) -> bool:
    return index in (11, 23)


def make() -> Made:
    """The shape."""
    shop = make_shop(212, language="fr", n_orders=38, n_vehicles=12, units=("km", "mi"), order_form="V-{}")
    units = {"km": "kilomètres", "mi": "milles"}
    columns = [
        Col("Numéro de visite", order(lambda o: o.order_id)),
        Col("Atelier", order(lambda o: o.location)),
        Col("Arrivée le", order(lambda o: _day(o.opened_on))),
        Col("Rendu le", order(lambda o: _day(o.closed_on))),
        Col("Réglé le", order(lambda o: _day(o.closed_on))),
        Col("Compteur à l'arrivée", order(lambda o: grouped(str(o.odometer_in), _NBSP))),
        Col("Compteur au départ", order(lambda o: grouped(str(o.odometer_out), _NBSP))),
        Col("Unité du compteur", order(lambda o: units[o.odometer_unit])),
        Col("N° de châssis", vehicle(lambda v: v.vin)),
        Col("Constructeur", vehicle(lambda v: v.make)),
        Col("Modèle", vehicle(lambda v: v.model)),
        Col("Moteur", vehicle(lambda v: v.engine)),
        Col("Millésime", vehicle(lambda v: v.model_year)),
        Col("Mise en circulation", vehicle(lambda v: _day(v.in_service_on))),
        Col("Plaque", vehicle(lambda v: v.plate), personal=True),
        Col("Nom du client", vehicle(lambda v: v.customer), personal=True),
        Col("Téléphone", vehicle(lambda v: v.phone), personal=True),
        Col("Adresse", vehicle(lambda v: v.address), personal=True),
        Col("Motif de la visite", order(lambda o: o.concern)),
        Col("Situation", order(lambda o: "annulée" if o.index == 17 else "clôturée")),
        Col("Montant total", order(lambda o: _euro(-o.total if _is_credit(o.index) else o.total))),
        Col("Dont TVA", order(lambda o: _euro(o.total // 6))),
        Col("Réceptionnaire", order(lambda o: o.advisor)),
        Col("N° facture", order(lambda o: o.invoice)),
    ]

    def vin(row: Row) -> str:
        return row.vehicle.vin

    def total(row: Row) -> str:
        cents = -row.order.total if _is_credit(row.order.index) else row.order.total
        return amount(cents)

    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("N° de châssis", says=vin), "vin": by("N° de châssis"), "make": by("Constructeur"),
            "model": by("Modèle"), "engine_family": by("Constructeur", "Modèle", "Moteur"),
            "model_year": by("Millésime"), "in_service_on": by("Mise en circulation"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Numéro de visite"), "location": by("Atelier"),
            "vehicle_id": by("N° de châssis", says=vin), "opened_on": by("Arrivée le"), "closed_on": by("Rendu le"),
            "odometer_in": by("Compteur à l'arrivée"), "odometer_out": by("Compteur au départ"),
            "odometer_unit": by("Unité du compteur", values=(("kilomètres", "km"), ("milles", "mi"))),
            "concern": by("Motif de la visite"),
            "status": by("Situation", values=_STATUS, says=lambda r: "void" if r.order.index == 17 else "closed"),
            "total": by("Montant total", says=total),
        }),
    }  # fmt: skip
    part = Part("carnet_vidange", columns, tables, {"dates": ("%d %B %Y",), "decimal": ",", "thousands": " "})
    spoils = [
        Spoil("Arrivée le", "31 avril 2022", (("repair_order", "impossible date"),), order=5),
        Spoil("Compteur à l'arrivée", "en panne", (("repair_order", "not a number"),), order=14),
        Spoil("Numéro de visite", "", (("repair_order", "missing required"),), order=20),
        Spoil("Unité du compteur", "heures", (("repair_order", "unknown value"),), order=26),
        Spoil("Montant total", "offert", (("repair_order", "not a number"),), order=31),
        Spoil("Millésime", "2O14", (("vehicle", "not a number"),), order=34),
    ]
    for row in shop.order_rows():
        part.add(row, spoils)
        if row.order and row.order.index in (8, 29):
            part.odd("unreadable line", text="V-9999\tNorth\tcoupé ici")
    same = next(row for row in shop.order_rows() if row.order and row.order.index == 2)
    second = Spoil("Compteur à l'arrivée", "999", (("repair_order", "contradicting rows"),), order=2)
    part.add(same, [second])
    content = delimited(part, "\t", "cp1252", "\r\n")
    part.place["file"] = "visites.txt"
    return Made("French, visits only, whole month names, VIN as number", {"visites.txt": content}, [part])
