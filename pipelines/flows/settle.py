"""What is settled before lives are cut: which vehicles and orders are one, and what lines without a code are about."""

from __future__ import annotations

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.order_link import LINE_MARK_SQL, ORDER_LINK_SQL, ORDER_PAIR_SQL, order_brief_sql
from longmile.pipelines.steps.settled import JOINED_REPAIR_ORDER_SQL, SETTLED_VIEWS
from longmile.pipelines.steps.vehicle_identity import (
    BREAK_RINGS_SQL,
    FOLLOW_JOINS_SQL,
    UNSETTLED_JOINS_SQL,
    VEHICLE_IDENTITY_SQL,
    VEHICLE_JOIN_SQL,
    VIN_READING_SQL,
)
from longmile.pipelines.store.store import Store
from longmile.schemas.identity import ORDER_LINK, VEHICLE_IDENTITY

MOST_STEPS = 20
"""Of vehicles joined to vehicles joined to others; what is longer leads round in a ring."""


def settle(store: Store, settings: Settings) -> None:
    """Vehicles, then orders; then the views that lives are cut from stand."""
    settle_vehicles(store)
    settle_orders(store, settings)


def settle_vehicles(store: Store) -> None:
    """Fill `vehicle_identity`, and make the view of orders by the vehicle they count for."""
    store.run(VIN_READING_SQL)
    store.run(VEHICLE_JOIN_SQL)
    for _ in range(MOST_STEPS):
        if not store.value(UNSETTLED_JOINS_SQL):
            break
        store.run(FOLLOW_JOINS_SQL)
    store.run(BREAK_RINGS_SQL)
    store.replace_from(VEHICLE_IDENTITY, VEHICLE_IDENTITY_SQL)
    store.run(JOINED_REPAIR_ORDER_SQL)
    _check_every_vehicle(store)


def settle_orders(store: Store, settings: Settings) -> None:
    """Fill `order_link`, and make the views that lives are cut from; needs `coded_line` filled."""
    store.run(order_brief_sql(settings.odometer_unit))
    store.run(ORDER_PAIR_SQL)
    store.run(LINE_MARK_SQL)
    store.replace_from(ORDER_LINK, ORDER_LINK_SQL)
    for statement in SETTLED_VIEWS:
        store.run(statement)


def _check_every_vehicle(store: Store) -> None:
    """Every current vehicle has an identity, and counts as one that counts as itself."""
    known, settled, astray = store.rows(
        "SELECT (SELECT count(*) FROM current_vehicle), (SELECT count(*) FROM vehicle_identity), (SELECT count(*) FROM "
        "vehicle_identity v LEFT JOIN vehicle_identity t ON t.vehicle_id = v.joined_vehicle_id "
        "WHERE t.joined_vehicle_id IS DISTINCT FROM v.joined_vehicle_id)"
    )[0]
    if known != settled or astray:
        raise LongmileError(
            f"vehicle_identity: {known:,} vehicles, {settled:,} identities, {astray:,} of them counting as a vehicle "
            "that does not stand for itself. Expected one for each vehicle; this is a fault of the program."
        )
