"""How codes, names and personal data look: whether a column's values can be that, and how much they say so."""

from __future__ import annotations

from longmile.pipelines.maps.evidence_ramps import Fit, cents, ramp, written_date
from longmile.pipelines.maps.evidence_values import Values


def vin(values: Values) -> Fit:
    """Seventeen letters and digits; nearly certain where check digits hold."""
    share = values.share["vin"]
    return Fit(
        ramp(share, 0.1, 0.5), max(0.8 * ramp(share, 0.5, 0.9), 0.95 * ramp(values.share["vin_checked"], 0.3, 0.8))
    )


def code(values: Values) -> Fit:
    """Numbers and short codes: no dates, no sentences, no amounts with cents."""
    short = 1.0 - 0.8 * ramp(values.words, 1.5, 3.0) * (1.0 if values.share["has_digit"] < 0.95 else 0.3)
    dated = 1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)
    return Fit(short * dated * (1.0 - 0.6 * cents(values)), 0.0)


def part_code(values: Values) -> Fit:
    """A code; a list of few words without digits is hardly one of parts."""
    worded = values.is_list * (1.0 - ramp(values.share["has_digit"], 0.2, 0.7))
    return Fit(code(values).can * (1.0 - 0.5 * worded), 0.0)


def order_code(values: Values) -> Fit:
    """A code; it speaks for itself where equal ones stand together in blocks of rows."""
    can = code(values).can
    return Fit(can, 0.4 * can if values.is_in_blocks else 0.0)


def short(values: Values) -> Fit:
    """Short texts or numbers."""
    dated = 1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)
    return Fit((1.0 - 0.6 * ramp(values.length, 15, 40)) * dated, 0.0)


def name(values: Values) -> Fit:
    """Names, numbers or codes that come back."""
    dated = 1.0 - 0.9 * ramp(written_date(values), 0.5, 0.9)
    money = 1.0 - 0.7 * cents(values)
    return Fit((1.0 - 0.6 * ramp(values.length, 30, 60)) * dated * money, 0.0)


def yes_no(values: Values) -> Fit:
    """Yes and no in any language."""
    return Fit(ramp(values.lists.get("yes_no", 0.0), 0.3, 0.8) * (1.0 if values.n_distinct <= 6 else 0.2), 0.0)


def component(values: Values) -> Fit:
    """Names, shorthand or codes of components: few different ones, short."""
    can = (1.0 - 0.5 * ramp(values.words, 2.5, 5.0)) * (1.0 - 0.8 * ramp(written_date(values), 0.5, 0.9))
    return Fit(
        can * (1.0 if values.share["number"] < 0.8 else 0.5), 0.35 * ramp(values.lists.get("component", 0.0), 0.5, 0.9)
    )


def dtc(values: Values) -> Fit:
    """Trouble codes: a letter P, B, C or U and four digits."""
    share = values.share["dtc"]
    return Fit(0.1 + 0.9 * ramp(share, 0.1, 0.5), 0.9 * ramp(share, 0.4, 0.8))


def engine(values: Values) -> Fit:
    """Codes, names or sizes of engines that come back."""
    return Fit(name(values).can * (1.0 - 0.6 * ramp(values.share["vin"], 0.3, 0.8)), 0.0)


def email(values: Values) -> Fit:
    """Addresses with an at sign."""
    return Fit(1.0, 0.95 * ramp(values.share["email"], 0.2, 0.5))


def phone(values: Values) -> Fit:
    """Telephone numbers."""
    is_date = ramp(written_date(values), 0.3, 0.6)
    return Fit(1.0, 0.3 * ramp(values.share["phone"], 0.6, 0.9) * (1 - is_date))


def nobodys_money(values: Values) -> Fit:
    """Anything but amounts with cents."""
    return Fit(1.0 - 0.8 * cents(values), 0.0)


def lettered(values: Values) -> Fit:
    """Words rather than numbers."""
    return Fit(0.2 + 0.8 * ramp(values.share["has_letter"], 0.2, 0.6), 0.0)


def clock(values: Values) -> Fit:
    """Times of day."""
    return Fit(0.3 + 0.7 * ramp(values.share["clock"], 0.2, 0.6), 0.0)
