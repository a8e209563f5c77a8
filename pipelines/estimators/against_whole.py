"""One part of a whole against the rest of it, age by age: log-rank tests of many parts, nothing laid out twice."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import chdtrc

from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure, n_failures, weighed
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier

FEWEST_EXPECTED = 5.0
"""Below so many failures expected in the part or in the rest, the chi-square is a rough guide: `thin` (a usual rule of
thumb, from memory)."""

_CHUNK = 1 << 20  # (part, age) pairs evaluated at once: bounds memory, not results


@dataclass(frozen=True)
class AgainstWhole:
    """Per part: failures observed and expected were its hazard that of the whole at every age.

    chi_square: one degree of freedom; p: its tail.   status: `ok`, `thin`, `no_failures` (the whole has none) or
    `too_few_at_risk` (never at risk together with the rest); chi_square and p are NaN for the last two.
    """

    observed: Floats
    expected: Floats
    chi_square: Floats
    p: Floats
    status: npt.NDArray[np.str_]


def against_whole(
    data: Lives, shared: SharedExposure | None, part: npt.ArrayLike, whole: npt.ArrayLike
) -> AgainstWhole:
    """Log-rank test, with late entry and ties, of each part against the rest of its whole.

    part, whole: stratum codes, one each per test; the lives of a part are among those of its whole. Equal to
    `log_rank` of the part against all others; lives are taken for independent.
    Raises LivesError as `kaplan_meier` does. Source: Mantel 1966, Cancer Chemother. Rep. 50:163-170.
    """
    parts, wholes = np.asarray(part, np.int64), np.asarray(whole, np.int64)
    curves = kaplan_meier(data, shared)
    size = curves.start[wholes + 1] - curves.start[wholes]
    expected, variance = np.zeros(parts.size), np.zeros(parts.size)
    ends = np.cumsum(size)
    for low in range(0, int(ends[-1]) if ends.size else 0, _CHUNK):
        pair = np.arange(low, min(low + _CHUNK, int(ends[-1])))
        test = np.searchsorted(ends, pair, side="right")
        row = curves.start[wholes[test]] + pair - (ends[test] - size[test])
        share, spread = _terms(curves, parts[test], row)
        expected += weighed(test, share, parts.size)
        variance += weighed(test, spread, parts.size)
    return _tested(n_failures(data), parts, wholes, expected, variance)


def _terms(curves: SurvivalCurves, part: Codes, row: Codes) -> tuple[Floats, Floats]:
    """Expected failures of the part at each row of its whole, and their hypergeometric variance."""
    watched, failed = curves.at_risk[row], curves.events[row]
    share = np.clip(curves.sets.at_risk(part, curves.t[row]) / watched, 0.0, 1.0)
    several = watched > 1
    tied = np.where(several, (watched - failed) / np.where(several, watched - 1, 1.0), 0.0)
    return failed * share, failed * tied * share * (1 - share)


def _tested(failures: Floats, parts: Codes, wholes: Codes, expected: Floats, variance: Floats) -> AgainstWhole:
    observed, total = failures[parts], failures[wholes]
    possible = variance > 1e-9 * np.maximum(total, 1.0)
    chi = np.where(possible, (observed - expected) ** 2 / np.where(possible, variance, 1.0), np.nan)
    rough = np.minimum(expected, total - expected) < FEWEST_EXPECTED
    status = np.where(possible, np.where(rough, "thin", "ok"), "too_few_at_risk")
    status = np.where(total > 0, status, "no_failures")
    return AgainstWhole(observed, expected, chi, np.where(possible, chdtrc(1.0, np.nan_to_num(chi)), np.nan), status)
