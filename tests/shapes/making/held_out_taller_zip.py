"""Spanish: a zip of three files, months by their short names, yes and no, quoted line ends, decimal commas."""

from __future__ import annotations

from datetime import date

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, always, by
from writing import delimited, zipped

_MONTHS = ("ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic")
_KINDS = {"part": "Recambio", "labor": "Mano de obra", "sublet": "Trabajo externo", "fee": "Suplido"}
_ACTIONS = {"replaced": "cambiado", "repaired": "reparado", "inspected": "revisado", "adjusted": "ajustado"}
_REASONS = {
    "failed": "averiado",
    "worn": "desgastado",
    "found_at_inspection": "visto al revisar",
    "preventive": "preventivo",
}


def _day(day: date) -> str:
    return f"{day.day:02d}-{_MONTHS[day.month - 1]}-{day.year}"


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "{}€", "{}-")


def _void(index: int) -> bool:
    return index == 9


def make() -> Made:
    """The shape."""
    shop = credited(
        make_shop(210, language="es", n_orders=27, n_vehicles=25, units=("km",), order_form="T{}", lines=(1, 2)), 5
    )
    numbers = {"dates": ("%d-%b-%Y",), "decimal": ",", "thousands": "."}
    orders = Part("taller_ordenes", [
        Col("Nº de orden", order(lambda o: o.order_id)),
        Col("Coche", vehicle(lambda v: v.vehicle_id)),
        Col("Fecha de entrada", order(lambda o: _day(o.opened_on))),
        Col("Fecha prevista", order(lambda o: _day(o.closed_on))),
        Col("Fecha de salida", order(lambda o: _day(o.closed_on))),
        Col("Fecha de cobro", order(lambda o: _day(o.closed_on))),
        Col("Km entrada", order(lambda o: grouped(str(o.odometer_in), "."))),
        Col("Km salida", order(lambda o: grouped(str(o.odometer_out), "."))),
        Col("Avería declarada", order(lambda o: f"{o.concern}\ndesde hace una semana")),
        Col("¿Anulada?", order(lambda o: "S" if _void(o.index) else "N")),
        Col("Importe total", order(lambda o: _euro(o.total))),
        Col("IVA", order(lambda o: _euro(o.total * 21 // 100))),
        Col("Cliente", vehicle(lambda v: v.customer), personal=True),
        Col("Móvil", vehicle(lambda v: v.phone), personal=True),
        Col("Domicilio", vehicle(lambda v: v.address), personal=True),
        Col("Recepción", order(lambda o: o.advisor)),
    ], {"repair_order": TableFill({
        "repair_order_id": by("Nº de orden"), "vehicle_id": by("Coche"), "opened_on": by("Fecha de entrada"),
        "closed_on": by("Fecha de salida"), "odometer_in": by("Km entrada"), "odometer_out": by("Km salida"),
        "odometer_unit": always("km"),
        "concern": by("Avería declarada", says=lambda row: f"{row.order.concern}\ndesde hace una semana"),
        "status": by("¿Anulada?", values=(("S", "void"), ("N", "")),
                     says=lambda row: "void" if _void(row.order.index) else None),
        "total": by("Importe total"),
    })}, numbers)  # fmt: skip
    lines = Part("taller_lineas", [
        Col("Nº de orden", order(lambda o: o.order_id)),
        Col("Línea", line(lambda x: x.line_no)),
        Col("Concepto", line(lambda x: _KINDS[x.kind])),
        Col("Trabajo hecho", line(lambda x: _ACTIONS[x.action])),
        Col("Motivo", line(lambda x: _REASONS[x.reason])),
        Col("Descripción", line(lambda x: x.description)),
        Col("Lado", line(lambda x: x.position)),
        Col("Ref. recambio", line(lambda x: x.part_number)),
        Col("Proveedor", line(lambda x: x.supplier)),
        Col("Cantidad", line(lambda x: number(x.quantity, ","))),
        Col("Horas", line(lambda x: number(x.hours, ","))),
        Col("Coste", line(lambda x: _euro(x.cost))),
        Col("Precio venta", line(lambda x: _euro(x.price))),
        Col("Causa hallada", line(lambda x: x.cause)),
        Col("Solución", line(lambda x: x.correction)),
        Col("Operario", line(lambda x: x.technician)),
    ], {"repair_line": TableFill({
        "repair_order_id": by("Nº de orden"), "line_no": by("Línea"), "kind": by("Concepto", values=theirs(_KINDS)),
        "action": by("Trabajo hecho", values=theirs(_ACTIONS)), "reason": by("Motivo", values=theirs(_REASONS)),
        "description": by("Descripción"), "position": by("Lado"), "part_number": by("Ref. recambio"),
        "supplier": by("Proveedor"), "quantity": by("Cantidad"), "hours": by("Horas"), "cost": by("Coste"),
        "price": by("Precio venta"), "cause": by("Causa hallada"), "correction": by("Solución"),
        "technician": by("Operario"),
    })}, numbers)  # fmt: skip
    cars = Part("taller_coches", [
        Col("Coche", vehicle(lambda v: v.vehicle_id)),
        Col("Nº bastidor", vehicle(lambda v: v.vin)),
        Col("Matrícula", vehicle(lambda v: v.plate), personal=True),
        Col("Fabricante", vehicle(lambda v: v.make)),
        Col("Modelo", vehicle(lambda v: v.model)),
        Col("Familia de motor", vehicle(lambda v: v.family_code)),
        Col("Año modelo", vehicle(lambda v: v.model_year)),
        Col("Primera matriculación", vehicle(lambda v: _day(v.in_service_on))),
        Col("Titular", vehicle(lambda v: v.customer), personal=True),
        Col("Combustible", vehicle(lambda v: "diésel" if "D" in v.engine else "gasolina")),
    ], {"vehicle": TableFill({
        "vehicle_id": by("Coche"), "vin": by("Nº bastidor"), "make": by("Fabricante"), "model": by("Modelo"),
        "engine_family": by("Familia de motor", says=lambda row: row.vehicle.family_code),
        "model_year": by("Año modelo"), "in_service_on": by("Primera matriculación"),
    })}, numbers)  # fmt: skip
    for row in shop.order_rows():
        orders.add(row, [
            Spoil("Fecha de entrada", "31-sep-2022", (("repair_order", "impossible date"),), order=6),
            Spoil("Km entrada", "no se ve", (("repair_order", "not a number"),), order=12),
            Spoil("Coche", "", (("repair_order", "missing required"),), order=15),
        ])  # fmt: skip
    for row in shop.line_rows():
        lines.add(row, [
            Spoil("Trabajo hecho", "hablado", (("repair_line", "unknown value"),), order=3, line=1),
            Spoil("Concepto", "", (("repair_line", "missing required"),), order=18, line=1),
        ])  # fmt: skip
    for index, row in enumerate(shop.vehicle_rows()):
        cars.add(
            row, [Spoil("Primera matriculación", "40-abr-2011", (("vehicle", "impossible date"),), vehicle=9)], index
        )
    lines.odd("unreadable line", text="T9999;1;Recambio;cambiado")
    parts = {"datos/ordenes.csv": orders, "datos/lineas.csv": lines, "datos/coches.csv": cars}
    packed = zipped({name: delimited(part, ";", "utf-8-sig", "\r\n") for name, part in parts.items()})
    for name, part in parts.items():
        part.place |= {"file": "taller.zip", "member": name}
    return Made("Spanish, zip of three files, month names", {"taller.zip": packed}, list(parts.values()))
