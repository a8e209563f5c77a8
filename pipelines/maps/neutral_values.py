"""Whether a value that a map states, as a translation or for every row, is one that the contract takes."""

from __future__ import annotations

import re
from datetime import date

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_parts import nearest
from longmile.schemas.contract import Column

_NEUTRAL = {
    "integer": (r"[+-]?\d{1,15}", "a whole number"),
    "decimal": (r"[+-]?\d{1,15}(\.\d+)?", "a number such as 1234.5"),
    "cents": (r"[+-]?\d{1,13}(\.\d{1,2})?", "an amount such as 1234.50"),
    "boolean": (r"(?i:true|false|yes|no|1|0)", "true or false"),
    "date": (r"\d{4}-\d\d-\d\d", "a date written YYYY-MM-DD"),
}


def check_neutral(text: str, contract: Column, said: str) -> None:
    """MapError, beginning with what is `said`, where the contract's column does not take the text."""
    if contract.allowed and text.lower() not in contract.allowed:
        raise MapError(f"{said} Expected one of the contract's words.{nearest(text, contract.allowed)}")
    if contract.type not in _NEUTRAL:
        return
    pattern, expected = _NEUTRAL[contract.type]
    if not re.fullmatch(pattern, text, re.ASCII) or (contract.type == "date" and not _is_date(text)):
        raise MapError(f"{said} Expected {expected}.")


def _is_date(text: str) -> bool:
    """Whether there is such a date."""
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
