"""What is settled about vehicles and orders before lives are cut: which are the same, and how that is known."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table
from longmile.schemas.shop import REPAIR_ORDER_ID, VEHICLE_ID

VIN_STATES: tuple[str, ...] = (
    "absent",
    "sound",
    "repaired",
    "check_digit_differs",
    "sign_not_allowed",
    "wrong_length",
    "placeholder",
)
JOIN_BASES: tuple[str, ...] = (
    "alone",
    "same_vin",
    "decided_join",
    "decided_apart",
    "not_joined_families_differ",
    "not_joined_too_many",
)

VEHICLE_IDENTITY = Table(
    "vehicle_identity",
    "life",
    "Every vehicle: what its identification number says, and the vehicle it counts as.",
    (
        VEHICLE_ID,
        Column("vin_as_written", "text", "The number as the shop wrote it."),
        Column(
            "vin_read", "text", "As it is read: capitals, without spaces and signs, O and I put right where proved."
        ),
        Column(
            "vin_state",
            "text",
            "Whether the number holds: its check digit does; it does once O is read as 0 and I as 1; it differs, as is "
            "usual outside North America; or it cannot be a number.",
            is_required=True,
            allowed=VIN_STATES,
        ),
        Column(
            "is_year_agreeing", "boolean", "Whether the number's model year agrees with the stated one; empty: unsaid."
        ),
        Column(
            "joined_vehicle_id",
            "text",
            "The vehicle it counts as; its own number where it stands alone.",
            is_required=True,
        ),
        Column("join_basis", "text", "Why it counts as that vehicle.", is_required=True, allowed=JOIN_BASES),
        Column(
            "n_joined", "integer", "Vehicles of the shop that count as that one, itself included.", is_required=True
        ),
    ),
    key=("vehicle_id",),
)

LINK_KINDS: tuple[str, ...] = ("duplicate", "part_of", "reopened", "same_visit")
LINK_STATES: tuple[str, ...] = ("noted", "proposed", "accepted", "refused")
EARLIER_ORDER_ID = Column("earlier_order_id", "text", "The order it is linked to.", is_required=True)

ORDER_LINK = Table(
    "order_link",
    "life",
    "Two orders of one vehicle that may be one. Nothing is merged unless a person accepts it.",
    (
        REPAIR_ORDER_ID,
        EARLIER_ORDER_ID,
        Column(
            "link_kind",
            "text",
            "duplicate: the same work under two numbers; part_of: all its lines are on the other order too; reopened: "
            "the other's number with something added; same_visit: other work of one visit.",
            is_required=True,
            allowed=LINK_KINDS,
        ),
        Column(
            "link_state",
            "text",
            "noted: it changes nothing; proposed: a person should decide; accepted, refused: somebody has.",
            is_required=True,
            allowed=LINK_STATES,
        ),
        Column("likeness", "decimal", "How alike they are, from 0 to 1.", minimum=0, maximum=1),
        Column("n_lines_shared", "integer", "Lines they have in common."),
        Column("n_lines", "integer", "Lines of the order itself."),
        Column("days_apart", "integer", "Days from one to the other.", unit="days"),
        Column("because", "text", "What speaks for it, in words."),
    ),
    key=("repair_order_id", "earlier_order_id"),
)

COMEBACK = Table(
    "comeback",
    "life",
    "A repair done again on the same vehicle, component and place soon after: each is a failure of the later part.",
    (
        REPAIR_ORDER_ID,
        Column("component_code", "text", "Component.", is_required=True),
        Column("position", "text", "Socket."),
        EARLIER_ORDER_ID,
        Column("days_apart", "integer", "Days from one to the other.", unit="days"),
        Column("miles_apart", "decimal", "Miles from one to the other.", unit="miles"),
        Column("first_order_id", "text", "First order of the chain.", is_required=True),
        Column("chain_no", "integer", "How many times it came back by then, from 1.", is_required=True),
    ),
)

IDENTITY_TABLES: tuple[Table, ...] = (VEHICLE_IDENTITY, ORDER_LINK, COMEBACK)
