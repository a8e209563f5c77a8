"""What was read from the free text of repair lines, and the model by which doubtful ones were read."""

from __future__ import annotations

from longmile.schemas import vocabulary as v
from longmile.schemas.contract import Column, Table
from longmile.schemas.shop import COMPONENT_CODE, REPAIR_ORDER_ID

CODING_STATES: tuple[str, ...] = ("coded", "unsure", "no_component")
CODING_STAGES: tuple[str, ...] = ("vocabulary", "learned", "reviewed")

LINE_NUMBER = Column("line_no", "integer", "Number of the line within its repair order.", is_required=True)

MENTION_NO = Column(
    "mention_no", "integer", "Number of the component within the line's text, from 1.", is_required=True, minimum=1
)

CODED_LINE = Table(
    "coded_line",
    "life",
    "What was read from the text of a line: one row for each component it speaks of, or one that says it is unsure.",
    (
        REPAIR_ORDER_ID,
        LINE_NUMBER,
        MENTION_NO,
        Column("component_code", "text", f"{COMPONENT_CODE.description} Of an unsure line: the likeliest."),
        Column("position", "text", "Position as read; empty: none is said."),
        Column("action", "text", "What was done, as read.", allowed=v.ACTIONS),
        Column("reason", "text", "Why it was done, as read.", allowed=v.REASONS),
        Column("confidence", "decimal", "Chance that the component is right.", unit="share", minimum=0, maximum=1),
        Column(
            "coding_state",
            "text",
            "coded: it counts; unsure: a person should say, until then it counts for nothing; no_component: the line "
            "is about none of the vocabulary.",
            is_required=True,
            allowed=CODING_STATES,
        ),
        Column("coding_stage", "text", "What decided.", is_required=True, allowed=CODING_STAGES),
        Column("because", "text", "Words that led to it."),
        Column(
            "text_key", "text", "Hash of the line's texts: lines that say the same have the same.", is_required=True
        ),
        Column("model_version", "text", "Model that read it; empty: the vocabulary alone, or a person."),
    ),
    key=("repair_order_id", "line_no", "mention_no"),
)

CODING_MODEL = Table(
    "coding_model",
    "life",
    "The model that reads doubtful lines: what it was trained on, and how well it did on lines kept from it.",
    (
        Column(
            "model_version", "text", "Hash of the lines it was trained on and of the program's rules.", is_required=True
        ),
        Column("n_lines", "integer", "Lines it was trained on.", is_required=True),
        Column(
            "is_used", "boolean", "False: too few lines to learn from; the vocabulary alone decides.", is_required=True
        ),
        Column("threshold", "decimal", "Confidence from which a line is coded.", unit="share"),
        Column("accuracy", "decimal", "Share right of the lines decided, of those kept from training.", unit="share"),
        Column("decided_share", "decimal", "Share of the lines kept from training that are decided.", unit="share"),
    ),
    key=("model_version",),
)

CODING_TABLES: tuple[Table, ...] = (CODED_LINE, CODING_MODEL)
