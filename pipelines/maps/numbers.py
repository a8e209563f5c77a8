"""Cells with numbers and money to the neutral form, as DuckDB expressions: digits, a decimal point, a minus before.

What the stated signs do not read comes out NULL: a group of other than three digits, a second decimal sign, two signs.
"""

from __future__ import annotations

from longmile.pipelines.maps.number_forms import (
    UNIT_WORD,
    Beside,
    NumberSigns,
    from_a_digit,
    from_the_point,
    negative,
)
from longmile.pipelines.sql import literal

_DIGITS = literal(r"\d(?:.*\d)?")


def number_sql(cell: str, signs: NumberSigns, beside: Beside = "nothing", word_check: str = "") -> str:
    """Expression for the number in `cell` (an expression giving trimmed text) in neutral form, else NULL.

    A minus (or a plus) may stand before or after the number or the word beside it; parentheses make it negative; both
    together are refused. `beside`: what may stand before or after the number: a currency's sign or code, or a unit.
    Money may also end in `CR` (a credit: negative) or `DR` (a debit: positive), and in `,-` for no cents.
    word_check: condition on `word`, the unit beside in small letters without accents and without a full stop at its
    end; '' where there is none.
    """
    plain = rf"-?\d+({signs.point}\d+)?"
    return _plain_or(cell, signs, plain, _taken_apart(cell, signs, beside, word_check))


def cents_sql(cell: str, signs: NumberSigns) -> str:
    """Expression for the amount of money in `cell`, with two decimals where more are the noise of binary fractions.

    Noise: within a millionth of a cent. 12.300000000000001 is 12.30; 12.345 stays, for the contract to refuse. The
    sign of a currency is read over: amounts are taken to be in the workspace's.
    """
    plain = rf"-?\d+({signs.point}\d{{1,2}})?"
    exact = "TRY_CAST(n AS DECIMAL(38, 18))"
    rounded = f"CASE WHEN abs({exact} - round({exact}, 2)) <= 0.00000001 THEN CAST(round({exact}, 2) AS VARCHAR) END"
    more = (
        f"list_transform([{number_sql(cell, signs, 'currency')}], lambda n: "
        f"CASE WHEN length(split_part(n, '.', 2)) > 2 THEN coalesce({rounded}, n) ELSE n END)[1]"
    )
    return _plain_or(cell, signs, plain, more)


def _plain_or(cell: str, signs: NumberSigns, plain: str, otherwise: str) -> str:
    """Most cells are digits and a decimal sign: they need no taking apart."""
    neutral = cell if signs.decimal == "." else f"replace({cell}, {literal(signs.decimal)}, '.')"
    return f"CASE WHEN regexp_full_match({cell}, {literal(plain)}) THEN {neutral} ELSE {otherwise} END"


def _taken_apart(cell: str, signs: NumberSigns, beside: Beside, word_check: str) -> str:
    """The expression for cells that are more than digits and a decimal sign.

    The whole cell is matched without groups and the digits then taken out: with groups it takes fifty times as long.
    No regular expression stands inside a lambda: it would be compiled anew for every row.
    """
    digits = f"regexp_extract({cell}, {_DIGITS})"
    whole = f"translate({digits}, {literal(signs.group_signs)}, '')" if signs.group_signs else digits
    whole = whole if signs.decimal == "." else f"replace({whole}, {literal(signs.decimal)}, '.')"
    minus = f"CASE WHEN regexp_matches({cell}, {literal(negative(signs, beside))}) THEN '-' ELSE '' END"
    number = (
        f"CASE WHEN regexp_matches({cell}, {literal(from_a_digit(signs, beside))}) THEN {minus} || {whole} "
        f"WHEN regexp_matches({cell}, {literal(from_the_point(signs, beside))}) THEN {minus} || '0.' || {digits} END"
    )
    if not word_check:
        return number
    word = f"strip_accents(lower(rtrim(regexp_extract({cell}, {literal(UNIT_WORD)}), '.')))"
    return f"CASE WHEN list_transform([{word}], lambda word: {word_check})[1] THEN {number} END"
