"""Facts, sentences and charts put into the templates: one HTML string a page. Computes nothing."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

import jinja2
import polars as pl
from markupsafe import Markup

from longmile.reports import charts, detail_words, figures, line_use_words, methods_words, wording
from longmile.reports.detail import detail
from longmile.reports.drawing import Drawn, bundle, drawn
from longmile.reports.facts import Briefing, briefing
from longmile.reports.frames import ResultFrames
from longmile.reports.palette import colour_rules
from longmile.reports.quality import quality
from longmile.reports.selection import MAX_COMPONENTS_CHARTED
from longmile.reports.sensitivity import furthest, sensitivities
from longmile.reports.stratum import CurveRow, StratumFacts, curve_points, finite
from longmile.schemas.results import ALL_FAMILIES

_TEMPLATES = Path(__file__).parent / "templates"


def briefing_page(frames: ResultFrames) -> str:
    """The briefing as one self-contained HTML page. Raises ValueError where a number to print is missing."""
    told = briefing(frames)
    drawings = _briefing_charts(told, frames)
    return _render("briefing.html", b=told, charts=drawings, bundle=bundle() if drawings else "")


def quality_page(frames: ResultFrames) -> str:
    """The data-quality page: every check, reconciliation, what was set aside. No script."""
    return _render("quality.html", q=quality(frames), charts={}, bundle="")


def methods_page(frames: ResultFrames) -> str:
    """The methods page: how each number is made, from what source, under which assumptions. No script."""
    moved = {"moved": sensitivities(frames), "furthest": furthest(frames)}
    return _render("methods.html", b=briefing(frames), charts={}, bundle="", **moved)


def estimates_page(frames: ResultFrames) -> str:
    """The page of estimates in detail: curves, families beside the fleet, removals, repairs per vehicle. No script."""
    return _render("estimates.html", d=detail(frames), charts={}, bundle="")


def _briefing_charts(told: Briefing, frames: ResultFrames) -> dict[str, Drawn]:
    """Every chart of the briefing by its id."""
    made: dict[str, Any] = {}
    if told.components:
        made["components"] = charts.rate_chart(
            told.components[:MAX_COMPONENTS_CHARTED],
            "component",
            "Failures per 100,000 miles with limits, for the components with most failures, all engine families.",
        )
    if told.higher:
        made["standing_out"] = charts.rate_chart(
            told.higher,
            "both",
            "Failures per 100,000 miles with limits, for what stands out, beside the rate of all other families.",
        )
    for number, stratum in enumerate(told.standing_out, start=1):
        if stratum.curve_table:
            made[f"family_{number}"] = charts.survival_chart(stratum, _everyone(frames, stratum))
    for number, stratum in enumerate(told.leading, start=1):
        if stratum.curve_table:
            made[f"leading_{number}"] = charts.survival_chart(stratum)
    return {name: drawn(chart, name) for name, chart in made.items()}


def _everyone(frames: ResultFrames, stratum: StratumFacts) -> tuple[CurveRow, ...]:
    """The curve of the same component over all families."""
    points = frames.survival_point.filter(
        (pl.col("component_code") == stratum.component_code)
        & (pl.col("engine_family") == ALL_FAMILIES)
        & (pl.col("unit") == "socket")
        & ~pl.col("is_tail")
    )
    return curve_points(points.sort("age_miles"), None)


def _printed(value: Any) -> Any:
    """What a template prints: the value; ValueError for None and for numbers that are not finite."""
    if value is None or (isinstance(value, float) and finite(value) is None):
        raise ValueError(f"a page was about to print {value!r}; the template must say in words what is not known.")
    return value


@cache
def _environment() -> jinja2.Environment:
    """Templates with escaping on, undefined names refused, and the words and figures they may use."""
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        finalize=_printed,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(
        say=wording,
        fig=figures,
        words=line_use_words,
        methods=methods_words,
        detail=detail_words,
        style=Markup(colour_rules() + (_TEMPLATES / "style.css").read_text(encoding="utf-8")),
        upgrade=Markup((_TEMPLATES / "upgrade.js").read_text(encoding="utf-8")),
        is_finite=lambda value: value is not None and math.isfinite(value),
    )
    return environment


def _render(template: str, **values: Any) -> str:
    """The template filled in."""
    return _environment().get_template(template).render(**values)
