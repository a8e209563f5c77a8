"""Date formats as a map states them, written as in strptime, to regular expressions. Formats that clash are refused."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from longmile.pipelines.errors import MapError

EXCEL = "excel"
ISO = "%Y-%m-%d"
SPACE = r"[\s\x{a0}\x{202f}]"
TIME_OF_DAY = (
    rf"(?:{SPACE}|,|T)+(?:[01]?\d|2[0-3])[:.h][0-5]\d(?:[:.][0-5]\d(?:[.,]\d+)?)?"
    rf"(?:{SPACE}*[AaPp]\.?[Mm]\.?)?(?:{SPACE}*(?:Z|UTC|[+-]\d\d:?\d\d))?$"
)
"""A time of day at the end of a cell: it is dropped."""

_DIRECTIVE = re.compile(r"%-?[A-Za-z%]")
_TIME_IN_FORMAT = re.compile(r"[T ,]*%-?[HI].*$")
_SAME_AS = {"%-d": "%d", "%e": "%d", "%-m": "%m", "%B": "%b", "%A": "%a", "%h": "%b"}
_PARTS = {"%d": "d", "%m": "m", "%b": "m", "%y": "y", "%Y": "y"}
_N_DIGITS = {"%d": "##", "%m": "##", "%y": "##", "%Y": "####"}
_EXAMPLES = "such as %d.%m.%Y, %m/%d/%y, %d-%b-%Y or %B %d, %Y, or excel for a spreadsheet's day numbers"


@dataclass(frozen=True)
class DateFormat:
    """A format of dates taken apart: directives (all months' names as %b) and the text between them, in order."""

    parts: tuple[str, ...]

    @property
    def has_short_year(self) -> bool:
        """Whether years are written with two digits."""
        return "%y" in self.parts

    @property
    def has_month_name(self) -> bool:
        """Whether months are written as names."""
        return "%b" in self.parts

    @property
    def shape(self) -> str:
        """What cells of this format look like: day, month and short year are alike, a run of digits is its length."""
        written = "".join(_N_DIGITS.get(part, " ".join(part.split()) or " ") for part in self.parts)
        return re.sub("#{5,}", lambda run: f"<{len(run.group())}>", written)

    def pattern(self, short_year: str = r"\d\d") -> str:
        """Regular expression for the whole cell, groups named d, m and y."""
        written = [self._part(place, short_year) for place in range(len(self.parts))]
        return f"^{''.join(written)}$"

    def group(self, name: str) -> int:
        """Number of the group that holds the day (d), month (m) or year (y)."""
        named = [_PARTS[part] for part in self.parts if part in _PARTS]
        return named.index(name) + 1

    def _part(self, place: int, short_year: str) -> str:
        """One part as a regular expression; days and months that touch other digits must have two."""
        part = self.parts[place]
        beside = (*self.parts[max(place - 1, 0) : place], *self.parts[place + 1 : place + 2])
        digits = r"\d\d" if any(other in _N_DIGITS for other in beside) else r"\d{1,2}"
        known = {
            "%d": f"(?P<d>{digits})",
            "%m": f"(?P<m>{digits})",
            "%b": r"(?P<m>[\p{L}\p{M}]+)\.?",
            "%y": f"(?P<y>{short_year})",
            "%Y": r"(?P<y>[1-9]\d{3})",
            "%a": r"[\p{L}\p{M}]+\.?",
        }
        return known.get(part) or f"{SPACE}+".join(re.escape(text) for text in re.split(r"\s+", part))


def date_format(text: str) -> DateFormat:
    """The format taken apart; MapError where it is not understood. A time of day at its end is left out."""
    parts = _parts(_TIME_IN_FORMAT.sub("", text.strip()))
    unknown = [part for part in parts if re.search(r"[%\d]", part) and part not in (*_PARTS, "%a")]
    named = sorted(_PARTS[part] for part in parts if part in _PARTS)
    if unknown or named != ["d", "m", "y"]:
        why = f"{unknown[0]} is not understood" if unknown else "it needs one day, one month and one year"
        raise MapError(f"the date format {text!r} is not understood ({why}). Expected a format {_EXAMPLES}.")
    return DateFormat(tuple(parts))


def _parts(text: str) -> list[str]:
    """Directives and the texts between them."""
    parts: list[str] = []
    at = 0
    for found in _DIRECTIVE.finditer(text):
        parts.extend([text[at : found.start()]] if found.start() > at else [])
        parts.append(_SAME_AS.get(found.group(), found.group()))
        at = found.end()
    return [*parts, *([text[at:]] if at < len(text) else [])]


def date_formats(texts: Sequence[str]) -> tuple[DateFormat, ...]:
    """The formats of a map, `excel` left out; MapError where two would read one cell as two dates."""
    formats = [(text, date_format(text)) for text in texts if text.strip().lower() != EXCEL]
    seen: dict[str, tuple[str, DateFormat]] = {date_format(ISO).shape: (f"{ISO} (always read)", date_format(ISO))}
    for text, one in formats:
        other, known = seen.setdefault(one.shape, (text, one))
        if known != one:
            raise MapError(
                f"the date formats {other!r} and {text!r} would read the same cell as two different dates. "
                "Expected only one of them; keep the one that is right."
            )
    return tuple(dict.fromkeys(one for _, one in formats))


def has_excel(texts: Sequence[str]) -> bool:
    """Whether a spreadsheet's day numbers are among the formats."""
    return any(text.strip().lower() == EXCEL for text in texts)
