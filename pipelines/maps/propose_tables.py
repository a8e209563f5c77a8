"""Which contract tables a file carries, by what its headers mean."""

from __future__ import annotations

from collections.abc import Collection

from longmile.pipelines.maps.evidence_spelling import words_in
from longmile.pipelines.maps.words_meanings import MEANINGS

OF_LINES = words_in(
    "kind is_part is_labor action reason description part_number part_origin supplier quantity hours cost price "
    "cause correction technician"
)
OF_ORDERS = words_in(
    "opened_on closed_on odometer_in odometer_out status is_void is_open is_closed concern total location"
)
OF_VEHICLES = words_in("vin make model model_year in_service_on engine")
FEWEST_LINE_COLUMNS, FEWEST_ORDER_COLUMNS = 2, 3


def carried(found: Collection[str]) -> tuple[str, ...]:
    """Names of the tables that can be filled from headers of these meanings, in the order in which they are loaded."""
    got = frozenset(found)
    has_order, has_vehicle = "order_no" in got, bool({"vehicle_id", "vin"} & got)
    has_measure = {"measure", "value"} <= got
    is_vehicle = has_vehicle and ("engine" in got or {"make", "model"} <= got)
    has_lines = has_order and len(got & OF_LINES) >= FEWEST_LINE_COLUMNS and not has_measure
    tables = {
        "engine_family": {"engine", "cylinders"} <= got,
        "vehicle": is_vehicle,
        "repair_order": has_order and _has_visits(got, has_lines),
        "repair_line": has_lines,
        "measurement": has_order and has_measure,
        "trouble_code": has_order and "code" in got,
        "verification": has_order
        and "check" in got
        and bool({"check_value", "value", "passed"} & got)
        and not has_measure,
        "warranty_promise": has_order and {"months", "miles"} <= got,
    }
    return tuple(name for name, is_there in tables.items() if is_there)


def _has_visits(got: frozenset[str], has_lines: bool) -> bool:
    """Whether order rows can stand: date and odometer, or a vehicle and enough else; what is missing is asked for."""
    if {"opened_on", "odometer_in"} <= got:
        return True
    is_visit = bool({"vehicle_id", "vin"} & got) and bool(got & {"opened_on", "odometer_in"})
    return is_visit and len(got & OF_ORDERS) >= FEWEST_ORDER_COLUMNS + has_lines


def allowed(tables: Collection[str], found: Collection[str]) -> frozenset[str]:
    """Meanings that fill a column of one of the tables; the VIN too where it must stand for the vehicle's number."""
    wanted = set(tables) | {"*"}
    filling = {one.name for one in MEANINGS if _tables_of(one.fills) & wanted}
    return frozenset(filling | ({"vin"} if "repair_order" in wanted and "vehicle_id" not in found else set()))


def _tables_of(fills: Collection[str]) -> set[str]:
    """Tables named in table.column."""
    return {one.split(".")[0] for one in fills}
