"""Numbers as a person reads them in a table: with their limits, and an open side said to be open."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any


def plain(value: float | None) -> str:
    """Whole number, thousands apart."""
    return "" if value is None else f"{value:,.0f}"


def per_100_000(rate: float) -> str:
    """A rate per mile as one per 100,000 miles, to three digits."""
    value = 100_000 * rate
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}"


def estimate_and_limits(limits: dict[str, Any], form: Callable[[float], str]) -> tuple[str, str]:
    """Estimate and limits as two cells; an open side is said to be open."""
    estimate, low, high = limits["estimate"], limits["lower"], limits["upper"]
    if estimate is None:
        return "", ""
    if low is None and high is None and not limits.get("unbounded"):
        return form(estimate), "not defined"
    above = "no upper limit" if "upper" in limits.get("unbounded", []) else "?" if high is None else form(high)
    return form(estimate), f"{'?' if low is None else form(low)} to {above}"
