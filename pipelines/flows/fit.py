"""`longmile fit`: a CSV of lives in, estimates out. Reads the file and lays the answer out."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import TYPE_CHECKING, Any

from longmile.pipelines.errors import UnreadableFileError

if TYPE_CHECKING:
    import polars as pl
    from rich.console import Group
    from rich.table import Table

    from longmile.pipelines.steps.fit import LimitsKind

_STATUS = {
    "ok": "",
    "thin": "few failures: read the limits, not the estimate",
    "no_failures": "no failures: only the upper limits say anything",
    "too_few_at_risk": "nothing was watched",
}
_REASON = {
    "one_failure": "not fitted: one failure fixes a rate, not a shape",
    "shape_rises_without_limit": "no fit: every failure at one mileage, so any steeper curve fits better",
    "shape_falls_to_zero": "no fit: lives seen from late on show no start, so any flatter curve fits better",
    "search_ended": "no fit: the search ended before the maximum",
}


def fit_file(
    path: str | Path,
    *,
    by: list[str] | None = None,
    at: list[float] | None = None,
    horizon: float | None = None,
    limits: LimitsKind = "profile",
    confidence: float = 0.95,
) -> dict[str, Any]:
    """Estimates from a comma-separated file of lives, as `fit_lives` gives them, with the file's name.

    Rows with more or fewer cells than the header are set aside like any other faulty row.
    Raises UnreadableFileError if the file cannot be read or lacks the columns; the message names the file.
    """
    from longmile.pipelines.steps.fit import fit_lives

    frame, ragged = _read(Path(path))
    try:
        result = fit_lives(frame, by=by or [], at=at or [], horizon=horizon, limits=limits, confidence=confidence)
    except UnreadableFileError as error:
        raise UnreadableFileError(f"{Path(path).name}: {error}") from error
    uneven = {fault["row"] for fault in ragged}
    listed = [fault for fault in result["set_aside"] if fault["row"] not in uneven]
    result["set_aside"] = sorted([*listed, *ragged], key=lambda fault: fault["row"])
    return {"file": Path(path).name, **result}


def fit_table(result: dict[str, Any]) -> Group:
    """The same answer for people: one table per stratum, then what was set aside."""
    from rich.console import Group
    from rich.text import Text

    parts: list[Any] = [_stratum_table(stratum, result) for stratum in result["strata"]]
    if not parts:
        parts.append(Text("No life in the file could be used."))
    if result["n_set_aside"]:
        parts.append(Text(f"{result['n_set_aside']:,} of {result['n_rows']:,} rows set aside:"))
        shown = result["set_aside"][:10]
        parts += [Text(f"  row {fault['row']:,}, {fault['column']}: {fault['reason']}") for fault in shown]
        more = len(result["set_aside"]) - len(shown)
        parts += [Text(f"  and {more:,} more; --json lists all of them")] if more else []
    if result["ignored_columns"]:
        parts.append(Text(f"Columns not used: {', '.join(result['ignored_columns'])}"))
    return Group(*parts)


def _read(path: Path) -> tuple[pl.DataFrame, list[dict[str, Any]]]:
    """All cells as text, and the rows whose number of cells is not the header's (left empty in the frame)."""
    import polars as pl

    content = _content(path)
    header = next(csv.reader(content.decode("utf-8").splitlines()[:1]))
    if len(set(header)) < len(header):
        raise UnreadableFileError(f"{path.name}: two columns have the same name ({', '.join(header)}).")
    if content.count(b'"') % 2 == 0:
        try:
            return pl.read_csv(content, infer_schema_length=0), []
        except pl.exceptions.PolarsError:
            pass
    return _read_uneven(path, content)


def _content(path: Path) -> bytes:
    """The bytes of the file in UTF-8, without a byte-order mark or blank lines around them."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise UnreadableFileError(f"{path}: cannot be opened ({error.strerror}). Expected a CSV file.") from error
    if not content.strip():
        raise UnreadableFileError(f"{path.name}: empty. Expected a header line and a row per life.")
    try:
        return content.decode("utf-8-sig").encode("utf-8").strip(b"\r\n") + b"\n"
    except UnicodeDecodeError as error:
        raise UnreadableFileError(
            f"{path.name}: not UTF-8 text (byte {error.start:,}). Save it as CSV in UTF-8 and try again."
        ) from error


def _read_uneven(path: Path, content: bytes) -> tuple[pl.DataFrame, list[dict[str, Any]]]:
    """The same for a file that is no clean rectangle, cell by cell: slow, so only where it must."""
    import polars as pl

    lines = csv.reader(content.decode("utf-8").splitlines(keepends=True), strict=True)
    try:
        header, *rows = lines
    except csv.Error as error:
        raise UnreadableFileError(
            f"{path.name}: not a CSV file, up to line {lines.line_num:,}: {error}. "
            "Often a quotation mark is opened and never closed."
        ) from error
    ragged = [
        {"row": i, "column": "", "reason": f"{len(row)} cells, the header has {len(header)}"}
        for i, row in enumerate(rows, 1)
        if len(row) != len(header)
    ]
    even = [row if len(row) == len(header) else [""] * len(header) for row in rows]
    return pl.DataFrame(even, schema=dict.fromkeys(header, pl.String), orient="row"), ragged


def _stratum_table(stratum: dict[str, Any], result: dict[str, Any]) -> Table:
    from rich.table import Table
    from rich.text import Text

    title = ", ".join(f"{name} {value}" for name, value in stratum["by"].items()) or "All lives"
    note = _STATUS[stratum["status"]]
    # As Text: a group's name is data and may hold what would be read as markup.
    shown = Text(f"{title}: {note}" if note else title, style="table.title")
    table = Table(title=shown, title_justify="left", min_width=60)
    table.add_column("What")
    table.add_column("Estimate", justify="right")
    table.add_column(f"{result['confidence']:.0%} limits", justify="right")
    table.add_column("Note")
    for row in [*_count_rows(stratum), *_curve_rows(stratum), *_weibull_rows(stratum)]:
        table.add_row(*row)
    return table


def _count_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    rate = stratum["rate"]
    removed = f"{stratum['n_removals']:,} ended by another removal" if stratum["n_removals"] else ""
    return [
        ("Lives", _plain(stratum["n_lives"]), "", removed),
        ("Failures", _plain(stratum["n_failures"]), "", ""),
        ("Miles at risk", _plain(stratum["at_risk_total"]), "", ""),
        (
            "Failures per 100,000 miles",
            *_pair(rate, _per_100_000),
            "exact",
        ),
    ]


def _curve_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """The curve where few mileages were asked for, and the restricted mean."""
    rows = []
    for point in stratum["survival"] if len(stratum["survival"]) <= 12 else []:
        name = f"Surviving {point['t']:,.0f} miles"
        beyond = ", beyond the last mileage watched" if point["beyond_last_mileage"] else ""
        pair = _pair({**point, "estimate": point["survival"]}, lambda value: f"{value:.1%}")
        rows.append((name, *pair, f"{point['at_risk']:,} at risk{beyond}"))
    mean = stratum["restricted_mean"]
    if mean["horizon"] is not None:
        beyond = "beyond the last mileage watched" if mean["beyond_last_mileage"] else ""
        rows.append((f"Mean miles up to {mean['horizon']:,.0f}", *_pair(mean, _plain), beyond))
    return rows


def _weibull_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    fit = stratum["models"]["weibull"]
    if fit["status"] != "ok":
        return [("Weibull", "", "", _REASON.get(fit["reason"] or "", "not fitted"))]
    rows = [
        (
            "Weibull shape",
            *_pair(fit["shape_limits"], lambda value: f"{value:.3g}"),
            _kind(fit["shape_limits"]),
        ),
        ("Weibull scale, miles", *_pair(fit["scale_limits"], _plain), ""),
    ]
    named = {
        "mean": "Mean miles to failure",
        "median": "Half have failed by",
        "b10": "1 in 10 have failed by",
    }
    for key, name in named.items():
        beyond = "extrapolated: beyond the last mileage watched" if fit[key]["extrapolated"] else ""
        rows.append((name, *_pair(fit[key], _plain), beyond))
    return rows


def _kind(limits: dict[str, Any]) -> str:
    """The shape in plain words, as far as its limits allow."""
    low, high = limits["lower"], limits["upper"]
    if low is not None and low > 1:
        return "wear-out: the older, the likelier to fail"
    if high is not None and high < 1:
        return "early failures: the older, the safer"
    return "cannot be told from chance failures"


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:,.0f}"


def _per_100_000(rate: float) -> str:
    value = 100_000 * rate
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}"


def _pair(limits: dict[str, Any], form: Any) -> tuple[str, str]:
    """Estimate and limits as two cells; an open side is said to be open."""
    estimate, low, high = limits["estimate"], limits["lower"], limits["upper"]
    if estimate is None:
        return "", ""
    if low is None and high is None and not limits.get("unbounded"):
        return form(estimate), "not defined"
    above = "no upper limit" if "upper" in limits.get("unbounded", []) else "?" if high is None else form(high)
    return form(estimate), f"{'?' if low is None else form(low)} to {above}"
