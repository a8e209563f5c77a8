"""All that is decided about a file, before it is written down as a map."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from longmile.pipelines.maps.evidence_dates import EXCEL
from longmile.pipelines.maps.evidence_spelling import words_in
from longmile.pipelines.maps.propose_assign import Assigned, assign
from longmile.pipelines.maps.propose_dates import Dates, decide_dates
from longmile.pipelines.maps.propose_layout import Layout, layout
from longmile.pipelines.maps.propose_rescue import rescued
from longmile.pipelines.maps.propose_scores import Scores
from longmile.pipelines.maps.propose_signs import FileSigns, decide_signs
from longmile.pipelines.maps.propose_tables import allowed, carried
from longmile.pipelines.maps.propose_unit import OdometerUnit, odometer_unit
from longmile.pipelines.maps.words_meanings import BY_NAME, MEANINGS

NUMERIC = words_in("odometer money count quantity hours number cylinders valves months miles")
_FULL_NAMES = 0.6


@dataclass(frozen=True)
class Decided:
    """scores: the evidence.   first: meanings as if every table could be filled.   taken: as the tables stand.

    tables: contract tables in the order in which they are loaded.   names: headers whose values are people's names.
    """

    scores: Scores
    first: Assigned
    taken: Assigned
    tables: tuple[str, ...]
    layout: Layout
    dates: Dates
    signs: FileSigns
    unit: OdometerUnit
    names: tuple[str, ...]


def decide(scores: Scores, left_out: Sequence[str] = ()) -> Decided:
    """What each header means, which tables there are, how they lie, how dates and numbers are written.

    left_out: headers that must not be taken.
    """
    usable = scores.without(left_out)
    first, tables, taken = _settled(usable)
    names = _people(scores, taken)
    if names:
        first, tables, taken = _settled(usable.without(names))
    looks = {header: BY_NAME[name].looks for name, header in taken.header_of.items()}
    dated = [header for header, look in looks.items() if look == "date"]
    numbers = [header for header, look in looks.items() if look in NUMERIC]
    dates = decide_dates(scores.values, dated, _other_dates(scores, dated), _is_day_first(scores))
    return Decided(
        scores,
        first,
        taken,
        tables,
        layout(scores, taken.header_of, tables),
        dates,
        decide_signs(scores.values, taken.meaning_of, numbers, "." if scores.language == "en" else ","),
        odometer_unit(scores, taken.header_of, dates),
        names,
    )


def _settled(scores: Scores) -> tuple[Assigned, tuple[str, ...], Assigned]:
    """Meanings as if every table could be filled, the tables that can, and the meanings among those."""
    first = rescued(scores, assign(scores, {meaning.name for meaning in MEANINGS}))
    tables = carried(first.header_of)
    if not tables:
        return first, (), Assigned({}, {}, {})
    taken = rescued(scores, assign(scores, allowed(tables, first.header_of)))
    return first, carried(taken.header_of), taken


def _people(scores: Scores, taken: Assigned) -> tuple[str, ...]:
    """Headers taken for the technician whose values are full names and not a shop's code."""
    header = taken.header_of.get("technician", "")
    is_named = header and scores.values[header].share["full_name"] >= _FULL_NAMES
    return (header,) if is_named else ()


def _other_dates(scores: Scores, taken: Sequence[str]) -> list[str]:
    """Columns that hold dates and are not mapped: they show the file's habit too."""
    return [
        header
        for header, values in scores.values.items()
        if header not in taken and values.best_date[1] > 0.8 and values.best_date[0] != EXCEL
    ]


def _is_day_first(scores: Scores) -> bool:
    """What is taken where no value tells: day first, but in English headers without kilometres or euros."""
    if scores.language != "en":
        return True
    headers = " ".join(scores.values).lower()
    return any(
        sign in headers
        for sign in ("km", "kilomet", "eur", "€", "£", "gbp", "vat", "labour", "tyre", "colour", "registration")
    )
