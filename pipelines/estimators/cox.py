"""Proportional hazards per stratum: how many times higher a hazard is, whatever its shape over the miles.

hazard = a baseline of any shape x exp(sum of coefficient x covariate). It takes no model of life for granted, so it
is the check of what a Weibull regression says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.clusters import n_clusters_failed
from longmile.pipelines.estimators.cox_likelihood import PartialLikelihood, partial_likelihood
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, miles_at_risk, n_failures
from longmile.pipelines.estimators.regression_columns import Columns, regression_columns
from longmile.pipelines.estimators.regression_limits import errors_of, sandwich_middle
from longmile.pipelines.estimators.regression_search import Search, Verdict, climb, started, unbounded, verdict
from longmile.pipelines.estimators.weibull import MIN_FAILURES

Ties = Literal["efron", "breslow"]


@dataclass(frozen=True)
class CoxFits:
    """One fit per stratum; numbers are NaN where status is not `ok`, coefficients also where not active.

    status, reason, column: as in `WeibullRegressions`, without the reasons that concern a shape.
    coefficient: log hazard ratios, shape (n_strata, p).   covariance: of the coefficients, (n_strata, p, p), from
    the observed information; 0 for columns not active.   clustered: the same with a sandwich over clusters; NaN also
    where fewer than two clusters failed.   log_likelihood, log_likelihood_without: partial, with and without the
    covariates.   slope: largest |slope| per failure, columns in units of their own spread.
    """

    status: npt.NDArray[np.str_]
    reason: npt.NDArray[np.str_]
    column: Codes
    active: Flags
    coefficient: Floats
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
        return errors_of(self.covariance, self.active)

    @property
    def se_clustered(self) -> Floats:
        """Standard errors of the coefficients from the sandwich over clusters, (n_strata, p)."""
        return errors_of(self.clustered, self.active)


def cox(
    data: Lives,
    covariates: npt.ArrayLike,
    active: npt.ArrayLike | None = None,
    ties: Ties = "efron",
    start: Floats | None = None,
) -> CoxFits:
    """Log hazard ratios per stratum from left-truncated, right-censored lives, with naive and clustered errors.

    A failure known only to an interval is taken at exit_, the mileage found.   covariates, active: as in
    `weibull_regression`.   ties: how failures at one mileage are taken; Efron counts a life of weight w as w lives, so
    the weights of failures must be whole numbers.   start: log hazard ratios near which the maximum is likely, shape
    (n_strata, p), to get there sooner (a Weibull regression's -coefficient / sigma); NaN counts as 0.   clusters: those
    of `data`.
    Raises LivesError on covariates or weights that cannot be.
    Sources: Cox 1972, J. R. Stat. Soc. B 34:187-220; Efron 1977, J. Am. Stat. Assoc. 72:557-565; Breslow 1974,
    Biometrics 30:89-99; sandwich: Lin & Wei 1989, J. Am. Stat. Assoc. 84:1074-1078.
    """
    columns = regression_columns(data, covariates, active)
    if not columns.p:
        raise LivesError("covariates: none given. Proportional hazards compare lives by at least one.")
    if ties == "efron":
        _check_whole(data)
    likelihood = partial_likelihood(data, columns, efron=ties == "efron")
    failures = n_failures(data)
    status, reason = _first_status(data, failures)
    enough = failures >= MIN_FAILURES
    column = np.where(enough, columns.first_dependent, -1)
    status[column >= 0], reason[column >= 0] = "did_not_converge", "collinear_column"
    rows = np.flatnonzero(enough & (column < 0))
    at = np.zeros((rows.size, columns.p)) if start is None else np.nan_to_num(start * columns.spread)[rows]
    search = started(likelihood.evaluate, rows, failures[rows], at)
    climb(likelihood.evaluate, search, unbounded(columns.p))
    found = verdict(search)
    status[rows] = np.where(found.good, "ok", "did_not_converge")
    reason[rows] = np.select([found.good, found.vague], ["", "coefficient_without_limit"], "search_ended")
    column[rows] = np.where(found.vague & ~found.good, np.argmax(found.variance, axis=1), -1)
    return CoxFits(
        status=status,
        reason=reason,
        column=column,
        active=columns.active,
        log_likelihood_without=_without_covariates(likelihood, rows),
        failures=failures,
        clusters_failed=n_clusters_failed(data),
        **_numbers(data, columns, likelihood, search, found),
    )


def _without_covariates(likelihood: PartialLikelihood, rows: Codes) -> Floats:
    """Log partial likelihood with all coefficients 0; NaN for strata not in rows."""
    without = np.full(likelihood.n_strata, np.nan)
    without[rows] = likelihood.only(rows).loglik(np.zeros((rows.size, likelihood.x.shape[1])))
    return without


def _check_whole(data: Lives) -> None:
    weight = data.weight[data.event]
    broken = int((weight != np.rint(weight)).sum())
    if broken:
        raise LivesError(
            f"lives: {broken:,} of {weight.size:,} failures have a weight that is not a whole number. Efron's way with "
            'ties counts failures: expected whole numbers, or ties="breslow".'
        )


def _first_status(data: Lives, failures: Floats) -> tuple[npt.NDArray[np.str_], npt.NDArray[np.str_]]:
    """Status and reason before any search."""
    status = np.where(failures > 0, "thin", "no_failures").astype("<U32")
    status[~(miles_at_risk(data) > 0)] = "too_few_at_risk"
    return status, np.where(status == "thin", "one_failure", "").astype("<U32")


def _numbers(
    data: Lives, columns: Columns, likelihood: PartialLikelihood, search: Search, found: Verdict
) -> dict[str, Floats]:
    """The fields of `CoxFits` that are NaN where there is no fit."""
    n, p = data.n_strata, columns.p
    rows = search.rows[found.good]
    at, inside = np.zeros((n, p)), np.zeros((n, p, p))
    at[rows], inside[rows] = search.at[found.good], found.covariance[found.good]
    unused = np.flatnonzero(~columns.active)
    inside.reshape(-1, p)[unused, unused % p] = 0.0
    residuals = likelihood.only(rows).residuals(at[rows], data.entry.size)
    middle = sandwich_middle(data, residuals, rows)
    fitted = np.zeros(n, np.bool_)
    fitted[rows] = True
    several = fitted & (n_clusters_failed(data) >= 2)
    outside = 1 / (columns.spread[:, :, None] * columns.spread[:, None, :])
    slope, loglik = np.full(n, np.nan), np.full(n, np.nan)
    slope[search.rows], loglik[rows] = found.slope, search.values.loglik[found.good]
    return {
        "coefficient": np.where(fitted[:, None] & columns.active, at / columns.spread, np.nan),
        "covariance": np.where(fitted[:, None, None], inside * outside, np.nan),
        "clustered": np.where(several[:, None, None], inside @ middle @ inside * outside, np.nan),
        "log_likelihood": loglik,
        "slope": slope,
    }
