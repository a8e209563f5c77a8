"""What in header and values led to a column's map, in a line for people, and how sure it is."""

from __future__ import annotations

from collections.abc import Sequence

from longmile.pipelines.maps.evidence_values import Values
from longmile.pipelines.maps.propose_decided import NUMERIC, Decided
from longmile.pipelines.maps.propose_values import MOST_NAMED
from longmile.pipelines.maps.words_meanings import BY_NAME

MOST_SURE = 0.98
_EXAMPLES = frozenset({"code", "part code", "order code", "quantity", "hours", "count", "year", "odometer"})
_CUT = 24


def because(decided: Decided, meaning: str, header: str, unknown: Sequence[str] = ()) -> str:
    """Header words, values, level, doubts. Examples only of codes and numbers: texts may hold personal data."""
    values = decided.scores.values[header]
    parts = [_header_words(decided.scores.words[header].get(meaning, 0.0)), _seen(decided, meaning, header, values)]
    if decided.scores.levels.is_of_line(header):
        parts.append("differs within orders")
    elif decided.scores.levels.is_of_order(header):
        parts.append("same within orders")
    if meaning in decided.taken.runner_up:
        parts.append(f"{decided.taken.runner_up[meaning]!r} fits nearly as well")
    if unknown:
        named = ", ".join(repr(one[:_CUT]) for one in unknown[:MOST_NAMED])
        parts.append(f"not translated: {named}{' and more' if len(unknown) > MOST_NAMED else ''}")
    return "; ".join(part for part in parts if part)


def confidence(decided: Decided, meaning: str, header: str, n_unknown: int = 0, n_known: int = 0) -> float:
    """0 to 1: the agreement of header and values, less for every doubt."""
    sure = decided.taken.score.get(meaning, 0.0)
    if meaning in decided.taken.runner_up:
        sure *= 0.75
    if BY_NAME[meaning].looks == "date":
        sure *= 0.5 + 0.5 * decided.dates.read.get(header, 1.0)
        sure *= 0.6 if header in decided.dates.unsure else 1.0
    if header in decided.signs.unsure:
        sure *= 0.7
    if n_unknown:
        sure *= 0.6 + 0.4 * n_known / (n_known + n_unknown)
    return round(min(MOST_SURE, sure), 2)


def _header_words(agreement: float) -> str:
    """How much the header said."""
    if agreement >= 0.95:
        return "the header says so"
    if agreement >= 0.6:
        return "the header nearly says so"
    return "the header hints at it" if agreement >= 0.25 else "the header does not say it"


def _seen(decided: Decided, meaning: str, header: str, values: Values) -> str:
    """What the values look like."""
    looks = BY_NAME[meaning].looks
    filled = f"{values.filled:,} of {values.n:,} filled"
    if looks == "date":
        formats = ", ".join(decided.dates.own.get(header, decided.dates.common))
        return f"{filled}, {decided.dates.read.get(header, 0.0):.0%} of them dates as {formats}"
    if looks == "vin":
        sound = f"{values.share['vin_checked']:.0%} with a sound check digit"
        return f"{filled}, {values.share['vin']:.0%} of 17 signs, {sound}"
    if looks in NUMERIC:
        return f"{filled}, {values.share['number']:.0%} numbers, half of them up to {values.median:,.10g}"
    examples = f" such as {', '.join(list(values.counts)[:2])}" if looks in _EXAMPLES and values.words < 1.5 else ""
    return f"{filled}, {values.n_distinct:,} different{examples}"
