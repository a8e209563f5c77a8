"""The life tables: the one place that says what entry, exit and event mean.

A socket is one place for a component on a vehicle. A life is one part in one socket, on the interval
(entry_miles, exit_miles] of that part's own age, with what ended it. A vehicle is watched from its first used odometer
reading to its last one on or before the as-of date, and not a mile beyond.
Sockets on which nothing was ever done are not written out: they are the vehicle's window, once per socket.
"""

from __future__ import annotations

from longmile.schemas.coding import CODING_TABLES, MENTION_NO
from longmile.schemas.contract import Check, Column, Table
from longmile.schemas.identity import IDENTITY_TABLES
from longmile.schemas.shop import (
    COMPONENT_CODE,
    ENGINE_FAMILY,
    LOCATION,
    PART_ORIGIN,
    REPAIR_ORDER_ID,
    SUPPLIER,
    VEHICLE_ID,
)

OUTCOMES: tuple[str, ...] = ("running", "failed", "removed")
ORIGINS: tuple[str, ...] = ("from_new", "assumed_original", "replacement")
UNITS_OF_LIFE: tuple[str, ...] = ("socket", "vehicle")

COMPONENT_REQUIRED = Column("component_code", "text", COMPONENT_CODE.description, is_required=True)
SOCKET_POSITION = Column("position", "text", "Position code of the socket.", is_required=True)
EVENT_ORDER_ID = Column("end_order_id", "text", "Repair order that ended the life; empty while it runs.")
ODOMETER_MILES = Column("odometer_miles", "decimal", "Odometer in miles.", unit="miles", is_required=True, minimum=0)
FROM_NEW_BELOW_MILES = 500.0
"""A vehicle first seen below this odometer is taken as watched from new."""

MILES_DECIMALS = 6
"""Odometers and ages are kept to a millionth of a mile, so that what is equal in kilometres is equal in miles too: one
job stays one job, and ages that tie are a tie."""

ODOMETER_FAULTS: tuple[str, ...] = (
    "none",
    "not_read",
    "digit_too_many",
    "digit_missing",
    "digits_swapped",
    "digit_wrong",
    "unit",
    "rollover",
    "cluster_replaced",
    "rollback",
    "too_many_miles_a_day",
    "below_in",
    "contradicts",
)
ODOMETER_TREATMENTS: tuple[str, ...] = ("as_written", "corrected", "left_out", "decided")

ODOMETER_READING = Table(
    "odometer_reading",
    "life",
    "Every odometer reading on or before the as-of date, what is wrong with it, and whether it is used.",
    (
        VEHICLE_ID,
        REPAIR_ORDER_ID,
        Column("which", "text", "On arrival or on leaving.", is_required=True, allowed=("in", "out")),
        Column("read_on", "date", "Date of the reading."),
        Column("odometer_written", "decimal", "The reading as the order has it.", unit="as odometer_unit"),
        Column("written_unit", "text", "The unit it is taken to be written in.", allowed=("mi", "km")),
        Column("written_miles", "decimal", "The reading as written, in miles.", unit="miles", is_required=True),
        Column(
            "odometer_miles",
            "decimal",
            "The reading as it is used, in miles; as written where it is left out.",
            unit="miles",
            is_required=True,
            minimum=0,
        ),
        Column("is_used", "boolean", "Whether it counts: it agrees with the vehicle's others.", is_required=True),
        Column(
            "fault",
            "text",
            "What is wrong with it, as far as the vehicle's other readings tell.",
            is_required=True,
            allowed=ODOMETER_FAULTS,
        ),
        Column(
            "treatment",
            "text",
            "What was done: taken as written, corrected to the one value that explains it, left out, or as a person "
            "decided.",
            is_required=True,
            allowed=ODOMETER_TREATMENTS,
        ),
        Column(
            "reason",
            "text",
            "Why it is left out: `contradicts` (the vehicle's other readings), `below_in` (the same order's reading on "
            "arrival), `not_read` (0 stands for no reading) or `decided`.",
            allowed=("contradicts", "below_in", "not_read", "decided"),
        ),
        Column("prior_miles", "decimal", "The used reading before, where this one was doubted.", unit="miles"),
        Column("next_miles", "decimal", "The used reading after, where this one was doubted.", unit="miles"),
    ),
    key=("repair_order_id", "which"),
)

VISIT = Table(
    "visit",
    "life",
    "Every order that counts, with the mileage it is placed at.",
    (
        REPAIR_ORDER_ID,
        VEHICLE_ID,
        LOCATION,
        Column("opened_on", "date", "Date the vehicle came in."),
        Column(
            "odometer_miles",
            "decimal",
            "Odometer of the visit; empty where it cannot be placed.",
            unit="miles",
        ),
        Column(
            "basis",
            "text",
            "Where the mileage comes from: the order's own reading, the date between two used readings, or the order "
            "that it reopened.",
            allowed=("read", "by_date", "reopened", "unplaced"),
        ),
    ),
    key=("repair_order_id",),
)

VEHICLE_WINDOW = Table(
    "vehicle_window",
    "life",
    "The miles for which a vehicle was watched: (first_miles, last_miles].",
    (
        VEHICLE_ID,
        ENGINE_FAMILY,
        Column("first_miles", "decimal", "First used reading.", unit="miles", is_required=True),
        Column("last_miles", "decimal", "Last used reading.", unit="miles", is_required=True),
        Column("first_on", "date", "Date of the first used reading."),
        Column("last_on", "date", "Date of the last used reading."),
        Column("n_visits", "integer", "Orders that count.", is_required=True),
        Column(
            "origin",
            "text",
            "from_new below 500 miles at first sight, else assumed_original.",
            allowed=ORIGINS,
        ),
    ),
    key=("vehicle_id",),
)

LIFE = Table(
    "life",
    "life",
    "One part in one socket, for every socket on which something was done.",
    (
        Column(
            "unit",
            "text",
            "One socket, or the vehicle's whole set of them.",
            is_required=True,
            allowed=UNITS_OF_LIFE,
        ),
        VEHICLE_ID,
        ENGINE_FAMILY,
        COMPONENT_REQUIRED,
        SOCKET_POSITION,
        Column("is_position_known", "boolean", "False: one of the set, it is not known which.", is_required=True),
        Column("life_no", "integer", "Number of the life within its socket, from 1.", is_required=True, minimum=1),
        Column("origin", "text", "How the part's age at entry is known.", is_required=True, allowed=ORIGINS),
        Column(
            "start_miles",
            "decimal",
            "Odometer at which the part's age was 0.",
            unit="miles",
            is_required=True,
            minimum=0,
        ),
        Column(
            "entry_miles",
            "decimal",
            "Age at which watching begins.",
            unit="miles",
            is_required=True,
            minimum=0,
        ),
        Column("exit_miles", "decimal", "Age at which watching ends.", unit="miles", is_required=True, minimum=0),
        Column("outcome", "text", "What ended it.", is_required=True, allowed=OUTCOMES),
        Column("is_event", "boolean", "Whether it ended by a failure.", is_required=True),
        Column(
            "last_sound_miles",
            "decimal",
            "Age at which it was last known sound; the failure lies after it. Empty: it failed at exit_miles.",
            unit="miles",
        ),
        Column("reason", "text", "Reason on the line that ended it."),
        EVENT_ORDER_ID,
        Column("install_order_id", "text", "Repair order that installed the part; empty for the first life."),
        PART_ORIGIN,
        SUPPLIER,
        LOCATION,
    ),
    key=("unit", "vehicle_id", "component_code", "position", "life_no"),
    checks=(
        Check(
            "entry_before_exit",
            "entry_miles must be below exit_miles",
            "entry_miles < exit_miles",
            ("entry_miles", "exit_miles"),
        ),
    ),
)

WALK_IN = Table(
    "walk_in",
    "life",
    "A failure on the vehicle's first visit: no mile was watched, so it enters no rate.",
    (
        VEHICLE_ID,
        ENGINE_FAMILY,
        COMPONENT_REQUIRED,
        SOCKET_POSITION,
        Column("is_position_known", "boolean", "False: one of the set, it is not known which.", is_required=True),
        ODOMETER_MILES,
        REPAIR_ORDER_ID,
        Column("reason", "text", "Reason on the line."),
    ),
)

LINE_USES: tuple[str, ...] = (
    "failure",
    "removal",
    "walk_in",
    "first_visit_removal",
    "same_job",
    "sound_inspection",
    "no_end",
    "declined",
    "no_component",
    "unsure_text",
    "unknown_component",
    "service_item",
    "void_order",
    "duplicate_order",
    "order_missing",
    "after_as_of",
    "vehicle_missing",
    "family_missing",
    "unplaced_visit",
)

LINE_USE = Table(
    "line_use",
    "life",
    "What every current repair line was used for; each line, or each component its text names, is in exactly one.",
    (
        REPAIR_ORDER_ID,
        Column("line_no", "integer", "Number of the line within its repair order.", is_required=True),
        MENTION_NO,
        Column("use", "text", "What the line was used for.", is_required=True, allowed=LINE_USES),
    ),
    key=("repair_order_id", "line_no", "mention_no"),
)

LIFE_TABLES: tuple[Table, ...] = (
    *IDENTITY_TABLES,
    *CODING_TABLES,
    ODOMETER_READING,
    VISIT,
    VEHICLE_WINDOW,
    LIFE,
    WALK_IN,
    LINE_USE,
)
