"""One frozen `Settings`, read once from `longmile.toml` at the edge.

Nothing else reads the environment or the clock.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field, fields
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from longmile.pipelines.errors import SettingsError
from longmile.schemas.vocabulary import BY_CODE

SETTINGS_FILE = "longmile.toml"

DEFAULT_SETTINGS = """\
# Settings of this workspace. Every key may be left out; what stands here is the default.

[shop]
name = "Our shop"
currency = "USD"              # three capital letters, as in ISO 4217; shown beside money

[records]
odometer_unit = "mi"          # mi or km: where neither the order nor the vehicle says
unknown_reason = "failure"    # failure or removal: what a line without a reason counts as
follow_up = "last_reading"    # last_reading: a vehicle is watched to its last reading, and not a mile further
                              # to_date: on to the as-of date at its own miles a day; an assumption, for comparison
follow_up_cap_months = 12     # at most so many months beyond the last reading, with to_date

[estimates]
confidence = 0.95             # of all limits
horizon_miles = 150000        # horizon of the restricted mean
further_miles = 25000         # "will it last so many more": miles to go in the conditional survival

[privacy]
keep_originals = true         # false: no untouched copy of a file is kept in landed/
vins = "shortened"            # shortened or full: how vehicle identification numbers appear on pages

[not_fitted]                  # components that an engine family does not have; they then count no miles there
# "Alder 2.0 petrol" = ["glow_plug", "high_pressure_fuel_pump"]

[schedule]
nightly = "30 2 * * *"        # when `longmile serve` refreshes, in cron's five fields, local time
"""


@dataclass(frozen=True)
class Settings:
    """The settings of a workspace, checked; the fields are the keys of `longmile.toml`, its tables left out."""

    name: str = "Our shop"
    currency: str = "USD"
    odometer_unit: str = "mi"
    unknown_reason: str = "failure"
    follow_up: str = "last_reading"
    follow_up_cap_months: int = 12
    confidence: float = 0.95
    horizon_miles: float = 150_000.0
    further_miles: float = 25_000.0
    keep_originals: bool = True
    vins: str = "shortened"
    nightly: str = "30 2 * * *"
    not_fitted: tuple[tuple[str, str], ...] = field(default=())

    @property
    def unknown_is_failure(self) -> bool:
        """Whether a line without a reason counts as a failure."""
        return self.unknown_reason == "failure"


_TABLES: dict[str, tuple[str, ...]] = {
    "shop": ("name", "currency"),
    "records": ("odometer_unit", "unknown_reason", "follow_up", "follow_up_cap_months"),
    "estimates": ("confidence", "horizon_miles", "further_miles"),
    "privacy": ("keep_originals", "vins"),
    "schedule": ("nightly",),
}
_CHOICES: dict[str, tuple[str, ...]] = {
    "odometer_unit": ("mi", "km"),
    "unknown_reason": ("failure", "removal"),
    "follow_up": ("last_reading", "to_date"),
    "vins": ("shortened", "full"),
}
_RANGES: dict[str, tuple[float, float]] = {
    "follow_up_cap_months": (1, 120),
    "confidence": (0.5, 0.999),
    "horizon_miles": (1_000, 2_000_000),
    "further_miles": (100, 1_000_000),
}


def read_settings(path: Path) -> Settings:
    """The settings in a TOML file; SettingsError naming the file, the key, what was found and what it may be."""
    try:
        found = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise SettingsError(
            f"{path}: is not valid TOML ({error}). Expected the form that `longmile init` writes."
        ) from error
    values: dict[str, Any] = {}
    for table, content in found.items():
        if table == "not_fitted":
            values["not_fitted"] = _not_fitted(path, content)
        else:
            values.update(_table_values(path, table, content))
    return Settings(**values)


def _table_values(path: Path, table: str, content: Any) -> dict[str, Any]:
    """The checked values of one table of the file."""
    if table not in _TABLES or not isinstance(content, dict):
        raise SettingsError(f"{path}: [{table}] is not known. {_nearest(table, (*_TABLES, 'not_fitted'))}")
    unknown = [key for key in content if key not in _TABLES[table]]
    if unknown:
        raise SettingsError(f"{path}: [{table}] {unknown[0]} is not known. {_nearest(unknown[0], _TABLES[table])}")
    return {key: _checked(path, f"[{table}] {key}", key, value) for key, value in content.items()}


def _checked(path: Path, where: str, key: str, value: Any) -> Any:
    """The value, if it has the key's type and lies within its bounds."""
    expected = {f.name: type(f.default) for f in fields(Settings)}[key]
    right_type = isinstance(value, (int, float) if expected is float else expected)
    right_type = right_type and isinstance(value, bool) == (expected is bool)
    if not right_type:
        raise SettingsError(f"{path}: {where} = {value!r}. Expected {_TYPE_NAMES[expected]}.")
    if key in _CHOICES and value not in _CHOICES[key]:
        raise SettingsError(f"{path}: {where} = {value!r}. Expected one of {', '.join(_CHOICES[key])}.")
    if key in _RANGES and not _RANGES[key][0] <= value <= _RANGES[key][1]:
        low, high = _RANGES[key]
        raise SettingsError(f"{path}: {where} = {value!r}. Expected a number from {low:,} to {high:,}.")
    if key == "nightly" and not _CRON.fullmatch(value.strip().lower()):
        raise SettingsError(f"{path}: {where} = {value!r}. Expected cron's five fields, such as '30 2 * * *'.")
    if key == "currency" and not re.fullmatch("[A-Z]{3}", value):
        raise SettingsError(f"{path}: {where} = {value!r}. Expected three capital letters, such as 'USD'.")
    return float(value) if expected is float else value


_CRON_PART = r"(\*|\d+|[a-z]{3})([-/,](\*|\d+|[a-z]{3}))*"
_CRON = re.compile(rf"{_CRON_PART}(\s+{_CRON_PART}){{4}}")
"""Five fields of numbers, stars and three-letter names, with their signs; the scheduler reads the rest."""

_TYPE_NAMES = {str: "text in quotes", int: "a whole number", float: "a number", bool: "true or false"}


def _not_fitted(path: Path, content: Any) -> tuple[tuple[str, str], ...]:
    """(engine family, component code) pairs of the table [not_fitted]."""
    if not isinstance(content, dict) or not all(isinstance(codes, list) for codes in content.values()):
        raise SettingsError(f"{path}: [not_fitted] must hold lists of component codes, one list per engine family.")
    pairs = tuple((family, str(code)) for family, codes in content.items() for code in codes)
    unknown = [code for _, code in pairs if code not in BY_CODE]
    if unknown:
        raise SettingsError(
            f"{path}: [not_fitted] {unknown[0]!r} is no component. {_nearest(unknown[0], tuple(BY_CODE))}"
        )
    return pairs


def _nearest(asked: str, known: tuple[str, ...]) -> str:
    near = get_close_matches(asked, known, n=1, cutoff=0.0)[0]
    listed = f"Known: {', '.join(known)}. " if len(known) <= 12 else ""
    return f"{listed}Nearest is {near}."
