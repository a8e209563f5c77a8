"""The typed trade tables, one per file of the neutral layout. No statistics, no cleaning."""

from __future__ import annotations

from longmile.schemas import vocabulary as v
from longmile.schemas.contract import Check, Column, Table
from longmile.schemas.units import BENCH_UNITS

REPAIR_ORDER_ID = Column(
    "repair_order_id",
    "text",
    "Number of the repair order, unique across the shop.",
    is_required=True,
    max_length=64,
)
VEHICLE_ID = Column("vehicle_id", "text", "The shop's own number of the vehicle.", is_required=True, max_length=64)
ENGINE_FAMILY = Column(
    "engine_family",
    "text",
    "Engine family: the name under which vehicles with the same engine are compared.",
    is_required=True,
    max_length=64,
)
LINE_NO = Column(
    "line_no",
    "integer",
    "Number of the line within its repair order.",
    is_required=True,
    minimum=0,
    maximum=99_999,
)
COMPONENT_CODE = Column(
    "component_code",
    "text",
    "Component, as a code of the vocabulary. An unknown code is kept, counted and left out of estimates.",
    allowed=tuple(v.BY_CODE),
    severity="warn",
)
POSITION = Column(
    "position",
    "text",
    "Which of several sockets: cylinder, wheel, side; 'all', or several separated by comma, slash or space.",
    max_length=64,
)
ODOMETER_UNIT = Column(
    "odometer_unit",
    "text",
    "Unit of the odometer as written: mi or km. Empty: the vehicle's, then the workspace's.",
    allowed=v.ODOMETER_UNITS,
)
PART_ORIGIN = Column("part_origin", "text", "How the part was made.", allowed=v.PART_ORIGINS)
SUPPLIER = Column("supplier", "text", "Who supplied the part.", max_length=128)
LOCATION = Column("location", "text", "Which of the shop's locations.", max_length=64)
MONEY_MAX = 100_000_000.0

VEHICLE = Table(
    "vehicle",
    "trade",
    "One vehicle seen by the shop.",
    (
        VEHICLE_ID,
        Column("vin", "text", "Vehicle identification number as written.", max_length=32),
        ENGINE_FAMILY,
        Column("make", "text", "Maker, as the shop writes it.", max_length=64),
        Column("model", "text", "Model, as the shop writes it.", max_length=64),
        Column("model_year", "integer", "Model year.", minimum=1900, maximum=2100),
        Column("in_service_on", "date", "Date first put on the road."),
        ODOMETER_UNIT,
    ),
    key=("vehicle_id",),
    checks=(
        Check(
            "family_unknown",
            "share of vehicles whose engine family has no row in engine_family, at most 5 in 100",
            """SELECT coalesce(avg((f.engine_family IS NULL)::INT), 0), count(*),
              count(*) FILTER (f.engine_family IS NULL)
            FROM current_vehicle v LEFT JOIN current_engine_family f USING (engine_family)""",
            level="table",
            severity="warn",
            maximum=0.05,
        ),
    ),
)

ENGINE_FAMILY_TABLE = Table(
    "engine_family",
    "trade",
    "One engine family, with the counts from which the number of sockets follows.",
    (
        ENGINE_FAMILY,
        Column("description", "text", "In the shop's words.", max_length=256),
        Column("cylinders", "integer", "Number of cylinders.", is_required=True, minimum=1, maximum=16),
        Column(
            "exhaust_valves_per_cylinder",
            "integer",
            "Exhaust valves in each cylinder; empty is taken as 1 and said so.",
            minimum=1,
            maximum=3,
        ),
        Column(
            "intake_valves_per_cylinder",
            "integer",
            "Intake valves in each cylinder; empty is taken as 1 and said so.",
            minimum=1,
            maximum=3,
        ),
    ),
    key=("engine_family",),
)

REPAIR_ORDER = Table(
    "repair_order",
    "trade",
    "One visit of one vehicle, an oil change included: it is an odometer reading.",
    (
        REPAIR_ORDER_ID,
        LOCATION,
        VEHICLE_ID,
        Column("opened_on", "date", "Date the vehicle came in.", is_required=True),
        Column("closed_on", "date", "Date the order was closed."),
        Column(
            "odometer_in",
            "decimal",
            "Odometer on arrival, as written.",
            unit="as odometer_unit",
            is_required=True,
            minimum=0,
            maximum=3_000_000,
        ),
        Column(
            "odometer_out",
            "decimal",
            "Odometer on leaving, as written.",
            unit="as odometer_unit",
            minimum=0,
            maximum=3_000_000,
        ),
        ODOMETER_UNIT,
        Column(
            "status",
            "text",
            "State of the order; a void order is kept and used for nothing.",
            allowed=v.ORDER_STATUSES,
        ),
        Column("concern", "text", "What the customer said.", max_length=100_000),
        Column(
            "total_cents",
            "cents",
            "Total of the order.",
            unit="cents",
            header="total",
            minimum=-MONEY_MAX,
            maximum=MONEY_MAX,
        ),
    ),
    key=("repair_order_id",),
    order_column="repair_order_id",
    checks=(
        Check(
            "closed_not_before_opened",
            "closed_on must not be before opened_on",
            "closed_on >= opened_on",
            ("opened_on", "closed_on"),
        ),
        Check(
            "opened_in_reason",
            "opened_on must lie between 1950 and the day the file was landed",
            "opened_on BETWEEN DATE '1950-01-01' AND landed_at::DATE + 1",
            ("opened_on",),
        ),
        Check(
            "odometer_out_not_below_in",
            "odometer_out below odometer_in: the row is kept, the reading on leaving is left out",
            "odometer_out >= odometer_in",
            ("odometer_in", "odometer_out"),
            severity="warn",
        ),
        Check(
            "any_rows",
            "there must be at least one repair order",
            "SELECT count(*), count(*), 0 FROM current_repair_order",
            level="table",
            severity="stop",
            minimum=1,
        ),
        Check(
            "vehicle_unknown",
            "share of repair orders whose vehicle has no row in vehicle, at most 5 in 100",
            """SELECT coalesce(avg((v.vehicle_id IS NULL)::INT), 0), count(*), count(*) FILTER (v.vehicle_id IS NULL)
            FROM current_repair_order o LEFT JOIN current_vehicle v USING (vehicle_id)""",
            level="table",
            severity="warn",
            maximum=0.05,
        ),
        Check(
            "freshness",
            "days from the newest repair order to the as-of date, at most 62",
            """SELECT coalesce(date_diff('day', max(opened_on), (SELECT as_of FROM asked)), 0), count(*), 0
            FROM current_repair_order WHERE opened_on <= (SELECT as_of FROM asked)""",
            level="table",
            severity="warn",
            maximum=62,
        ),
        Check(
            "odometer_drift",
            "mean odometer on arrival in the last 12 months against the 12 before it, as a ratio, between 0.7 and 1.4",
            """SELECT coalesce(avg(odometer_in) FILTER (opened_on > d - INTERVAL 12 MONTH)
              / avg(odometer_in) FILTER (opened_on <= d - INTERVAL 12 MONTH), 1), count(*), 0
            FROM current_repair_order, (SELECT as_of AS d FROM asked)
            WHERE opened_on > d - INTERVAL 24 MONTH AND opened_on <= d""",
            level="table",
            severity="warn",
            minimum=0.7,
            maximum=1.4,
        ),
    ),
)

REPAIR_LINE = Table(
    "repair_line",
    "trade",
    "One line of a repair order: a job, a part, work sent out, or a fee.",
    (
        REPAIR_ORDER_ID,
        LINE_NO,
        Column("kind", "text", "What the line charges for.", is_required=True, allowed=v.LINE_KINDS),
        COMPONENT_CODE,
        POSITION,
        Column("action", "text", "What was done.", allowed=v.ACTIONS),
        Column("reason", "text", "Why it was done; empty counts as unknown.", allowed=v.REASONS),
        Column(
            "description",
            "text",
            "The job or the part as the line names it; read where no component is given.",
            max_length=100_000,
        ),
        Column("part_number", "text", "Part number.", max_length=64),
        PART_ORIGIN,
        SUPPLIER,
        Column("quantity", "decimal", "How many.", minimum=-10_000, maximum=10_000),
        Column(
            "labor_hours",
            "decimal",
            "Hours charged.",
            unit="hours",
            header="hours",
            minimum=-1_000,
            maximum=1_000,
        ),
        Column(
            "cost_cents",
            "cents",
            "What the line cost the shop.",
            unit="cents",
            header="cost",
            minimum=-MONEY_MAX,
            maximum=MONEY_MAX,
        ),
        Column(
            "price_cents",
            "cents",
            "What the customer was charged.",
            unit="cents",
            header="price",
            minimum=-MONEY_MAX,
            maximum=MONEY_MAX,
        ),
        Column("cause", "text", "What the technician found.", max_length=100_000),
        Column("correction", "text", "What the technician did.", max_length=100_000),
        Column("technician", "text", "Who did it, as the shop's own code.", max_length=64),
    ),
    key=("repair_order_id", "line_no"),
    order_column="repair_order_id",
    checks=(
        Check(
            "component_unknown",
            "share of replaced or repaired lines without a known component, at most 10 in 100",
            """SELECT coalesce(avg((c.component_code IS NULL)::INT), 0), count(*),
              count(*) FILTER (c.component_code IS NULL)
            FROM current_repair_line l LEFT JOIN component c USING (component_code)
            WHERE l.action IN ('replaced', 'repaired')""",
            level="table",
            severity="warn",
            maximum=0.10,
        ),
        Check(
            "order_unknown",
            "share of lines whose repair order has not landed, at most 5 in 100",
            """SELECT coalesce(avg((o.repair_order_id IS NULL)::INT), 0), count(*),
              count(*) FILTER (o.repair_order_id IS NULL)
            FROM current_repair_line l LEFT JOIN current_repair_order o USING (repair_order_id)""",
            level="table",
            severity="warn",
            maximum=0.05,
        ),
    ),
)

MEASUREMENT = Table(
    "measurement",
    "trade",
    "One bench reading.",
    (
        REPAIR_ORDER_ID,
        Column(
            "component_code",
            "text",
            COMPONENT_CODE.description,
            is_required=True,
            allowed=COMPONENT_CODE.allowed,
            severity="warn",
        ),
        POSITION,
        Column("measure", "text", "What was measured.", is_required=True, allowed=v.MEASURES),
        Column("value", "decimal", "The reading.", unit="as unit", is_required=True),
        Column("unit", "text", "Unit of the reading.", is_required=True, allowed=BENCH_UNITS),
        Column("pull_no", "integer", "Which pull or repetition.", minimum=0, maximum=999),
    ),
    key=("repair_order_id", "component_code", "position", "measure", "pull_no"),
    order_column="repair_order_id",
)

TROUBLE_CODE = Table(
    "trouble_code",
    "trade",
    "One diagnostic trouble code read from the vehicle.",
    (
        REPAIR_ORDER_ID,
        Column(
            "code",
            "text",
            "Diagnostic trouble code.",
            is_required=True,
            max_length=16,
        ),
        Column("stage", "text", "Read on arrival or after the repair.", allowed=v.TROUBLE_CODE_STAGES),
    ),
    key=("repair_order_id", "code", "stage"),
    order_column="repair_order_id",
)

VERIFICATION = Table(
    "verification",
    "trade",
    "One check made after a repair.",
    (
        REPAIR_ORDER_ID,
        Column("check", "text", "What was checked.", is_required=True, allowed=v.VERIFICATION_CHECKS),
        POSITION,
        Column("check_reading", "decimal", "What was read.", header="value"),
        Column("passed", "boolean", "Whether the check was passed."),
    ),
    key=("repair_order_id", "check", "position"),
    order_column="repair_order_id",
)

WARRANTY_PROMISE = Table(
    "warranty_promise",
    "trade",
    "The term promised on one line: months and miles, whichever comes first.",
    (
        REPAIR_ORDER_ID,
        LINE_NO,
        Column("months", "integer", "Months promised.", unit="months", is_required=True, minimum=0, maximum=600),
        Column(
            "miles",
            "integer",
            "Miles promised.",
            unit="miles",
            is_required=True,
            minimum=0,
            maximum=1_000_000,
        ),
    ),
    key=("repair_order_id", "line_no"),
    order_column="repair_order_id",
)

TRADE_TABLES: tuple[Table, ...] = (
    ENGINE_FAMILY_TABLE,
    VEHICLE,
    REPAIR_ORDER,
    REPAIR_LINE,
    MEASUREMENT,
    TROUBLE_CODE,
    VERIFICATION,
    WARRANTY_PROMISE,
)
"""In the order in which they are loaded."""
