"""What a person must decide before the map is accepted, in sentences, and why headers are not mapped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from longmile.pipelines.maps.evidence_header import notions_in
from longmile.pipelines.maps.propose_assign import THRESHOLD, refused_score
from longmile.pipelines.maps.propose_decided import Decided
from longmile.pipelines.maps.propose_family import family_headers
from longmile.pipelines.maps.source_map import TableMap
from longmile.pipelines.maps.words_meaning import NOT_OURS, PERSONAL
from longmile.pipelines.maps.words_meanings import BY_NAME
from longmile.schemas.shop import TRADE_TABLES

MAIL = 0.2
SEVERAL_CODES = " ,;/"


def not_mapped(decided: Decided, used: Sequence[str], repeated: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Headers that fill nothing, each with why."""
    return tuple((header, _why(decided, header, repeated)) for header in decided.scores.values if header not in used)


def _why(decided: Decided, header: str, repeated: Sequence[str]) -> str:
    """Why one header is not mapped."""
    values = decided.scores.values[header]
    if header in repeated:
        return "the file has this header more than once"
    name, agreed = refused_score(decided.scores, header)
    is_personal = agreed >= THRESHOLD and BY_NAME[name].refused == PERSONAL
    if is_personal or header in decided.names or values.share.get("email", 0.0) > MAIL:
        return PERSONAL
    if not values.filled:
        return "nothing in it"
    meant = next((one for one, other in decided.taken.runner_up.items() if other == header), "")
    if meant:
        return f"unsure: could be {meant} as well as {decided.taken.header_of[meant]!r}"
    wanted = decided.first.meaning_of.get(header, "")
    if wanted and agreed < THRESHOLD:
        return f"looks like {wanted}, but the file lacks what its table needs"
    return NOT_OURS if agreed >= THRESHOLD else "not recognised"


def questions(decided: Decided, tables: Sequence[TableMap], repeated: Sequence[str]) -> tuple[str, ...]:
    """Sentences, the gravest first."""
    asked = (_missing, _by_values, _dates, _rivals, _odometer, _family, _kind, _prices, _signs, _codes, _people)
    found = [] if tables else ["No table of the contract can be filled from these columns. What is in this file?"]
    found += [sentence for ask in asked for sentence in ask(decided, tables)]
    return tuple(
        found + [f"The header {one!r} is there more than once: which is meant? None is mapped." for one in repeated]
    )


def _missing(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Required columns that nothing fills."""
    for table in tables:
        contract = next(one for one in TRADE_TABLES if one.name == table.table)
        for column in contract.columns:
            if column.is_required and table.column(column.incoming) is None:
                needed = f"{table.table} needs {column.incoming} ({column.description[:-1]})"
                yield f"{needed}, and no column was found for it. Which is it?"


def _dates(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Day and month that could be the other way round."""
    unsure = decided.dates.unsure
    if unsure:
        formats = ", ".join(
            sorted({one for header in unsure for one in decided.dates.own.get(header, decided.dates.common)})
        )
        named = ", ".join(repr(one) for one in unsure)
        yield f"In {named} no value tells whether the day or the month comes first; {formats} is taken. Is that right?"


def _by_values(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Headers taken for what their values look like."""
    for name in decided.taken.by_values:
        yield f"{decided.taken.header_of[name]!r} is taken for {name} by its values alone. Is it that?"


def _rivals(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Two headers for one column."""
    for name, other in decided.taken.runner_up.items():
        taken = decided.taken.header_of[name]
        yield f"Both {taken!r} and {other!r} could be {name}; the first is taken. Is that right?"


def _odometer(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """A unit that is not said, or only by a word that is used for both."""
    orders = next((table for table in tables if table.table == "repair_order"), None)
    if orders is None or orders.column("odometer_in") is None:
        return
    unit = orders.column("odometer_unit")
    if unit is None:
        yield "The unit of the odometer is not said: the vehicle's is taken, then the workspace's. Miles or kilometres?"
    elif not unit.headers and unit.confidence < 0.9:
        yield f"The unit of the odometer is taken to be {unit.constant} because {unit.because}. Is that right?"


def _family(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """An engine family that had to be put together."""
    if "vehicle" in decided.tables and "engine" not in decided.taken.header_of:
        named = " and ".join(repr(one) for one in family_headers(decided))
        yield f"No column names the engine: {named} stand for the engine family. Is there a better one?"


def _kind(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Lines of which nothing says what they charge for."""
    lines = next((table for table in tables if table.table == "repair_line"), None)
    kind = lines.column("kind") if lines else None
    if kind and not kind.headers:
        yield f"Every line is taken to be {kind.constant} because {kind.because}. Is that right?"


def _prices(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Amounts for one piece, where the contract wants those of the line."""
    for name in ("price", "cost"):
        header = decided.taken.header_of.get(name, "")
        if header and "each" in notions_in(header, decided.scores.language, only_listed=True):
            yield f"{header!r} seems to be for one piece; {name} is that of the whole line. Is there a column for it?"


def _signs(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """A sign before three digits that could be either."""
    if decided.signs.unsure:
        named = ", ".join(repr(one) for one in decided.signs.unsure)
        yield f"In {named} no value tells whether {decided.signs.decimal!r} is the decimal sign. Is it?"


def _codes(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Several trouble codes in one cell."""
    header = decided.taken.header_of.get("code", "")
    if header and any(sign in cell for cell in decided.scores.values[header].counts for sign in SEVERAL_CODES):
        yield f"Cells of {header!r} hold several trouble codes; a row can hold one. Can they be exported one to a row?"


def _people(decided: Decided, tables: Sequence[TableMap]) -> Iterator[str]:
    """Names of people where a code is wanted."""
    for header in decided.names:
        why = "holds people's names and is not mapped; the technician is wanted as the shop's own code"
        yield f"{header!r} {why}. Is there one?"
