"""Personal data inside free text, and identification numbers, made unreadable: as SQL expressions.

What is masked: e-mail addresses; telephone numbers (international, of North America, national ones with a leading zero,
and digits after a word such as tel or phone); number plates after a word that announces one (plate, licence no,
Kennzeichen, immatriculation ...). A plate that nothing announces cannot be told from a part number and stays; names in
free text stay too. A part number written like a telephone number is masked: better one part number too few.
"""

from __future__ import annotations

from longmile.schemas.contract import Table

FREE_TEXTS = frozenset({"concern", "description", "cause", "correction"})
"""Columns in which people write what they like."""

_EMAIL = r"[a-z0-9._%+-]+@[a-z0-9-]+(?:\.[a-z0-9-]+)+"
_JOINT = r"[ .\-/]?"
_PHONES = (
    r"\+\d{1,3}" + _JOINT + r"\(?\d{1,4}\)?(?:" + _JOINT + r"\d{2,4}){2,4}\b",
    r"(?:\b1[ .\-])?(?:\(\d{3}\) ?|\b\d{3}[.\- ])\d{3}[.\- ]\d{4}\b",
    r"\b0\d{1,4}(?:[ /\-]\d{2,4}){2,4}\b",
    r"\b0\d{2,4}[/\-]\d{5,8}\b",
)
_PHONE = "|".join(_PHONES)
_ANNOUNCED_PHONE = (
    r"\b(tel|telefon|telefono|telefone|tél|téléphone|phone|ph|mobile|mob|cell|handy|portable|fax)"
    r"((?:\.| no| nr)*[.:# ]*)\+?\(?\d(?:[ .\-/()]*\d){5,14}\b"
)
_PLATE_WORDS = (
    r"licen[cs]e plate|number plate|plate|licen[cs]e no|licen[cs]e|lic no|reg no|reg nr|registration no|registration"
    r"|rego|tag no|tag #|kennzeichen|kfz-kz|immatriculation|immat|matr[ií]cula|targa|kenteken|placa|patente"
)
_PLATES = (
    r"[A-Z]{1,3}[ \-][A-Z]{0,2}[ \-]?\d{1,4}(?:[ \-]?[A-Z]{1,3})?",  # in capitals, in groups
    r"[A-Z]{2}\d{2} [A-Z]{3}",
    r"(?i:[a-z]{1,3}-?\d{1,4}(?:-?[a-z]{1,3})?)",  # joined, letters first
    r"(?i:\d{1,4}-?[a-z]{2,3}-?\d{1,4}|\d{1,4}-[a-z]{2,3})",  # joined, digits first
)
_ANNOUNCED_PLATE = (
    r"\b((?i:" + _PLATE_WORDS + r"))((?i:\.|:| is| no| nr| number|#| )*[.:# ]+)(?:" + "|".join(_PLATES) + r")\b"
)
_MAY_HOLD_ONE = r"@|\d{2}[ .\-/()]*\d{2}|plate|licen|lic |reg|tag|kenn|kfz|immat|matr|targa|kentek|placa|patente"


def masked(text: str) -> str:
    """SQL for the text (an SQL expression) with personal data replaced by [e-mail], [phone] and [plate]."""
    replaced = f"regexp_replace({text}, '{_EMAIL}', '[e-mail]', 'gi')"
    replaced = f"regexp_replace({replaced}, '{_ANNOUNCED_PLATE}', '\\1\\2[plate]', 'g')"
    replaced = f"regexp_replace({replaced}, '{_ANNOUNCED_PHONE}', '\\1\\2[phone]', 'gi')"
    replaced = f"regexp_replace({replaced}, '{_PHONE}', '[phone]', 'g')"
    return f"CASE WHEN regexp_matches({text}, '{_MAY_HOLD_ONE}', 'i') THEN {replaced} ELSE {text} END"


def masked_columns_sql(table: Table, select: str) -> str:
    """The SELECT of a table's text rows with the free texts masked; unchanged where the table has none."""
    free = [f"text_{column.name}" for column in table.columns if column.name in FREE_TEXTS and column.type == "text"]
    if not free or table.name not in ("repair_order", "repair_line"):
        return select
    changed = ", ".join(f"{masked(name)} AS {name}" for name in free)
    return f"SELECT * REPLACE ({changed}) FROM ({select})"


def shortened_vins(text: str) -> str:
    """SQL for the text with every identification number cut to its last six signs."""
    sign = "[A-HJ-NPR-Z0-9]"
    found = rf"\b(?:{sign}{{8}}[0-9X]|{sign}{{9}}){sign}{{2}}({sign}{{2}}[0-9]{{4}})\b"
    return f"regexp_replace({text}, '{found}', '…\\1', 'gi')"
