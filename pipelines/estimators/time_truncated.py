"""Exact limits of a power law where every unit was watched from 0 to one and the same mileage, fixed beforehand.

There the maximum-likelihood estimate has a closed form and known distributions: beta a chi-square, the intensity at the
end one built of Bessel functions. Also the estimate freed of its bias, which is not the maximum-likelihood one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln, ive, ndtri
from scipy.stats import chi2

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Miles, weighed
from longmile.pipelines.estimators.quantities import Limits
from longmile.pipelines.estimators.repair_expectations import (
    miles_between,
)
from longmile.pipelines.estimators.repair_history import RepairHistory, n_repairs, n_units
from longmile.pipelines.estimators.repair_intensity import IntensityFits

_HALVINGS = 70  # halve a bracket of some units down to the last digit


@dataclass(frozen=True)
class TimeTruncated:
    """Shape (n_strata,) throughout; NaN where applies is False.

    applies: every unit of the stratum has one window, (0, end], end the same for all, and there is a fit.
    beta: exact chi-square limits round the maximum-likelihood estimate.   miles_between: exact limits of the mean
    miles between repairs of one unit at the end.
    modified_beta, modified_lambda, modified_miles_between: the bias-reduced estimate, (n - 1) / n of the
    maximum-likelihood beta, and what follows from it.   modified_limits: large-sample limits of the miles between
    repairs round the modified estimate, as some handbooks give; infinite where they have no upper one.
    """

    applies: Flags
    beta: Limits
    miles_between: Limits
    modified_beta: Floats
    modified_lambda: Floats
    modified_miles_between: Floats
    modified_limits: Limits


def time_truncated(history: RepairHistory, fits: IntensityFits, confidence: float = 0.95) -> TimeTruncated:
    """Exact limits and modified estimates of a power-law fit, where they apply.

    Given the number of repairs n, 2 n beta / beta_hat is chi-square with 2n degrees of freedom. Given S = the sum of
    log(end / t), n has probabilities in proportion to (phi S)^n / (n! (n - 1)!), phi being units x end / miles between
    repairs at the end; that holds for n of 1 and more.
    Sources: Crow 1974, in Reliability and Biometry, SIAM, 379-410; Crow 1982, Technometrics 24:67-72; MIL-HDBK-189;
    the large-sample limits: NIST/SEMATECH e-Handbook 8.4.5.
    """
    applies = fits.ok & _is_common(history)
    n = np.where(applies, n_repairs(history), np.nan)
    total_miles = n_units(history) * history.largest
    beta = fits.theta
    tail = (1 - confidence) / 2
    low, high = (beta * chi2.ppf(p, 2 * n) / (2 * n) for p in (tail, 1 - tail))
    own = miles_between(fits, np.where(applies, history.largest, 1.0))
    between = np.where(applies, own.estimate, np.nan)
    shorter, longer = _miles_limits(n, n / beta, total_miles, tail)
    none = np.full(n.size, np.nan)
    modified = (n - 1) / n * beta
    from_modified = total_miles / (n * modified)
    return TimeTruncated(
        applies=applies,
        beta=Limits(np.where(applies, beta, np.nan), none, low, high, "exact", confidence),
        miles_between=Limits(between, none, shorter, longer, "exact", confidence),
        modified_beta=modified,
        modified_lambda=n / n_units(history) * np.exp(-modified * np.log(history.largest)),
        modified_miles_between=from_modified,
        modified_limits=_large_sample(from_modified, n, confidence),
    )


def _is_common(history: RepairHistory) -> Flags:
    """Whether all windows of each stratum are (0, end] with one end, and no unit has two."""
    odd = (history.start > 0) | (history.unit_row != np.arange(history.start.size))
    earliest = np.full(history.n_groups, np.inf)
    np.minimum.at(earliest, history.group, history.end)
    same: Flags = earliest[history.stratum_group] == history.largest
    common: Flags = same & (history.by_stratum(odd.astype(np.float64)) == 0)
    return common


def _miles_limits(n: Floats, log_sum: Floats, total_miles: Miles, tail: float) -> tuple[Miles, Miles]:
    """Lower and upper limit of the miles between repairs at the end: total_miles / phi at the limits of phi."""
    found = [np.full(n.size, np.nan), np.full(n.size, np.nan)]
    rows = np.flatnonzero(np.isfinite(n))
    counts = n[rows].astype(np.int64)
    # The largest phi leaves as few repairs as seen a chance of `tail`, the smallest as many.
    for side, (upto, chance) in enumerate(((counts, tail), (counts - 1, 1 - tail))):
        phi_sum = _solve_share(upto, chance)
        found[side][rows] = total_miles[rows] * log_sum[rows] / phi_sum
    return found[0], found[1]


def _solve_share(upto: Codes, chance: float) -> Floats:
    """The x at which the first `upto` terms of x^j / (j! (j - 1)!), j = 1, 2, ..., make up the share chance of all."""
    owner = np.repeat(np.arange(upto.size), upto)
    j = np.arange(owner.size) - np.repeat(np.cumsum(upto) - upto, upto) + 1.0
    log_divisor = gammaln(j + 1) + gammaln(j)
    # All terms together are root I1(2 root), root being that of x; they peak near j = root, with a spread of about
    # sqrt(root / 2), so that a bracket twenty times as wide holds every usual chance.
    low, high = np.zeros(upto.size), upto + 20 * np.sqrt(upto) + 40
    root = (low + high) / 2
    for _ in range(_HALVINGS):
        terms = np.exp(2 * j * np.log(root)[owner] - log_divisor - 2 * root[owner])
        share = weighed(owner, terms, upto.size) / (root * ive(1, 2 * root))
        low, high = np.where(share > chance, root, low), np.where(share > chance, high, root)
        root = (low + high) / 2
    found: Floats = root**2
    return found


def _large_sample(between: Miles, n: Floats, confidence: float) -> Limits:
    """Limits from the approximately normal root of phi, lower and upper by two different approximations of it."""
    z = float(ndtri(0.5 + confidence / 2))
    scaled = between * n * (n - 1)
    low = scaled / (n + z**2 / 4 + np.sqrt(n * z**2 / 2 + z**4 / 16)) ** 2
    rest = n - z * np.sqrt(n / 2)
    high = np.where(rest > 0, scaled / np.where(rest > 0, rest, 1.0) ** 2, np.inf)
    return Limits(
        between, np.full(n.size, np.nan), low, np.where(np.isnan(n), np.nan, high), "large_sample", confidence
    )
