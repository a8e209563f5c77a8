"""The command line: words in, words out. Calls flows, which are imported only by the command that needs them."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from longmile.pipelines.cli_records import records
from longmile.pipelines.errors import LongmileError

if TYPE_CHECKING:
    from longmile.pipelines.flows.run import Around
    from longmile.pipelines.flows.steps import Job

app = typer.Typer(
    name="longmile",
    help="Failure rates and miles to failure by component and engine family, from a shop's own repair orders.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode="rich",
)
app.add_typer(records)

LimitsKind = Literal["profile", "wald"]
Folder = Annotated[Path, typer.Argument(help="The workspace folder.")]


def main() -> None:
    """Run the command line; a broken promise ends it with its message and its own exit code, all else with 1."""
    for stream in (sys.stdout, sys.stderr):
        # A file name may hold what the terminal cannot show: then it is shown in escapes.
        stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    try:
        app()
    except LongmileError as error:
        _print_error(str(error))
        sys.exit(error.exit_code)
    except Exception as error:
        _print_error(_unforeseen(error))
        sys.exit(LongmileError.exit_code)


@app.command()
def init(folder: Folder) -> None:
    """Make a new workspace: settings, an inbox for export files, and places for what comes out."""
    from longmile.pipelines.workspace import create_workspace

    workspace = create_workspace(folder)
    typer.echo(f"Made the workspace {folder}. Drop export files into {workspace.inbox}, then: longmile run {folder}")


@app.command()
def run(
    folder: Folder = Path("."),
    as_of: Annotated[
        datetime | None,
        typer.Option(formats=["%Y-%m-%d"], help="Last date of the records that counts. Default: the newest."),
    ] = None,
    known: Annotated[
        datetime | None,
        typer.Option(
            formats=["%Y-%m-%d", "%Y-%m-%dT%H:%M:%S"],
            help="Leave out what landed after this moment (UTC). Default: nothing.",
        ),
    ] = None,
) -> None:
    """Take in the inbox, check it, cut lives, estimate, and write the pages."""
    from longmile.pipelines.flows.run import run_job

    day: date | None = as_of.date() if as_of else None
    _print_end(run_job(folder, as_of=day, known_at=known, say=_say, around=_with_progress()))


@app.command()
def demo(folder: Folder = Path("longmile-demo")) -> None:
    """Make a workspace for an invented two-location shop, run the job on it, and say where the page is."""
    from longmile.pipelines.flows.demo import run_demo

    _print_end(run_demo(folder, say=_say, around=_with_progress()))


@app.command()
def fit(
    lives_file: Annotated[Path, typer.Argument(metavar="LIVES.csv", help="A table of lives; columns in the README.")],
    by: Annotated[str, typer.Option(help="Group columns, separated by commas.")] = "",
    at: Annotated[str, typer.Option(help="Mileages at which to read survival, separated by commas.")] = "",
    horizon: Annotated[float | None, typer.Option(help="Horizon of the restricted mean, in miles.")] = None,
    limits: Annotated[str, typer.Option(help="profile or wald: how the Weibull limits are found.")] = "profile",
    confidence: Annotated[float, typer.Option(help="Confidence of all limits.")] = 0.95,
    compare: Annotated[str | None, typer.Option(help="Column of groups to test against each other.")] = None,
    within: Annotated[str | None, typer.Option(help="Column of blocks within which groups are compared.")] = None,
    from_age: Annotated[
        float, typer.Option("--from", help="Age from which the survival curve speaks, of lives that reach it.")
    ] = 0.0,
    bootstrap: Annotated[
        int, typer.Option(help="Samples of whole clusters, for limits of the survival curve's quantiles.")
    ] = 0,
    as_json: Annotated[bool, typer.Option("--json", help="Write JSON instead of tables.")] = False,
) -> None:
    """Fit rates, survival and four distributions to any table of lives; compare groups and causes."""
    from longmile.pipelines.flows.fit import fit_file, fit_table

    result = fit_file(
        lives_file,
        by=[name.strip() for name in by.split(",") if name.strip()],
        at=_numbers(at),
        horizon=horizon,
        limits=_limits(limits),
        confidence=confidence,
        compare=compare,
        within=within,
        from_age=from_age,
        bootstrap=bootstrap,
    )
    if as_json:
        import json

        typer.echo(json.dumps(result, indent=2, allow_nan=False, ensure_ascii=False))
        return
    from rich.console import Console

    Console().print(fit_table(result))


@app.command()
def recur(
    events_file: Annotated[
        Path, typer.Argument(metavar="EVENTS.csv", help="A row per repair: unit, at (its mileage), a cost if any.")
    ],
    windows: Annotated[
        Path,
        typer.Option(metavar="WINDOWS.csv", help="A row per window (start, end] watched: unit, start, end, groups."),
    ],
    cost: Annotated[str, typer.Option(metavar="COLUMN", help="Column of EVENTS.csv with the cost of a repair.")] = "",
    by: Annotated[str, typer.Option(help="Group columns of WINDOWS.csv, separated by commas.")] = "",
    at: Annotated[str, typer.Option(help="Mileages at which to read the curves, separated by commas.")] = "",
    confidence: Annotated[float, typer.Option(help="Confidence of all limits.")] = 0.95,
    as_json: Annotated[bool, typer.Option("--json", help="Write JSON instead of tables.")] = False,
) -> None:
    """Repairs per unit, their cost and their trend, from any table of repairs and miles watched."""
    from longmile.pipelines.flows.recur import recur_files, recur_table

    result = recur_files(
        events_file,
        windows,
        cost=cost.strip() or None,
        by=[name.strip() for name in by.split(",") if name.strip()],
        at=_numbers(at),
        confidence=confidence,
    )
    if as_json:
        import json

        typer.echo(json.dumps(result, indent=2, allow_nan=False, ensure_ascii=False))
        return
    from rich.console import Console

    Console().print(recur_table(result))


@app.command()
def serve(folder: Folder = Path(".")) -> None:
    """Stay running and refresh the workspace every night, at the time the settings say."""
    from longmile.pipelines.flows.schedule import serve_workspace

    serve_workspace(folder, _say)


@app.command()
def dictionary() -> None:
    """Write the data dictionary: every table and column, its type, unit and rules."""
    from longmile.schemas.describe import data_dictionary

    typer.echo(data_dictionary(), nl=False)


def _say(sentence: str) -> None:
    typer.echo(f"  {_one_line(sentence)}")


def _print_error(message: str) -> None:
    typer.echo(f"longmile: {_one_line(message)}", err=True)


def _one_line(text: str) -> str:
    """The text with control characters in escapes: a file name must not write lines or colours of its own."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


def _unforeseen(error: Exception) -> str:
    """What went wrong, in a sentence: what the system refused, or else where in the program it happened."""
    if isinstance(error, OSError) and error.filename:
        return f"{error.filename}: {error.strerror}. What earlier steps finished stays; put this right and run again."
    frames = [f for f in traceback.extract_tb(error.__traceback__) if f.name != "main"]
    last = next((f for f in reversed(frames) if "site-packages" not in f.filename), frames[-1])
    words = str(error).splitlines() or ["no more is known"]
    return (
        f"something went wrong that was not foreseen: {type(error).__name__}: {words[0]} "
        f"({Path(last.filename).name}, line {last.lineno}). What earlier steps finished stays; please report it."
    )


def _limits(asked: str) -> LimitsKind:
    """The kind of limits; a usage error where there is none of that name."""
    kinds: dict[str, LimitsKind] = {"profile": "profile", "wald": "wald"}
    if asked not in kinds:
        raise typer.BadParameter(f"{asked!r} is neither profile nor wald", param_hint="--limits")
    return kinds[asked]


def _numbers(text: str) -> list[float]:
    """Numbers separated by commas; a usage error naming the one that is none."""
    numbers = []
    for word in (part.strip() for part in text.split(",") if part.strip()):
        try:
            numbers.append(float(word))
        except ValueError:
            raise typer.BadParameter(f"{word!r} is not a number", param_hint="--at") from None
    return numbers


def _with_progress() -> Around:
    """Says each step as it begins, and how long it took; a moving line only where a person is watching."""
    from time import perf_counter

    from rich.console import Console

    console = Console()

    def around(step: object, act: Callable[[], str]) -> str:
        title = step.title  # type: ignore[attr-defined]
        began = perf_counter()
        if not console.is_terminal:
            typer.echo(f"{title} ...")
            said = act()
        else:
            with console.status(f"{title} ..."):
                said = act()
        typer.echo(f"{title}: {said} [{perf_counter() - began:.1f} s]")
        return said

    return around


def _print_end(job: Job) -> None:
    """The closing summary."""
    if job.is_up_to_date:
        typer.echo("Nothing is new: no file, setting or question has changed since the last run. No table was touched.")
    for name, reason in (*job.intake.set_aside, *job.intake.still_set_aside):
        typer.echo(_one_line(f"Set aside: {name}: {reason}"))
    page = (job.workspace.published / "briefing.html").resolve()
    typer.echo(_one_line(f"Records up to {job.as_of}. Open in a browser: {page}"))


if __name__ == "__main__":
    main()
