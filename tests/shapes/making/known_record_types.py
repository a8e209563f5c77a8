"""English, abbreviated: heads and lines of orders in one file, by record type; bars, parentheses below zero."""

from __future__ import annotations

from cells import Made, amount, line, order, theirs
from drawing import credited, make_shop
from part import Col, Part, Spoil, TableFill, by
from records import Row
from writing import delimited

_KINDS = {"part": "PRT", "labor": "LBR", "sublet": "SUB", "fee": "MSC"}
_ACTIONS = {"replaced": "R&R", "repaired": "RPR", "inspected": "INSP", "adjusted": "ADJ"}
_CODES = {
    "water_pump": "WP", "alternator": "ALT", "brake_pads": "PADS", "wheel_bearing": "WHL BRG",
    "ignition_coil": "COIL", "exhaust_valve": "EXH VLV", "thermostat": "TSTAT", "engine_oil": "LOF",
}  # fmt: skip


def _paren(cents: int) -> str:
    return amount(cents, below_zero="({})")


def make() -> Made:
    """The shape."""
    shop = credited(make_shop(105, n_orders=14, n_vehicles=9, order_form="WO{}"), 3, 10)
    columns = [
        Col("REC", lambda row: "L" if row.line else "H"),
        Col("WO_NO", order(lambda o: o.order_id)),
        Col("LN_NO", line(lambda x: x.line_no)),
        Col("DT_OPN", lambda row: "" if row.line else row.order.opened_on.isoformat()),
        Col("DT_CLS", lambda row: "" if row.line else row.order.closed_on.isoformat()),
        Col("VEH_ID", lambda row: "" if row.line else row.vehicle.vehicle_id),
        Col("ODO", lambda row: "" if row.line else row.order.odometer_in),
        Col("ODO_UM", lambda row: "" if row.line else "MI"),
        Col("STS", lambda row: "" if row.line else "C"),
        Col("CMPLNT", lambda row: "" if row.line else row.order.concern),
        Col("ADV", lambda row: "" if row.line else row.order.advisor),
        Col("LN_TYP", line(lambda x: _KINDS[x.kind])),
        Col("CMP_CD", line(lambda x: _CODES[x.component_code])),
        Col("POSN", line(lambda x: x.position)),
        Col("OPER", line(lambda x: _ACTIONS[x.action])),
        Col("DESCR", line(lambda x: x.description)),
        Col("PRT_NO", line(lambda x: x.part_number)),
        Col("QTY", line(lambda x: x.quantity)),
        Col("HRS", line(lambda x: x.hours)),
        Col("CST_AMT", line(lambda x: _paren(x.cost))),
        Col("SLL_AMT", line(lambda x: _paren(x.price))),
        Col("TECH_ID", line(lambda x: x.technician)),
        Col("CUST_PH", lambda row: "" if row.line else row.vehicle.phone, personal=True),
    ]

    def is_line(row: Row) -> bool:
        return row.line is not None

    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("WO_NO"), "vehicle_id": by("VEH_ID"), "opened_on": by("DT_OPN"),
            "closed_on": by("DT_CLS"), "odometer_in": by("ODO"),
            "odometer_unit": by("ODO_UM", values=(("MI", "mi"),)),
            "status": by("STS", values=(("C", "closed"), ("O", "open"), ("V", "void"))), "concern": by("CMPLNT"),
        }, ("REC", ("H",)), lambda row: not is_line(row)),
        "repair_line": TableFill({
            "repair_order_id": by("WO_NO"), "line_no": by("LN_NO"), "kind": by("LN_TYP", values=theirs(_KINDS)),
            "component_code": by("CMP_CD", values=theirs(_CODES)), "position": by("POSN"),
            "action": by("OPER", values=theirs(_ACTIONS)), "description": by("DESCR"), "part_number": by("PRT_NO"),
            "quantity": by("QTY"), "hours": by("HRS"), "cost": by("CST_AMT"), "price": by("SLL_AMT"),
            "technician": by("TECH_ID"),
        }, ("REC", ("L",)), is_line),
    }  # fmt: skip
    part = Part("record_types", columns, tables, {"dates": ("%Y-%m-%d",)})
    spoils = [
        Spoil("OPER", "??", (("repair_line", "unknown value"),), order=5, line=1),
        Spoil("LN_TYP", "XXX", (("repair_line", "unknown value"),), order=8, line=1),
    ]
    head_spoils = [
        Spoil("DT_OPN", "2022-13-05", (("repair_order", "impossible date"),), order=2),
        Spoil("VEH_ID", "", (("repair_order", "missing required"),), order=6),
        Spoil("ODO", "1_2_", (("repair_order", "not a number"),), order=12),
    ]
    for each in shop.orders:
        part.add(Row(each.vehicle, each), head_spoils)
        for item in each.lines:
            part.add(Row(each.vehicle, each, item, False), spoils)
        if each.index in (4, 9):
            part.odd("unreadable line", text="L|WO9999|7|cut short")
    part.place["file"] = "wo_export.txt"
    return Made("English, abbreviated, record types H and L", {"wo_export.txt": delimited(part, "|")}, [part])
