"""How texts look: words, and what the sentences are about where there are some."""

from __future__ import annotations

from collections.abc import Callable

from longmile.pipelines.maps.evidence_ramps import Fit, ramp, written_date
from longmile.pipelines.maps.evidence_values import Values

_LISTS = ("kind", "action", "reason", "origin", "status", "stage")
OTHERWISE = 0.45


def text(values: Values) -> Fit:
    """Words: neither numbers nor dates nor single signs, nor words of a closed list."""
    lettered = ramp(values.share["has_letter"], 0.2, 0.6)
    length = 0.35 + 0.65 * ramp(values.length, 3, 8)
    listed = max((values.lists.get(name, 0.0) for name in _LISTS), default=0.0) if values.is_list else 0.0
    length *= 1.0 - 0.5 * ramp(listed, 0.6, 0.9) * (1.0 - ramp(values.words, 1.8, 2.6))
    return Fit(lettered * length * (1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)), 0.0)


def about(subject: str) -> Callable[[Values], Fit]:
    """Texts of this subject ("said", "found", "done"): less where the sentences speak of another."""

    def fit(values: Values) -> Fit:
        """Agreement of one column."""
        can = text(values).can
        others = max((share for name, share in values.texts.items() if name != subject), default=0.0)
        behind = ramp(others - values.texts.get(subject, 0.0), 0.15, 0.6)
        ahead = ramp(values.texts.get(subject, 0.0) - others, 0.2, 0.6)
        return Fit(can * (1.0 - OTHERWISE * behind), 0.35 * can * ahead * ramp(values.words, 2.0, 3.0))

    return fit


def named(values: Values) -> Fit:
    """Names of jobs and parts: short texts that speak of no complaint or finding."""
    told = max((values.texts.get(one, 0.0) for one in ("said", "found")), default=0.0)
    return Fit(text(values).can * (1.0 - 0.3 * ramp(told, 0.5, 0.9)) * (1.0 - 0.2 * ramp(values.words, 4, 8)), 0.0)
