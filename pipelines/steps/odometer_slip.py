"""What a doubted reading may have been: every value that one slip of the pen, or the other unit, turns into it.

The rule stands in `odometer_reading`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.steps.odometer_stretch import FACTORS, ROUNDS_AT
from longmile.schemas.lives import MILES_DECIMALS

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

PLACES = 7
"""Digits looked at; a contract's odometer has no more."""
WIDEST: dict[str, float] = {
    "unit": 1_500.0,
    "rollover": 1_500.0,
    "digit_too_many": 300.0,
    "digits_swapped": 300.0,
    "digit_missing": 300.0,
    "digit_wrong": 60.0,
}
"""Fault -> the widest band, in miles, in which a value that fits is no accident. A wrong digit gives so many values
that one of them lies in a wide band anyway (set by simulated slips: tests/simulation/odometer_slips.py)."""
FAULTS: tuple[str, ...] = tuple(WIDEST)
PLAIN_TO_SEE = ("unit", "digit_too_many", "digit_missing")
"""Faults that are named in a wider band too, though nothing is corrected: they put a reading far from the others."""


@dataclass(frozen=True)
class Explained:
    """For each reading: the fault whose values alone fit, else `none`; and the one value that fits, else NaN."""

    fault: np.ndarray
    miles: Floats


def explained(written: Floats, per_mile: Floats, factor: Floats, added: Floats, low: Floats, high: Floats) -> Explained:
    """What explains each reading, by the values that lie between low and high.

    written: as the order has it.   per_mile: written units in a mile.   factor, added: of the stretch it is in.
    """
    values, kinds = _as_read(written)
    miles = np.round((values * factor[:, None] + added[:, None]) / per_mile[:, None], MILES_DECIMALS)
    fits = (miles >= low[:, None]) & (miles <= high[:, None]) & (values != written[:, None])
    allowed = np.array([WIDEST[FAULTS[kind]] for kind in kinds])
    is_known = fits & ((high - low)[:, None] <= allowed)
    least = np.where(fits, miles, np.inf).min(axis=1, initial=np.inf)
    most = np.where(fits, miles, -np.inf).max(axis=1, initial=-np.inf)
    is_named = is_known | (fits & np.isin(kinds, [FAULTS.index(fault) for fault in PLAIN_TO_SEE]))
    first, last = np.where(is_named, kinds, len(FAULTS)).min(axis=1), np.where(is_named, kinds, -1).max(axis=1)
    is_one = (least == most) & is_known.any(axis=1)
    names = np.array([*FAULTS, "none"], dtype=object)
    known = np.where(is_known, kinds, len(FAULTS)).min(axis=1)
    fault = np.where(is_one, names[known], np.where(first == last, names[first], "none"))
    return Explained(fault, np.where(is_one, least, np.nan))


def _as_read(written: Floats) -> tuple[Floats, Ints]:
    """Every value that the reading may stand for, shape (readings, values), and the fault of each, shape (values,)."""
    whole = np.where(written == np.floor(written), written, -1).astype(np.int64)
    columns: list[Floats] = [written * factor for factor in FACTORS]
    kinds = ["unit"] * len(FACTORS)
    columns += [written + full for full in ROUNDS_AT]
    kinds += ["rollover"] * len(ROUNDS_AT)
    for fault, found in (("digit_too_many", _one_less(whole)), ("digits_swapped", _swapped(whole))):
        columns, kinds = columns + found, kinds + [fault] * len(found)
    for fault, found in (("digit_missing", _one_more(whole)), ("digit_wrong", _other(whole))):
        columns, kinds = columns + found, kinds + [fault] * len(found)
    return np.stack(columns, axis=1), np.array([FAULTS.index(kind) for kind in kinds])


def _like(values: Ints, n: Ints, more: int = 0) -> Floats:
    """The values, where they have as many digits as n, or so many more; nothing begins with a nought."""
    return np.where((n > 0) & (values > 0) & (_digits(values) == _digits(n) + more), values, np.nan)


def _digits(n: Ints) -> Ints:
    return np.searchsorted(10 ** np.arange(PLACES + 2), n, side="right")


def _one_less(n: Ints) -> list[Floats]:
    """Without the digit at each place."""
    return [_like(n // 10 ** (p + 1) * 10**p + n % 10**p, n, -1) for p in range(PLACES)]


def _one_more(n: Ints) -> list[Floats]:
    """With a digit more at each place."""
    return [
        _like((n // 10**p * 10 + digit) * 10**p + n % 10**p, n, 1) for p in range(PLACES + 1) for digit in range(10)
    ]


def _swapped(n: Ints) -> list[Floats]:
    """With the digits at each place and the next changed over."""
    places = [(10**p, n // 10**p % 10, n // 10 ** (p + 1) % 10) for p in range(PLACES - 1)]
    return [_like(n + (low - high) * 9 * unit, n) for unit, low, high in places]


def _other(n: Ints) -> list[Floats]:
    """With another digit at each place."""
    return [_like(n + (digit - n // 10**p % 10) * 10**p, n) for p in range(PLACES) for digit in range(10)]
