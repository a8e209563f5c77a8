"""Components that a part event names: in full, by half and told apart by the line, or two by one name."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass, field

from longmile.pipelines.coding.clauses import Event
from longmile.pipelines.coding.context import Naming, partner, resolved
from longmile.pipelines.coding.normal_text import Words
from longmile.pipelines.coding.phrases import Named
from longmile.schemas.vocabulary import BY_CODE

Coded = list[tuple[str, str]]


@dataclass(frozen=True)
class FieldText:
    """One field's words and events."""

    field: str
    words: Words
    events: list[Event]


@dataclass
class LineNames:
    """What a line names in full, with field and place, and all its words, those of the concern among them."""

    words: Set[str]
    named: list[tuple[str, int, Naming]] = field(default_factory=list)

    def before(self, text: FieldText, event: Event) -> list[Naming]:
        """What the same text names before an event."""
        return [naming for name, start, naming in self.named if name == text.field and start < event.start]

    def elsewhere(self, text: FieldText, event: Event) -> list[Naming]:
        """What the line names otherwise."""
        return [naming for name, start, naming in self.named if not (name == text.field and start < event.start)]


def namings(text: FieldText, event: Event) -> list[Naming]:
    """Components that a part event names in full, or of which it names a piece."""
    if event.named is None or event.named.kind not in ("component", "other"):
        return []
    words = text.words.words[event.start : event.end]
    if event.named.kind == "other":
        base = event.what.split()[0]
        return [Naming(base if base in BY_CODE else "", words, is_piece=True)]
    return [Naming(code, words) for code in event.what.split("+")]


def codes_of(text: FieldText, event: Event, named: Named, names: LineNames) -> tuple[Coded, str]:
    """(component, how it is known) of a part event, and why there is none: `other`, `open` or ""."""
    if named.kind == "other":
        return [], "other"
    if named.kind == "component":
        second = partner(text.words.words, named)
        codes = [(code, str(named.by)) for code in event.what.split("+")]
        return ([*codes, (second, "joined")] if second else codes), ""
    words = text.words.words[event.start : event.end]
    code, how = resolved(named.what, words, names.before(text, event), names.elsewhere(text, event), names.words)
    if code:
        names.named.append((text.field, event.start, Naming(code, words)))
        return [(code, how)], ""
    both = _both(text, event, named)
    return both, "" if both else "other" if how == "piece" else "open"


def _both(text: FieldText, event: Event, named: Named) -> Coded:
    """Both components of a half name in the plural: "radiator hoses", "both oxygen sensors"."""
    before = {*text.words.words[max(0, event.start - 3) : event.start]}
    if named.what == "radiator hose" and text.words.raws[event.end - 1].endswith("s"):
        return [("radiator_hose_upper", "context"), ("radiator_hose_lower", "context")]
    if named.what == "oxygen sensor" and before & {"both", "all"}:
        return [("oxygen_sensor_upstream", "context"), ("oxygen_sensor_downstream", "context")]
    return []
