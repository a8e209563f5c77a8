"""One function per chart: facts in, an Altair chart out. Reads no table, computes no statistic."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import altair as alt

from longmile.reports import figures as f
from longmile.reports.facts import RateRow
from longmile.reports.palette import LIGHT
from longmile.reports.stratum import CurveRow, StratumFacts

CURVE_HEIGHT = 230
ROW_HEIGHT = 26
TWO_LINE_ROW_HEIGHT = 36
HOVER = "hover"
"""Name of layers that only carry what is shown on hovering; a still drawing leaves them out."""
_FONT = "system-ui, -apple-system, 'Segoe UI', sans-serif"
_AT_RISK_BELOW = CURVE_HEIGHT + 34


def _styled(chart: Any) -> Any:
    """The chart with the house style: no frame, no background, the page's own colours."""
    return (
        chart.configure(background="transparent", font=_FONT, padding={"left": 2, "right": 12, "top": 6, "bottom": 4})
        .configure_view(stroke=None)
        .configure_axis(
            labelColor=LIGHT["soft"],
            titleColor=LIGHT["ink"],
            gridColor=LIGHT["rule"],
            domainColor=LIGHT["soft"],
            tickColor=LIGHT["soft"],
            labelFontSize=12,
            titleFontSize=12,
            titleFontWeight="normal",
        )
    )


def _data(values: list[dict[str, Any]]) -> Any:
    """Inline data of a chart."""
    return alt.InlineData(values=values)


def _curve_values(rows: Sequence[CurveRow]) -> list[dict[str, Any]]:
    """Points of a curve, survival as so many in 100; a missing limit leaves a gap in the band."""
    return [
        {
            "age": round(row.age_miles),
            "running": round(100 * row.survival, 2),
            "low": None if row.lower is None else round(100 * row.lower, 2),
            "high": None if row.upper is None else round(100 * row.upper, 2),
        }
        for row in rows
    ]


def survival_chart(stratum: StratumFacts, everyone: Sequence[CurveRow] = ()) -> Any:
    """Survival against age with its band, all families dashed, and the counts at risk under the axis."""
    largest = stratum.curve[-1].age_miles
    ages = [row.age_miles for row in stratum.curve_table]
    x = alt.X(
        "age:Q",
        scale=alt.Scale(domain=[0, largest], nice=False),
        axis=alt.Axis(title="miles run by the part", values=ages, format=",.0f", grid=False, titlePadding=24),
    )
    y_axis = alt.Axis(title="still running, of 100", tickCount=5)
    y = alt.Y("running:Q", scale=alt.Scale(domain=[0, 100]), axis=y_axis)
    values = _data(_curve_values(stratum.curve))
    band = (
        alt.Chart(values)
        .mark_area(interpolate="step-after", opacity=0.2, color=LIGHT["main"])
        .encode(x=x, y=alt.Y("low:Q", axis=y_axis), y2="high:Q")
    )
    line = alt.Chart(values).mark_line(interpolate="step-after", strokeWidth=2.2, color=LIGHT["main"]).encode(x=x, y=y)
    points = (
        alt.Chart(values, name=HOVER)
        .mark_point(opacity=0, size=90, filled=True, color=LIGHT["main"], aria=False)
        .encode(
            x=x,
            y=y,
            tooltip=[
                alt.Tooltip("age:Q", title="miles", format=",.0f"),
                alt.Tooltip("running:Q", title="still running, of 100", format=".1f"),
                alt.Tooltip("low:Q", title="lower limit", format=".1f"),
                alt.Tooltip("high:Q", title="upper limit", format=".1f"),
            ],
        )
    )
    layers = [band, *_comparison_layer(everyone, largest, x, y), line, _at_risk_layer(stratum, x), points]
    return _styled(
        alt.layer(*layers).properties(
            width="container", height=CURVE_HEIGHT, description=_survival_description(stratum)
        )
    )


def _comparison_layer(everyone: Sequence[CurveRow], largest: float, x: Any, y: Any) -> list[Any]:
    """The dashed curve of all families, up to the age drawn; nothing where there is none."""
    inside = [row for row in everyone if row.age_miles <= largest]
    if not inside:
        return []
    data = _data(_curve_values([*inside, *_carried_to(inside[-1], largest)]))
    return [
        alt.Chart(data)
        .mark_line(interpolate="step-after", strokeDash=[5, 4], strokeWidth=1.6, color=LIGHT["other"])
        .encode(x=x, y=y)
    ]


def _carried_to(last: CurveRow, largest: float) -> list[CurveRow]:
    """The last step drawn out to the right edge."""
    if last.age_miles >= largest:
        return []
    return [CurveRow(largest, None, last.survival, last.lower, last.upper)]


def _at_risk_layer(stratum: StratumFacts, x: Any) -> Any:
    """Counts at risk, written under the axis labels at the round ages."""
    rows = [
        {"age": row.age_miles, "told": f.count(row.at_risk)} for row in stratum.curve_table if row.at_risk is not None
    ]
    return (
        alt.Chart(_data(rows))
        .mark_text(fontSize=12, color=LIGHT["main"], baseline="middle", aria=False)
        .encode(x=x, y=alt.value(_AT_RISK_BELOW), text="told:N")
    )


def _survival_description(stratum: StratumFacts) -> str:
    """What a screen reader says of the curve."""
    where = "all engine families" if stratum.is_all_families else stratum.engine_family
    return (
        f"Share of {stratum.component_name} on {where} still running against miles, from "
        f"{f.count(stratum.counts['n_failures'])} failures, with its limits. The numbers are in the table "
        "below."
    )


def _rate_values(rows: Sequence[RateRow], label: str) -> list[dict[str, Any]]:
    """Rates with their limits; without an upper limit, or without a rate, a row is left to the table."""
    return [
        {
            "name": _label(row, label),
            "rate": row.rate.value,
            "low": row.rate.lower,
            "high": row.rate.upper,
            "others": row.others_rate,
            "failures": row.n_failures,
        }
        for row in rows
        if row.rate is not None and row.rate.value > 0 and row.rate.lower and row.rate.upper
    ]


def _label(row: RateRow, label: str) -> str:
    """How a row is named on the axis."""
    return row.component_name if label == "component" else f"{row.component_name}\n{row.engine_family}"


def _label_lines(label: str) -> dict[str, Any]:
    """How the two lines of a label with a family are set; nothing for one line."""
    if label == "component":
        return {}
    return {"labelExpr": "split(datum.label, '\\n')", "labelLineHeight": 14, "labelOffset": -7}


def _row_height(label: str) -> int:
    """Height of a row in pixels."""
    return ROW_HEIGHT if label == "component" else TWO_LINE_ROW_HEIGHT


def _round_rates(values: Sequence[dict[str, Any]]) -> list[float]:
    """Round rates that mark the axis: powers of ten, with 2 and 5 between them where the axis is short."""
    seen = [v for row in values for v in (row["low"], row["high"], row["others"]) if v]
    first, last = (math.floor(math.log10(end)) for end in (min(seen, default=1), max(seen, default=1)))
    factors = (1, 2, 5) if last - first <= 2 else (1,)
    marks = [factor * 10.0**power for power in range(first, last + 2) for factor in factors]
    return [mark for mark in marks if min(seen, default=1) * 0.8 <= mark <= max(seen, default=1) * 1.25]


def rate_chart(rows: Sequence[RateRow], label: str, description: str) -> Any:
    """Rates per 100,000 miles with their limits, one row a line, in the order given; others as a small bar.

    label: "component", or "both" for component and family. Logarithmic axis: equal steps are equal ratios.
    """
    values = _rate_values(rows, label)
    data = _data(values)
    y = alt.Y(
        "name:N",
        sort=[value["name"] for value in values],
        axis=alt.Axis(
            title=None,
            labelLimit=160,
            labelColor=LIGHT["ink"],
            ticks=False,
            domain=False,
            labelPadding=8,
            **_label_lines(label),
        ),
    )
    x_axis = alt.Axis(title="failures per 100,000 miles", format=",~g", values=_round_rates(values))
    scale = alt.Scale(type="log", nice=False, padding=12)
    tooltip = [
        alt.Tooltip("name:N", title="part"),
        alt.Tooltip("rate:Q", title="per 100,000 miles", format=",.3g"),
        alt.Tooltip("low:Q", title="lower limit", format=",.3g"),
        alt.Tooltip("high:Q", title="upper limit", format=",.3g"),
        alt.Tooltip("failures:Q", title="failures", format=",.0f"),
    ]
    base = alt.Chart(data).encode(y=y)
    limits = base.mark_rule(strokeWidth=2, color=LIGHT["main"]).encode(
        x=alt.X("low:Q", scale=scale, axis=x_axis), x2="high:Q"
    )
    dots = base.mark_point(filled=True, size=70, opacity=1, color=LIGHT["main"]).encode(
        x=alt.X("rate:Q", scale=scale, axis=x_axis), tooltip=tooltip
    )
    layers = [limits, dots]
    if any(value["others"] for value in values):
        others = base.transform_filter("datum.others > 0").mark_tick(
            thickness=3, size=16, color=LIGHT["accent"], opacity=1
        )
        layers.append(others.encode(x=alt.X("others:Q", scale=scale, axis=x_axis)))
    return _styled(
        alt.layer(*layers).properties(
            width="container", height=_row_height(label) * len(values), description=description
        )
    )
