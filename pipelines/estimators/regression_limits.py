"""Errors and limits of the coefficients of a regression, whichever it was."""

from __future__ import annotations

from typing import Literal, Protocol

import numpy as np
from scipy.special import ndtr, ndtri

from longmile.pipelines.estimators.clusters import by_cluster
from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives
from longmile.pipelines.estimators.row_blocks import sums_of_products

Errors = Literal["clustered", "information", "wider"]


class Coefficients(Protocol):
    """What limits need of a regression; all of shape (n_strata, p), NaN where there is none."""

    @property
    def coefficient(self) -> Floats:
        """Estimates."""

    @property
    def se(self) -> Floats:
        """Standard errors from the observed information: every life independent of the others."""

    @property
    def se_clustered(self) -> Floats:
        """Standard errors from the sandwich over clusters."""


def standard_errors(fits: Coefficients, errors: Errors) -> Floats:
    """Standard errors of the coefficients, (n_strata, p).

    `clustered` holds where lives of one cluster depend on each other, but is too narrow where few clusters failed at
    a level; `information` the other way round. `wider` is the larger of the two.
    """
    if errors == "wider":
        larger: Floats = np.fmax(fits.se, fits.se_clustered)
        return larger
    return fits.se_clustered if errors == "clustered" else fits.se


def wald_limits(fits: Coefficients, confidence: float = 0.95, errors: Errors = "clustered") -> tuple[Floats, ...]:
    """Lower and upper limits of the coefficients, and the p-values of no effect (two-sided), (n_strata, p) each."""
    se = standard_errors(fits, errors)
    reach = ndtri(0.5 + confidence / 2) * se
    p_value: Floats = 2 * ndtr(-np.abs(fits.coefficient) / se)
    return fits.coefficient - reach, fits.coefficient + reach, p_value


def errors_of(covariance: Floats, is_coefficient: Flags) -> Floats:
    """Roots of the diagonals of covariance, (n_strata, p, p); NaN where there is no coefficient."""
    variance = np.einsum("sjj->sj", covariance)
    se: Floats = np.sqrt(np.where(is_coefficient, variance, np.nan))
    return se


def sandwich_middle(data: Lives, scores: Floats, rows: Codes) -> Floats:
    """Sum over the clusters of a stratum of u u', u its summed scores; 0 for strata not in rows.

    As `cluster_products` without shared windows, by matrix products: there are many columns here.
    """
    asked = np.zeros(data.n_strata, np.bool_)
    asked[rows] = True
    stratum, _, total = by_cluster(data, scores, asked[data.stratum])
    return sums_of_products(stratum, data.n_strata, total, np.ones(stratum.size))
