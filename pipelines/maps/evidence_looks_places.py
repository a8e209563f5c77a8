"""How places on a vehicle look: sides, wheels and axles by name or shorthand, and the numbers of cylinders."""

from __future__ import annotations

from longmile.pipelines.maps.evidence_lists import ours
from longmile.pipelines.maps.evidence_ramps import Fit, ramp, written_date
from longmile.pipelines.maps.evidence_values import Values

MOST_CYLINDERS = 16
FEWEST_NAMED = 0.15
_SAYS = 0.85


def position(values: Values) -> Fit:
    """Short texts or numbers; names of places, alone or beside small numbers, speak for themselves."""
    dated = 1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)
    can = (1.0 - 0.6 * ramp(values.length, 15, 40)) * dated
    if not values.is_list or values.n_distinct < 2:
        return Fit(can, 0.0)
    named, numbered = _shares(values)
    says = _SAYS * ramp(named + numbered, 0.7, 0.95) if named >= FEWEST_NAMED else 0.0
    return Fit(can, says)


def site(values: Values) -> Fit:
    """Names or codes of a shop's locations: few different ones, and no places on a vehicle."""
    dated = 1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)
    is_few = 1.0 if values.is_list else 0.7
    return Fit((1.0 - 0.6 * ramp(values.length, 30, 60)) * dated * is_few * (1.0 - 0.6 * position(values).says), 0.0)


def _shares(values: Values) -> tuple[float, float]:
    """Share of cells that name a place, and of those that are a small whole number."""
    named = sum(times for cell, times in values.counts.items() if _is_place(cell))
    numbered = sum(t for cell, t in values.counts.items() if cell.isdigit() and 0 < int(cell) <= MOST_CYLINDERS)
    return named / values.filled, numbered / values.filled


def _is_place(cell: str) -> bool:
    """Whether a cell names a place, or several parted by commas or slashes."""
    parts = [one for one in cell.replace("/", ",").replace("+", ",").split(",") if one.strip()]
    return bool(ours("position", cell)) or (len(parts) > 1 and all(ours("position", one) for one in parts))
