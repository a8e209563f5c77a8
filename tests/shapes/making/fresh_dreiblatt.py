"""German: three files of orders, positions and vehicles, semicolons, UTF-8 with its mark, euros behind."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from records import Shop
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "Material", "labor": "Lohn", "sublet": "Fremdvergabe", "fee": "Nebenkosten"}
_ACTIONS = {"replaced": "Austausch", "repaired": "Reparatur", "inspected": "Sichtprüfung", "adjusted": "Einstellung"}
_REASONS = {
    "failed": "Ausfall", "worn": "Verschleiß", "found_at_inspection": "Prüfbefund", "preventive": "Vorbeugung",
}  # fmt: skip
_ORIGINS = {"new": "Neuteil", "remanufactured": "AT-Teil", "used": "Gebrauchtteil"}
_STATUS = {"closed": "abgeschlossen", "open": "in Arbeit", "void": "gelöscht"}
_NUMBERS = {"dates": ("%d.%m.%Y",), "decimal": ",", "thousands": "."}


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "{} €")


def _orders(shop: Shop) -> Part:
    part = Part("dreiblatt_belege", [
        Col("Beleg", order(lambda o: o.order_id)),
        Col("Betriebsstätte", order(lambda o: o.location)),
        Col("Fzg. intern", vehicle(lambda v: v.vehicle_id)),
        Col("Kundenname", vehicle(lambda v: v.customer), personal=True),
        Col("Handynummer", vehicle(lambda v: v.phone), personal=True),
        Col("Anschrift", vehicle(lambda v: v.address), personal=True),
        Col("Annahmetag", order(lambda o: f"{o.opened_on:%d.%m.%Y}")),
        Col("Wunschtermin", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Fertig gemeldet am", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Rechnungsdatum", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Tachostand", order(lambda o: grouped(str(o.odometer_in), "."))),
        Col("Kunde schildert", order(lambda o: o.concern)),
        Col("Belegstatus", order(lambda o: "gelöscht" if o.index == 13 else "abgeschlossen")),
        Col("Summe netto", order(lambda o: _euro(o.total))),
        Col("Umsatzsteuer", order(lambda o: _euro(o.total * 19 // 100))),
        Col("Zahlungsart", order(lambda o: ("bar", "Karte", "Überweisung")[o.index % 3])),
        Col("Serviceberater", order(lambda o: o.advisor)),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Beleg"), "location": by("Betriebsstätte"), "vehicle_id": by("Fzg. intern"),
        "opened_on": by("Annahmetag"), "closed_on": by("Fertig gemeldet am"), "odometer_in": by("Tachostand"),
        "odometer_unit": always("km"), "concern": by("Kunde schildert"),
        "status": by("Belegstatus", values=theirs(_STATUS), says=lambda r: "void" if r.order.index == 13 else "closed"),
        "total": by("Summe netto"),
    })}, _NUMBERS)  # fmt: skip
    for row in shop.order_rows():
        part.add(row, [
            Spoil("Annahmetag", "30.02.2022", (("repair_order", "impossible date"),), order=3),
            Spoil("Tachostand", "nicht abgelesen", (("repair_order", "not a number"),), order=9),
            Spoil("Fzg. intern", "", (("repair_order", "missing required"),), order=17),
            Spoil("Belegstatus", "fraglich", (("repair_order", "unknown value"),), order=21),
        ])  # fmt: skip
    return part


def _positions(shop: Shop) -> Part:
    part = Part("dreiblatt_positionen", [
        Col("Beleg", order(lambda o: o.order_id)),
        Col("Zeile", line(lambda x: x.line_no)),
        Col("Positionsart", line(lambda x: _KINDS[x.kind])),
        Col("Maßnahme", line(lambda x: _ACTIONS[x.action])),
        Col("Anlass", line(lambda x: _REASONS[x.reason])),
        Col("Bauteil bzw. Arbeit", line(lambda x: x.description)),
        Col("Lage am Fahrzeug", line(lambda x: x.position)),
        Col("Artikelnummer", line(lambda x: x.part_number)),
        Col("Ausführung", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Bezogen von", line(lambda x: x.supplier)),
        Col("Stückzahl", line(lambda x: number(x.quantity, ","))),
        Col("Zeit (Std.)", line(lambda x: number(x.hours, ","))),
        Col("Einstandspreis", line(lambda x: _euro(x.cost))),
        Col("Kundenpreis netto", line(lambda x: _euro(x.price))),
        Col("Rabatt %", line(lambda x: "0")),
        Col("Ursache", line(lambda x: x.cause)),
        Col("Ausgeführte Arbeit", line(lambda x: x.correction)),
        Col("Kürzel Mechaniker", line(lambda x: x.technician)),
        Col("Hebebühne", order(lambda o: o.bay)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Beleg"), "line_no": by("Zeile"), "kind": by("Positionsart", values=theirs(_KINDS)),
        "action": by("Maßnahme", values=theirs(_ACTIONS)), "reason": by("Anlass", values=theirs(_REASONS)),
        "description": by("Bauteil bzw. Arbeit"), "position": by("Lage am Fahrzeug"),
        "part_number": by("Artikelnummer"), "part_origin": by("Ausführung", values=theirs(_ORIGINS)),
        "supplier": by("Bezogen von"), "quantity": by("Stückzahl"), "hours": by("Zeit (Std.)"),
        "cost": by("Einstandspreis"), "price": by("Kundenpreis netto"), "cause": by("Ursache"),
        "correction": by("Ausgeführte Arbeit"), "technician": by("Kürzel Mechaniker"),
    })}, _NUMBERS)  # fmt: skip
    for row in shop.line_rows():
        part.add(row, [
            Spoil("Maßnahme", "Gespräch", (("repair_line", "unknown value"),), order=5, line=1),
            Spoil("Stückzahl", "Satz", (("repair_line", "not a number"),), order=12, line=1),
        ])  # fmt: skip
    part.odd("unreadable line", text="B-99999;2;Material;Austausch")
    return part


def _vehicles(shop: Shop) -> Part:
    part = Part("dreiblatt_fahrzeuge", [
        Col("Fzg. intern", vehicle(lambda v: v.vehicle_id)),
        Col("FIN", vehicle(lambda v: v.vin)),
        Col("amtl. Kennzeichen", vehicle(lambda v: v.plate), personal=True),
        Col("Hersteller", vehicle(lambda v: v.make)),
        Col("Baureihe", vehicle(lambda v: v.model)),
        Col("Motorkennbuchstaben", vehicle(lambda v: v.family_code)),
        Col("Modelljahr", vehicle(lambda v: v.model_year)),
        Col("Tag der Erstzulassung", vehicle(lambda v: f"{v.in_service_on:%d.%m.%Y}")),
        Col("Fahrzeughalter", vehicle(lambda v: v.customer), personal=True),
        Col("Kraftstoff", vehicle(lambda v: "Diesel" if "D" in v.engine else "Benzin")),
        Col("HU fällig", vehicle(lambda v: f"{v.in_service_on.month:02d}/2025")),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Fzg. intern"), "vin": by("FIN"), "make": by("Hersteller"), "model": by("Baureihe"),
        "engine_family": by("Motorkennbuchstaben", says=lambda row: row.vehicle.family_code),
        "model_year": by("Modelljahr"), "in_service_on": by("Tag der Erstzulassung"),
    })}, _NUMBERS)  # fmt: skip
    for index, row in enumerate(shop.vehicle_rows()):
        spoil = Spoil("Tag der Erstzulassung", "31.04.2012", (("vehicle", "impossible date"),), vehicle=8)
        part.add(row, [spoil], index)
    return part


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        304, language="de_de", n_orders=26, n_vehicles=25, lines=(1, 2), units=("km",), order_form="B-2{}",
        vehicle_form="F{:05d}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(
        credited(drawn, 6),
        ("Teilehof Beispiel", "Verwertung Muster"),
        ("Kl", "Schm", "Wg"),
        ("Hauptbetrieb", "Halle 2"),
    )
    parts = {"Belege.csv": _orders(shop), "Positionen.csv": _positions(shop), "Fahrzeuge.csv": _vehicles(shop)}
    files = {name: delimited(part, ";", "utf-8-sig", "\r\n") for name, part in parts.items()}
    for name, part in parts.items():
        part.place["file"] = name
    return Made("German, three files, semicolons, euros behind", files, list(parts.values()))
