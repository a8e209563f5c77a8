"""The Weibull log-likelihood along the one number left when the shape is held. Sums, no search.

With the shape k held, all that was surely survived comes down to one number, the exposure: the sum over lives of
(exit / ref)^k - (entry / ref)^k. Exposures and failures of the same shape and reference add up over parts of the
data. The free number is y = c + log of the exposure with the intervals counted in full, so that e^y is about
the number of failures; see `weibull_likelihood` for c and ref.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure
from longmile.pipelines.estimators.stretch import Ragged, stretch
from longmile.pipelines.estimators.weibull_likelihood import WeibullLikelihood

_CHUNK = 1 << 19  # intervals evaluated at once: bounds memory, not results


class Along(NamedTuple):
    """Log-likelihood along y, up to `HeldLikelihood.constant`, with slope and bend, shape (rows,).

    within: exposure within the intervals up to where their failures are to be expected, in units of all exposure.
    """

    loglik: Floats
    slope: Floats
    bend: Floats
    within: Floats


@dataclass(frozen=True)
class HeldLikelihood:
    """All strata, shape (n_strata,); made by `held_likelihood()`.

    exact: failures exactly known.   log_total: log exposure, intervals counted in full; -inf without any, NaN where
    only rounding is left of it.   sound: share of it that was surely survived.   intervals: weight and share of it
    of each interval in which a failure lies.   constant: what the log-likelihood has besides.
    """

    exact: Floats
    log_total: Floats
    sound: Floats
    intervals: Ragged
    constant: Floats

    def along(self, rows: Codes, y: Floats) -> Along:
        """Log-likelihood at y for the asked strata; it is concave in y, so it has one top at most."""
        with np.errstate(over="ignore", invalid="ignore"):
            grown = self.sound[rows] * np.exp(y)
            total = [self.exact[rows] * y - grown, self.exact[rows] - grown, -grown, np.zeros(y.size)]
            for part in self.intervals.chunks(rows, _CHUNK):
                owner, (weight, share) = self.intervals.take(rows[part])
                terms = _of_intervals(share, y[part][owner])
                for sums, term in zip(total, terms, strict=True):
                    sums[part] += np.bincount(owner, weights=weight * term, minlength=y[part].size)
        return Along(*total)


def held_likelihood(
    data: Lives, shared: SharedExposure | None, likelihood: WeibullLikelihood, b: Floats
) -> HeldLikelihood:
    """The likelihood of every stratum with its log shape held at b, shape (n_strata,)."""
    k = np.exp(b)
    every = np.arange(data.n_strata)
    # Measured against the largest mileage, so that no power of it runs out of range however steep the shape.
    top = -k * (_log_largest(data, shared) - likelihood.log_ref)
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        survived = likelihood.survived(every, top, b).h
        owner, (weight, far, width) = likelihood.intervals.take(every)
        inside = stretch(k[owner], top[owner], far, width).h
        total = survived + np.bincount(owner, weights=weight * inside, minlength=data.n_strata)
        share = inside / total[owner]
        log_total = np.log(total) - top
    # A failure long before the largest mileage, under a steep shape, keeps a share above 0: it can still happen.
    share = np.maximum(share, np.finfo(np.float64).tiny)
    return HeldLikelihood(
        exact=likelihood.exact,
        log_total=log_total,
        sound=np.where(total > 0, survived / np.where(total > 0, total, 1.0), 0.0),
        intervals=Ragged((weight, share), likelihood.intervals.start),
        constant=_constant(likelihood, b, log_total),
    )


def _constant(likelihood: WeibullLikelihood, b: Floats, log_total: Floats) -> Floats:
    some = likelihood.exact > 0
    constant: Floats = np.exp(b) * likelihood.sum_x - likelihood.sum_log_t
    return constant + np.where(some, likelihood.exact * (b - np.where(some, log_total, 0.0)), 0.0)


def _log_largest(data: Lives, shared: SharedExposure | None) -> Floats:
    """Log of the largest mileage of any life or window of each stratum; 0 where there is none."""
    largest = np.zeros(data.n_strata)
    np.maximum.at(largest, data.stratum, data.exit_)
    if shared is not None and shared.group.size:
        by_group = np.zeros(max(int(shared.group.max()), int(shared.stratum_group.max())) + 2)
        np.maximum.at(by_group, shared.group, shared.exit_)
        # Index -1 picks the trailing 0: no group, no windows.
        largest = np.maximum(largest, by_group[shared.stratum_group])
    return np.log(np.where(largest > 0, largest, 1.0))


def _of_intervals(share: Floats, y: Floats) -> tuple[Floats, ...]:
    """log(1 - e^-D) with slope and bend in y, D = share e^y, and the exposure before the expected failure.

    Given that it lies in an interval of hazard D, a failure is to be expected after a hazard of 1 - D / (e^D - 1).
    """
    d = share * np.exp(y)
    sure = ~(d < 700)
    safe = np.where(sure, 1.0, d)
    slope = np.where(sure, 0.0, safe / np.expm1(safe))
    value = np.where(sure, 0.0, np.log(-np.expm1(-safe)))
    # (1 - D / (e^D - 1)) / e^y, from the series where the difference has lost its digits.
    before = np.where(d < 1e-4, share / 2 - d * share / 12, (1 - slope) * np.exp(-y))
    return value, slope, slope * (1 - slope) - slope * d, before
