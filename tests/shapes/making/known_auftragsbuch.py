"""German: semicolon, Windows-1252, preamble, header repeated every 15 rows, a sum line, 1.234,56."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from writing import delimited

_KINDS = {"part": "Teil", "labor": "Arbeit", "sublet": "Fremdleistung", "fee": "Gebühr"}
_ACTIONS = {"replaced": "ersetzt", "repaired": "instandgesetzt", "inspected": "geprüft", "adjusted": "eingestellt"}
_REASONS = {
    "failed": "defekt",
    "worn": "verschlissen",
    "found_at_inspection": "bei Prüfung",
    "preventive": "vorsorglich",
}
_ORIGINS = {"new": "neu", "remanufactured": "Austauschteil", "used": "gebraucht"}


def _eur(cents: int) -> str:
    return amount(cents, ",", ".")


def make() -> Made:
    """The shape."""
    shop = credited(make_shop(102, language="de", n_orders=16, units=("km",), order_form="A-{}"), 5)
    columns = [
        Col("Auftragsnr.", order(lambda o: o.order_id)),
        Col("Annahme", order(lambda o: f"{o.opened_on:%d.%m.%Y}")),
        Col("Abholung", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Rechnungsnr.", order(lambda o: o.invoice)),
        Col("Kunde", vehicle(lambda v: v.customer), personal=True),
        Col("Telefon", vehicle(lambda v: v.phone), personal=True),
        Col("Kennzeichen", vehicle(lambda v: v.plate), personal=True),
        Col("Fahrzeug-Nr.", vehicle(lambda v: v.vehicle_id)),
        Col("Fahrgestellnummer", vehicle(lambda v: v.vin)),
        Col("Marke", vehicle(lambda v: v.make)),
        Col("Modell", vehicle(lambda v: v.model)),
        Col("Motor", vehicle(lambda v: v.family_code)),
        Col("Erstzulassung", vehicle(lambda v: f"{v.in_service_on:%d.%m.%Y}")),
        Col("KM-Stand", order(lambda o: grouped(str(o.odometer_in), "."))),
        Col("Beanstandung", order(lambda o: o.concern)),
        Col("Art", line(lambda x: _KINDS[x.kind])),
        Col("Tätigkeit", line(lambda x: _ACTIONS[x.action].capitalize())),
        Col("Grund", line(lambda x: _REASONS[x.reason])),
        Col("Bezeichnung", line(lambda x: x.description)),
        Col("Einbauort", line(lambda x: x.position)),
        Col("Teilenummer", line(lambda x: x.part_number)),
        Col("Teileart", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Menge", line(lambda x: number(x.quantity, ","))),
        Col("Stunden", line(lambda x: number(x.hours, ","))),
        Col("EK", line(lambda x: _eur(x.cost))),
        Col("VK", line(lambda x: _eur(x.price))),
        Col("MwSt", line(lambda x: _eur(x.price * 19 // 100))),
        Col("Monteur", line(lambda x: x.technician)),
    ]
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("Fahrzeug-Nr."), "vin": by("Fahrgestellnummer"), "make": by("Marke"),
            "model": by("Modell"), "engine_family": by("Motor", says=lambda row: row.vehicle.family_code),
            "in_service_on": by("Erstzulassung"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Auftragsnr."), "vehicle_id": by("Fahrzeug-Nr."), "opened_on": by("Annahme"),
            "closed_on": by("Abholung"), "odometer_in": by("KM-Stand"), "odometer_unit": always("km"),
            "concern": by("Beanstandung"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Auftragsnr."), "line_no": counted_within("Auftragsnr."),
            "kind": by("Art", values=theirs(_KINDS)), "action": by("Tätigkeit", values=theirs(_ACTIONS)),
            "reason": by("Grund", values=theirs(_REASONS)), "description": by("Bezeichnung"),
            "position": by("Einbauort"), "part_number": by("Teilenummer"),
            "part_origin": by("Teileart", values=theirs(_ORIGINS)), "quantity": by("Menge"), "hours": by("Stunden"),
            "cost": by("EK"), "price": by("VK"), "technician": by("Monteur"),
        }),
    }  # fmt: skip
    part = Part("auftragsbuch", columns, tables, {"dates": ("%d.%m.%Y",), "decimal": ",", "thousands": "."})
    spoils = [
        Spoil("Annahme", "31.11.2022", (("repair_order", "impossible date"),), order=3),
        Spoil("KM-Stand", "84O12", (("repair_order", "not a number"),), order=8),
        Spoil("Tätigkeit", "besprochen", (("repair_line", "unknown value"),), order=6, line=1),
        Spoil("Art", "", (("repair_line", "missing required"),), order=10, line=1),
        Spoil("VK", "12,34,56", (("repair_line", "not a number"),), order=12, line=1),
    ]
    for count, row in enumerate(shop.line_rows()):
        if count and count % 15 == 0:
            part.odd("repeated header")
        part.add(row, spoils)
    part.sparse("total line", c1="Summe", c25="9.876,54", c26="14.814,81", c27="2.814,81")
    preamble = ("Werkstatt am Beispielweg", "Auftragsliste, gedruckt am 02.01.2025 09:14", "")
    content = delimited(part, ";", "cp1252", "\r\n", preamble)
    part.place["file"] = "auftraege.csv"
    return Made("German, semicolon, Windows-1252, preamble, repeated header", {"auftraege.csv": content}, [part])
