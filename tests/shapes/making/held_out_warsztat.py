"""Polish: a workbook of orders, lines and customers; days and money as text; the customers are nobody's business."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import workbook

_KINDS = {"part": "część", "labor": "robocizna", "sublet": "usługa obca", "fee": "opłata"}
_ACTIONS = {"replaced": "wymiana", "repaired": "naprawa", "inspected": "kontrola", "adjusted": "regulacja"}
_REASONS = {
    "failed": "awaria",
    "worn": "zużycie",
    "found_at_inspection": "wykryto przy kontroli",
    "preventive": "profilaktyka",
}
_STATUS = {"closed": "zamknięte", "open": "otwarte", "void": "anulowane"}


def _zloty(cents: int) -> str:
    return amount(cents, ",", " ", "{} zł")


def make() -> Made:
    """The shape."""
    shop = make_shop(205, language="pl", n_orders=26, n_vehicles=25, units=("km",), order_form="Z/{}", lines=(1, 3))
    numbers = {"dates": ("%d.%m.%Y",), "decimal": ",", "thousands": " "}
    orders = Part("warsztat_zlecenia", [
        Col("Nr zlecenia", order(lambda o: o.order_id)),
        Col("Oddział", order(lambda o: o.location)),
        Col("Nr pojazdu", vehicle(lambda v: v.vehicle_id)),
        Col("Klient", vehicle(lambda v: v.customer), personal=True),
        Col("Nr rejestracyjny", vehicle(lambda v: v.plate), personal=True),
        Col("Data przyjęcia", order(lambda o: f"{o.opened_on:%d.%m.%Y}")),
        Col("Data obiecana", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Data wydania", order(lambda o: f"{o.closed_on:%d.%m.%Y}")),
        Col("Przebieg przy przyjęciu [km]", order(lambda o: grouped(str(o.odometer_in), " "))),
        Col("Przebieg przy wydaniu [km]", order(lambda o: grouped(str(o.odometer_out), " "))),
        Col("Stan zlecenia", order(lambda o: _STATUS[o.status])),
        Col("Objawy wg klienta", order(lambda o: o.concern)),
        Col("Razem", order(lambda o: _zloty(o.total))),
        Col("VAT", order(lambda o: _zloty(o.total * 23 // 100))),
        Col("Nr faktury", order(lambda o: o.invoice)),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Nr zlecenia"), "location": by("Oddział"), "vehicle_id": by("Nr pojazdu"),
        "opened_on": by("Data przyjęcia"), "closed_on": by("Data wydania"),
        "odometer_in": by("Przebieg przy przyjęciu [km]"), "odometer_out": by("Przebieg przy wydaniu [km]"),
        "odometer_unit": always("km"), "status": by("Stan zlecenia", values=theirs(_STATUS)),
        "concern": by("Objawy wg klienta"), "total": by("Razem"),
    })}, numbers)  # fmt: skip
    lines = Part("warsztat_pozycje", [
        Col("Nr zlecenia", order(lambda o: o.order_id)),
        Col("Lp.", line(lambda x: x.line_no)),
        Col("Rodzaj", line(lambda x: _KINDS[x.kind])),
        Col("Czynność", line(lambda x: _ACTIONS[x.action])),
        Col("Powód", line(lambda x: _REASONS[x.reason])),
        Col("Nazwa", line(lambda x: x.description)),
        Col("Strona", line(lambda x: x.position)),
        Col("Nr części", line(lambda x: x.part_number)),
        Col("Dostawca", line(lambda x: x.supplier)),
        Col("Ilość", line(lambda x: number(x.quantity, ","))),
        Col("Roboczogodziny", line(lambda x: number(x.hours, ","))),
        Col("Koszt", line(lambda x: _zloty(x.cost))),
        Col("Cena dla klienta", line(lambda x: _zloty(x.price))),
        Col("Przyczyna", line(lambda x: x.cause)),
        Col("Wykonane prace", line(lambda x: x.correction)),
        Col("Mechanik", line(lambda x: x.technician)),
        Col("Stanowisko", order(lambda o: o.bay)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Nr zlecenia"), "line_no": by("Lp."), "kind": by("Rodzaj", values=theirs(_KINDS)),
        "action": by("Czynność", values=theirs(_ACTIONS)), "reason": by("Powód", values=theirs(_REASONS)),
        "description": by("Nazwa"), "position": by("Strona"), "part_number": by("Nr części"),
        "supplier": by("Dostawca"), "quantity": by("Ilość"), "hours": by("Roboczogodziny"), "cost": by("Koszt"),
        "price": by("Cena dla klienta"), "cause": by("Przyczyna"), "correction": by("Wykonane prace"),
        "technician": by("Mechanik"),
    })}, numbers)  # fmt: skip
    customers = Part("warsztat_klienci", [
        Col("Imię i nazwisko", vehicle(lambda v: v.customer), personal=True),
        Col("Telefon", vehicle(lambda v: v.phone), personal=True),
        Col("Adres e-mail", vehicle(lambda v: v.email), personal=True),
        Col("Ulica", vehicle(lambda v: v.address), personal=True),
        Col("Zgoda na reklamę", vehicle(lambda v: "tak" if v.model_year % 2 else "nie")),
    ], {})  # fmt: skip
    for row in shop.order_rows():
        orders.add(row, [
            Spoil("Data przyjęcia", "32.01.2023", (("repair_order", "impossible date"),), order=5),
            Spoil("Przebieg przy przyjęciu [km]", "nie podano", (("repair_order", "not a number"),), order=9),
            Spoil("Nr zlecenia", "", (("repair_order", "missing required"),), order=17),
            Spoil("Data wydania", "01.02.2021", (("repair_order", "closed before opened"),), order=22),
        ])  # fmt: skip
    for row in shop.line_rows():
        lines.add(row, [
            Spoil("Czynność", "rozmowa", (("repair_line", "unknown value"),), order=3, line=1),
            Spoil("Cena dla klienta", "do ustalenia", (("repair_line", "not a number"),), order=12, line=1),
        ])  # fmt: skip
    lines.sparse("total line", c1="Razem", c12="99 999,99 zł", c13="150 000,00 zł")
    for row in shop.vehicle_rows():
        customers.add(row)
    sheets = {"Zlecenia": orders, "Pozycje": lines, "Klienci": customers}
    content = workbook(sheets)
    for part in sheets.values():
        part.place["file"] = "warsztat.xlsx"
    return Made("Polish, workbook of orders, lines and customers", {"warsztat.xlsx": content}, list(sheets.values()))
