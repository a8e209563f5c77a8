"""Weibull fits with the shape given: the scale by maximum likelihood, one per stratum, and its limits.

A shape of 1 is the exponential: a constant rate. Everything that can be asked of such a fit rises or falls with
the level of its hazard alone, so limits are found once for that level and read off for any quantity.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import gammainccinv, gammaincinv, ndtri

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.distributions import WEIBULL
from longmile.pipelines.estimators.fit_search import Fits, Likelihood
from longmile.pipelines.estimators.held_likelihood import Along, HeldLikelihood, held_likelihood
from longmile.pipelines.estimators.held_search import fallen, highest
from longmile.pipelines.estimators.lives import Flags, Floats, Lives, SharedExposure, miles_at_risk
from longmile.pipelines.estimators.quantities import Quantity, working_se
from longmile.pipelines.estimators.rates import Bound
from longmile.pipelines.estimators.weibull_likelihood import WeibullLikelihood, weibull_likelihood

HeldMethod = Literal["exact", "profile", "wald"]
_SLOPE_OK = 1e-8  # per failure, as for fits with a free shape
_VAST = 1e300


@dataclass(frozen=True)
class HeldFits(Fits):
    """`Fits` whose shape was given, so that its errors are 0 and it counts as no parameter.

    One failure is enough for `ok`. Reasons of `did_not_converge`: `hazard_rises_without_limit` (every failure was
    there at the first look and nothing was survived), `lost_in_rounding` (windows taken out leave no exposure that
    can be told from 0), `search_ended`. Limits from `hazard_limits`, not from `profile`, which would free the shape.

    log_exposure: log of the sum over lives of (exit / ref)^shape - (entry / ref)^shape, ref = e^log_ref of the
    likelihood; a failure within an interval counts to where it is to be expected, so that failures / exposure = e^c.
    held: the likelihood along the level.
    """

    log_exposure: Floats
    held: HeldLikelihood

    @property
    def aic(self) -> Floats:
        """Akaike's criterion with one parameter; NaN where there is no fit."""
        return 2 - 2 * self.log_likelihood


@dataclass(frozen=True)
class HazardLimits:
    """Limits of c, the log hazard level, per stratum; -inf or inf where there is no limit on that side.

    method: per stratum, how they were made: `exact`, `profile`, `wald`, or `none` (no miles, no fit: NaN).
    bound: per stratum, as for a life: `lower` is a lower limit of the life, an upper one of the hazard.
    """

    fits: HeldFits
    lower: Floats
    upper: Floats
    method: npt.NDArray[np.str_]
    bound: npt.NDArray[np.str_]
    confidence: float


@dataclass(frozen=True)
class HeldLimits:
    """Estimate and limits of a quantity per stratum, as shown (miles or a chance).

    Without a failure there is no estimate (NaN), no error, and no upper limit (infinite miles, a chance of 1); the
    lower one holds.   se: of the working value of the quantity.   method, bound: see `HazardLimits`.
    """

    estimate: Floats
    se: Floats
    lower: Floats
    upper: Floats
    method: npt.NDArray[np.str_]
    bound: npt.NDArray[np.str_]
    confidence: float


def fit_held_shape(
    data: Lives,
    shared: SharedExposure | None = None,
    shape: npt.ArrayLike = 1.0,
    likelihood: Likelihood | None = None,
) -> HeldFits:
    """Maximum-likelihood scale per stratum with the shape given (one for all strata, or one each).

    Takes the lives that `fit_weibull` takes. likelihood: the Weibull one of the same lives, if it is there (one of
    another kind is not used).
    Raises LivesError unless shapes are finite and above 0. Source: Meeker & Escobar 1998, section 8.5 (known
    shape), chapter 11 (late entry).
    """
    k = np.broadcast_to(np.asarray(shape, np.float64), (data.n_strata,)).copy()
    if not np.all(np.isfinite(k) & (k > 0)):
        raise LivesError("held shape: a shape is missing, infinite or not above 0. Expected one above 0 per stratum.")
    whole = likelihood if isinstance(likelihood, WeibullLikelihood) else weibull_likelihood(data, shared)
    held = held_likelihood(data, shared, whole, np.log(k))
    watched = miles_at_risk(data, shared) > 0
    return _judged(whole, held, watched, k)


def _judged(whole: WeibullLikelihood, held: HeldLikelihood, watched: Flags, k: Floats) -> HeldFits:
    """The fits with their status: each stratum with failures is searched, and believed only where it ends flat."""
    failures = whole.failures
    lost, endless = ~np.isfinite(held.log_total), (held.exact == 0) & (held.sound == 0)
    asked = watched & (failures > 0)
    y, at = _searched(held, failures, asked & ~lost & ~endless)
    slope = np.abs(at.slope) / np.where(failures > 0, failures, np.nan)
    good = (slope < _SLOPE_OK) & (at.bend < 0)
    status = np.where(failures > 0, np.where(good, "ok", "did_not_converge"), "no_failures").astype("<U32")
    status[(failures == 0) & lost] = "did_not_converge"
    status[~watched] = "too_few_at_risk"
    why = np.where(lost, "lost_in_rounding", np.where(endless, "hazard_rises_without_limit", "search_ended"))
    # What was survived for certain, and the intervals up to where their failures are to be expected.
    exposure = np.where(np.isin(status, ("ok", "no_failures")), held.sound + np.where(asked, at.within, 0.0), np.nan)
    c = np.where(good, y - held.log_total, np.nan)
    var_c = np.where(good, -1 / np.where(good, at.bend, 1.0), np.nan)
    nil = np.where(good, 0.0, np.nan)
    return HeldFits(
        status=status,
        reason=np.where(status == "did_not_converge", why, "").astype("<U32"),
        shape=k,
        scale=np.exp(whole.log_ref - c / k),
        log_likelihood=np.where(good, at.loglik + held.constant, np.nan),
        se_log_shape=nil,
        se_log_scale=np.sqrt(var_c) / k,
        cov_log=nil,
        slope=slope,
        failures=failures,
        c=c,
        b=np.log(k),
        cov_cc=var_c,
        cov_cb=nil,
        cov_bb=nil,
        likelihood=whole,
        distribution=WEIBULL,
        log_exposure=held.log_total + np.log(exposure),
        held=held,
    )


def _searched(held: HeldLikelihood, failures: Floats, which: Flags) -> tuple[Floats, Along]:
    """Where the search ends for the given strata, NaN for the others, and the likelihood there."""
    rows = np.flatnonzero(which)
    y = np.full(failures.size, np.nan)
    y[rows] = highest(held, rows, np.log(failures[rows]))
    return y, held.along(np.arange(failures.size), y)


def hazard_limits(
    fits: HeldFits,
    confidence: float = 0.95,
    method: HeldMethod = "exact",
    bound: Bound | npt.NDArray[np.str_] = "two_sided",
) -> HazardLimits:
    """Limits of the hazard level per stratum; read quantities off them with `read_limits`.

    exact: the chi-square limits of a Poisson count over the exposure, with 2 d and 2 d + 2 degrees of freedom. In
    units of the exposure failures come as a Poisson process of rate e^c, whatever the shape; the limits are exact
    where watching ends by plan (a mileage, a date) and parts are renewed, and close to it where they are not. They
    need every failure exactly known: strata with one in an interval get profile limits. wald: there are none without
    a failure; such strata get exact ones. All take the shape for the true one and lives for independent.
    bound: for all strata or each, see `HazardLimits`.
    Raises LivesError on a confidence outside (0, 1). Source: Garwood 1936, Biometrika 28:437-442; Meeker & Escobar
    1998, sections 7.7 and 8.5.
    """
    if not 0 < confidence < 1:
        raise LivesError(f"limits: confidence is {confidence}. Expected a number between 0 and 1, such as 0.95.")
    sides = np.broadcast_to(np.asarray(bound), fits.failures.shape)
    tail = (1 - confidence) / np.where(sides == "two_sided", 2, 1)
    used = _method_used(fits, method)
    lower, upper = np.full(tail.size, np.nan), np.full(tail.size, np.nan)
    for made, limits in (("exact", _exact), ("profile", _profile), ("wald", _wald)):
        at = used == made
        low, high = limits(fits, tail)
        lower, upper = np.where(at, low, lower), np.where(at, high, upper)
    known = used != "none"
    lower = np.where(known & (sides == "lower"), -np.inf, lower)
    upper = np.where(known & (sides == "upper"), np.inf, upper)
    return HazardLimits(fits, lower, upper, used, sides, confidence)


def read_limits(limits: HazardLimits, quantity: Quantity) -> HeldLimits:
    """A quantity with its limits: as shown it falls while the level rises, so each limit follows from one of c's.

    quantity: any of `quantities` but the shape, which is given.
    """
    fits = limits.fits
    # A level without limit stands in as a vast one: some quantities take an infinite one for none at all.
    levels = [dataclasses.replace(fits, c=np.clip(c, -_VAST, _VAST)) for c in (limits.upper, limits.lower)]
    with np.errstate(over="ignore"):
        ends = [quantity.shown(at, quantity.value(at)) for at in levels]
        estimate = quantity.shown(fits, quantity.value(fits))
    return HeldLimits(
        estimate, working_se(fits, quantity)[0], ends[0], ends[1], limits.method, limits.bound, limits.confidence
    )


def _method_used(fits: HeldFits, method: HeldMethod) -> npt.NDArray[np.str_]:
    """The method that can be had where the asked one cannot."""
    used = np.full(fits.failures.size, method, dtype="<U8")
    if method == "exact":
        used[fits.failures > fits.held.exact] = "profile"
    if method == "wald":
        used[fits.status == "no_failures"] = "exact"
    used[~np.isin(fits.status, ("ok", "no_failures"))] = "none"
    return used


def _exact(fits: HeldFits, tail: Floats) -> tuple[Floats, Floats]:
    some = np.where(fits.failures > 0, fits.failures, 1.0)
    low = np.where(fits.failures > 0, np.log(gammaincinv(some, tail)), -np.inf)
    return low - fits.log_exposure, np.log(gammainccinv(fits.failures + 1, tail)) - fits.log_exposure


def _profile(fits: HeldFits, tail: Floats) -> tuple[Floats, Floats]:
    """Without a failure the log-likelihood is minus the hazard: it has fallen by z^2 / 2 where that is the hazard."""
    z = -ndtri(tail)
    low, high = np.full(z.size, -np.inf), np.log(z**2 / 2) - fits.log_exposure
    rows = np.flatnonzero(fits.ok)
    top = fits.c[rows] + fits.held.log_total[rows]
    for side, ends in ((-1.0, low), (1.0, high)):
        ends[rows] = fallen(fits.held, rows, top, side, z[rows]) - fits.held.log_total[rows]
    return low, high


def _wald(fits: HeldFits, tail: Floats) -> tuple[Floats, Floats]:
    reach = -ndtri(tail) * np.sqrt(fits.cov_cc)
    return fits.c - reach, fits.c + reach
