"""`longmile fit`: a CSV of lives in, estimates out. Reads the file and lays the answer out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.flows.numbers_shown import estimate_and_limits, per_100_000, plain
from longmile.pipelines.flows.read_csv import merged_faults, read_csv, set_aside_lines

if TYPE_CHECKING:
    from rich.console import Group
    from rich.table import Table

    from longmile.pipelines.steps.fit_models import LimitsKind

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
    compare: str | None = None,
    within: str | None = None,
    from_age: float = 0.0,
    bootstrap: int = 0,
) -> dict[str, Any]:
    """Estimates from a comma-separated file of lives, as `fit_lives` gives them, with the file's name.

    Rows with more or fewer cells than the header are set aside like any other faulty row.
    Raises UnreadableFileError if the file cannot be read or lacks the columns; the message names the file.
    """
    from longmile.pipelines.steps.fit import fit_lives

    frame, ragged = read_csv(Path(path), "life")
    try:
        result = fit_lives(
            frame,
            by=by or [],
            at=at or [],
            horizon=horizon,
            limits=limits,
            confidence=confidence,
            compare=compare,
            within=within,
            from_age=from_age,
            bootstrap=bootstrap,
        )
    except UnreadableFileError as error:
        raise UnreadableFileError(f"{Path(path).name}: {error}") from error
    result["set_aside"] = merged_faults(result["set_aside"], ragged)
    return {"file": Path(path).name, **result}


def fit_table(result: dict[str, Any]) -> Group:
    """The same answer for people: one table per stratum, then what was set aside."""
    from rich.console import Group
    from rich.text import Text

    parts: list[Any] = [_stratum_table(stratum, result) for stratum in result["strata"]]
    if not parts:
        parts.append(Text("No life in the file could be used."))
    parts += [Text(line) for line in set_aside_lines(result)]
    if result["ignored_columns"]:
        parts.append(Text(f"Columns not used: {', '.join(result['ignored_columns'])}"))
    return Group(*parts)


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
    for row in [*_count_rows(stratum), *_curve_rows(stratum), *_model_rows(stratum), *_other_rows(stratum)]:
        table.add_row(*row)
    return table


def _count_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    rate = stratum["rate"]
    removed = f"{stratum['n_removals']:,} ended by another removal" if stratum["n_removals"] else ""
    return [
        ("Lives", plain(stratum["n_lives"]), "", removed),
        ("Failures", plain(stratum["n_failures"]), "", ""),
        ("Miles at risk", plain(stratum["at_risk_total"]), "", ""),
        (
            "Failures per 100,000 miles",
            *estimate_and_limits(rate, per_100_000),
            "exact" if rate["limits"] == "exact Poisson" else "by cluster",
        ),
    ]


def _curve_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """The curve where few mileages were asked for, and the restricted mean."""
    rows = []
    for point in stratum["survival"] if len(stratum["survival"]) <= 12 else []:
        name = f"Surviving {point['t']:,.0f} miles"
        beyond = ", beyond the last mileage watched" if point["beyond_last_mileage"] else ""
        pair = estimate_and_limits({**point, "estimate": point["survival"]}, lambda value: f"{value:.1%}")
        rows.append((name, *pair, f"{point['at_risk']:,} at risk{beyond}"))
    mean = stratum["restricted_mean"]
    if mean["horizon"] is not None:
        beyond = "beyond the last mileage watched" if mean["beyond_last_mileage"] else ""
        rows.append((f"Mean miles up to {mean['horizon']:,.0f}", *estimate_and_limits(mean, plain), beyond))
    return rows


def _model_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """The Weibull's shape and scale, then what is read off the distribution used."""
    weibull, choice = stratum["models"]["weibull"], stratum["choice"]
    if weibull["status"] == "ok":
        rows = [
            (
                "Weibull shape",
                *estimate_and_limits(weibull["shape_limits"], lambda value: f"{value:.3g}"),
                _kind(weibull["shape_limits"]),
            ),
            ("Weibull scale, miles", *estimate_and_limits(weibull["scale_limits"], plain), ""),
        ]
    else:
        rows = [("Weibull", "", "", _REASON.get(weibull["reason"] or "", "not fitted"))]
    if choice["used"] is None:
        return rows
    used = stratum["models"][choice["used"]]
    name = MODEL_NAMES[choice["used"]]
    rows.append(("Curve used", name, "", _next_best(choice)))
    for key, title in _TITLES.items():
        beyond = "extrapolated: beyond the last mileage watched" if used[key]["extrapolated"] else ""
        rows.append((title, *estimate_and_limits(used[key], plain), beyond))
    return rows


MODEL_NAMES = {
    "weibull": "Weibull",
    "lognormal": "lognormal",
    "loglogistic": "log-logistic",
    "exponential": "constant rate",
}
_TITLES = {
    "mean": "Mean miles to failure",
    "median": "Half have failed by",
    "b10": "1 in 10 have failed by",
}


def _next_best(choice: dict[str, Any]) -> str:
    """What AIC says of the others."""
    if choice["runner_up"] is None or choice["aic_gap"] is None:
        return ""
    closest, runner = MODEL_NAMES[choice["closest"]], MODEL_NAMES[choice["runner_up"]]
    return f"closest by AIC: {closest}, then {runner}, {choice['aic_gap']:.1f} behind"


def _other_rows(stratum: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """Groups compared, and a curve that should speak from a later age."""
    rows = []
    for name, test in (stratum["comparison"] or {}).items():
        title = "Groups differ? Log-rank" if name == "log_rank" else f"Groups differ in cause {name[-1]}? Gray"
        chance = "" if test["p"] is None else f"p = {test['p']:.4f}"
        told = "" if test["chi_square"] is None else f"{test['chi_square']:.3f}"
        rows.append((title, told, chance, "" if test["status"] == "ok" else test["status"].replace("_", " ")))
    advised = stratum["survival_from"]["advised"]
    if advised and advised > stratum["survival_from"]["from"]:
        rows.append(("Survival curve", "", "", f"few at risk early on: try --from {advised:,.0f}"))
    return rows


def _kind(limits: dict[str, Any]) -> str:
    """The shape in plain words, as far as its limits allow."""
    low, high = limits["lower"], limits["upper"]
    if low is not None and low > 1:
        return "wear-out: the older, the likelier to fail"
    if high is not None and high < 1:
        return "early failures: the older, the safer"
    return "cannot be told from chance failures"
