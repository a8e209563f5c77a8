"""Spanish: vehicles only, semicolon, UTF-8 with its mark, days with the month's name cut short."""

from __future__ import annotations

from datetime import date

from cells import Made, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import delimited

_MONTHS = ("ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic")


def _day(day: date) -> str:
    return f"{day.day}-{_MONTHS[day.month - 1]}-{day.year}"


def make() -> Made:
    """The shape."""
    shop = make_shop(107, language="es", n_orders=1, n_vehicles=40, units=("km",), vehicle_form="C{}")
    columns = [
        Col("Nº coche", vehicle(lambda v: v.vehicle_id)),
        Col("Bastidor", vehicle(lambda v: v.vin)),
        Col("Matrícula", vehicle(lambda v: v.plate), personal=True),
        Col("Marca", vehicle(lambda v: v.make)),
        Col("Modelo", vehicle(lambda v: v.model)),
        Col("Motor", vehicle(lambda v: v.engine)),
        Col("Año", vehicle(lambda v: v.model_year)),
        Col("Fecha de matriculación", vehicle(lambda v: _day(v.in_service_on))),
        Col("Propietario", vehicle(lambda v: v.customer), personal=True),
        Col("Teléfono", vehicle(lambda v: v.phone), personal=True),
        Col("Correo", vehicle(lambda v: v.email), personal=True),
        Col("Dirección", vehicle(lambda v: v.address), personal=True),
        Col("Color", vehicle(lambda v: ("Gris", "Azul", "Blanco")[v.model_year % 3])),
        Col("Puertas", vehicle(lambda v: 3 + 2 * (v.model_year % 2))),
        Col("Última visita", vehicle(lambda v: _day(v.in_service_on.replace(year=2023)))),
    ]
    tables = {"vehicle": TableFill({
        "vehicle_id": by("Nº coche"), "vin": by("Bastidor"), "make": by("Marca"), "model": by("Modelo"),
        "engine_family": by("Marca", "Modelo", "Motor"), "model_year": by("Año"),
        "in_service_on": by("Fecha de matriculación"), "odometer_unit": always("km"),
    })}  # fmt: skip
    part = Part("fichero_vehiculos", columns, tables, {"dates": ("%d-%b-%Y",)})
    spoils = [
        Spoil("Fecha de matriculación", "31-feb-2014", (("vehicle", "impossible date"),), vehicle=7),
        Spoil("Año", "1014", (("vehicle", "out of range"),), vehicle=15),
        Spoil("Año", "dos mil", (("vehicle", "not a number"),), vehicle=22),
        Spoil("Nº coche", "", (("vehicle", "missing required"),), vehicle=30),
    ]
    for index, row in enumerate(shop.vehicle_rows()):
        part.add(row, spoils, index)
        if index in (11, 33):
            part.odd("unreadable line", text="C9999;cortado;ZZ-0000")
    content = delimited(part, ";", "utf-8-sig", "\r\n")
    part.place["file"] = "coches.csv"
    return Made("Spanish, vehicles only, month names", {"coches.csv": content}, [part])
