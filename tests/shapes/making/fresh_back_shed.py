"""English of a country workshop, in its own slang: tabs, order on its first line only, kilometres, short months."""

from __future__ import annotations

from cells import Made, amount, line, once, order, theirs, vehicle
from drawing import make_shop
from local_names import locally_named
from part import Col, Part, Spoil, TableFill, always, by, counted_within
from texts_fresh import FRESH_MAKES
from writing import delimited

_KINDS = {"part": "bits", "labor": "labour", "sublet": "farmed out", "fee": "shop stuff"}
_ACTIONS = {"replaced": "swapped", "repaired": "fixed up", "inspected": "had a look", "adjusted": "tweaked"}
_REASONS = {
    "failed": "carked it",
    "worn": "worn out",
    "found_at_inspection": "spotted it",
    "preventive": "just in case",
}
_ORIGINS = {"new": "brand new", "remanufactured": "recon", "used": "from the wreckers"}


def _columns() -> list[Col]:
    return [
        Col("Job no.", once(order(lambda o: o.order_id))),
        Col("Rolled in", once(order(lambda o: f"{o.opened_on.day} {o.opened_on:%b %Y}"))),
        Col("Rolled out", once(order(lambda o: f"{o.closed_on.day} {o.closed_on:%b %Y}"))),
        Col("Whose is it", once(vehicle(lambda v: v.customer)), personal=True),
        Col("Mob", once(vehicle(lambda v: v.phone)), personal=True),
        Col("Rego", once(vehicle(lambda v: v.plate)), personal=True),
        Col("Our number for the ute/car", once(vehicle(lambda v: v.vehicle_id))),
        Col("Ks on the clock", once(order(lambda o: o.odometer_in))),
        Col("What they reckon is wrong", once(order(lambda o: o.concern))),
        Col("Bits or labour", line(lambda x: _KINDS[x.kind])),
        Col("What we did", line(lambda x: _ACTIONS[x.action])),
        Col("How come", line(lambda x: _REASONS[x.reason])),
        Col("The thing", line(lambda x: x.description)),
        Col("Which corner", line(lambda x: x.position)),
        Col("No. on the box", line(lambda x: x.part_number)),
        Col("New or second hand", line(lambda x: _ORIGINS.get(x.part_origin, ""))),
        Col("Where we got it", line(lambda x: x.supplier)),
        Col("How many", line(lambda x: x.quantity)),
        Col("Hours on it", line(lambda x: x.hours)),
        Col("Cost us", line(lambda x: amount(x.cost, form="${}"))),
        Col("Charged em", line(lambda x: amount(x.price, form="${}"))),
        Col("GST", line(lambda x: amount(x.price // 11, form="${}"))),
        Col("What was stuffed", line(lambda x: x.cause)),
        Col("How we sorted it", line(lambda x: x.correction)),
        Col("Spanner man", line(lambda x: x.technician)),
        Col("Hoist", once(order(lambda o: o.bay))),
        Col("Fixed up the bill?", once(order(lambda o: ("yep", "nah")[o.index % 5 == 0]))),
    ]


def make() -> Made:
    """The shape."""
    drawn = make_shop(
        303, language="en_au", n_orders=14, n_vehicles=9, lines=(1, 4), units=("km",), order_form="{}",
        vehicle_form="{}", makes=FRESH_MAKES,
    )  # fmt: skip
    shop = locally_named(drawn, ("the parts mob in town", "wreckers up the road"), ("Daz", "Bluey", "the young fella"))
    car, reading = "Our number for the ute/car", "Ks on the clock"
    tables = {
        "repair_order": TableFill({
            "repair_order_id": by("Job no."), "vehicle_id": by(car), "opened_on": by("Rolled in"),
            "closed_on": by("Rolled out"), "odometer_in": by(reading), "odometer_unit": always("km"),
            "concern": by("What they reckon is wrong"),
        }),
        "repair_line": TableFill({
            "repair_order_id": by("Job no."), "line_no": counted_within("Job no."),
            "kind": by("Bits or labour", values=theirs(_KINDS)), "action": by("What we did", values=theirs(_ACTIONS)),
            "reason": by("How come", values=theirs(_REASONS)), "description": by("The thing"),
            "position": by("Which corner"), "part_number": by("No. on the box"),
            "part_origin": by("New or second hand", values=theirs(_ORIGINS)), "supplier": by("Where we got it"),
            "quantity": by("How many"), "hours": by("Hours on it"), "cost": by("Cost us"), "price": by("Charged em"),
            "cause": by("What was stuffed"), "correction": by("How we sorted it"), "technician": by("Spanner man"),
        }),
    }  # fmt: skip
    down = ("Job no.", "Rolled in", "Rolled out", car, reading, "What they reckon is wrong")
    part = Part("back_shed", _columns(), tables, {"dates": ("%d %b %Y",), "fill_down": down})
    spoils = [
        Spoil("Rolled in", "31 Jun 2022", (("repair_order", "impossible date"),), order=2, first_only=True),
        Spoil(reading, "dash is dead", (("repair_order", "not a number"),), order=8, first_only=True),
        Spoil("What we did", "yarned", (("repair_line", "unknown value"),), order=5, line=1),
        Spoil("Bits or labour", "", (("repair_line", "missing required"),), order=10, line=1),
        Spoil("Charged em", "carton", (("repair_line", "not a number"),), order=12, line=1),
    ]
    for row in shop.line_rows():
        part.add(row, spoils)
    part.odd("unreadable line", text="9999\t3 May 2023\tgrease on this one")
    part.place["file"] = "jobs shed.txt"
    return Made(
        "English, workshop slang, order only on its first line", {"jobs shed.txt": delimited(part, "\t")}, [part]
    )
