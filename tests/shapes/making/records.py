"""Invented vehicles, orders and lines: the one source from which a shape's file and its truth are both written."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple


@dataclass(frozen=True)
class Vehicle:
    """One invented vehicle and its invented owner."""

    vehicle_id: str
    vin: str
    make: str
    model: str
    engine: str
    family_code: str
    model_year: int
    in_service_on: date
    odometer_unit: str
    customer: str
    phone: str
    email: str
    address: str
    plate: str

    @property
    def family(self) -> str:
        """Maker, model and engine, joined as a map joins them."""
        return f"{self.make} {self.model} {self.engine}"


@dataclass(frozen=True)
class Line:
    """One line of an order; money in cents, odometers and hours as exact text."""

    line_no: int
    kind: str
    component_code: str
    position: str
    action: str
    reason: str
    description: str
    part_number: str
    part_origin: str
    supplier: str
    quantity: str
    hours: str
    cost: int
    price: int
    cause: str
    correction: str
    technician: str


@dataclass(frozen=True)
class Order:
    """One visit."""

    index: int
    order_id: str
    invoice: str
    location: str
    vehicle: Vehicle
    opened_on: date
    closed_on: date
    minutes: int
    odometer_in: int
    odometer_out: int
    odometer_unit: str
    status: str
    concern: str
    advisor: str
    bay: str
    lines: tuple[Line, ...]

    @property
    def total(self) -> int:
        """Sum of the lines' prices, in cents."""
        return sum(line.price for line in self.lines)


class Row(NamedTuple):
    """What one source row speaks of."""

    vehicle: Vehicle
    order: Order | None = None
    line: Line | None = None
    first: bool = True


@dataclass(frozen=True)
class Shop:
    """All records of one shape."""

    vehicles: tuple[Vehicle, ...]
    orders: tuple[Order, ...]

    def vehicle_rows(self) -> list[Row]:
        """One row a vehicle."""
        return [Row(vehicle) for vehicle in self.vehicles]

    def order_rows(self) -> list[Row]:
        """One row an order."""
        return [Row(order.vehicle, order) for order in self.orders]

    def line_rows(self) -> list[Row]:
        """One row a line."""
        return [Row(o.vehicle, o, line, line.line_no == 1) for o in self.orders for line in o.lines]
