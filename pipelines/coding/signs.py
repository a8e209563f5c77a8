"""What speaks for and against a coding, as numbers for the confidence: of the first stage's reading, and of the
likeliest single component of the second stage.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from longmile.pipelines.coding.calibration import Numbers, as_rows
from longmile.pipelines.coding.learned import NONE, Shares
from longmile.pipelines.coding.mentions import Reading

AGREEMENT = ("share_read", "share_rival", "log_odds")
LIKELIEST_NAMES = ("share", "margin", "log_odds", "is_read", "is_open", "is_nothing", "n_kept", "share_unknown")


def reading_signs(
    names: Sequence[str], readings: Sequence[Reading], shares: Shares | None, classes: Sequence[str]
) -> Numbers:
    """Signs of readings, one row each.   shares: of the second stage, columns as classes; None without one."""
    column = {code: i for i, code in enumerate(classes)}
    rows = []
    for i, reading in enumerate(readings):
        signs = dict(reading.signs) | _outcome(reading)
        if shares is not None:
            signs |= _agreement(reading, shares[i], column)
        rows.append(signs)
    return as_rows(names, rows)


def likeliest_signs(readings: Sequence[Reading], shares: Shares, classes: Sequence[str]) -> Numbers:
    """Signs of the second stage's likeliest class for each line, one row each, in the order of `LIKELIEST_NAMES`."""
    rows = []
    for reading, row in zip(readings, shares, strict=True):
        first, second = np.sort(row)[-1], np.sort(row)[-2] if row.size > 1 else 0.0
        code = classes[int(row.argmax())]
        read = {mention.component_code for mention in reading.mentions} or {NONE}
        own = {
            "share": float(first),
            "margin": float(first - second),
            "log_odds": float(np.log((first + 1e-3) / (second + 1e-3))),
            "is_read": float(read == {code}),
            "n_kept": reading.signs["n_kept"],
            "share_unknown": reading.signs["share_unknown"],
        }
        rows.append(own | _outcome(reading))
    return as_rows(LIKELIEST_NAMES, rows)


def _outcome(reading: Reading) -> dict[str, float]:
    """The first stage's outcome as signs."""
    return {"is_open": float(reading.outcome == "open"), "is_nothing": float(reading.outcome == "nothing")}


def _agreement(reading: Reading, shares: Shares, column: Mapping[str, int]) -> dict[str, float]:
    """How far the second stage agrees with what was read: the shares of that, and of the strongest other class."""
    codes = [mention.component_code for mention in reading.mentions] or [NONE]
    own = [column[code] for code in codes if code in column]
    rest = np.delete(shares, own)
    read, rival = float(shares[own].sum()), float(rest.max()) if rest.size else 0.0
    return {"share_read": read, "share_rival": rival, "log_odds": float(np.log((read + 1e-3) / (rival + 1e-3)))}
