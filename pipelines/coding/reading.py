"""A line's texts to everything they say: components named, with verbs, reasons and places told of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from longmile.pipelines.coding.actions import Tags, tags_of
from longmile.pipelines.coding.bare_heads import FILLERS
from longmile.pipelines.coding.clauses import Event, events_in
from longmile.pipelines.coding.codes_named import FieldText, LineNames, codes_of, namings
from longmile.pipelines.coding.company import read_words
from longmile.pipelines.coding.fuzzy import is_slip
from longmile.pipelines.coding.lexicon import FORMS, PART_WORDS
from longmile.pipelines.coding.occurrences import Gathered, Occurrence
from longmile.pipelines.coding.place_owners import Owned, owned_places
from longmile.pipelines.coding.positions import Place, places_in
from longmile.pipelines.coding.reasons import Told, told_in
from longmile.pipelines.coding.small_talk import SMALL_TALK
from longmile.pipelines.coding.small_words import POSITION_WORDS

FIELDS = ("description", "cause", "correction")
_SPARE = FILLERS | POSITION_WORDS | SMALL_TALK


def gathered(texts: Mapping[str, str], driver: str, is_catalogue: bool = False) -> Gathered:
    """Everything that description, cause and correction say; the words of the concern are context for half names."""
    read = [_field(name, texts[name], is_catalogue) for name in FIELDS if texts.get(name)]
    words = {word for text in read for word in text.words.words}
    names = LineNames(words | set(read_words(texts.get("concern", "")).words))
    for text in read:
        names.named += [(text.field, event.start, one) for event in text.events for one in namings(text, event)]
    found = Gathered(words)
    for text in read:
        _gather(found, text, names, driver)
    return found


def _field(name: str, text: str, is_catalogue: bool) -> FieldText:
    """Words and events of one field."""
    words = read_words(text)
    return FieldText(name, words, events_in(words.words, is_catalogue))


def _gather(found: Gathered, text: FieldText, names: LineNames, driver: str) -> None:
    """Add what one text says."""
    words, events = text.words.words, text.events
    tags, told, places = tags_of(words, events), told_in(words, events), places_in(words, driver)
    owned = owned_places(words, events, places)
    found.line_reasons += told.of_line
    found.loose += told.loose
    found.is_loose_sound |= told.is_loose_sound
    found.places += [place for place in places if place.kind not in ("all", "two")]
    found.charges += [event.what for event in events if event.said == "charge"]
    _count(found, words, events, places)
    for i, event in enumerate(events):
        if event.named is not None:
            _add_part(found, text, i, names, tags, told, owned)


def _count(found: Gathered, words: Sequence[str], events: Sequence[Event], places: Sequence[Place]) -> None:
    """Add verbs, and counts of words by whether they were understood."""
    verbs = [event for event in events if event.said == "verb" and not event.is_negated]
    found.verbs += [event.what for event in verbs]
    found.is_flushed |= any(words[event.start] == "flush" for event in verbs)
    found.is_refilled |= any(words[event.start] in ("refill", "fill") for event in verbs)
    found.in_order += words
    untold = _untold(words, events, places)
    found.n_untold += len(untold)
    found.n_loose_heads += sum(word in PART_WORDS for word in untold)
    found.n_words += sum(word.isalpha() for word in words)
    found.n_unknown += sum(word.isalpha() and len(word) > 2 and word not in FORMS for word in words)


def _untold(words: Sequence[str], events: Sequence[Event], places: Sequence[Place]) -> list[str]:
    """Words of a text that nothing else was made of and that may tell of a trouble in words not known."""
    spans = [*((event.start, event.end) for event in events), *((place.start, place.end) for place in places)]
    known = {i for start, end in spans for i in range(start, end)}
    rest = (word for i, word in enumerate(words) if i not in known)
    return [word for word in rest if word.isalpha() and len(word) > 2 and word not in _SPARE]


def _add_part(found: Gathered, text: FieldText, i: int, names: LineNames, tags: Tags, told: Told, owned: Owned) -> None:
    """Add the occurrences of one part event, or note why it names no component."""
    event, named = text.events[i], text.events[i].named
    if named is None:
        return
    codes, why = codes_of(text, event, named, names)
    if named.what == "brake" and "fluid" in tags[i]:
        codes, why = [("brake_fluid", "context")], ""
    if why:
        (found.others if why == "other" else found.open_names).append(named.what)
    if not codes or tags[i] & {"place", "context"}:
        found.loose += told.of_part.pop(i, [])
    if not {"test", "check", "inspection"}.isdisjoint(text.words.words[event.start : event.end]):
        tags[i].add("inspected")
    raws = text.words.raws[event.start : event.end]
    for code, how in codes:
        is_listed = how == "usual" and _is_listed(text.words.words, event)
        tags[i] |= {"listed"} if is_listed else set()
        found.occurrences.append(
            Occurrence(
                code,
                text.field,
                "context" if is_listed else how,
                tags[i],
                told.of_part.get(i, []),
                i in told.sound,
                owned.get(i, []),
                any(raw.endswith("s") for raw in raws),
                named.by == "name" and not any(is_slip(raw) for raw in raws),
                " ".join(dict.fromkeys(raws)),
            )
        )


def _is_listed(words: Sequence[str], event: Event) -> bool:
    """Whether a bare word stands as one item of a list: "oil, oil filter, plugs"."""
    before = words[event.start - 1] if event.start else ":"
    after = words[event.end] if event.end < len(words) else "."
    is_item = before in (":", ",", "and", "&", ".") and after in (",", "and", "&", ".", ";")
    return is_item and (before, after) != (".", ".")
