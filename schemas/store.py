"""Tables in which the store keeps its own books: files, raw rows, quarantine, checks, runs, reference lists."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table
from longmile.schemas.decision import DECISION
from longmile.schemas.shop import COMPONENT_CODE, ENGINE_FAMILY, TRADE_TABLES

FILE_ID = Column("file_id", "text", "SHA-256 of the file's bytes, in hexadecimal.", is_required=True)
PART_NAME = Column("part_name", "text", "Sheet of a workbook, or the file's own name.", is_required=True)
TABLE_NAME = Column("table_name", "text", "Trade table the rows belong to.", is_required=True)
ROW_NUMBER = Column(
    "row_number", "integer", "Line or sheet row at which the record starts, header counted.", is_required=True
)
LANDED_AT = Column("landed_at", "moment", "When the file was landed: from then on the shop knew.", is_required=True)
SUPERSEDED_AT = Column(
    "superseded_at", "moment", "When a later export replaced or withdrew the row; empty: it still stands."
)
SUPERSEDED_BY = Column("superseded_by", "text", "The file that replaced or withdrew the row.")
RUN_ID = Column("run_id", "integer", "Number of the run, from 1.", is_required=True)

VERSION_COLUMNS: tuple[Column, ...] = (
    FILE_ID,
    PART_NAME,
    ROW_NUMBER,
    LANDED_AT,
    SUPERSEDED_AT,
    SUPERSEDED_BY,
)
"""Added by the store to every trade table: where a row came from, and from when to when it stood."""

SOURCE_FILE = Table(
    "source_file",
    "store",
    "One file of the inbox, by the hash of its content.",
    (
        FILE_ID,
        Column("file_name", "text", "Name in the inbox when first seen.", is_required=True),
        Column("n_bytes", "integer", "Size of the file in bytes."),
        LANDED_AT,
        Column("status", "text", "Whether it was loaded or set aside whole.", allowed=("loaded", "set_aside")),
        Column("reason", "text", "Why it was set aside."),
        Column("notes", "text", "What the reader had to say, one note a line."),
        Column(
            "maps_known", "text", "Hash of the source maps there were; a file set aside is tried again with others."
        ),
    ),
    key=("file_id",),
)

SOURCE_PART = Table(
    "source_part",
    "store",
    "One table within a file, with its reconciliation: landed = kept + quarantined + repeats.",
    (
        FILE_ID,
        PART_NAME,
        TABLE_NAME,
        LANDED_AT,
        Column("n_landed", "integer", "Records in the file, unreadable lines included.", is_required=True),
        Column("n_kept", "integer", "Rows kept.", is_required=True),
        Column("n_quarantined", "integer", "Rows set aside, unreadable lines included.", is_required=True),
        Column("n_repeats", "integer", "Rows that say what is already known.", is_required=True),
        Column("n_replaced", "integer", "Earlier rows that a row of this file replaced.", is_required=True),
        Column(
            "n_withdrawn",
            "integer",
            "Earlier rows of re-exported orders that this file no longer has.",
            is_required=True,
        ),
        Column(
            "ignored_headers",
            "text",
            "Headers that belong to no contract column; their values were not loaded.",
        ),
        Column("map_name", "text", "Source map by which the rows were read; empty: the neutral layout."),
    ),
    key=("file_id", "part_name", "table_name"),
)

QUARANTINED_ROW = Table(
    "quarantined_row",
    "store",
    "One row set aside, with every rule it broke and its raw text.",
    (
        FILE_ID,
        PART_NAME,
        TABLE_NAME,
        ROW_NUMBER,
        LANDED_AT,
        Column("rules", "text", "Names of the broken rules, separated by a comma.", is_required=True),
        Column("reason", "text", "What was expected and what was found, in words.", is_required=True),
        Column("raw_text", "text", "The row as it came, personal data masked or withheld."),
        Column("returned_at", "moment", "When a file brought the row back; empty: it is still set aside."),
        Column("returned_by", "text", "The file that brought it back, whatever then became of it."),
    ),
    key=("file_id", "part_name", "table_name", "row_number"),
)

CHECK_RESULT = Table(
    "check_result",
    "store",
    "Outcome of one rule on one file's table, or on a whole table of the store.",
    (
        RUN_ID,
        Column("file_id", "text", "File checked; empty for a rule on the whole table."),
        Column("part_name", "text", "Sheet or file name; empty for a rule on the whole table."),
        TABLE_NAME,
        Column("rule", "text", "Name of the rule: table.column.kind.", is_required=True),
        Column("severity", "text", "What a breach does.", allowed=("quarantine", "warn", "stop")),
        Column("sentence", "text", "What is expected, in words.", is_required=True),
        Column("n_checked", "integer", "Rows looked at."),
        Column("n_failed", "integer", "Rows that break the rule."),
        Column("observed", "decimal", "Value a table rule looks at."),
        Column("outcome", "text", "Whether the rule held.", allowed=("passed", "failed")),
        Column("examples", "text", "A few rows that break it, as JSON."),
    ),
)

RUN = Table(
    "run",
    "store",
    "One run of the job that found something new.",
    (
        RUN_ID,
        Column("started_at", "moment", "Start of the run.", is_required=True),
        Column("finished_at", "moment", "End of the run; empty: it did not finish."),
        Column("as_of", "date", "Last date of the records that count.", is_required=True),
        Column("known_at", "moment", "Only rows landed by this moment count.", is_required=True),
        Column("fingerprint", "text", "Hash of everything the results depend on.", is_required=True),
        Column("version", "text", "Version of longmile.", is_required=True),
        Column("n_files_loaded", "integer", "Files loaded in this run."),
        Column("n_files_set_aside", "integer", "Files set aside in this run."),
    ),
    key=("run_id",),
)

COMPONENT = Table(
    "component",
    "store",
    "The component vocabulary, as a table.",
    (
        Column("component_code", "text", COMPONENT_CODE.description, is_required=True),
        Column("component_name", "text", "Name in the trade's words.", is_required=True),
        Column("system", "text", "System of the vehicle.", is_required=True),
        Column("socket_scheme", "text", "How many places a vehicle has for it.", is_required=True),
        Column("is_renewed_by_repair", "boolean", "Whether a repair makes the part as new."),
        Column("is_service_item", "boolean", "Changed on schedule: no failure statistics."),
        Column("is_safety_relevant", "boolean", "Whether a failure can hurt someone directly."),
    ),
    key=("component_code",),
)

SOCKET = Table(
    "socket",
    "store",
    "Every place for every component on every engine family.",
    (
        ENGINE_FAMILY,
        Column("component_code", "text", COMPONENT_CODE.description, is_required=True),
        Column("position", "text", "Position code.", is_required=True),
        Column("n_sockets", "integer", "Places for the component on a vehicle of the family.", is_required=True),
    ),
    key=("engine_family", "component_code", "position"),
)

POSITION_SPELLING = Table(
    "position_spelling",
    "store",
    "Other spellings of positions, by socket scheme.",
    (
        Column("socket_scheme", "text", "Socket scheme.", is_required=True),
        Column("spelling", "text", "As written.", is_required=True),
        Column("position", "text", "Position code, or 'all'.", is_required=True),
    ),
)


def raw_table(table: Table) -> Table:
    """Landing table of a trade table: every contract column as text, and where the row came from. No rules."""
    text = tuple(Column(f"text_{c.name}", "text", f"{c.incoming} as it came.") for c in table.columns)
    where = (FILE_ID, PART_NAME, ROW_NUMBER, LANDED_AT)
    return Table(f"raw_{table.name}", "store", f"Rows for {table.name} as they came, as text.", (*where, *text))


RAW_TABLES: tuple[Table, ...] = tuple(raw_table(table) for table in TRADE_TABLES)

STORE_TABLES: tuple[Table, ...] = (
    SOURCE_FILE,
    SOURCE_PART,
    QUARANTINED_ROW,
    CHECK_RESULT,
    RUN,
    DECISION,
    COMPONENT,
    SOCKET,
    POSITION_SPELLING,
    *RAW_TABLES,
)
