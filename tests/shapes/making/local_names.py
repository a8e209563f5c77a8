"""The records of a shop under the names that its own people use for suppliers, places and hands."""

from __future__ import annotations

from dataclasses import replace

from records import Line, Order, Shop


def locally_named(
    shop: Shop, suppliers: tuple[str, str], hands: tuple[str, ...], locations: tuple[str, str] = ("North", "South")
) -> Shop:
    """The shop with the two suppliers, the technicians (in turn) and the two locations renamed."""

    def line_of(line: Line) -> Line:
        supplier = suppliers[int(line.supplier[-1]) - 1] if line.supplier else ""
        return replace(line, supplier=supplier, technician=hands[int(line.technician[1:]) % len(hands)])

    def order_of(order: Order) -> Order:
        location = locations[order.location == "South"]
        return replace(order, location=location, lines=tuple(line_of(line) for line in order.lines))

    return Shop(shop.vehicles, tuple(order_of(order) for order in shop.orders))
