"""Swedish: tabs, UTF-8, ISO days, no-break spaces between thousands, currency behind; vehicles in a second file."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import delimited

_NBSP = "\u00a0"
_KINDS = {"part": "Reservdel", "labor": "Arbete", "sublet": "Extern tjänst", "fee": "Avgift"}
_ACTIONS = {"replaced": "Bytt", "repaired": "Lagad", "inspected": "Kontrollerad", "adjusted": "Justerad"}
_REASONS = {"failed": "Trasig", "worn": "Sliten", "found_at_inspection": "Vid kontroll", "preventive": "Förebyggande"}


def _kronor(cents: int) -> str:
    return amount(cents, ",", _NBSP, "{} kr")


def make() -> Made:
    """The shape."""
    shop = make_shop(
        204, language="sv", n_orders=15, n_vehicles=25, units=("km",), order_form="J{}", vehicle_form="B{}"
    )
    jobs = Part("verkstad_jobb", [
        Col("Jobbnr", order(lambda o: o.order_id)),
        Col("Rad", line(lambda x: x.line_no)),
        Col("Inlämnad", order(lambda o: o.opened_on.isoformat())),
        Col("Utlämnad", order(lambda o: o.closed_on.isoformat())),
        Col("Betald", order(lambda o: o.closed_on.isoformat())),
        Col("Bilnr", vehicle(lambda v: v.vehicle_id)),
        Col("Kund", vehicle(lambda v: v.customer), personal=True),
        Col("Mobil", vehicle(lambda v: v.phone), personal=True),
        Col("E-post", vehicle(lambda v: v.email), personal=True),
        Col("Mätarställning (km)", order(lambda o: grouped(str(o.odometer_in), _NBSP))),
        Col("Felbeskrivning", order(lambda o: o.concern)),
        Col("Radtyp", line(lambda x: _KINDS[x.kind])),
        Col("Åtgärd", line(lambda x: _ACTIONS[x.action])),
        Col("Orsak till åtgärd", line(lambda x: _REASONS[x.reason])),
        Col("Benämning", line(lambda x: x.description)),
        Col("Placering", line(lambda x: x.position)),
        Col("Artikelnr", line(lambda x: x.part_number)),
        Col("Leverantör", line(lambda x: x.supplier)),
        Col("Antal", line(lambda x: number(x.quantity, ","))),
        Col("Timmar", line(lambda x: number(x.hours, ","))),
        Col("Inköpspris", line(lambda x: _kronor(x.cost))),
        Col("Kundpris", line(lambda x: _kronor(x.price))),
        Col("Moms", line(lambda x: _kronor(x.price // 4))),
        Col("Mekaniker", line(lambda x: x.technician)),
        Col("Plats i verkstan", order(lambda o: o.bay)),
    ], {
        "repair_order": TableFill({
            "repair_order_id": by("Jobbnr"), "vehicle_id": by("Bilnr"), "opened_on": by("Inlämnad"),
            "closed_on": by("Utlämnad"), "odometer_in": by("Mätarställning (km)"), "odometer_unit": always("km"),
            "concern": by("Felbeskrivning"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Jobbnr"), "line_no": by("Rad"), "kind": by("Radtyp", values=theirs(_KINDS)),
            "action": by("Åtgärd", values=theirs(_ACTIONS)), "reason": by("Orsak till åtgärd", values=theirs(_REASONS)),
            "description": by("Benämning"), "position": by("Placering"), "part_number": by("Artikelnr"),
            "supplier": by("Leverantör"), "quantity": by("Antal"), "hours": by("Timmar"), "cost": by("Inköpspris"),
            "price": by("Kundpris"), "technician": by("Mekaniker"),
        }),
    }, {"decimal": ",", "thousands": " "})  # fmt: skip
    cars = Part("verkstad_bilar", [
        Col("Bilnr", vehicle(lambda v: v.vehicle_id)),
        Col("Regnr", vehicle(lambda v: v.plate), personal=True),
        Col("Chassinummer", vehicle(lambda v: v.vin)),
        Col("Tillverkare", vehicle(lambda v: v.make)),
        Col("Modell", vehicle(lambda v: v.model)),
        Col("Motorfamilj", vehicle(lambda v: v.family_code)),
        Col("Årsmodell", vehicle(lambda v: v.model_year)),
        Col("I trafik sedan", vehicle(lambda v: v.in_service_on.isoformat())),
        Col("Ägare", vehicle(lambda v: v.customer), personal=True),
        Col("Gatuadress", vehicle(lambda v: v.address), personal=True),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Bilnr"), "vin": by("Chassinummer"), "make": by("Tillverkare"), "model": by("Modell"),
        "engine_family": by("Motorfamilj", says=lambda row: row.vehicle.family_code), "model_year": by("Årsmodell"),
        "in_service_on": by("I trafik sedan"),
    })}, {"decimal": ",", "thousands": " "})  # fmt: skip
    spoils = [
        Spoil("Inlämnad", "2022-06-31", (("repair_order", "impossible date"),), order=3),
        Spoil("Mätarställning (km)", "ej avläst", (("repair_order", "not a number"),), order=8),
        Spoil("Åtgärd", "Diskuterad", (("repair_line", "unknown value"),), order=11, line=1),
        Spoil("Rad", "", (("repair_line", "missing required"),), order=5, line=1),
    ]
    for row in shop.line_rows():
        jobs.add(row, spoils)
    car_spoils = [Spoil("I trafik sedan", "2013-00-10", (("vehicle", "impossible date"),), vehicle=12)]
    for index, row in enumerate(shop.vehicle_rows()):
        cars.add(row, car_spoils, index)
    cars.odd("unreadable line", text="B9999\tZZ-9999")
    jobs.place["file"], cars.place["file"] = "jobb.tsv", "bilar.tsv"
    files = {"jobb.tsv": delimited(jobs, "\t"), "bilar.tsv": delimited(cars, "\t")}
    return Made("Swedish, tabs, two files, no-break spaces in numbers", files, [jobs, cars])
