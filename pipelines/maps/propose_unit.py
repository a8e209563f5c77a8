"""The unit of the odometer: said by a column, by the cells, by the header, by the language; or not said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from longmile.pipelines.maps.evidence_header import notions_in
from longmile.pipelines.maps.evidence_spelling import plain
from longmile.pipelines.maps.propose_dates import Dates
from longmile.pipelines.maps.propose_scores import Scores

IN_CELLS = 0.3
_KM_WORDS = ("kilomet", "chilomet", "quilomet", "km")


@dataclass(frozen=True)
class OdometerUnit:
    """is_in_cells: the cells say it ("123 456 km").   constant: mi or km; empty where nothing says it.

    confidence and because: of the constant.
    """

    is_in_cells: bool = False
    constant: str = ""
    confidence: float = 0.0
    because: str = ""


def odometer_unit(scores: Scores, header_of: Mapping[str, str], dates: Dates) -> OdometerUnit:
    """The unit of the readings in the odometer's column; a column with units is taken elsewhere."""
    header = header_of.get("odometer_in") or header_of.get("odometer_out")
    if not header:
        return OdometerUnit()
    is_in_cells = scores.values[header].share["number_and_unit"] >= IN_CELLS
    constant, confidence, because = _of_header(header, scores.language)
    if not constant and not is_in_cells:
        constant, confidence, because = _of_language(scores.language, dates)
    return OdometerUnit(is_in_cells, constant, confidence, because)


def _of_header(header: str, language: str) -> tuple[str, float, str]:
    """What the header says."""
    notions = notions_in(header, language, only_listed=True)
    words = plain(header)
    if "km" in notions or any(word in words for word in _KM_WORDS):
        return "km", 0.97, f"the header {header!r} says kilometres"
    if "mile" in notions:
        return "mi", 0.97, f"the header {header!r} says miles"
    if "mileage" in notions and language == "en":
        return "mi", 0.7, f"the header {header!r} says mileage"
    return "", 0.0, ""


def _of_language(language: str, dates: Dates) -> tuple[str, float, str]:
    """What is usual where the headers' language is spoken; of English only where months come first it is known."""
    if language == "en":
        is_month_first = any(one.startswith("%m") for one in dates.common) and not dates.unsure
        return ("mi", 0.6, "the dates are written with the month first") if is_month_first else ("", 0.0, "")
    return "km", 0.8, "odometers count kilometres where the headers' language is spoken"
