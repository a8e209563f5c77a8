"""How much rates differ between the members of a group: a gamma prior by empirical Bayes, and what follows for each.

All groups at once: in a shop a group is a component, its members are the engine families, and exposure is the number
of failures expected. See `negative_binomial` for the model.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import gammainc, gammaincc, gammainccinv, gammaincinv

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Flags, Floats
from longmile.pipelines.estimators.negative_binomial import Counts, best_mean, log_likelihood, spread_slope
from longmile.pipelines.estimators.rates import poisson_rates

LOWEST = float(np.log(1e-4))
"""Log alpha below which no spread is looked for."""
STRIDE = 0.5
"""Of the coarse look at log alpha."""
_HALVINGS = 50
_GAIN = 1e-9  # log-likelihood by which a spread must be better than none


@dataclass(frozen=True)
class GammaPriors:
    """The spread of rates in each group, shape (n_groups,).

    status: `ok`; `no_extra_variation` (the counts differ no more than chance alone would make them: the group is
    pooled, alpha and beta are infinite); `no_failures` (no count at all: pooled, mean 0); `too_few_at_risk` (no
    exposure: NaN); `did_not_converge` (NaN).
    log_likelihood: of the counts, negative binomial, or Poisson where pooled.   members: those with exposure.
    """

    status: npt.NDArray[np.str_]
    alpha: Floats
    beta: Floats
    mean: Floats
    log_likelihood: Floats
    members: Floats
    count: Floats
    exposure: Floats

    @property
    def pooled(self) -> Flags:
        """True where every member is given the group's rate."""
        flags: Flags = np.isin(self.status, ("no_extra_variation", "no_failures"))
        return flags


@dataclass(frozen=True)
class Posteriors:
    """Rate of each member given its group, shape of the members; NaN only where the group has no prior.

    chance_above: chance that the rate exceeds threshold x the group's mean.   weight_on_own: share of the mean that
    comes from the member's own count, the rest coming from the group.
    """

    mean: Floats
    lower: Floats
    upper: Floats
    chance_above: Floats
    weight_on_own: Floats
    threshold: float
    confidence: float

    def only(self, known: Flags) -> Posteriors:
        """The same, NaN where not known."""
        mean, lower, upper, above, own = (
            np.where(known, part, np.nan)
            for part in (self.mean, self.lower, self.upper, self.chance_above, self.weight_on_own)
        )
        return Posteriors(mean, lower, upper, above, own, self.threshold, self.confidence)


def fit_gamma_priors(data: Counts) -> GammaPriors:
    """Maximum-likelihood alpha and beta of every group.

    Source: Gaver & O'Muircheartaigh 1987, Technometrics 29:1-15; Clayton & Kaldor 1987, Biometrics 43:671-681.
    """
    y, e = data.sums(data.count), data.sums(data.exposure)
    members = data.sums((data.exposure > 0).astype(np.float64))
    flat = log_likelihood(data, data.log_pooled(), np.full(y.size, np.inf))
    psi, log_mean, height = _best_spread(data)
    better = (height > flat + _GAIN) & (members > 1)
    inside = psi > LOWEST + STRIDE
    status = np.where(better, np.where(inside, "ok", "did_not_converge"), "no_extra_variation").astype("<U32")
    status[y == 0] = "no_failures"
    status[e == 0] = "too_few_at_risk"
    ok, pooled = status == "ok", np.isin(status, ("no_extra_variation", "no_failures"))
    mean = np.where(pooled, y / np.where(e > 0, e, 1.0), np.where(ok, np.exp(log_mean), np.nan))
    alpha = np.where(ok, np.exp(psi), np.where(pooled, np.inf, np.nan))
    beta = alpha / np.where(mean > 0, mean, 1.0)
    likelihood = np.where(ok, height, np.where(pooled, np.where(y > 0, flat, 0.0), np.nan))
    return GammaPriors(status, alpha, beta, mean, likelihood, members, y, e)


def coarse_looks(data: Counts) -> Floats:
    """Rows of log alpha worth looking at, up to where the spread is lost in the chance of the largest counts."""
    largest = float(np.max(np.exp(data.log_pooled())[data.group] * data.exposure, initial=1.0))
    return np.arange(LOWEST, np.log(1e4 * max(largest, 1.0)) + STRIDE, STRIDE)


def _best_spread(data: Counts) -> tuple[Floats, Floats, Floats]:
    """Log alpha and log mean of the highest likelihood in each group, and that likelihood.

    The best of a coarse row of looks, then halving between its neighbours on the sign of the slope.
    """
    start = data.log_pooled()
    psi, height = np.full(start.size, LOWEST), np.full(start.size, -np.inf)
    for look in coarse_looks(data):
        trial = np.full(start.size, look)
        value = log_likelihood(data, best_mean(data, trial, start)[0], trial)
        psi, height = np.where(value > height, trial, psi), np.maximum(value, height)
    low, high = psi - STRIDE, psi + STRIDE
    log_mean = start
    for _ in range(_HALVINGS):
        psi = (low + high) / 2
        log_mean, _ = best_mean(data, psi, log_mean)
        rising = spread_slope(data, log_mean, psi) > 0
        low, high = np.where(rising, psi, low), np.where(rising, high, psi)
    return psi, log_mean, log_likelihood(data, log_mean, psi)


def gamma_posteriors(data: Counts, priors: GammaPriors, confidence: float = 0.95, threshold: float = 2.0) -> Posteriors:
    """Rate of every member, drawn towards its group's mean the more, the less it was watched.

    The prior is taken for known: limits of few, alike members come out too narrow (see `prior_average`). Members of
    a pooled group all get its rate with exact Poisson limits. A member without exposure gets the prior itself.
    Raises LivesError on a confidence outside (0, 1) or a threshold that is not above 0.
    """
    check_asked(confidence, threshold)
    tail = (1 - confidence) / 2
    pooled = priors.pooled[data.group]
    a, b = priors.alpha[data.group] + data.count, priors.beta[data.group] + data.exposure
    a, b = np.where(pooled, 1.0, a), np.where(pooled, 1.0, b)
    above = gammaincc(a, threshold * priors.mean[data.group] * b)
    whole = poisson_rates(priors.count, priors.exposure, confidence)
    return Posteriors(
        mean=np.where(pooled, priors.mean[data.group], a / b),
        lower=np.where(pooled, whole.lower[data.group], gammaincinv(a, tail) / b),
        upper=np.where(pooled, whole.upper[data.group], gammainccinv(a, tail) / b),
        chance_above=np.where(pooled, float(threshold < 1), above),
        weight_on_own=np.where(pooled, 0.0, data.exposure / b),
        threshold=threshold,
        confidence=confidence,
    )


def chance_of_as_many(count: npt.ArrayLike, expected: npt.ArrayLike) -> Floats:
    """Chance of so many or more where so many were expected, Poisson; exact, elementwise; 1 for a count of 0.

    Raises LivesError unless both are 0 or more.
    """
    y, e = np.broadcast_arrays(np.asarray(count, np.float64), np.asarray(expected, np.float64))
    if not (np.all(y >= 0) and np.all(e >= 0)):
        raise LivesError("counts: a count or an expected count is below 0 or missing. Expected 0 or more.")
    chance: Floats = np.where(y > 0, gammainc(np.where(y > 0, y, 1.0), e), 1.0)
    return chance


def check_asked(confidence: float, threshold: float) -> None:
    """Raises LivesError on a confidence outside (0, 1) or a threshold that is not above 0."""
    if not (0 < confidence < 1 and threshold > 0):
        raise LivesError(
            f"rates: confidence is {confidence}, threshold {threshold}. Expected a confidence between 0 and 1, such as "
            "0.95, and a threshold above 0, such as 2."
        )
