"""Numbers of an answer as JSON holds them: none where there is no number."""

from __future__ import annotations

import math
from typing import Any


def number(value: float) -> float | None:
    """The value for JSON: None where it is not finite."""
    return float(value) if math.isfinite(value) else None


def count(value: float) -> float | int:
    """A count, whole where it is."""
    return int(value) if float(value).is_integer() else float(value)


def limited(estimate: float, lower: float, upper: float, se: float, method: str) -> dict[str, Any]:
    """Estimate and limits; unbounded names the sides on which the data set no limit."""
    sides = [side for side, is_open in (("lower", lower == 0.0), ("upper", math.isinf(upper))) if is_open]
    return {
        "estimate": number(estimate),
        "lower": number(lower),
        "upper": number(upper),
        "se_working": number(se),
        "limits": method,
        "unbounded": sides,
    }
