"""Swedish: one sheet, order on its first row only, lines above the header, which comes again, day numbers."""

from __future__ import annotations

from cells import Made, excel_day, line, once, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from texts_fresh import FRESH_MAKES
from writing import workbook

_KINDS = {"part": "Material", "labor": "Arbetstid", "sublet": "Legojobb", "fee": "Miljöavgift"}
_ACTIONS = {"replaced": "Byte", "repaired": "Reparation", "inspected": "Kontroll", "adjusted": "Justering"}
_REASONS = {
    "failed": "Haveri",
    "worn": "Slitage",
    "found_at_inspection": "Upptäckt vid kontroll",
    "preventive": "I förebyggande syfte",
}
_ORIGINS = {"new": "Ny", "remanufactured": "Utbytesdel", "used": "Begagnad"}


def _columns() -> list[Col]:
    return [
        Col("Arbetsorder", once(order(lambda o: o.order_id))),
        Col("In", once(order(lambda o: excel_day(o.opened_on)))),
        Col("Lovad till", once(order(lambda o: excel_day(o.closed_on)))),
        Col("Hämtad", once(order(lambda o: excel_day(o.closed_on)))),
        Col("Kundens namn", once(vehicle(lambda v: v.customer)), personal=True),
        Col("Telefon dagtid", once(vehicle(lambda v: v.phone)), personal=True),
        Col("Registreringsnummer", once(vehicle(lambda v: v.plate)), personal=True),
        Col("Vår bilkod", once(vehicle(lambda v: v.vehicle_id))),
        Col("Chassinr (VIN)", once(vehicle(lambda v: v.vin)), or_fills=("vehicle.vin",)),
        Col("Km vid ankomst", once(order(lambda o: o.odometer_in))),
        Col("Km vid avfärd", once(order(lambda o: o.odometer_out))),
        Col("Kunden klagar på", once(order(lambda o: o.concern))),
        Col("Material/tid", line(lambda x: _KINDS[x.kind])),
        Col("Utfört", line(lambda x: _ACTIONS[x.action])),
        Col("Anledning", line(lambda x: _REASONS[x.reason])),
        Col("Del eller arbete", line(lambda x: x.description)),
        Col("Var på bilen", line(lambda x: x.position)),
        Col("Detaljnummer", line(lambda x: x.part_number)),
        Col("Ny/utbytes/begagnad", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Inköpt hos", line(lambda x: x.supplier)),
        Col("St", line(lambda x: float(x.quantity))),
        Col("Tim", line(lambda x: float(x.hours) if x.hours else "")),
        Col("Vår kostnad", line(lambda x: x.cost / 100)),
        Col("Debiterat kund", line(lambda x: x.price / 100)),
        Col("Moms 25 %", line(lambda x: x.price // 4 / 100)),
        Col("Felorsak", line(lambda x: x.cause)),
        Col("Så löstes det", line(lambda x: x.correction)),
        Col("Montör", line(lambda x: x.technician)),
        Col("Lyft", once(order(lambda o: int(o.bay)))),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        311, language="sv_se", n_orders=14, n_vehicles=9, lines=(2, 4), units=("km",), order_form="AO{}",
        vehicle_form="K{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("Delbutiken", "Bilskroten"), ("PE", "AL", "ÖS"))
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Arbetsorder"), "vehicle_id": by("Vår bilkod"), "opened_on": by("In"),
            "closed_on": by("Hämtad"), "odometer_in": by("Km vid ankomst"), "odometer_out": by("Km vid avfärd"),
            "odometer_unit": always("km"), "concern": by("Kunden klagar på"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Arbetsorder"), "line_no": counted_within("Arbetsorder"),
            "kind": by("Material/tid", values=theirs(_KINDS)), "action": by("Utfört", values=theirs(_ACTIONS)),
            "reason": by("Anledning", values=theirs(_REASONS)), "description": by("Del eller arbete"),
            "position": by("Var på bilen"), "part_number": by("Detaljnummer"),
            "part_origin": by("Ny/utbytes/begagnad", values=theirs(_ORIGINS)), "supplier": by("Inköpt hos"),
            "quantity": by("St"), "hours": by("Tim"), "cost": by("Vår kostnad"), "price": by("Debiterat kund"),
            "cause": by("Felorsak"), "correction": by("Så löstes det"), "technician": by("Montör"),
        }),
    }  # fmt: skip
    down = ("Arbetsorder", "In", "Hämtad", "Vår bilkod", "Km vid ankomst", "Km vid avfärd", "Kunden klagar på")
    part = Part("bilhuset", _columns(), tables, {"dates": ("excel",), "fill_down": down})
    spoils = [
        Spoil("In", "i våras", (("repair_order", "impossible date"),), order=3, first_only=True),
        Spoil("Km vid ankomst", "mätaren trasig", (("repair_order", "not a number"),), order=9, first_only=True),
        Spoil("Utfört", "Prat", (("repair_line", "unknown value"),), order=6, line=1),
        Spoil("Material/tid", "", (("repair_line", "missing required"),), order=11, line=1),
        Spoil("Vår kostnad", "garanti", (("repair_line", "not a number"),), order=12, line=1),
    ]
    preamble = ("Bilhuset vid Exempelgatan", "Utfört arbete, utskrift 2025-01-08", "")
    for count, row in enumerate(shop.line_rows(), 1):
        part.add(row, spoils)
        if count == 20:
            part.odd("repeated header")
    content = workbook({"Arbeten": part}, {"Arbeten": preamble})
    part.place["file"] = "arbeten.xlsx"
    return Made("Swedish, one sheet, order on its first row only", {"arbeten.xlsx": content}, [part])
