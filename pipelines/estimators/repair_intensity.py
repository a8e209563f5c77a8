"""Repairs per mile of a unit as a function of its mileage: power law and log-linear, by maximum likelihood.

Repairs are taken as a Poisson process whose intensity depends on mileage alone (a repair leaves the unit as bad as it
was), watched over windows (start, end] that need not begin at 0.
Power law: M(t) = lambda t^beta. Log-linear: intensity e^(a + b t). M(t): repairs per unit up to t.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.lives import Flags, Floats, Miles
from longmile.pipelines.estimators.repair_history import RepairHistory, miles_watched, n_repairs
from longmile.pipelines.estimators.stretch import log_width
from longmile.pipelines.estimators.tilted_exposure import TiltedExposure, solve_mean

Model = Literal["power_law", "log_linear"]
MIN_REPAIRS = 2.0  # one repair fixes a rate, not a trend
_BOUNDS = {"power_law": (float(np.log(1e-3)), float(np.log(1e4))), "log_linear": (-1e4, 1e4)}
_REASONS = {
    "power_law": ("shape_falls_to_zero", "shape_rises_without_limit"),
    "log_linear": ("slope_falls_without_limit", "slope_rises_without_limit"),
}
_SLOPE_OK = 1e-8  # how near the means must be, in standard deviations, for `ok`
_VAGUE = 1e6  # variance of log beta (a factor e^1000) from which there is no information on it


@dataclass(frozen=True)
class IntensityFits:
    """One fit per stratum, shape (n_strata,) throughout; numbers are NaN where status is not `ok`.

    The intensity per unit of x is e^(log_rate + theta (x - mean)); x is log(t / unit_miles) for the power law and
    (t - from_miles) / unit_miles for the log-linear one.
    status: `ok`, `no_failures` (no repair), `too_few_at_risk` (no miles), `thin` (one repair), `did_not_converge`.
    reason: "" or, for the last two, `one_failure`, `shape_falls_to_zero` (repairs sooner than any power law that
    starts at 0), `shape_rises_without_limit` (all repairs at the last mileage watched), `slope_...`, `no_information`
    (windows too short for their mileage to tell any shape), `search_ended`.
    repairs: their number.   mean, variance: of x where repairs are expected; log_rate and theta are independent, with
    variances 1 / repairs and 1 / (repairs x variance) from the observed information.
    gap: how far the mean misses that of the repairs, in standard deviations.
    """

    model: Model
    status: npt.NDArray[np.str_]
    reason: npt.NDArray[np.str_]
    log_likelihood: Floats
    theta: Floats
    log_rate: Floats
    mean: Floats
    variance: Floats
    repairs: Floats
    gap: Floats
    from_miles: Miles
    unit_miles: Miles
    last_miles: Miles

    @property
    def ok(self) -> Flags:
        """True where the fit can be used."""
        flags: Flags = self.status == "ok"
        return flags

    @property
    def aic(self) -> Floats:
        """Akaike's criterion of two parameters; NaN where there is no fit."""
        return 4 - 2 * self.log_likelihood

    @property
    def var_theta(self) -> Floats:
        """Variance of theta."""
        return 1 / (self.repairs * self.variance)


def fit_intensity(history: RepairHistory, model: Model) -> IntensityFits:
    """Maximum-likelihood intensity per stratum, from windows that end at a mileage fixed beforehand.

    The log-likelihood is that of the repair mileages, per mile. Sources: Crow 1974, in Reliability and Biometry, SIAM,
    379-410 (power law); Cox & Lewis 1966, chapter 3 (log-linear); windows that begin late: the same likelihood with
    each window's own limits.
    """
    exposure, from_miles, unit_miles = _exposure(history, model)
    repairs, watched = n_repairs(history), miles_watched(history) > 0
    x, log_x_per_mile = _placed(history, model, from_miles, unit_miles)
    rows = np.flatnonzero(watched & (repairs >= MIN_REPAIRS))
    mean_x = history.by_repair(x)[rows] / repairs[rows]
    low, high = (np.full(rows.size, bound) for bound in _BOUNDS[model])
    group = history.stratum_group[rows]
    theta, below, above = solve_mean(exposure, group, mean_x, low, high, model == "power_law")
    at = exposure.at(group, theta)
    gap = np.abs(mean_x - at.mean) / np.sqrt(at.variance)
    fitted = repairs[rows]
    vague = (fitted * at.variance * theta**2 * _VAGUE < 1) & (model == "power_law")
    status, reason = _verdict(model, repairs, watched, rows, (below, above, vague, gap))
    log_rate = np.log(fitted) - at.log_total + theta * at.mean
    loglik = fitted * (log_rate + theta * (mean_x - at.mean) - 1) + history.by_repair(log_x_per_mile)[rows]
    return _filled(
        IntensityFits(
            model, status, reason, loglik, theta, log_rate, at.mean, at.variance,
            repairs, gap, from_miles, unit_miles, history.largest,
        ),
        rows,
    )  # fmt: skip


def constant_log_likelihood(history: RepairHistory) -> Floats:
    """Log-likelihood per stratum were the intensity the same at every mileage; NaN without a repair."""
    repairs, miles = n_repairs(history), miles_watched(history)
    some = np.where(repairs > 0, repairs, np.nan)
    constant: Floats = repairs * (np.log(some / np.where(miles > 0, miles, np.nan)) - 1)
    return constant


def _exposure(history: RepairHistory, model: Model) -> tuple[TiltedExposure, Miles, Miles]:
    """Windows in x by group, and origin and unit of x per stratum."""
    earliest, latest = np.full(history.n_groups, np.inf), np.full(history.n_groups, -np.inf)
    np.minimum.at(earliest, history.group, history.start)
    np.maximum.at(latest, history.group, history.end)
    watched = np.isfinite(latest)
    origin = np.where(watched & (model == "log_linear"), earliest, 0.0)
    unit = np.where(watched, latest, 1.0) - origin
    own = (origin[history.group], unit[history.group])
    far, width = stretch_in_x(model, history.start, history.end, *own)
    low = np.zeros(unit.size)
    high = np.full(unit.size, 0.0 if model == "power_law" else 1.0)
    held = history.stratum_group
    return TiltedExposure(history.windows(far, width), low, high), origin[held], unit[held]


def stretch_in_x(model: Model, start: Miles, end: Miles, origin: Miles, unit: Miles) -> tuple[Floats, Floats]:
    """Far end and width of (start, end] in x."""
    if model == "power_law":
        return np.log(end / unit), log_width(start, end)
    return (end - origin) / unit, (end - start) / unit


def coordinate(model: Model, t: Miles, origin: Miles, unit: Miles) -> tuple[Floats, Floats]:
    """The x of t, and the log of how fast it runs there, per mile."""
    if model == "power_law":
        return np.log(t / unit), -np.log(t)
    return (t - origin) / unit, np.broadcast_to(-np.log(unit), t.shape)


def _placed(history: RepairHistory, model: Model, origin: Miles, unit: Miles) -> tuple[Floats, Floats]:
    return coordinate(model, history.at, origin[history.stratum], unit[history.stratum])


def _verdict(
    model: Model,
    repairs: Floats,
    watched: Flags,
    rows: npt.NDArray[np.int64],
    found: tuple[Flags, Flags, Flags, Floats],
) -> tuple[npt.NDArray[np.str_], npt.NDArray[np.str_]]:
    below, above, vague, gap = found
    status = np.full(repairs.size, "did_not_converge", dtype="U20")
    reason = np.full(repairs.size, "search_ended", dtype="U30")
    status[rows] = np.where(~below & ~above & ~vague & (gap <= _SLOPE_OK), "ok", "did_not_converge")
    falls, rises = _REASONS[model]
    reason[rows] = np.select(
        [below, above, vague, status[rows] == "ok"], [falls, rises, "no_information", ""], "search_ended"
    )
    for which, named, why in (
        (repairs < MIN_REPAIRS, "thin", "one_failure"),
        (repairs == 0, "no_failures", ""),
        (~watched, "too_few_at_risk", ""),
    ):
        status[which], reason[which] = named, why
    return status, reason


def _filled(fits: IntensityFits, rows: npt.NDArray[np.int64]) -> IntensityFits:
    """The fits of the rows among all strata, NaN where there is none."""
    names = ("log_likelihood", "theta", "log_rate", "mean", "variance", "gap")
    columns = {name: np.full(fits.status.size, np.nan) for name in names}
    for name, column in columns.items():
        column[rows] = getattr(fits, name)
        column[~fits.ok] = np.nan
    counted = np.where(fits.ok, fits.repairs, np.nan)
    return IntensityFits(**{**vars(fits), **columns, "repairs": counted})
