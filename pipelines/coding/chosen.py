"""Which of the components named a line is about: those worked on, looked at, offered or named as faulty.

What only says where, or came off to reach another part, is left out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from longmile.pipelines.coding.component_groups import CARRIERS, FLUIDS, FLUSHED_WITH
from longmile.pipelines.coding.occurrences import Gathered, Occurrence
from longmile.pipelines.coding.statuses import DONE
from longmile.pipelines.coding.word_table import word_set
from longmile.schemas.vocabulary import BY_CODE

ByCode = Mapping[str, Sequence[Occurrence]]
Status = Mapping[str, str]

STRONG = frozenset((*DONE, "declined", "needed", "later", "inspected"))
VAGUE = word_set("axle axles oil fluid engine brake light lights head seat motor line wire gear")
"""Half names that stand in symptoms more often than for the part."""

_NOT_VAGUE = word_set("replaced repaired adjusted declined needed")


def chosen(kind: str, by_code: ByCode, status: Status, found: Gathered) -> list[str]:
    """Components that the line is about, in the order in which they are named."""
    if kind == "fee":
        return []
    if kind == "part":
        return _sold(by_code, status)
    told = {code: items for code, items in by_code.items() if not _is_in_passing(items, status[code])}
    strong = [code for code in told if status[code] in STRONG]
    return _of_strong(strong, told, status) if strong else _of_bare(told, status, found)


def _sold(by_code: ByCode, status: Status) -> list[str]:
    """Components that a part line sells: the first, and those joined to it; the clutch comes with its compressor."""
    codes = [code for code in by_code if status[code] != "excluded"]
    sure = [code for code in codes if any(item.how not in ("context", "usual") for item in by_code[code])] or codes
    joined = [c for c in sure[1:] if any("and" in item.tags or item.how == "joined" for item in by_code[c])]
    comes_along = {"ac_compressor_clutch"} if "ac_compressor" in sure[:1] else set()
    return [code for code in (*sure[:1], *joined) if code not in comes_along]


def _of_strong(strong: Sequence[str], told: ByCode, status: Status) -> list[str]:
    """Components of which something is told that was done or found."""
    done = {code for code in strong if status[code] in DONE}
    if len(done) > 1:
        strong = [code for code in strong if status[code] != "replaced" or not _came_off(code, told[code], done)]
    if all(status[code] == "inspected" and any(item.is_sound for item in told[code]) for code in strong):
        strong = [code for code in told if code in strong or (status[code] == "" and not _is_aside(told[code]))]
    return [code for code in strong if code in done or not (done and all("place" in i.tags for i in told[code]))]


def _of_bare(told: ByCode, status: Status, found: Gathered) -> list[str]:
    """Components that are only named."""
    bare = [code for code in told if status[code] == ""]
    plain = [code for code in bare if not _is_aside(told[code])]
    if plain or found.others:
        return plain
    return bare[:1] or [code for code in told if status[code] == "removed"]


def _is_aside(items: Sequence[Occurrence]) -> bool:
    """Whether a component is only named as where or why."""
    return all(item.tags & {"place", "context"} for item in items)


def _came_off(code: str, items: Sequence[Occurrence], done: Set[str]) -> bool:
    """Whether a component only came off for work on others."""
    if code not in CARRIERS or not done - CARRIERS:
        return False
    return all("rnr" in item.tags or ("new" not in item.tags and item.how == "context") for item in items)


def _is_in_passing(items: Sequence[Occurrence], status: str) -> bool:
    """Whether a component, named by half only, is no more than a word in passing."""
    if any(item.how not in ("context", "usual", "joined", "same") for item in items):
        return False
    if all("place" in item.tags for item in items):
        return True
    if status in _NOT_VAGUE or (status == "inspected" and items[0].said != "oil"):
        return False
    return all(item.how in ("context", "usual") and _is_vague(item) for item in items)


def _is_vague(item: Occurrence) -> bool:
    """Whether a half name stands where it may mean nothing."""
    return (item.said in VAGUE and "listed" not in item.tags) or bool(item.tags & {"place", "context"})


def implied_fluid(kind: str, found: Gathered, status: Status, kept: Sequence[str]) -> str:
    """The fluid that was flushed or filled without being named, by the components worked on; "" for none."""
    if kind in ("part", "fee") or any(code in FLUIDS for code in kept):
        return ""
    if found.is_refilled and any(BY_CODE[code].system == "cooling" for code in kept):
        return "coolant"
    if found.is_flushed and len(kept) == 1 and status[kept[0]] != "cleaned":
        return next((fluid for fluid, carriers in FLUSHED_WITH.items() if kept[0] in carriers), "")
    return ""
