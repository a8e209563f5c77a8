"""The engine family: the engine's code where there is one, else maker, model and engine together."""

from __future__ import annotations

from longmile.pipelines.maps.evidence_values import Values
from longmile.pipelines.maps.propose_because import because, confidence
from longmile.pipelines.maps.propose_decided import Decided
from longmile.pipelines.maps.source_map import ColumnMap

_SIZED, _NUMBERED = 0.5, 0.5


def says_family(values: Values) -> bool:
    """Whether an engine's column names engines by code, and not by size alone ("2.0", "1.6 P4", 1598)."""
    return values.share["engine_size"] < _SIZED and values.share["number"] < _NUMBERED


def family_headers(decided: Decided) -> tuple[str, ...]:
    """Headers of which the engine family is made; empty where nothing can stand for it."""
    got = decided.taken.header_of
    engine = got.get("engine", "")
    if engine and says_family(decided.scores.values[engine]):
        return (engine,)
    return tuple(got[name] for name in ("make", "model", "engine") if name in got)


def family_column(decided: Decided) -> ColumnMap | None:
    """The engine family's map."""
    headers = family_headers(decided)
    if not headers:
        return None
    if len(headers) == 1 and "engine" in decided.taken.header_of:
        sure = confidence(decided, "engine", headers[0])
        return ColumnMap("engine_family", headers, confidence=sure, because=because(decided, "engine", headers[0]))
    with_engine = "engine" in decided.taken.header_of
    why = (
        "engines are named by size: maker, model and engine together"
        if with_engine
        else "there is no engine: maker and model"
    )
    return ColumnMap("engine_family", headers, confidence=0.85 if with_engine else 0.5, because=why)
