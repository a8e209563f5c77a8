"""German of Austria: heads and entries of orders in one file, the record's mark also says the kind; preamble."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from cells import Made, amount, line, number, theirs
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "ERSATZTEIL", "labor": "ARBEIT", "sublet": "FREMDLEISTUNG", "fee": "SONSTIGES"}
_ACTIONS = {"replaced": "getauscht", "repaired": "gerichtet", "inspected": "überprüft", "adjusted": "nachgestellt"}
_STATUS = {"closed": "erledigt", "open": "in Arbeit", "void": "Storno"}


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "€ {}")


def _head(read: Callable[[Row], Any]) -> Callable[[Row], Any]:
    return lambda row: "" if row.line else read(row)


def _columns() -> list[Col]:
    return [
        Col("Satz", lambda row: _KINDS[row.line.kind] if row.line else "KOPF"),
        Col("Auftr.-Nr.", lambda row: row.order.order_id),
        Col("Pos.-Nr.", line(lambda x: x.line_no)),
        Col("Übernommen", _head(lambda row: f"{row.order.opened_on:%d.%m.%Y} {row.order.minutes // 60:02d}:15")),
        Col("Ausgefolgt", _head(lambda row: f"{row.order.closed_on:%d.%m.%Y} 16:30")),
        Col("Zulassungsbesitzer", _head(lambda row: row.vehicle.customer), personal=True),
        Col("Tel.", _head(lambda row: row.vehicle.phone), personal=True),
        Col("Mail", _head(lambda row: row.vehicle.email), personal=True),
        Col("Pol. Kennzeichen", _head(lambda row: row.vehicle.plate), personal=True),
        Col("Fzg.-Nr.", _head(lambda row: row.vehicle.vehicle_id)),
        Col("km-Stand Übernahme", _head(lambda row: row.order.odometer_in)),
        Col("km-Stand Ausfolgung", _head(lambda row: row.order.odometer_out)),
        Col("Kundenbeanstandung", _head(lambda row: row.order.concern)),
        Col("Auftragsstand", _head(lambda row: _STATUS[row.order.status])),
        Col("Pickerl bis", _head(lambda row: f"{row.order.opened_on.month:02d}/2026")),
        Col("Leistung / Teil", line(lambda x: x.description)),
        Col("Durchführung", line(lambda x: _ACTIONS[x.action])),
        Col("Einbaustelle", line(lambda x: x.position)),
        Col("Bestellnr.", line(lambda x: x.part_number)),
        Col("Händler", line(lambda x: x.supplier)),
        Col("Mg.", line(lambda x: number(x.quantity, ","))),
        Col("Arb.-Std.", line(lambda x: number(x.hours, ","))),
        Col("Einkauf netto", line(lambda x: _euro(x.cost))),
        Col("Verrechnet netto", line(lambda x: _euro(x.price))),
        Col("USt. 20 %", line(lambda x: _euro(x.price // 5))),
        Col("Diagnose", line(lambda x: x.cause)),
        Col("Behebung", line(lambda x: x.correction)),
        Col("Mech.-Kürzel", line(lambda x: x.technician)),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        305, language="de_at", n_orders=13, n_vehicles=8, lines=(1, 3), units=("km",), order_form="A{}/23",
        vehicle_form="W{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("Großhandel Mitte", "Teilebörse"), ("FH", "GS", "LP"))
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Auftr.-Nr."), "vehicle_id": by("Fzg.-Nr."), "opened_on": by("Übernommen"),
            "closed_on": by("Ausgefolgt"), "odometer_in": by("km-Stand Übernahme"),
            "odometer_out": by("km-Stand Ausfolgung"), "odometer_unit": always("km"),
            "concern": by("Kundenbeanstandung"), "status": by("Auftragsstand", values=theirs(_STATUS)),
        }, ("Satz", ("KOPF",)), lambda row: row.line is None),
        "repair_line": TableFill({
            "repair_order_id": by("Auftr.-Nr."), "line_no": by("Pos.-Nr."), "kind": by("Satz", values=theirs(_KINDS)),
            "description": by("Leistung / Teil"), "action": by("Durchführung", values=theirs(_ACTIONS)),
            "position": by("Einbaustelle"), "part_number": by("Bestellnr."), "supplier": by("Händler"),
            "quantity": by("Mg."), "hours": by("Arb.-Std."), "cost": by("Einkauf netto"),
            "price": by("Verrechnet netto"), "cause": by("Diagnose"), "correction": by("Behebung"),
            "technician": by("Mech.-Kürzel"),
        }, ("Satz", tuple(_KINDS.values())), lambda row: row.line is not None),
    }  # fmt: skip
    stated = {"dates": ("%d.%m.%Y %H:%M",), "decimal": ",", "thousands": "."}
    part = Part("kfz_winkel", _columns(), tables, stated)
    heads = [
        Spoil("Übernommen", "31.09.2022 08:15", (("repair_order", "impossible date"),), order=3),
        Spoil("km-Stand Übernahme", "defekt", (("repair_order", "not a number"),), order=6),
        Spoil("Auftr.-Nr.", "", (("repair_order", "missing required"),), order=9),
    ]
    entries = [
        Spoil("Durchführung", "besprochen", (("repair_line", "unknown value"),), order=4, line=1),
        Spoil("Verrechnet netto", "Kulanz", (("repair_line", "not a number"),), order=8, line=1),
    ]
    for each in shop.orders:
        part.add(Row(each.vehicle, each), heads)
        for item in each.lines:
            part.add(Row(each.vehicle, each, item, False), entries)
        if each.index == 7:
            part.odd("unreadable line", text="ERSATZTEIL;A9999/23;1;abgerissen")
    preamble = ("KFZ-Werkstätte am Beispielwinkel", "Auftragsjournal, erstellt 07.01.2025", "")
    content = delimited(part, ";", "cp1252", "\r\n", preamble)
    part.place["file"] = "journal.csv"
    return Made("German (Austria), record types that say the kind", {"journal.csv": content}, [part])
