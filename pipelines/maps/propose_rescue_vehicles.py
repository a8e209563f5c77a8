"""What vehicles have, found by values where no header names it: their year, first day on the road and engine.

Taken with little confidence, and asked about.
"""

from __future__ import annotations

from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.propose_assign import Assigned
from longmile.pipelines.maps.propose_rescue_free import free
from longmile.pipelines.maps.propose_scores import Scores

NEARLY_ALL, MOSTLY = 0.95, 0.8
_VEHICLE = frozenset({"vin", "make", "model", "engine"})
FEWEST_OF_VEHICLE = 2


def engine_list(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The engine family in a list of engines: the first column of codes in which every row has its own."""
    got = found.header_of
    if "cylinders" not in got or "engine" in got or "opened_on" in got:
        return "", ""
    candidates = [*free(scores, found), *(got[name] for name in ("order_no", "vehicle_id") if name in got)]
    own = [
        one for one in scores.values if one in candidates and scores.values[one].n_distinct == scores.values[one].filled
    ]
    return "engine", next((one for one in own if fit("code", scores.values[one]).can > 0.7), "")


def model_year(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The model year: the one column of years beside what says vehicle."""
    likely = [one for one in _of_vehicle(scores, found, "model_year") if scores.values[one].share["year"] > NEARLY_ALL]
    return "model_year", likely[0] if len(likely) == 1 else ""


def in_service(scores: Scores, found: Assigned) -> tuple[str, str]:
    """First day on the road: the one date in a list of vehicles without orders."""
    if "opened_on" in found.header_of or "order_no" in found.header_of:
        return "", ""
    able = _of_vehicle(scores, found, "in_service_on")
    likely = [one for one in able if fit("date", scores.values[one]).says > 0.1]
    return "in_service_on", likely[0] if len(likely) == 1 else ""


def engine(scores: Scores, found: Assigned) -> tuple[str, str]:
    """The engine: names with a size or a number of cylinders, the same ones again and again."""
    able = [one for one in _of_vehicle(scores, found, "engine") if scores.values[one].share["has_letter"] > MOSTLY]
    likely = [one for one in able if scores.values[one].share["engine_size"] > MOSTLY and scores.values[one].is_list]
    return "engine", likely[0] if len(likely) == 1 else ""


def _of_vehicle(scores: Scores, found: Assigned, meaning: str) -> list[str]:
    """Headers that mean nothing yet in a file that has enough of vehicles; none where the meaning has its own."""
    if meaning in found.header_of or len(found.header_of.keys() & _VEHICLE) < FEWEST_OF_VEHICLE:
        return []
    return [one for one in free(scores, found) if not scores.levels.is_of_line(one)]
