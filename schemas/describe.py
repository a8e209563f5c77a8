"""The contract as a data dictionary in Markdown. A string out; writes no file."""

from __future__ import annotations

from longmile.schemas.contract import Column, Table
from longmile.schemas.registry import TABLES

_STAGES = {
    "trade": "What comes in: one table per file of the neutral layout",
    "store": "The store's own books",
    "life": "Lives",
    "result": "Results",
}


def data_dictionary() -> str:
    """Every table and column: type, unit, whether it may be empty, rules, meaning."""
    parts = [
        "# Data dictionary",
        "",
        "Made from `schemas/` by `longmile dictionary`; do not edit. A column's header in a file of the neutral layout",
        "is its own name unless another is given in brackets. `*` = must be filled in.",
    ]
    for stage, title in _STAGES.items():
        parts += ["", f"## {title}"]
        for table in TABLES:
            if table.stage == stage and not table.name.startswith("raw_"):
                parts += _described(table)
    parts += [
        "",
        "## Landing tables",
        "",
        "Each trade table has a `raw_` table with every column as text under `text_<column>`, and the file, part, row",
        "and moment it came from.",
    ]
    return "\n".join(parts) + "\n"


def _described(table: Table) -> list[str]:
    """One table's section."""
    key = f" Key: {', '.join(table.key)}." if table.key else ""
    lines = [
        "",
        f"### {table.name}",
        "",
        f"{table.description}{key}",
        "",
        "| column | type | unit | meaning | rules |",
        "|---|---|---|---|---|",
    ]
    lines += [_row(table, column) for column in table.columns]
    lines += [
        f"- Rule `{rule.name}` ({rule.severity}): {rule.sentence}." for rule in table.rules if rule.check is not None
    ]
    if lines[-1].startswith("- "):
        first = next(i for i, line in enumerate(lines) if line.startswith("- "))
        lines.insert(first, "")
    return lines


def _row(table: Table, column: Column) -> str:
    """One column's row."""
    name = column.name + ("*" if column.is_required else "")
    header = f" (`{column.header}`)" if column.header else ""
    rules = [r for r in table.rules if r.column is column and r.kind not in ("required", "typed")]
    said = "; ".join(r.sentence.replace("|", "\\|") + (" (warns)" if r.severity == "warn" else "") for r in rules)
    return f"| {name}{header} | {column.type} | {column.unit} | {column.description} | {said} |"
