"""Polish: a register of vehicles and a book of visits, semicolons, UTF-8, years first with points, zlotys unnamed."""

from __future__ import annotations

from cells import Made, amount, grouped, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, by
from records import Shop
from texts_fresh import FRESH_MAKES
from writing import delimited

_STATUS = {"closed": "wydane", "open": "w naprawie", "void": "wycofane"}
_NUMBERS = {"dates": ("%Y.%m.%d",), "decimal": ",", "thousands": " "}


def _money(cents: int) -> str:
    return amount(cents, ",", " ")


def _register(shop: Shop) -> Part:
    part = Part("serwis_przy_torach_pojazdy", [
        Col("Nr ewidencyjny", vehicle(lambda v: v.vehicle_id)),
        Col("Tablica rejestracyjna", vehicle(lambda v: v.plate), personal=True),
        Col("Nr nadwozia (VIN)", vehicle(lambda v: v.vin)),
        Col("Marka pojazdu", vehicle(lambda v: v.make)),
        Col("Model pojazdu", vehicle(lambda v: v.model)),
        Col("Oznaczenie silnika", vehicle(lambda v: v.family_code)),
        Col("Rok modelowy", vehicle(lambda v: v.model_year)),
        Col("Pierwsza rejestracja", vehicle(lambda v: f"{v.in_service_on:%Y.%m.%d}")),
        Col("Właściciel", vehicle(lambda v: v.customer), personal=True),
        Col("Tel. komórkowy", vehicle(lambda v: v.phone), personal=True),
        Col("Adres zamieszkania", vehicle(lambda v: v.address), personal=True),
        Col("Paliwo", vehicle(lambda v: "ON" if "D" in v.engine else "benzyna")),
        Col("Kolor", vehicle(lambda v: ("szary", "biały", "granatowy")[v.model_year % 3])),
        Col("Badanie techniczne do", vehicle(lambda v: f"{v.in_service_on.replace(year=2026):%Y.%m.%d}")),
        Col("Ubezpieczenie OC do", vehicle(lambda v: f"{v.in_service_on.replace(year=2025):%Y.%m.%d}")),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Nr ewidencyjny"), "vin": by("Nr nadwozia (VIN)"), "make": by("Marka pojazdu"),
        "model": by("Model pojazdu"),
        "engine_family": by("Oznaczenie silnika", says=lambda row: row.vehicle.family_code),
        "model_year": by("Rok modelowy"), "in_service_on": by("Pierwsza rejestracja"),
    })}, _NUMBERS)  # fmt: skip
    spoils = [
        Spoil("Pierwsza rejestracja", "2013.02.30", (("vehicle", "impossible date"),), vehicle=5),
        Spoil("Rok modelowy", "brak danych", (("vehicle", "not a number"),), vehicle=13),
        Spoil("Nr ewidencyjny", "", (("vehicle", "missing required"),), vehicle=21),
    ]
    for index, row in enumerate(shop.vehicle_rows()):
        part.add(row, spoils, index)
        if index == 16:
            part.odd("unreadable line", text="P-9999;ZZ-9999;ucięte")
    return part


def _visits(shop: Shop) -> Part:
    part = Part("serwis_przy_torach_wizyty", [
        Col("Wizyta nr", order(lambda o: o.order_id)),
        Col("Punkt serwisowy", order(lambda o: o.location)),
        Col("Nr ewidencyjny", vehicle(lambda v: v.vehicle_id)),
        Col("Przyjęto dnia", order(lambda o: f"{o.opened_on:%Y.%m.%d}")),
        Col("Planowany odbiór", order(lambda o: f"{o.closed_on:%Y.%m.%d}")),
        Col("Wydano dnia", order(lambda o: f"{o.closed_on:%Y.%m.%d}")),
        Col("Zapłacono dnia", order(lambda o: f"{o.closed_on:%Y.%m.%d}")),
        Col("Licznik przy przyjęciu", order(lambda o: grouped(str(o.odometer_in), " "))),
        Col("Licznik przy wydaniu", order(lambda o: grouped(str(o.odometer_out), " "))),
        Col("Licznik w", order(lambda o: "km")),
        Col("Co zgłasza klient", order(lambda o: o.concern)),
        Col("Status", order(lambda o: "wycofane" if o.index == 15 else "wydane")),
        Col("Osoba oddająca auto", vehicle(lambda v: v.customer), personal=True),
        Col("Do zapłaty netto", order(lambda o: _money(o.total))),
        Col("Kwota VAT", order(lambda o: _money(o.total * 23 // 100))),
        Col("Forma płatności", order(lambda o: ("gotówka", "karta", "przelew")[o.index % 3])),
        Col("Doradca", order(lambda o: o.advisor)),
        Col("Liczba pozycji", order(lambda o: len(o.lines))),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Wizyta nr"), "location": by("Punkt serwisowy"), "vehicle_id": by("Nr ewidencyjny"),
        "opened_on": by("Przyjęto dnia"), "closed_on": by("Wydano dnia"), "odometer_in": by("Licznik przy przyjęciu"),
        "odometer_out": by("Licznik przy wydaniu"), "odometer_unit": by("Licznik w"),
        "concern": by("Co zgłasza klient"),
        "status": by("Status", values=theirs(_STATUS), says=lambda row: "void" if row.order.index == 15 else "closed"),
        "total": by("Do zapłaty netto"),
    })}, _NUMBERS)  # fmt: skip
    spoils = [
        Spoil("Przyjęto dnia", "2022.04.31", (("repair_order", "impossible date"),), order=4),
        Spoil("Licznik przy przyjęciu", "nieczytelny", (("repair_order", "not a number"),), order=11),
        Spoil("Nr ewidencyjny", "", (("repair_order", "missing required"),), order=20),
        Spoil("Licznik w", "mth", (("repair_order", "unknown value"),), order=26),
        Spoil("Do zapłaty netto", "gratis", (("repair_order", "not a number"),), order=30),
    ]
    for row in shop.order_rows():
        part.add(row, spoils)
    same = next(row for row in shop.order_rows() if row.order and row.order.index == 7)
    part.add(same, [Spoil("Licznik przy przyjęciu", "777", (("repair_order", "contradicting rows"),), order=7)])
    return part


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        312, language="pl_pl", n_orders=35, n_vehicles=28, units=("km",), order_form="{}/W", vehicle_form="P-{:04d}",
        makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("Hurtownia", "Szrot"), ("1",), ("Tory", "Rynek"))
    parts = {"pojazdy.csv": _register(shop), "wizyty.csv": _visits(shop)}
    files = {name: delimited(part, ";", "utf-8", "\r\n") for name, part in parts.items()}
    for name, part in parts.items():
        part.place["file"] = name
    return Made("Polish, register of vehicles and book of visits", files, list(parts.values()))
