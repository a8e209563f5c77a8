"""Words that stand beside numbers in cells: units of odometers, hours, months and bench readings, and currencies.

From memory. Written in small letters without accents or a closing full stop, as words are compared.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from longmile.schemas.contract import Column
from longmile.schemas.units import BENCH_UNITS

_MILES = "mi mls mile miles meile meilen mille milles milla millas miglio miglia mijl mijlen milha milhas"
_KILOMETRES = (
    "km kms kilometer kilometers kilometre kilometres kilometern kilometros kilometro chilometri chilometro quilometros"
)
_HOURS = "h hr hrs hour hours std stunde stunden heure heures hora horas ora ore uur uren"
_MONTHS = "m mo mos mth mths month months monat monate monaten mois mes meses mesi mese maand maanden"
_BENCH = {
    "percent": "% pct percent prozent",
    "volt": "v volt volts",
    "ampere": "a amp amps ampere amperes",
    "ohm": "ω ohm ohms",
    "celsius": "°c celsius",
    "fahrenheit": "°f fahrenheit",
    "gram": "g gram grams gramm",
    "degree": "° deg degree degrees",
    "in": "in inch inches",
}


def _codes(words_by_code: Mapping[str, str]) -> dict[str, str]:
    """Word -> code."""
    return {word: code for code, words in words_by_code.items() for word in words.split()}


_BY_UNIT: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "as odometer_unit": _codes({"mi": _MILES, "km": _KILOMETRES}),
        "as unit": {**{unit: unit for unit in BENCH_UNITS}, **_codes(_BENCH)},
        "miles": _codes({"mi": _MILES}),
        "hours": _codes({"h": _HOURS}),
        "months": _codes({"months": _MONTHS}),
    }
)
_UNIT_OF = {"as odometer_unit": "odometer_unit", "as unit": "unit"}


def unit_column(column: Column) -> str:
    """The contract column that says in which unit a reading of this column is; empty where its unit is fixed."""
    return _UNIT_OF.get(column.unit, "")


def words_of_unit(column: Column) -> Mapping[str, str] | None:
    """Word -> code of the unit, for a column of numbers or one that holds their unit; None: any word may stand."""
    by_name = {name: unit for unit, name in _UNIT_OF.items()}
    return _BY_UNIT.get(by_name.get(column.name, column.unit))


_CURRENCY_CODES = (
    "AED ARS AUD BGN BRL CAD CHF CLP CNY COP CZK DKK EGP EUR GBP HKD HRK HUF IDR ILS INR ISK JPY KES KRW MAD MXN MYR "
    "NGN NOK NZD PEN PHP PLN RON RSD RUB SAR SEK SGD THB TND TRY TWD UAH USD UYU VND ZAR"
)
CURRENCY_CODES = tuple(_CURRENCY_CODES.split())
"""Codes of ISO 4217 that may stand beside an amount; from memory, not the whole standard."""

CURRENCY_WORDS = ("kč", "zł", "ft", "lei", "euro", "euros", "dollars", "r")
CURRENCY_ABBREVIATIONS = ("kr", "sfr", "fr", "rs")
"""Words that may end in a full stop."""
