"""Charts as a page needs them: a still drawing without script, the live one's specification, one bundle."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cache
from typing import Any

import vl_convert
from markupsafe import Markup

from longmile.reports.charts import HOVER

STILL_WIDTH = 640
STILL_LEFT_PADDING = 26
_SVG_OPENING = re.compile(r'<svg ([^>]*?)width="(\d+)" height="(\d+)"')


@dataclass(frozen=True)
class Drawn:
    """One chart: id within the page, description, still drawing (SVG), specification (JSON)."""

    chart_id: str
    description: str
    svg: Markup
    spec: Markup


def drawn(chart: Any, chart_id: str) -> Drawn:
    """The chart drawn once as SVG, and its specification."""
    spec = chart.to_dict()
    # Room on the left: the reader's font may be wider than the one the drawing was measured with.
    roomy = {**spec["config"], "padding": {**spec["config"]["padding"], "left": STILL_LEFT_PADDING}}
    layers = [layer for layer in spec["layer"] if not str(layer.get("name", "")).startswith(HOVER)]
    still = vl_convert.vegalite_to_svg(
        {**spec, "layer": layers, "config": roomy, "width": STILL_WIDTH}, show_warnings=False
    )
    return Drawn(chart_id, spec["description"], Markup(_fluid(still, chart_id)), script_json(spec))


def _fluid(svg: str, chart_id: str) -> str:
    """The SVG without a fixed size and with ids of its own, so it shrinks and may stand beside others."""
    opened = _SVG_OPENING.sub(r"<svg \1", svg, count=1)
    return re.sub(r'(id="|url\(#)(clip|gradient)', rf"\1{chart_id}_\2", opened)


def script_json(value: Any) -> Markup:
    """JSON that cannot end the script element it stands in; NaN is refused."""
    text = json.dumps(value, allow_nan=False, separators=(",", ":"), ensure_ascii=True)
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


@cache
def bundle() -> Markup:
    """The drawing library, one copy for all charts of a page."""
    # The stub asks for a snippet; without one the bundle exports what a page needs.
    library = vl_convert.javascript_bundle()  # type: ignore[call-arg]
    return Markup(library.replace("</script", "<\\/script").replace("<!--", "<\\!--"))
