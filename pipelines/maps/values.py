"""A map's value translations as DuckDB expressions, and how a value is compared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from longmile.pipelines.sql import literal, literals

WHITE_SPACE = " \t\n\r\f\v\u00a0\u202f\u2007\u2009\u3000\ufeff"
_MANY = 40


def compared(value: str) -> str:
    """The value as it is compared: small letters, no white space at the ends."""
    return value.strip(WHITE_SPACE).lower()


def trimmed_sql(text: str) -> str:
    """Expression for the text without white space at its ends, NULL where nothing is left.

    Text with none at its ends, as nearly all is, is only looked at (seven times faster than stripping it).
    """
    ends = literals(WHITE_SPACE)
    is_trimmed = f"{text} >= '!' AND ({text} < chr(127) OR {text}[1] NOT IN {ends}) AND {text}[-1] NOT IN {ends}"
    stripped = f"trim({text}, {literal(WHITE_SPACE)})"
    return f"CASE WHEN {is_trimmed} THEN {text} WHEN {stripped} <> '' THEN {stripped} END"


def translation_sql(cell: str, values: Sequence[tuple[str, str]]) -> str:
    """Expression for what the map says for `cell` (trimmed text): text, empty text, or NULL where it is not listed."""
    known = {compared(theirs): ours for theirs, ours in reversed(values)}
    return lookup_sql(f"lower({cell})", known)


def lookup_sql(word: str, known: Mapping[str, str]) -> str:
    """Expression for the entry of `known` under `word`, NULL where there is none."""
    if not known:
        return "CAST(NULL AS VARCHAR)"
    if len(known) > _MANY:
        return f"MAP {{{', '.join(f'{literal(key)}: {literal(value)}' for key, value in known.items())}}}[{word}]"
    listed = " ".join(f"WHEN {literal(key)} THEN {literal(value)}" for key, value in known.items())
    return f"CASE {word} {listed} END"
