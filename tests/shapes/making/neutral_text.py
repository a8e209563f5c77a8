"""What each contract column holds of a record, in neutral text: dates YYYY-MM-DD, decimal point, codes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from records import Line, Order, Row

Said = Callable[[Row], "str | None"]


def money(cents: int) -> str:
    """Cents as decimal text."""
    return f"{'-' if cents < 0 else ''}{abs(cents) // 100}.{abs(cents) % 100:02d}"


def _of_order(read: Callable[[Order], Any]) -> Said:
    return lambda row: str(read(row.order)) if row.order else None


def _of_line(read: Callable[[Line], Any]) -> Said:
    return lambda row: (str(read(row.line)) or None) if row.line else None


def _line_attribute(name: str) -> Said:
    return _of_line(lambda line: getattr(line, name))


NEUTRAL: dict[tuple[str, str], Said] = {
    ("vehicle", "vehicle_id"): lambda row: row.vehicle.vehicle_id,
    ("vehicle", "vin"): lambda row: row.vehicle.vin,
    ("vehicle", "engine_family"): lambda row: row.vehicle.family,
    ("vehicle", "make"): lambda row: row.vehicle.make,
    ("vehicle", "model"): lambda row: row.vehicle.model,
    ("vehicle", "model_year"): lambda row: str(row.vehicle.model_year),
    ("vehicle", "in_service_on"): lambda row: row.vehicle.in_service_on.isoformat(),
    ("vehicle", "odometer_unit"): lambda row: row.vehicle.odometer_unit,
    ("repair_order", "repair_order_id"): _of_order(lambda order: order.order_id),
    ("repair_order", "location"): _of_order(lambda order: order.location),
    ("repair_order", "vehicle_id"): lambda row: row.vehicle.vehicle_id,
    ("repair_order", "opened_on"): _of_order(lambda order: order.opened_on),
    ("repair_order", "closed_on"): _of_order(lambda order: order.closed_on),
    ("repair_order", "odometer_in"): _of_order(lambda order: order.odometer_in),
    ("repair_order", "odometer_out"): _of_order(lambda order: order.odometer_out),
    ("repair_order", "odometer_unit"): _of_order(lambda order: order.odometer_unit),
    ("repair_order", "status"): _of_order(lambda order: order.status),
    ("repair_order", "concern"): _of_order(lambda order: order.concern),
    ("repair_order", "total"): _of_order(lambda order: money(order.total)),
    ("repair_line", "repair_order_id"): _of_order(lambda order: order.order_id),
    ("trouble_code", "repair_order_id"): _of_order(lambda order: order.order_id),
    ("warranty_promise", "repair_order_id"): _of_order(lambda order: order.order_id),
    ("warranty_promise", "line_no"): _line_attribute("line_no"),
    ("repair_line", "cost"): _of_line(lambda line: money(line.cost)),
    ("repair_line", "price"): _of_line(lambda line: money(line.price)),
    **{
        ("repair_line", name): _line_attribute(name)
        for name in (
            "line_no", "kind", "component_code", "position", "action", "reason", "description", "part_number",
            "part_origin", "supplier", "quantity", "hours", "cause", "correction", "technician",
        )
    },
}  # fmt: skip
"""(contract table, column as named in the neutral layout) -> what a record says of it; None where empty."""
