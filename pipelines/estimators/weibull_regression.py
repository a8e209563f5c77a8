"""Weibull accelerated-life regressions, one per stratum: how many times longer or shorter lives are.

log T = intercept + sum of coefficient x covariate + sigma x W, W smallest extreme value: exp(coefficient) is how many
times the life is multiplied when the covariate grows by 1. sigma = 1 / shape.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.clusters import n_clusters_failed
from longmile.pipelines.estimators.fit_search import B_HIGH, B_LOW
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives
from longmile.pipelines.estimators.regression_columns import regression_columns
from longmile.pipelines.estimators.regression_likelihood import RegressionLikelihood, regression_likelihood
from longmile.pipelines.estimators.regression_limits import errors_of, sandwich_middle
from longmile.pipelines.estimators.regression_search import Bounds, Search, Verdict, climb, started, verdict
from longmile.pipelines.estimators.weibull import fit_weibull

_STEEP = float(np.log(100))  # a search that ends without a maximum beyond this shape was climbing a step
_LOG_SHAPE_STEP = 1.5


@dataclass(frozen=True)
class WeibullRegressions:
    """One regression per stratum; numbers are NaN where status is not `ok`, coefficients also where not active.

    status: `ok`, `no_failures`, `too_few_at_risk` (no miles), `thin` (fewer than two failures), `did_not_converge`.
    reason: "" or, for the last two, `one_failure`, `collinear_column` (constant, or made up of other columns),
    `coefficient_without_limit` (say, a level of which nothing failed), `shape_rises_without_limit`,
    `shape_falls_to_zero`, `search_ended`.   column: the column at fault for the second and third, else -1.
    intercept, sigma, log_likelihood: shape (n_strata,).   coefficient: shape (n_strata, p).
    covariance: of (intercept, coefficients, log sigma), shape (n_strata, p + 2, p + 2), from the observed information;
    0 for columns not active.   clustered: the same with a sandwich over clusters; NaN also where fewer than two
    clusters failed, since one says nothing of how they differ. It is too narrow where few clusters failed.
    log_likelihood_without: of the fit without covariates.   slope: largest |slope| per failure, columns in units of
    their own spread.   failures, clusters_failed: weights counted, and clusters with a failure.
    """

    status: npt.NDArray[np.str_]
    reason: npt.NDArray[np.str_]
    column: Codes
    active: Flags
    intercept: Floats
    coefficient: Floats
    sigma: Floats
    covariance: Floats
    clustered: Floats
    log_likelihood: Floats
    log_likelihood_without: Floats
    slope: Floats
    failures: Floats
    clusters_failed: Floats

    @property
    def ok(self) -> Flags:
        """True where the fit can be used."""
        flags: Flags = self.status == "ok"
        return flags

    @property
    def se(self) -> Floats:
        """Standard errors of the coefficients from the observed information, (n_strata, p)."""
        return errors_of(self.covariance[:, 1:-1, 1:-1], self.active)

    @property
    def se_clustered(self) -> Floats:
        """Standard errors of the coefficients from the sandwich over clusters, (n_strata, p)."""
        return errors_of(self.clustered[:, 1:-1, 1:-1], self.active)


def weibull_regression(
    data: Lives, covariates: npt.ArrayLike, active: npt.ArrayLike | None = None
) -> WeibullRegressions:
    """Maximum-likelihood regression of log life per stratum, with naive and clustered errors.

    Takes exact, right-, left- and interval-censored lives with late entry; the log-likelihood is on the scale of the
    miles given, conditional on surviving entry.   covariates: shape (lives, p), without a column for the intercept,
    which every stratum has.   active: shape (n_strata, p), the columns a stratum uses (default: all).
    clusters: those of `data`; a life of weight w is one member of its cluster that counts w times.
    Raises LivesError on covariates that cannot be, or lives of negative weight.
    Sources: Meeker & Escobar 1998, chapter 17; Lawless 2003, chapter 6; late entry: Kalbfleisch & Lawless 1992;
    sandwich: Lin & Wei 1989, J. Am. Stat. Assoc. 84:1074-1078.
    """
    columns = regression_columns(data, covariates, active)
    likelihood = regression_likelihood(data, columns)
    without = fit_weibull(data)
    at = np.zeros((data.n_strata, likelihood.m))
    at[:, 0], at[:, -1] = without.c, without.b
    rows = np.flatnonzero(without.ok & (columns.first_dependent < 0))
    search = started(likelihood.evaluate, rows, likelihood.failures[rows], at[rows])
    climb(likelihood.evaluate, search, _bounds(likelihood.m))
    found = verdict(search)
    status, reason = without.status.copy(), without.reason.copy()
    column = np.where(without.ok, columns.first_dependent, -1)
    status[column >= 0], reason[column >= 0] = "did_not_converge", "collinear_column"
    status[rows] = np.where(found.good, "ok", "did_not_converge")
    reason[rows], column[rows] = _reasons(search, found)
    numbers = _numbers(likelihood, search, found)
    return WeibullRegressions(
        status=status,
        reason=reason,
        column=column,
        active=columns.active,
        log_likelihood_without=without.log_likelihood,
        failures=likelihood.failures,
        clusters_failed=n_clusters_failed(data),
        **numbers,
    )


def _bounds(m: int) -> Bounds:
    """Only the log shape, the last coordinate, is bounded."""
    low, high, reach = np.full(m, -np.inf), np.full(m, np.inf), np.full(m, np.inf)
    low[-1], high[-1], reach[-1] = B_LOW, B_HIGH, _LOG_SHAPE_STEP
    return Bounds(low, high, reach)


def _reasons(search: Search, found: Verdict) -> tuple[npt.NDArray[np.str_], Codes]:
    """Why each row that is not good is not, and the column at fault where one is (else -1)."""
    b = search.at[:, -1]
    # The intercept is as vague as what it makes up for, so it is not asked.
    vaguest = np.argmax(found.variance[:, 1:], axis=1)
    of_shape = vaguest == search.at.shape[1] - 2
    rising = (b > _STEEP) | (found.vague & of_shape & (b > 0))
    falling = b <= B_LOW
    of_column = found.vague & ~of_shape & ~rising & ~falling
    names = ["shape_rises_without_limit", "shape_falls_to_zero", "coefficient_without_limit"]
    reason = np.select([found.good, rising, falling, of_column], ["", *names], "search_ended")
    return reason, np.where(of_column & ~found.good, vaguest, -1)


def _numbers(likelihood: RegressionLikelihood, search: Search, found: Verdict) -> dict[str, Floats]:
    """The fields of `WeibullRegressions` that are NaN where there is no fit."""
    n, m = likelihood.failures.size, likelihood.m
    rows = search.rows[found.good]
    at = np.zeros((n, m))
    at[rows] = search.at[found.good]
    raw, to_outside = _outside(likelihood, at)
    inside = np.zeros((n, m, m))
    inside[rows] = found.covariance[found.good]
    unused = np.flatnonzero(~np.pad(likelihood.columns.active, ((0, 0), (1, 1)), constant_values=True))
    inside.reshape(-1, m)[unused, unused % m] = 0.0
    middle = sandwich_middle(likelihood.data, likelihood.scores(at), rows)
    fitted = np.zeros(n, np.bool_)
    fitted[rows] = True
    several = fitted & (n_clusters_failed(likelihood.data) >= 2)
    slope, loglik = np.full(n, np.nan), np.full(n, np.nan)
    slope[search.rows], loglik[rows] = found.slope, search.values.loglik[found.good]
    return {
        "intercept": np.where(fitted, raw[:, 0], np.nan),
        "coefficient": np.where(fitted[:, None] & likelihood.columns.active, raw[:, 1:-1], np.nan),
        "sigma": np.where(fitted, np.exp(raw[:, -1]), np.nan),
        "covariance": np.where(fitted[:, None, None], _turned(to_outside, inside), np.nan),
        "clustered": np.where(several[:, None, None], _turned(to_outside, inside @ middle @ inside), np.nan),
        "log_likelihood": loglik,
        "slope": slope,
    }


def _outside(likelihood: RegressionLikelihood, at: Floats) -> tuple[Floats, Floats]:
    """(intercept, coefficients, log sigma) from inside coordinates, and the derivatives of the one in the other."""
    centre, spread, m = likelihood.columns.centre, likelihood.columns.spread, likelihood.m
    sigma = np.exp(-at[:, -1])
    slopes = at[:, 1:-1] / spread
    raw = np.concatenate([at[:, :1] - (slopes * centre).sum(axis=1)[:, None], slopes], axis=1)
    outside = np.concatenate([-sigma[:, None] * raw, -at[:, -1:]], axis=1)
    turn = np.zeros((at.shape[0], m, m))
    each = np.arange(1, m - 1)
    turn[:, 0, 0] = -sigma
    turn[:, 0, 1:-1] = sigma[:, None] * centre / spread
    turn[:, each, each] = -sigma[:, None] / spread
    turn[:, :-1, -1] = -outside[:, :-1]
    turn[:, -1, -1] = -1.0
    outside[:, 0] += likelihood.log_ref
    return outside, turn


def _turned(turn: Floats, covariance: Floats) -> Floats:
    """Covariance after a change of coordinates."""
    return turn @ covariance @ turn.transpose(0, 2, 1)
