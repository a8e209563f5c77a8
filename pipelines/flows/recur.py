"""`longmile recur`: a CSV of repairs and one of windows watched in, repairs per unit out. Reads and lays out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.flows.numbers_shown import estimate_and_limits, per_100_000, plain
from longmile.pipelines.flows.read_csv import merged_faults, read_csv, set_aside_lines

if TYPE_CHECKING:
    from rich.console import Group
    from rich.table import Table

_STATUS = {
    "ok": "",
    "thin": "few repairs or few units: read the limits, not the estimate",
    "no_failures": "no repairs: only the upper limit of the rate says anything",
    "too_few_at_risk": "nothing was watched",
}
_REASON = {
    "one_failure": "not fitted: one repair fixes a rate, not a trend",
    "shape_rises_without_limit": "no fit: every repair at the last mileage watched",
    "shape_falls_to_zero": "no fit: repairs fall off faster than any power law from 0 allows",
    "no_information": "no fit: watched too short, for the mileage, to tell any shape",
    "search_ended": "no fit: the search ended before the maximum",
}
_MOST_SHOWN = 12  # more points than these are for a chart: the last one stands for them

_GAP = 0.01  # share of the miles to a point that may be unwatched without a word


def recur_files(
    events: str | Path,
    windows: str | Path,
    *,
    cost: str | None = None,
    by: list[str] | None = None,
    at: list[float] | None = None,
    confidence: float = 0.95,
) -> dict[str, Any]:
    """Repairs per unit from two comma-separated files, as `recur_repairs` gives them, with the files' names.

    events: columns unit, at, and the one that cost names.   windows: unit, start, end, and those in by.
    Rows with more or fewer cells than the header are set aside like any other faulty row.
    Raises UnreadableFileError if a file cannot be read or lacks a column; the message names the file.
    """
    from longmile.pipelines.steps.recur import recur_repairs
    from longmile.pipelines.steps.recur_input import read_repairs, read_windows

    paths = {"repairs": Path(events), "windows": Path(windows)}
    repair_rows, uneven_repairs = read_csv(paths["repairs"], "repair")
    window_rows, uneven_windows = read_csv(paths["windows"], "window")
    path = paths["windows"]
    try:
        watched = read_windows(window_rows, by or [])
        path = paths["repairs"]
        found = read_repairs(repair_rows, watched, cost)
    except UnreadableFileError as error:
        raise UnreadableFileError(f"{path.name}: {error}") from error
    result = recur_repairs(found, at=at or [], confidence=confidence)
    for name, uneven in (("repairs", uneven_repairs), ("windows", uneven_windows)):
        faults = merged_faults(result[name]["set_aside"], uneven)
        result[name] = {"file": paths[name].name, **result[name], "set_aside": faults}
    return result


def recur_table(result: dict[str, Any]) -> Group:
    """The same answer for people: one table per stratum, then what was set aside."""
    from rich.console import Group
    from rich.text import Text

    parts: list[Any] = [_stratum_table(stratum, result["confidence"]) for stratum in result["strata"]]
    if not parts:
        parts.append(Text("No window in the file could be used."))
    merged = result["windows"]["n_merged"]
    if merged:
        parts.append(Text(f"{merged:,} windows overlapped another of the same unit and were merged with it."))
    for name in ("repairs", "windows"):
        read = result[name]
        parts += [Text(line) for line in set_aside_lines(read, f"rows of {read['file']}")]
        if read["ignored_columns"]:
            parts.append(Text(f"Columns of {read['file']} not used: {', '.join(read['ignored_columns'])}"))
    return Group(*parts)


def _stratum_table(stratum: dict[str, Any], confidence: float) -> Table:
    from rich.table import Table
    from rich.text import Text

    title = ", ".join(f"{name} {value}" for name, value in stratum["by"].items()) or "All units"
    note = _STATUS[stratum["status"]]
    # As Text: a group's name is data and may hold what would be read as markup.
    shown = Text(f"{title}: {note}" if note else title, style="table.title")
    table = Table(title=shown, title_justify="left", min_width=60)
    table.add_column("What")
    table.add_column("Estimate", justify="right")
    table.add_column(f"{confidence:.0%} limits", justify="right")
    table.add_column("Note")
    for row in [*_count_rows(stratum), *_curve_rows(stratum), *_trend_rows(stratum, confidence), *_law_rows(stratum)]:
        table.add_row(*row)
    return table


def _count_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    return [
        ("Units watched", plain(stratum["n_units"]), "", f"{stratum['n_units_repaired']:,} with a repair"),
        ("Repairs", plain(stratum["n_repairs"]), "", ""),
        ("Miles watched", plain(stratum["miles_watched"]), "", f"windows: {stratum['n_windows']:,}"),
        (
            "Repairs per 100,000 miles",
            *estimate_and_limits(stratum["rate"], per_100_000),
            "exact, were they independent",
        ),
    ]


def _curve_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """Number and cost per unit where few mileages were asked for, else at the last one alone."""
    points = stratum["mean_cumulative"]
    rows = []
    for point in points if len(points) <= _MOST_SHOWN else points[-1:]:
        note = _point_note(point)
        by = f"by {point['t']:,.0f} miles"
        number = estimate_and_limits(point["number"], lambda value: f"{value:.3g}")
        rows.append((f"Repairs per unit {by}", *number, note))
        if point["cost"] is not None:
            cost = estimate_and_limits(point["cost"], lambda value: f"{value:,.2f}")
            rows.append((f"Cost per unit {by}", *cost, note))
    return rows


def _point_note(point: dict[str, Any]) -> str:
    notes = [f"{point['at_risk']:,} watched there"]
    if point["n_repairs"] and point["number"]["lower"] is None:
        notes.append("no limits: no two units differ")
    if point["beyond_last_mileage"]:
        notes.append("beyond the last mileage watched: at least so many")
    elif point["unwatched_miles"] > _GAP * point["t"]:
        notes.append(f"at least so many: nobody watched over {point['unwatched_miles']:,.0f} miles of it")
    return ", ".join(notes)


def _trend_rows(stratum: dict[str, Any], confidence: float) -> list[tuple[str, str, str, str]]:
    """The verdict of the tests: by unit where there are units enough, else Laplace's own."""
    tests = stratum["trend_tests"]
    by_unit = tests["laplace_by_unit"]
    is_by_unit = by_unit["status"] == "ok"
    test = by_unit if is_by_unit else tests["laplace"]
    if test["z"] is None:
        return []
    if test["p"] >= 1 - confidence:
        words = "within units, none that chance could not have made"
    else:
        words = f"within units, repairs come {'faster' if test['z'] > 0 else 'slower'} as the miles go on"
    few = "; few repairs" if tests["status"] == "thin" else ""
    name = "Trend test, error by unit" if is_by_unit else "Trend test"
    return [(name, f"{test['z']:+.2f}", f"p = {test['p']:.2g}", words + few)]


def _law_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    law = stratum["models"]["power_law"]
    if law["status"] != "ok":
        return [("Power law", "", "", _REASON.get(law["reason"] or "", "not fitted"))]
    exact = law["exact"]
    beta, between = (exact or law)["beta"], (exact or law)["miles_between_at_end"]
    limits = "exact" if exact else ""
    rows = [
        ("Power law, shape beta", *estimate_and_limits(beta, lambda value: f"{value:.3g}"), _direction(beta)),
        (f"Miles between repairs at {law['end']:,.0f}", *estimate_and_limits(between, plain), limits),
    ]
    if law["modified"]:
        rows.append(("Shape beta, bias-reduced", f"{law['modified']['beta']:.3g}", "", "not maximum likelihood"))
    return rows


def _direction(beta: dict[str, Any]) -> str:
    """What the limits of the shape say of the rate, units seen at different mileages compared with each other too."""
    low, high = beta["lower"], beta["upper"]
    if low is not None and low > 1:
        return "the rate rises with the mileage"
    if high is not None and high < 1:
        return "the rate falls with the mileage"
    return "a constant rate is not ruled out"
