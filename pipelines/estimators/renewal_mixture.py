"""Weibull fits that take the age of a part at first sight for unknown, one per stratum.

A vehicle first seen at m miles may long since have had the part replaced elsewhere, so the part's age is not m. The
likelihood of such a life is that of what a renewal process leaves at m (`residual_life`): the part was new at mile 0,
was replaced by its like at every failure before m, and for no other reason. Lives of known age enter as ever.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from scipy.special import gammaln

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.distributions import WEIBULL
from longmile.pipelines.estimators.fit_search import Fits, Search, climb, judged, nothing, replace
from longmile.pipelines.estimators.general_likelihood import GeneralLikelihood, chance_within, general_likelihood
from longmile.pipelines.estimators.lives import (
    Codes,
    Flags,
    Floats,
    Lives,
    Miles,
    SharedExposure,
    miles_at_risk,
    no_shared_exposure,
    weighed,
)
from longmile.pipelines.estimators.residual_life import SHAPES, OfAge, ResidualTable, residual_table
from longmile.pipelines.estimators.stretch import Ragged, log_width, ragged, stretch
from longmile.pipelines.estimators.weibull import MIN_FAILURES, fit_weibull
from longmile.pipelines.estimators.weibull_likelihood import LOST, Values, log_reference

_CHUNK = 1 << 14  # lives read from the table at once: what stays in the cache
_START_SHAPES = (0.7, 1.0, 1.5, 2.5, 4.0)
_ERRORS = ("se_log_shape", "se_log_scale", "cov_log", "cov_cc", "cov_cb", "cov_bb")
_Terms: TypeAlias = Callable[["_At", list[Floats]], tuple[Floats, ...]]


@dataclass(frozen=True)
class RenewalLikelihood:
    """Lives of all strata, prepared: evaluate any rows (strata, repeats allowed) at any (c, b).

    known: the lives of known age.   Of the others: survived, what was survived; exact, failures; between, the
    intervals in which failures lie; windows, shared ones by group. Columns: weight, log mileage at first sight,
    log mileage at the end, log miles in between, log of end over first sight (twice, for near and far, in between).
    """

    log_ref: Floats
    failures: Floats
    known: GeneralLikelihood
    survived: Ragged
    exact: Ragged
    between: Ragged
    windows: Ragged
    group: Codes
    multiplicity: Floats
    table: ResidualTable

    def evaluate(self, rows: Codes, c: Floats, b: Floats) -> Values:
        """Log-likelihood with slopes and curvatures; -inf where it cannot be computed."""
        total = np.stack(self.known.evaluate(rows, c, b))
        at = _At(self.table, self.log_ref[rows], c, b)
        own, shared = np.zeros((6, rows.size)), np.zeros((6, rows.size))
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            _sum(own, self.survived, rows, at, _of_survival)
            self._sum_windows(shared, rows, at)
            _sum(total, self.exact, rows, at, _of_rate)
            _sum(total, self.between, rows, at, _of_interval)
            # Taken-out windows can leave so little of a steep hazard that only rounding remains.
            lost = own[0] + shared[0] > LOST * shared[0]
            total += own + shared
            total[0] = np.where(np.isfinite(total.sum(axis=0)) & ~lost, total[0], -np.inf)
        return Values(*total)

    def _sum_windows(self, total: Floats, rows: Codes, at: _At) -> None:
        held = np.flatnonzero((self.group[rows] >= 0) & (self.multiplicity[rows] > 0))
        part = np.zeros((6, held.size))
        _sum(part, self.windows, self.group[rows[held]], at.of(held), _of_survival)
        total[:, held] += part * self.multiplicity[rows[held]]


def fit_weibull_renewed(
    data: Lives, known_age: Flags, shared: SharedExposure | None = None, shared_known: Flags | None = None
) -> Fits:
    """Maximum-likelihood shape and scale per stratum; fits for the same quantities and limits as `fit_weibull`'s.

    known_age: True for lives whose entry is the part's age (seen from new, put in by the shop).
    Where False, entry is the vehicle's mileage at first sight and entry, left and exit_ count from the vehicle's
    own mile 0.   shared_known: the same of the shared windows.
    A shape outside `SHAPES`, where the table ends, is `did_not_converge` with reason `shape_beyond_table`.
    Raises LivesError if a life of unknown age enters at 0, or the flags do not fit the lives.
    """
    windows = no_shared_exposure(data.n_strata) if shared is None else shared
    windows_known = np.zeros(windows.group.size, np.bool_) if shared_known is None else shared_known
    likelihood = renewal_likelihood(data, known_age, windows, windows_known)
    watched = miles_at_risk(data, shared) > 0
    rows = np.flatnonzero(watched & (likelihood.failures >= MIN_FAILURES))
    search = _started(likelihood, rows, miles_at_risk(data, shared), fit_weibull(data, shared))
    climb(likelihood, search)
    return _within_table(judged(likelihood, WEIBULL, watched, search))


def renewal_likelihood(data: Lives, known_age: Flags, shared: SharedExposure, shared_known: Flags) -> RenewalLikelihood:
    """Prepared likelihood; a stratum's reference is the geometric mean mileage of its failures."""
    _check(data, known_age, shared, shared_known)
    failed = data.event & (data.weight > 0)
    between = ~known_age & failed & ~np.isnan(data.left)
    exact = ~known_age & failed & ~between
    sound_to = np.where(between, data.left, data.exit_)
    survived = ~known_age & (failed | ~data.event) & (sound_to > data.entry)
    known = general_likelihood(WEIBULL, _only(data, known_age), _windows_of(shared, shared_known))
    log_ref = log_reference(data)
    unknown = _windows_of(shared, ~shared_known)
    n_groups = max(int(unknown.group.max(initial=-1)), int(unknown.stratum_group.max(initial=-1))) + 1

    def columns(which: Flags, low: Miles, high: Miles) -> tuple[Floats, ...]:
        return _columns(low[which], high[which])

    return RenewalLikelihood(
        log_ref=log_ref,
        failures=weighed(data.stratum, np.where(failed, data.weight, 0.0), data.n_strata),
        known=dataclasses.replace(known, log_ref=log_ref),
        survived=_lives(data, survived, columns(survived, data.entry, sound_to)),
        exact=_lives(data, exact, columns(exact, data.entry, data.exit_)),
        between=_lives(data, between, _interval_columns(data, between)),
        windows=ragged(unknown.group, n_groups, unknown.weight, *_columns(unknown.entry, unknown.exit_)),
        group=unknown.stratum_group,
        multiplicity=unknown.multiplicity,
        table=residual_table(),
    )


@dataclass(frozen=True)
class _At:
    """Where each row's curve lies, or each life's."""

    table: ResidualTable
    log_ref: Floats
    c: Floats
    b: Floats

    def of(self, which: Codes | slice) -> _At:
        return _At(self.table, self.log_ref[which], self.c[which], self.b[which])

    def read(self, spline: Floats, first: Floats, rest: Floats) -> tuple[Floats, ...]:
        """Of the spline: value and derivatives in c, b, cc, cb, bb; first and rest are log miles."""
        shrunk = np.exp(-self.b)
        u = self.c * shrunk  # log reference - log scale
        found = self.table.read(spline, self.b, first - self.log_ref + u, rest - self.log_ref + u)
        return _in_coordinates(found, u, shrunk)


def _in_coordinates(found: OfAge, u: Floats, shrunk: Floats) -> tuple[Floats, ...]:
    """From derivatives in (s, b) at fixed s to those in (c, b), where s moves as u = c exp(-b)."""
    c, bend = found.s * shrunk, found.ss * shrunk
    b = found.b - u * found.s
    bb = found.bb - 2 * u * found.sb + u * u * found.ss + u * found.s
    return found.value, c, b, bend * shrunk, (found.sb - found.s) * shrunk - u * bend, bb


def _hazard(at: _At, first: Floats, far: Floats, rest: Floats, width: Floats) -> tuple[Floats, ...]:
    """Cumulative hazard from first sight on, with its derivatives; 0 where the two are one."""
    value, c, b, cc, cb, bb = at.read(at.table.hazard, first, rest)
    old = stretch(np.exp(at.b), at.c, far - at.log_ref, width)
    none = width <= 0
    grown = old.h_b / np.where(none, 1.0, old.h)
    h = np.where(none, 0.0, old.h * np.exp(value))
    c, b = c + 1, b + grown
    bb = bb + old.h_bb / np.where(none, 1.0, old.h) - grown**2
    parts = (h, h * c, h * b, h * (cc + c * c), h * (cb + c * b), h * (bb + b * b))
    return tuple(np.where(none, 0.0, part) for part in parts)


def _of_survival(at: _At, columns: list[Floats]) -> tuple[Floats, ...]:
    return tuple(-part for part in _hazard(at, *columns))


def _of_rate(at: _At, columns: list[Floats]) -> tuple[Floats, ...]:
    """Log rate of failing at the end."""
    first, far, rest, _ = columns
    value, c, b, cc, cb, bb = at.read(at.table.rate, first, rest)
    kx = np.exp(at.b) * (far - at.log_ref)
    return value + at.b + at.c + kx - far, c + 1, b + 1 + kx, cc, cb, bb + kx


def _of_interval(at: _At, columns: list[Floats]) -> tuple[Floats, ...]:
    """Log chance to fail within an interval once it is reached."""
    first, *ends = columns
    near, far = _hazard(at, first, *ends[:3]), _hazard(at, first, *ends[3:])
    return chance_within(tuple(f - n for f, n in zip(far, near, strict=True)))


def _sum(total: Floats, lives: Ragged, rows: Codes, at: _At, terms: _Terms) -> None:
    """Adds the terms of each row's lives to its column of total."""
    for part in lives.chunks(rows, _CHUNK):
        owner, (weight, *columns) = lives.take(rows[part])
        found = terms(at.of(part).of(owner), columns)
        for row, term in zip(total, found, strict=True):
            row[part] += np.bincount(owner, weights=weight * term, minlength=row[part].size)


def _columns(first: Miles, end: Miles) -> tuple[Floats, ...]:
    """Log first sight, log end, log miles in between (far below any where none), log of the ratio."""
    some = end > first
    rest = np.where(some, end - first, 1e-9)
    return np.log(first), np.log(end), np.log(rest), np.where(some, log_width(first, end), 0.0)


def _interval_columns(data: Lives, which: Flags) -> tuple[Floats, ...]:
    first = data.entry[which]
    return (*_columns(first, data.left[which]), *_columns(first, data.exit_[which])[1:])


def _lives(data: Lives, which: Flags, columns: tuple[Floats, ...]) -> Ragged:
    return ragged(data.stratum[which], data.n_strata, data.weight[which], *columns)


def _only(data: Lives, which: Flags) -> Lives:
    n = data.entry.size
    return Lives(**{name: v[which] if np.ndim(v) and len(v) == n else v for name, v in vars(data).items()})


def _windows_of(shared: SharedExposure, which: Flags) -> SharedExposure:
    named = ("group", "entry", "exit_", "weight", "cluster")
    return dataclasses.replace(shared, **{name: getattr(shared, name)[which] for name in named})


def _started(likelihood: RenewalLikelihood, rows: Codes, miles: Miles, naive: Fits) -> Search:
    """The best of the fit that trusts the ages, and of a few shapes with as many failures a mile as were seen."""
    best = Search(rows, np.zeros(rows.size), np.zeros(rows.size), nothing(rows.size))
    log_mean = np.log(miles[rows] / likelihood.failures[rows])
    known = naive.ok[rows]
    trials = [(np.where(known, naive.c[rows], 0.0), np.where(known, naive.b[rows], 0.0))]
    for shape in _START_SHAPES:
        log_scale = log_mean - gammaln(1 + 1 / shape)
        trials.append((shape * (likelihood.log_ref[rows] - log_scale), np.full(rows.size, np.log(shape))))
    for c, b in trials:
        values = likelihood.evaluate(rows, c, b)
        replace(best, np.flatnonzero(values.loglik > best.at.loglik), c, b, values)
    return best


def _within_table(fits: Fits) -> Fits:
    """The fits, those with a shape where the table does not hold marked as none."""
    beyond = fits.ok & ~((fits.shape > SHAPES[0]) & (fits.shape < SHAPES[1]))
    status, reason = fits.status.copy(), fits.reason.copy()
    status[beyond], reason[beyond] = "did_not_converge", "shape_beyond_table"
    names = "shape", "scale", "log_likelihood", "c", "b", *_ERRORS
    emptied = {name: np.where(beyond, np.nan, getattr(fits, name)) for name in names}
    return Fits(**{**vars(fits), **emptied, "status": status, "reason": reason})


def _check(data: Lives, known_age: Flags, shared: SharedExposure, shared_known: Flags) -> None:
    if known_age.size != data.entry.size or shared_known.size != shared.group.size:
        raise LivesError(
            f"unknown ages: {known_age.size:,} flags for {data.entry.size:,} lives, {shared_known.size:,} for "
            f"{shared.group.size:,} shared windows. Expected one each."
        )
    from_nothing = int((~known_age & (data.entry <= 0)).sum() + (~shared_known & (shared.entry <= 0)).sum())
    if from_nothing:
        raise LivesError(
            f"unknown ages: {from_nothing:,} lives or windows of unknown age enter at 0 miles. Expected the "
            "vehicle's mileage at first sight; a part watched from mile 0 is of known age."
        )
