"""What was done to a component, settled from the tags of the places where it is named.

A status is an action done; `declined`; `needed` or `later` (offered, not done); `inspected`; `removed`, `topped`,
`excluded`; `part` where a line sells it; "" where nothing is told.
"""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.coding.component_groups import FLUIDS, MACHINED, THREADS
from longmile.pipelines.coding.occurrences import Gathered, Occurrence
from longmile.pipelines.coding.word_table import word_set
from longmile.schemas.vocabulary import BY_CODE

DONE = ("replaced", "repaired", "adjusted", "cleaned")
STRONGEST_FIRST = (*DONE, "declined", "needed", "later", "inspected", "removed", "topped")
_REPLACED_TAGS = word_set("new put got go rnr")


def status_of(code: str, items: Sequence[Occurrence], kind: str, found: Gathered) -> str:
    """What was done to a component, over all the places where it is named: the strongest that is told."""
    each = [_of_one(code, item) for item in items]
    if not found.has_trouble:
        each = ["excluded" if "ruled_out" in item.tags else one for one, item in zip(each, items, strict=True)]
    strongest = next((status for status in STRONGEST_FIRST if status in each), "")
    if not strongest and each and all(status == "excluded" for status in each):
        return "excluded"
    return strongest or ("part" if kind == "part" else "")


def _of_one(code: str, item: Occurrence) -> str:
    """What one place says was done to a component."""
    tags = item.tags
    first = next((status for tag, status in _BEFORE_WORK if tag in tags), "")
    if first:
        return first
    done = _done(code, tags)
    if "needed" in tags and done:
        return "needed"
    if "later" in tags and "replaced" not in tags:
        return "later"
    if "not_done" in tags:
        return "inspected"
    return done or _of_work_not_done(item)


_BEFORE_WORK = (
    ("excluded", "excluded"),
    ("ruled_out", "inspected"),
    ("declined", "declined"),
    ("offered", "needed"),
)
"""Tags that settle a place whatever work is told there too, and as what."""


def _of_work_not_done(item: Occurrence) -> str:
    """What a place says where no work is told."""
    if "needed" in item.tags:
        return "needed"
    if "inspected" in item.tags or item.is_sound:
        return "inspected"
    return next((tag for tag in ("removed", "topped") if tag in item.tags), "")


def _done(code: str, tags: set[str]) -> str:
    """Done action of a set of tags; a fluid drained, filled or bled counts as replaced."""
    if "machined" in tags and code in MACHINED:
        return "repaired"
    if "new" in tags and code not in THREADS:
        return "replaced"
    action = next((action for action in DONE if action in tags), "")
    if action:
        return _as_usual(code, action)
    if tags & _REPLACED_TAGS:
        return "replaced"
    if "fluid" in tags:
        return "replaced" if code in FLUIDS else "cleaned" if code in ("heater_core", "radiator") else ""
    return "adjusted" if tags & {"set", "tuned"} else ""


def _as_usual(code: str, action: str) -> str:
    """An action as it is meant of a component: threads are mended, service items changed."""
    if code in THREADS and action == "replaced":
        return "repaired"
    is_changed = BY_CODE[code].is_service_item and code not in ("tire", "wiper_blade")
    return "replaced" if is_changed and action in ("cleaned", "repaired") else action
