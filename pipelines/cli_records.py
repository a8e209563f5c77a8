"""Commands about the records themselves: what was set aside, corrected or decided, and where a row came from."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from longmile.pipelines.flows.decide import Decided

records = typer.Typer()

Folder = Annotated[Path, typer.Argument(help="The workspace folder.")]
Workspace = Annotated[Path, typer.Option("--workspace", metavar="FOLDER", help="The workspace folder.")]
AsJson = Annotated[bool, typer.Option("--json", help="Write JSON instead of tables.")]
Export = Annotated[Path | None, typer.Option(metavar="FILE.xlsx", help="Write a workbook to fill in instead.")]
By = Annotated[str, typer.Option(help="Who decides; kept with the decision.")]


@records.command("map")
def map_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="An export file, as the shop's system writes it.")],
    workspace: Workspace = Path("."),
    check: Annotated[bool, typer.Option("--check", help="Show rows as they would land, and what would not.")] = False,
    accept: Annotated[bool, typer.Option("--accept", help="Accept the map: from then on such files load.")] = False,
    renew: Annotated[bool, typer.Option("--renew", help="Propose anew; the old map is kept as .bak.")] = False,
    as_json: AsJson = False,
) -> None:
    """Propose how a file's columns are read, show what comes of it, and accept it."""
    from longmile.pipelines.flows import map_words as words
    from longmile.pipelines.flows.map import accept_file, map_file
    from longmile.pipelines.flows.map_check import check_file
    from longmile.pipelines.flows.run import utc_now

    now = utc_now()
    parts = map_file(file, workspace, now.date(), renew=renew)
    told: dict[str, tuple[Any, Any]] = {}
    if check:
        checked = check_file(file, workspace, now)
        told["checked"] = words.check_words(checked), words.check_json(checked)
    if accept:
        accepted = accept_file(file, workspace)
        told["accepted"] = words.accepted_words(accepted), words.accepted_json(accepted)
    if not told:
        told["maps"] = words.map_words(parts), words.map_json(parts)
    if as_json:
        _print_json({name: found for name, (_, found) in told.items()})
        return
    from rich.console import Console

    for shown, _ in told.values():
        Console().print(shown)


@records.command()
def quarantine(folder: Folder = Path("."), export: Export = None, as_json: AsJson = False) -> None:
    """List rows set aside, by the rule they broke; or write them to a workbook to mend and drop back into the inbox."""
    from longmile.pipelines.flows.last_run import opened
    from longmile.pipelines.flows.quarantine import export_quarantine
    from longmile.pipelines.flows.quarantine import quarantine as listed

    with opened(folder) as (store, workspace):
        if export is not None:
            told = ", ".join(f"{n:,} in {name}" for name, n in export_quarantine(store, export).items())
            typer.echo(f"Wrote {export}: {told}. Mend the cells, delete lines that are to stay aside, and put the file")
            typer.echo(f"into {workspace.inbox}; the next run takes it in and counts what came back.")
            return
        found = listed(store)
    if as_json:
        _print_json({"n_rows": found.n_rows, "n_returned": found.n_returned, "rules": [vars(r) for r in found.rules]})
        return
    for rule in found.rules:
        typer.echo(f"{rule.n_rows:,} rows of {rule.n_files:,} files: {rule.rule}")
        typer.echo(_shown(f"  first in {rule.first_file}, line {rule.first_row:,}: {rule.reason}"))
    typer.echo(f"{found.n_rows:,} rows are set aside; {found.n_returned:,} have come back.")


@records.command()
def trace(
    repair_order: Annotated[str, typer.Argument(metavar="REPAIR_ORDER", help="Number of the order, as exported.")],
    workspace: Workspace = Path("."),
    as_json: AsJson = False,
) -> None:
    """Show what became of a repair order: every row of every file, and what the last run made of it."""
    from longmile.pipelines.flows.last_run import last_run
    from longmile.pipelines.flows.trace import trace as traced

    with last_run(workspace) as (store, _):
        found = traced(store, repair_order)
    if as_json:
        _print_json(found.as_dict())
        return
    for row in found.rows:
        where = f"{row.file_name}, line {row.row_number:,}, landed {row.landed_at:%Y-%m-%d %H:%M}"
        typer.echo(_shown(f"{row.table_name}: {where}: {row.fate}{f' ({row.why})' if row.why else ''}"))
        typer.echo(_shown(f"    {_listed(row.cells)}"))
    for heading, told in found.then.items():
        typer.echo(f"\n{heading.capitalize()}")
        for one in told:
            typer.echo(_shown(f"    {_listed(one)}"))


@records.command()
def corrections(folder: Folder = Path("."), export: Export = None, as_json: AsJson = False) -> None:
    """List what was settled about vehicles, odometers and orders; `longmile decide` changes or undoes each."""
    from longmile.pipelines.flows.corrections import brief, export_corrections
    from longmile.pipelines.flows.corrections import corrections as listed
    from longmile.pipelines.flows.last_run import last_run

    with last_run(folder) as (store, workspace):
        found = listed(store, is_vin_shown=workspace.settings.vins == "full")
    if export is not None:
        n_rows = export_corrections(found, export)
        typer.echo(f"Wrote {n_rows:,} rows to {export}. Fill in the column answer where you decide, then:")
        typer.echo(f"longmile decide --from {export} --workspace {folder}")
        return
    if as_json:
        _print_json({k: [dict(zip(header, row, strict=True)) for row in rows] for k, (header, rows) in found.items()})
        return
    for kind, (header, rows) in found.items():
        typer.echo(f"\n{kind}: {len(rows):,}")
        if rows:
            _print_table(*brief(kind, header, rows))


@records.command()
def decide(
    words: Annotated[
        list[str] | None, typer.Argument(metavar="KIND SUBJECT ANSWER", help="As `longmile corrections` lists them.")
    ] = None,
    workspace: Workspace = Path("."),
    from_file: Annotated[
        Path | None, typer.Option("--from", metavar="FILE", help="Decisions in a filled-in list (CSV or XLSX).")
    ] = None,
    by: By = "",
    note: Annotated[str, typer.Option(help="Why; kept with the decision.")] = "",
) -> None:
    """Decide about a vehicle, a reading or two orders, or take decisions from a filled-in list."""
    from longmile.pipelines.flows.answers import answer_of
    from longmile.pipelines.flows.decide import Decided

    if (words is None or len(words) < 3) == (from_file is None):
        raise typer.BadParameter("give KIND SUBJECT ANSWER, or --from FILE", param_hint="KIND SUBJECT ANSWER")
    if from_file is not None:
        _take_from_file(from_file, workspace, by)
        return
    kind, subject, *answer = words or []
    _take([Decided(kind, subject, answer_of(kind, " ".join(answer)), by, note)], workspace)


@records.command()
def purge(
    folder: Folder = Path("."),
    before: Annotated[
        datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Only copies made before this day. Default: all.")
    ] = None,
) -> None:
    """Remove the untouched copies of export files from landed/; the records in the store stay."""
    from longmile.pipelines.flows.purge import purge_originals
    from longmile.pipelines.workspace import open_workspace

    day: date | None = before.date() if before else None
    done = purge_originals(open_workspace(folder).landed, day)
    typer.echo(f"Removed {done.n_files:,} copies ({done.n_bytes:,} bytes); {done.n_kept:,} are younger and stay.")


def _take(made: Sequence[Decided], workspace: Path) -> None:
    """Keep the decisions, and say so."""
    from longmile.pipelines.flows.decide import take_decisions
    from longmile.pipelines.flows.last_run import opened
    from longmile.pipelines.flows.run import utc_now

    with opened(workspace) as (store, _):
        n_taken = take_decisions(store, made, utc_now())
    typer.echo(f"{n_taken:,} decisions kept. They count from the next run on: longmile run {workspace}")


def _take_from_file(path: Path, workspace: Path, by: str) -> None:
    """Keep the decisions of a filled-in list; rows that cannot be understood are said."""
    from longmile.pipelines.flows.decision_file import read_decisions

    read = read_decisions(path, by)
    for sheet, row, why in read.refused:
        typer.echo(_shown(f"{sheet}, row {row}: not taken. {why}"), err=True)
    n_refused = len(read.refused)
    typer.echo(f"{len(read.made):,} decisions read, {read.n_open:,} rows left open, {n_refused:,} not understood.")
    _take(read.made, workspace)


def _listed(cells: Mapping[str, Any]) -> str:
    """Names and values, those without a value left out."""
    told = ((name.replace("_", " "), value) for name, value in cells.items() if value is not None)
    return "; ".join(f"{name} {f'{value:,.1f}' if isinstance(value, float) else value}" for name, value in told)


def _print_json(found: Any) -> None:
    typer.echo(json.dumps(found, indent=2, ensure_ascii=False, default=str))


def _print_table(header: Sequence[str], rows: Iterable[Sequence[Any]]) -> None:
    """A table as wide as the terminal; control characters in escapes."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for title in header:
        table.add_column(title.replace("_", " "), overflow="fold")
    for row in rows:
        table.add_row(*(Text(_shown(cell)) for cell in row))
    Console().print(table)


def _shown(cell: Any) -> str:
    if cell is None:
        return ""
    if isinstance(cell, float):
        return f"{cell:,.1f}"
    text = f"{cell:,}" if isinstance(cell, int) and not isinstance(cell, bool) else str(cell)
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
