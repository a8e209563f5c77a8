"""What people answer, as typed or written in a table, to the answers kept in `decision`; and what they may answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any

from longmile.pipelines.errors import LongmileError

UNDO = "undo"
"""Takes back what was decided before; the rule counts again."""

MAY_BE: Mapping[str, str] = {
    "vehicle": "`apart`, or `join` and the shop's number of the other vehicle",
    "odometer": "the odometer in miles, `as_written`, or `leave_out`",
    "order_link": "`accept` or `refuse`",
}
"""Kind of decision -> what it may be, beside `undo`."""


def answer_of(kind: str, words: str) -> dict[str, Any] | None:
    """The answer that the words mean for a kind of decision; None for `undo`.

    Raises LongmileError naming what was found and what it may be.
    """
    if kind not in MAY_BE:
        nearest = get_close_matches(kind, MAY_BE, n=1, cutoff=0.0)[0]
        raise LongmileError(f"decision: no kind {kind!r}. Known: {', '.join(MAY_BE)}. Nearest is {nearest}.")
    text = " ".join(words.split())
    if text.lower() == UNDO:
        return None
    found = _READERS[kind](text)
    if found is None:
        raise LongmileError(f"decision: {words!r} is no answer for {kind}. Expected {MAY_BE[kind]}, or `{UNDO}`.")
    return found


def _vehicle(text: str) -> dict[str, Any] | None:
    if text.lower() == "apart":
        return {"apart": True}
    word, _, other = text.partition(" ")
    return {"join": other} if word.lower() == "join" and other else None


def _odometer(text: str) -> dict[str, Any] | None:
    if text.lower() in ("as_written", "leave_out"):
        return {"use": text.lower()}
    try:
        miles = float(text.replace(",", ""))
    except ValueError:
        return None
    return {"miles": miles} if 0 <= miles <= 3_000_000 else None


def _order_link(text: str) -> dict[str, Any] | None:
    return {"link": text.lower()} if text.lower() in ("accept", "refuse") else None


_READERS: Mapping[str, Callable[[str], dict[str, Any] | None]] = {
    "vehicle": _vehicle,
    "odometer": _odometer,
    "order_link": _order_link,
}
