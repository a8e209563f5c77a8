"""Portuguese: semicolon, Windows-1252, a sum and a blank line after every order, currency behind."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import make_shop
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from writing import delimited

_KINDS = {"part": "Peça", "labor": "Mão de obra", "sublet": "Serviço externo", "fee": "Taxa"}
_ACTIONS = {"replaced": "Substituído", "repaired": "Reparado", "inspected": "Verificado", "adjusted": "Afinado"}
_STATUS = {"closed": "Fechada", "open": "Aberta", "void": "Anulada"}


def _euro(cents: int) -> str:
    return amount(cents, ",", ".", "{} EUR")


def make() -> Made:
    """The shape."""
    shop = make_shop(203, language="pt", n_orders=14, units=("km",), order_form="F{}", lines=(2, 4))
    columns = [
        Col("Folha de obra", order(lambda o: o.order_id)),
        Col("Data de abertura", order(lambda o: f"{o.opened_on:%d/%m/%Y}")),
        Col("Data de fecho", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("Estado", order(lambda o: _STATUS[o.status])),
        Col("Nome do cliente", vehicle(lambda v: v.customer), personal=True),
        Col("Telemóvel", vehicle(lambda v: v.phone), personal=True),
        Col("Morada", vehicle(lambda v: v.address), personal=True),
        Col("Matrícula", vehicle(lambda v: v.plate), personal=True),
        Col("N.º viatura", vehicle(lambda v: v.vehicle_id)),
        Col("Quilómetros", order(lambda o: grouped(str(o.odometer_in), "."))),
        Col("Queixa", order(lambda o: o.concern)),
        Col("Tipo de linha", line(lambda x: _KINDS[x.kind])),
        Col("Trabalho", line(lambda x: _ACTIONS[x.action])),
        Col("Designação", line(lambda x: x.description)),
        Col("Lado", line(lambda x: x.position)),
        Col("Referência", line(lambda x: x.part_number)),
        Col("Fornecedor", line(lambda x: x.supplier)),
        Col("Qtd.", line(lambda x: number(x.quantity, ","))),
        Col("Horas", line(lambda x: number(x.hours, ","))),
        Col("Preço de custo", line(lambda x: _euro(x.cost))),
        Col("Preço de venda", line(lambda x: _euro(x.price))),
        Col("Valor do IVA", line(lambda x: _euro(x.price * 23 // 100))),
        Col("Mecânico", line(lambda x: x.technician)),
        Col("Recepcionista", order(lambda o: o.advisor)),
    ]
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Folha de obra"), "vehicle_id": by("N.º viatura"),
            "opened_on": by("Data de abertura"), "closed_on": by("Data de fecho"),
            "odometer_in": by("Quilómetros"), "odometer_unit": always("km"),
            "status": by("Estado", values=theirs(_STATUS)), "concern": by("Queixa"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Folha de obra"), "line_no": counted_within("Folha de obra"),
            "kind": by("Tipo de linha", values=theirs(_KINDS)), "action": by("Trabalho", values=theirs(_ACTIONS)),
            "description": by("Designação"), "position": by("Lado"), "part_number": by("Referência"),
            "supplier": by("Fornecedor"), "quantity": by("Qtd."), "hours": by("Horas"), "cost": by("Preço de custo"),
            "price": by("Preço de venda"), "technician": by("Mecânico"),
        }),
    }  # fmt: skip
    part = Part("oficina", columns, tables, {"dates": ("%d/%m/%Y",), "decimal": ",", "thousands": "."})
    spoils = [
        Spoil("Data de abertura", "30/02/2023", (("repair_order", "impossible date"),), order=6),
        Spoil("Quilómetros", "9X.420", (("repair_order", "not a number"),), order=4),
        Spoil("Estado", "Talvez", (("repair_order", "unknown value"),), order=8),
        Spoil("Tipo de linha", "?", (("repair_line", "unknown value"),), order=10, line=1),
        Spoil("Qtd.", "par", (("repair_line", "not a number"),), order=1, line=1),
    ]
    for each in shop.orders:
        for row in shop.line_rows():
            if row.order is each:
                part.add(row, spoils)
        part.sparse(
            "total line", c1="Total da folha", c20=_euro(sum(x.cost for x in each.lines)), c21=_euro(each.total)
        )
        part.odd("blank line", text="")
    content = delimited(part, ";", "cp1252", "\r\n")
    part.place["file"] = "folhas.csv"
    return Made("Portuguese, a sum and a blank line after each order", {"folhas.csv": content}, [part])
