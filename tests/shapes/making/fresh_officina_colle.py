"""Italian: a workbook of sheets, entries and vehicles; unit in the odometer's cell, days and money as text."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, by
from records import Row, Shop
from texts_fresh import FRESH_MAKES
from writing import workbook

_KINDS = {"part": "Ricambi", "labor": "Lavoro", "sublet": "Terzisti", "fee": "Varie"}
_ACTIONS = {"replaced": "cambiato", "repaired": "aggiustato", "inspected": "verificato", "adjusted": "regolato"}
_REASONS = {
    "failed": "guasto",
    "worn": "usura",
    "found_at_inspection": "visto in verifica",
    "preventive": "prevenzione",
}
_STATUS = {"closed": "chiusa", "open": "aperta", "void": "annullata"}
_NUMBERS = {"dates": ("%d/%m/%Y",), "decimal": ",", "thousands": "."}


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "€ {}")


def _status(row: Row) -> str:
    return "open" if row.order and row.order.index == 25 else "closed"


def _sheets(shop: Shop) -> Part:
    reading = "Km letti all'ingresso"
    part = Part("officina_colle_schede", [
        Col("Scheda n.", order(lambda o: o.order_id)),
        Col("Sede", order(lambda o: o.location)),
        Col("Cod. mezzo", vehicle(lambda v: v.vehicle_id)),
        Col("Intestatario", vehicle(lambda v: v.customer), personal=True),
        Col("Cellulare", vehicle(lambda v: v.phone), personal=True),
        Col("Indirizzo", vehicle(lambda v: v.address), personal=True),
        Col("Data ingresso", order(lambda o: f"{o.opened_on:%d/%m/%Y}")),
        Col("Consegna prevista", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("Data riconsegna", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("Data fattura", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col(reading, order(lambda o: f"{grouped(str(o.odometer_in), '.')} km")),
        Col("Problema riferito", order(lambda o: o.concern)),
        Col("Stato scheda", order(lambda o: "aperta" if o.index == 25 else "chiusa")),
        Col("Imponibile", order(lambda o: _euro(o.total))),
        Col("IVA 22%", order(lambda o: _euro(o.total * 22 // 100))),
        Col("Pagamento", order(lambda o: ("contanti", "bancomat")[o.index % 2])),
        Col("Accettatore", order(lambda o: o.advisor)),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Scheda n."), "location": by("Sede"), "vehicle_id": by("Cod. mezzo"),
        "opened_on": by("Data ingresso"), "closed_on": by("Data riconsegna"),
        "odometer_in": by(reading, part="number"), "odometer_unit": by(reading, part="unit"),
        "concern": by("Problema riferito"),
        "status": by("Stato scheda", values=theirs(_STATUS), says=_status),
        "total": by("Imponibile"),
    })}, _NUMBERS)  # fmt: skip
    for row in shop.order_rows():
        part.add(row, [
            Spoil("Data ingresso", "30/02/2022", (("repair_order", "impossible date"),), order=4),
            Spoil(reading, "quadro spento", (("repair_order", "not a number"),), order=12),
            Spoil("Scheda n.", "", (("repair_order", "missing required"),), order=20),
        ])  # fmt: skip
    return part


def _entries(shop: Shop) -> Part:
    part = Part("officina_colle_righe", [
        Col("Scheda n.", order(lambda o: o.order_id)),
        Col("Riga", line(lambda x: x.line_no)),
        Col("Genere", line(lambda x: _KINDS[x.kind])),
        Col("Cosa fatto", line(lambda x: _ACTIONS[x.action])),
        Col("Perché", line(lambda x: _REASONS[x.reason])),
        Col("Pezzo o lavoro", line(lambda x: x.description)),
        Col("Lato / asse", line(lambda x: x.position)),
        Col("Cod. articolo", line(lambda x: x.part_number)),
        Col("Comprato da", line(lambda x: x.supplier)),
        Col("Pz.", line(lambda x: number(x.quantity, ","))),
        Col("Ore uomo", line(lambda x: number(x.hours, ","))),
        Col("Costo nostro", line(lambda x: _euro(x.cost))),
        Col("Addebito cliente", line(lambda x: _euro(x.price))),
        Col("Sconto %", line(lambda x: "0")),
        Col("Trovato", line(lambda x: x.cause)),
        Col("Eseguito", line(lambda x: x.correction)),
        Col("Sigla operaio", line(lambda x: x.technician)),
        Col("Ponte", order(lambda o: o.bay)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Scheda n."), "line_no": by("Riga"), "kind": by("Genere", values=theirs(_KINDS)),
        "action": by("Cosa fatto", values=theirs(_ACTIONS)), "reason": by("Perché", values=theirs(_REASONS)),
        "description": by("Pezzo o lavoro"), "position": by("Lato / asse"), "part_number": by("Cod. articolo"),
        "supplier": by("Comprato da"), "quantity": by("Pz."), "hours": by("Ore uomo"), "cost": by("Costo nostro"),
        "price": by("Addebito cliente"), "cause": by("Trovato"), "correction": by("Eseguito"),
        "technician": by("Sigla operaio"),
    })}, _NUMBERS)  # fmt: skip
    for row in shop.line_rows():
        part.add(row, [
            Spoil("Cosa fatto", "parlato", (("repair_line", "unknown value"),), order=6, line=1),
            Spoil("Genere", "", (("repair_line", "missing required"),), order=15, line=1),
            Spoil("Ore uomo", "mezza", (("repair_line", "not a number"),), order=21, line=1),
        ])  # fmt: skip
    return part


def _vehicles(shop: Shop) -> Part:
    part = Part("officina_colle_mezzi", [
        Col("Cod. mezzo", vehicle(lambda v: v.vehicle_id)),
        Col("N. telaio", vehicle(lambda v: v.vin)),
        Col("Targa", vehicle(lambda v: v.plate), personal=True),
        Col("Casa costruttrice", vehicle(lambda v: v.make)),
        Col("Modello", vehicle(lambda v: v.model)),
        Col("Sigla motore", vehicle(lambda v: v.family_code)),
        Col("Anno", vehicle(lambda v: v.model_year)),
        Col("Immatricolato il", vehicle(lambda v: f"{v.in_service_on:%d/%m/%Y}")),
        Col("Colore", vehicle(lambda v: ("grigio", "rosso", "nero")[v.model_year % 3])),
        Col("Scad. revisione", vehicle(lambda v: f"{v.in_service_on.month:02d}/2026")),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Cod. mezzo"), "vin": by("N. telaio"), "make": by("Casa costruttrice"),
        "model": by("Modello"), "engine_family": by("Sigla motore", says=lambda row: row.vehicle.family_code),
        "model_year": by("Anno"), "in_service_on": by("Immatricolato il"),
    })}, _NUMBERS)  # fmt: skip
    for index, row in enumerate(shop.vehicle_rows()):
        part.add(row, [Spoil("Sigla motore", "", (("vehicle", "missing required"),), vehicle=14)], index)
    return part


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        308, language="it_it", n_orders=27, n_vehicles=25, lines=(1, 2), units=("km",), order_form="{}-OC",
        vehicle_form="M{:04d}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("Ricambi Esempio", "Demolizione Prova"), ("GB", "FR", "TN"), ("Colle", "Piano"))
    parts = {"Schede": _sheets(shop), "Righe schede": _entries(shop), "Mezzi": _vehicles(shop)}
    content = workbook(parts)
    for part in parts.values():
        part.place["file"] = "gestione officina.xlsx"
    return Made("Italian, workbook, unit in the cell", {"gestione officina.xlsx": content}, list(parts.values()))
