"""Dutch of Belgium: visits with their vehicles in one file, the work in another; tabs, UTF-16, spaces in numbers."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "wisselstuk", "labor": "werkuren", "sublet": "onderaannemer", "fee": "diverse kosten"}
_ACTIONS = {"replaced": "vervangen", "repaired": "hersteld", "inspected": "nagekeken", "adjusted": "bijgeregeld"}
_REASONS = {
    "failed": "stuk",
    "worn": "versleten",
    "found_at_inspection": "gezien bij nazicht",
    "preventive": "uit voorzorg",
}
_ORIGINS = {"new": "nieuw", "remanufactured": "ruilstuk", "used": "tweedehands"}


def _euro(cents: int) -> str:
    return amount(cents, ",", " ", "{} EUR", "-{}")


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        310, language="nl_be", n_orders=26, n_vehicles=11, lines=(1, 2), units=("km",), order_form="HB{}",
        vehicle_form="VT{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(credited(drawn, 8), ("Onderdelenhuis", "Autosloperij"), ("Jef", "Staf", "Rik"))
    stated = {"dates": ("%d/%m/%Y",), "decimal": ",", "thousands": " "}
    visits = Part("garage_aan_de_vaart_bonnen", [
        Col("Herstelbon", order(lambda o: o.order_id)),
        Col("Binnen op", order(lambda o: f"{o.opened_on:%d/%m/%Y}")),
        Col("Beloofd tegen", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("Buiten op", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("Naam klant", vehicle(lambda v: v.customer), personal=True),
        Col("Gsm", vehicle(lambda v: v.phone), personal=True),
        Col("Straat en nr.", vehicle(lambda v: v.address), personal=True),
        Col("Nummerplaat", vehicle(lambda v: v.plate), personal=True),
        Col("Wagennr.", vehicle(lambda v: v.vehicle_id)),
        Col("Chassisnr.", vehicle(lambda v: v.vin)),
        Col("Merk wagen", vehicle(lambda v: v.make)),
        Col("Model wagen", vehicle(lambda v: v.model)),
        Col("Motor", vehicle(lambda v: v.engine)),
        Col("Eerste inschrijving", vehicle(lambda v: f"{v.in_service_on:%d/%m/%Y}")),
        Col("Kilometerstand", order(lambda o: grouped(str(o.odometer_in), " "))),
        Col("Probleem volgens klant", order(lambda o: o.concern)),
        Col("Totaal excl. btw", order(lambda o: _euro(o.total))),
        Col("Btw 21 %", order(lambda o: _euro(o.total * 21 // 100))),
        Col("Factuurnr.", order(lambda o: o.invoice)),
        Col("Aangenomen door", order(lambda o: o.advisor)),
    ], {
        "vehicle": TableFill({
            "vehicle_id": by("Wagennr."), "vin": by("Chassisnr."), "make": by("Merk wagen"),
            "model": by("Model wagen"), "engine_family": by("Merk wagen", "Model wagen", "Motor"),
            "in_service_on": by("Eerste inschrijving"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("Herstelbon"), "vehicle_id": by("Wagennr."), "opened_on": by("Binnen op"),
            "closed_on": by("Buiten op"), "odometer_in": by("Kilometerstand"), "odometer_unit": always("km"),
            "concern": by("Probleem volgens klant"), "total": by("Totaal excl. btw"),
        }),
    }, stated)  # fmt: skip
    work = Part("garage_aan_de_vaart_werk", [
        Col("Herstelbon", order(lambda o: o.order_id)),
        Col("Lijn", line(lambda x: x.line_no)),
        Col("Stuk of uren", line(lambda x: _KINDS[x.kind])),
        Col("Gedaan", line(lambda x: _ACTIONS[x.action])),
        Col("Reden", line(lambda x: _REASONS[x.reason])),
        Col("Benaming", line(lambda x: x.description)),
        Col("Kant", line(lambda x: x.position)),
        Col("Stuknr.", line(lambda x: x.part_number)),
        Col("Nieuw / ruil / tweedehands", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Gekocht bij", line(lambda x: x.supplier)),
        Col("Aantal stuks", line(lambda x: number(x.quantity, ","))),
        Col("Gewerkte uren", line(lambda x: number(x.hours, ","))),
        Col("Aankoopprijs", line(lambda x: _euro(x.cost))),
        Col("Verkoopprijs", line(lambda x: _euro(x.price))),
        Col("Korting", line(lambda x: "0 %")),
        Col("Vastgesteld", line(lambda x: x.cause)),
        Col("Oplossing", line(lambda x: x.correction)),
        Col("Mecanicien", line(lambda x: x.technician)),
        Col("Brug", order(lambda o: o.bay)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Herstelbon"), "line_no": by("Lijn"), "kind": by("Stuk of uren", values=theirs(_KINDS)),
        "action": by("Gedaan", values=theirs(_ACTIONS)), "reason": by("Reden", values=theirs(_REASONS)),
        "description": by("Benaming"), "position": by("Kant"), "part_number": by("Stuknr."),
        "part_origin": by("Nieuw / ruil / tweedehands", values=theirs(_ORIGINS)), "supplier": by("Gekocht bij"),
        "quantity": by("Aantal stuks"), "hours": by("Gewerkte uren"), "cost": by("Aankoopprijs"),
        "price": by("Verkoopprijs"), "cause": by("Vastgesteld"), "correction": by("Oplossing"),
        "technician": by("Mecanicien"),
    })}, stated)  # fmt: skip
    for row in shop.order_rows():
        visits.add(row, [
            Spoil("Binnen op", "29/02/2023", (("repair_order", "impossible date"),), order=6),
            Spoil("Kilometerstand", "niet genoteerd", (("repair_order", "not a number"),), order=13),
            Spoil("Herstelbon", "", (("repair_order", "missing required"),), order=19),
            Spoil("Eerste inschrijving", "00/05/2014", (("vehicle", "impossible date"),), order=22),
        ])  # fmt: skip
    for row in shop.line_rows():
        work.add(row, [
            Spoil("Gedaan", "besproken", (("repair_line", "unknown value"),), order=3, line=1),
            Spoil("Gewerkte uren", "halfuur", (("repair_line", "not a number"),), order=11, line=1),
            Spoil("Verkoopprijs", "gratis", (("repair_line", "not a number"),), order=17, line=1),
        ])  # fmt: skip
        if row.first and row.order and row.order.index == 20:
            work.odd("unreadable line", text="HB9999\t1\twisselstuk")
    visits.place["file"], work.place["file"] = "bonnen.txt", "werk.txt"
    parts = {"bonnen.txt": visits, "werk.txt": work}
    files = {name: delimited(part, "\t", "utf-16-le", "\r\n") for name, part in parts.items()}
    return Made("Dutch (Belgium), two files, tabs, UTF-16", files, [visits, work])
