"""Portuguese of Brazil: JSON lines, one entry of a service order each, numbers as text with decimal commas."""

from __future__ import annotations

from cells import Made, amount, grouped, line, number, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by
from records import Row
from texts_fresh import FRESH_MAKES
from writing import json_lines

_KINDS = {"part": "Peças", "labor": "Serviço", "sublet": "Terceiros", "fee": "Taxas"}
_ACTIONS = {"replaced": "Troca", "repaired": "Conserto", "inspected": "Verificação", "adjusted": "Regulagem"}
_REASONS = {
    "failed": "Quebra",
    "worn": "Desgaste",
    "found_at_inspection": "Achado na revisão",
    "preventive": "Prevenção",
}
_STATUS = {"closed": "Finalizada", "open": "Aberta", "void": "Cancelada"}


def _reais(cents: int) -> str:
    return amount(cents, ",", ".")


def _each(row: Row) -> str:
    return _reais(round(row.line.price / float(row.line.quantity))) if row.line else ""


def _columns() -> list[Col]:
    return [
        Col("nº da OS", order(lambda o: o.order_id)),
        Col("item", line(lambda x: x.line_no)),
        Col("filial", order(lambda o: o.location)),
        Col("data de entrada", order(lambda o: f"{o.opened_on:%d/%m/%Y}")),
        Col("previsão de entrega", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("data de entrega", order(lambda o: f"{o.closed_on:%d/%m/%Y}")),
        Col("situação da OS", order(lambda o: "Cancelada" if o.index == 6 else "Finalizada")),
        Col("nome do cliente", vehicle(lambda v: v.customer), personal=True),
        Col("whatsapp", vehicle(lambda v: v.phone), personal=True),
        Col("e-mail", vehicle(lambda v: v.email), personal=True),
        Col("placa", vehicle(lambda v: v.plate), personal=True),
        Col("cód. do veículo", vehicle(lambda v: v.vehicle_id)),
        Col("chassi", vehicle(lambda v: v.vin)),
        Col("montadora", vehicle(lambda v: v.make)),
        Col("modelo", vehicle(lambda v: v.model)),
        Col("motorização", vehicle(lambda v: v.engine)),
        Col("ano/modelo", vehicle(lambda v: v.model_year)),
        Col("quilometragem", order(lambda o: grouped(str(o.odometer_in), "."))),
        Col("reclamação", order(lambda o: o.concern)),
        Col("peças ou serviço", line(lambda x: _KINDS[x.kind])),
        Col("o que foi feito", line(lambda x: _ACTIONS[x.action])),
        Col("motivo da troca", line(lambda x: _REASONS[x.reason])),
        Col("descrição", line(lambda x: x.description)),
        Col("lado/posição", line(lambda x: x.position)),
        Col("cód. da peça", line(lambda x: x.part_number)),
        Col("autopeças", line(lambda x: x.supplier)),
        Col("quantidade", line(lambda x: number(x.quantity, ","))),
        Col("horas trabalhadas", line(lambda x: number(x.hours, ","))),
        Col("valor unitário", _each),
        Col("custo total", line(lambda x: _reais(x.cost))),
        Col("valor total", line(lambda x: _reais(x.price))),
        Col("defeito constatado", line(lambda x: x.cause)),
        Col("serviço executado", line(lambda x: x.correction)),
        Col("mecânico", line(lambda x: x.technician)),
        Col("forma de pagamento", order(lambda o: ("pix", "cartão", "dinheiro")[o.index % 3])),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        309, language="pt_br", n_orders=15, n_vehicles=9, lines=(1, 4), units=("km",), order_form="OS-{}",
        vehicle_form="{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("Autopeças Exemplo", "Desmanche Modelo"), ("Zé", "Tonho", "Beto"), ("Matriz", "Serra"))
    tables = {
        "vehicle": TableFill({
            "vehicle_id": by("cód. do veículo"), "vin": by("chassi"), "make": by("montadora"), "model": by("modelo"),
            "engine_family": by("montadora", "modelo", "motorização"), "model_year": by("ano/modelo"),
        }),
        "repair_order": TableFill({
            "repair_order_id": by("nº da OS"), "location": by("filial"), "vehicle_id": by("cód. do veículo"),
            "opened_on": by("data de entrada"), "closed_on": by("data de entrega"),
            "odometer_in": by("quilometragem"), "odometer_unit": always("km"), "concern": by("reclamação"),
            "status": by("situação da OS", values=theirs(_STATUS),
                         says=lambda row: "void" if row.order.index == 6 else "closed"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("nº da OS"), "line_no": by("item"),
            "kind": by("peças ou serviço", values=theirs(_KINDS)),
            "action": by("o que foi feito", values=theirs(_ACTIONS)),
            "reason": by("motivo da troca", values=theirs(_REASONS)), "description": by("descrição"),
            "position": by("lado/posição"), "part_number": by("cód. da peça"), "supplier": by("autopeças"),
            "quantity": by("quantidade"), "hours": by("horas trabalhadas"), "cost": by("custo total"),
            "price": by("valor total"), "cause": by("defeito constatado"), "correction": by("serviço executado"),
            "technician": by("mecânico"),
        }),
    }  # fmt: skip
    stated = {"dates": ("%d/%m/%Y",), "decimal": ",", "thousands": "."}
    part = Part("oficina_serra", _columns(), tables, stated)
    spoils = [
        Spoil("data de entrada", "31/06/2022", (("repair_order", "impossible date"),), order=3),
        Spoil("quilometragem", "painel queimado", (("repair_order", "not a number"),), order=8),
        Spoil("o que foi feito", "Conversa", (("repair_line", "unknown value"),), order=5, line=1),
        Spoil("item", "", (("repair_line", "missing required"),), order=10, line=1),
        Spoil("valor total", "cortesia", (("repair_line", "not a number"),), order=13, line=1),
    ]
    for count, row in enumerate(shop.line_rows()):
        part.add(row, spoils)
        if count == 14:
            part.odd("unreadable line", text='{"nº da OS": "OS-9999", "item": 1, "filial": ')
    part.place["file"] = "ordens de servico.jsonl"
    return Made("Portuguese (Brazil), JSON lines", {"ordens de servico.jsonl": json_lines(part)}, [part])
