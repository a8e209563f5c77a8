"""Spanish of Mexico: order and line in one row, commas, UTF-8, day first, pesos in front with decimal points."""

from __future__ import annotations

from cells import Made, amount, grouped, line, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "REFACCIÓN", "labor": "MANO DE OBRA", "sublet": "TRABAJO EXTERNO", "fee": "CARGO VARIO"}
_ACTIONS = {"replaced": "CAMBIO", "repaired": "REPARACIÓN", "inspected": "REVISIÓN", "adjusted": "AJUSTE"}
_ORIGINS = {"new": "NUEVA", "remanufactured": "RECONSTRUIDA", "used": "USADA"}


def _pesos(cents: int) -> str:
    return amount(cents, thousands=",", form="${}")


def _columns() -> list[Col]:
    return [
        Col("FOLIO", order(lambda o: o.order_id)),
        Col("PARTIDA", line(lambda x: x.line_no)),
        Col("SUCURSAL", order(lambda o: o.location)),
        Col("FECHA RECEPCIÓN", order(lambda o: f"{o.opened_on:%d/%m/%Y}")),
        Col("FECHA PROMESA", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("FECHA ENTREGA", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("CLIENTE", vehicle(lambda v: v.customer), personal=True),
        Col("CELULAR", vehicle(lambda v: v.phone), personal=True),
        Col("PLACAS", vehicle(lambda v: v.plate), personal=True),
        Col("NO. ECONÓMICO", vehicle(lambda v: v.vehicle_id)),
        Col("NO. DE SERIE", vehicle(lambda v: v.vin)),
        Col("MARCA", vehicle(lambda v: v.make)),
        Col("SUBMARCA", vehicle(lambda v: v.model)),
        Col("MOTOR", vehicle(lambda v: v.engine)),
        Col("AÑO MODELO", vehicle(lambda v: v.model_year)),
        Col("KM ACTUAL", order(lambda o: grouped(str(o.odometer_in), ","))),
        Col("FALLA QUE REPORTA", order(lambda o: o.concern)),
        Col("TIPO", line(lambda x: _KINDS[x.kind])),
        Col("OPERACIÓN", line(lambda x: _ACTIONS[x.action])),
        Col("CONCEPTO", line(lambda x: x.description)),
        Col("UBICACIÓN", line(lambda x: x.position)),
        Col("NO. DE PARTE", line(lambda x: x.part_number)),
        Col("NUEVA/USADA", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("REFACCIONARIA", line(lambda x: x.supplier)),
        Col("CANT.", line(lambda x: x.quantity)),
        Col("HRS. TALLER", line(lambda x: x.hours)),
        Col("COSTO", line(lambda x: _pesos(x.cost))),
        Col("IMPORTE", line(lambda x: _pesos(x.price))),
        Col("I.V.A.", line(lambda x: _pesos(x.price * 16 // 100))),
        Col("DIAGNÓSTICO", line(lambda x: x.cause)),
        Col("TRABAJO REALIZADO", line(lambda x: x.correction)),
        Col("MECÁNICO", line(lambda x: x.technician)),
        Col("ASESOR", order(lambda o: o.advisor)),
        Col("FORMA DE PAGO", order(lambda o: ("EFECTIVO", "TARJETA")[o.index % 2])),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        307, language="es_mx", n_orders=15, n_vehicles=8, lines=(1, 4), units=("km",), order_form="{}",
        vehicle_form="ECO-{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("REFACC. EJEMPLO", "DESHUESADERO 2"), ("M01", "M02", "M05"), ("CENTRO", "NORTE"))
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("NO. ECONÓMICO"), "vin": by("NO. DE SERIE"), "make": by("MARCA"), "model": by("SUBMARCA"),
            "engine_family": by("MARCA", "SUBMARCA", "MOTOR"), "model_year": by("AÑO MODELO"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("FOLIO"), "location": by("SUCURSAL"), "vehicle_id": by("NO. ECONÓMICO"),
            "opened_on": by("FECHA RECEPCIÓN"), "closed_on": by("FECHA ENTREGA"), "odometer_in": by("KM ACTUAL"),
            "odometer_unit": always("km"), "concern": by("FALLA QUE REPORTA"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("FOLIO"), "line_no": by("PARTIDA"), "kind": by("TIPO", values=theirs(_KINDS)),
            "action": by("OPERACIÓN", values=theirs(_ACTIONS)), "description": by("CONCEPTO"),
            "position": by("UBICACIÓN"), "part_number": by("NO. DE PARTE"),
            "part_origin": by("NUEVA/USADA", values=theirs(_ORIGINS)), "supplier": by("REFACCIONARIA"),
            "quantity": by("CANT."), "hours": by("HRS. TALLER"), "cost": by("COSTO"), "price": by("IMPORTE"),
            "cause": by("DIAGNÓSTICO"), "correction": by("TRABAJO REALIZADO"), "technician": by("MECÁNICO"),
        }),
    }  # fmt: skip
    part = Part("taller_norte", _columns(), tables, {"dates": ("%d/%m/%Y",), "thousands": ","})
    spoils = [
        Spoil("FECHA RECEPCIÓN", "31/04/2022", (("repair_order", "impossible date"),), order=2),
        Spoil("KM ACTUAL", "TABLERO APAGADO", (("repair_order", "not a number"),), order=7),
        Spoil("OPERACIÓN", "PLÁTICA", (("repair_line", "unknown value"),), order=5, line=1),
        Spoil("TIPO", "", (("repair_line", "missing required"),), order=9, line=1),
        Spoil("IMPORTE", "CORTESÍA", (("repair_line", "not a number"),), order=12, line=1),
        Spoil("FECHA ENTREGA", "01/01/2020", (("repair_order", "closed before opened"),), order=14),
    ]
    for count, row in enumerate(shop.line_rows(), 1):
        part.add(row, spoils)
        if count % 20 == 0:
            part.odd("repeated header")
    part.sparse("total line", c1="Total", c27="$98,765.43", c28="$148,148.15")
    part.place["file"] = "ordenes.csv"
    return Made("Spanish (Mexico), one file, pesos", {"ordenes.csv": delimited(part)}, [part])
