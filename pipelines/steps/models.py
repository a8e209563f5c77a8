"""Fitted distributions of every stratum side by side: which one is used, and what is read off it.

Arrays in, arrays and frames out; the columns are those of `model_fit` and the fitted columns of `estimate`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import polars as pl

from longmile.pipelines.estimators.distributions import LOGLOGISTIC, LOGNORMAL
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.held_shape import HeldFits, fit_held_shape
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure
from longmile.pipelines.estimators.location_scale import fit_distribution
from longmile.pipelines.estimators.model_choice import ModelChoice, choose
from longmile.pipelines.estimators.nonparametric import SurvivalCurves
from longmile.pipelines.estimators.plot_check import PlotCheck, plot_check
from longmile.pipelines.estimators.quantities import Limits, Quantity
from longmile.pipelines.estimators.robust import RobustErrors, clustered_limits, robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull

Finder = Callable[[RobustErrors, Quantity], Limits]
"""How limits are made of a fit with its clustered errors."""


@dataclass(frozen=True)
class FittedModels:
    """Fits of the same lives by several distributions, the Weibull first, and the choice among them.

    fits, errors, checks: the two-parameter distributions.   exponential: the constant rate; it is compared, and
    never used: a Weibull includes it.   choice: over all of them, the exponential last.
    """

    fits: tuple[Fits, ...]
    errors: tuple[RobustErrors, ...]
    checks: tuple[PlotCheck, ...]
    exponential: HeldFits
    choice: ModelChoice

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the distributions in the order of their codes."""
        return (*(fit.distribution.name for fit in self.fits), "exponential")

    @property
    def kept(self) -> Codes:
        """Code of the distribution to use per stratum; -1 where none of two parameters has a fit."""
        return np.where(self.choice.kept < len(self.fits), self.choice.kept, -1)


def fitted_models(data: Lives, shared: SharedExposure | None, curves: SurvivalCurves) -> FittedModels:
    """Every distribution fitted to every stratum."""
    weibull = fit_weibull(data, shared)
    others = (fit_distribution(d, data, shared, weibull) for d in (LOGNORMAL, LOGLOGISTIC))
    fits = (weibull, *others)
    exponential = fit_held_shape(data, shared, 1.0, weibull.likelihood)
    return FittedModels(
        fits=fits,
        errors=tuple(robust_errors(fit, data, shared) for fit in fits),
        checks=tuple(plot_check(fit, curves) for fit in fits),
        exponential=exponential,
        choice=choose(np.stack([*(fit.aic for fit in fits), exponential.aic])),
    )


def kept_limits(models: FittedModels, quantity: Quantity, find: Finder) -> Limits:
    """Limits of the quantity, each stratum's from the distribution it uses; NaN where it uses none."""
    found = [find(_only(errors, models.kept == code), quantity) for code, errors in enumerate(models.errors)]
    code = models.kept

    def picked(name: str) -> Floats:
        values = np.stack([*(getattr(limits, name) for limits in found), np.full(code.size, np.nan)])
        picks: Floats = np.take_along_axis(values, np.where(code < 0, len(found), code)[None], axis=0)[0]
        return picks

    return dataclasses.replace(
        found[0], estimate=picked("estimate"), se=picked("se"), lower=picked("lower"), upper=picked("upper")
    )


def clustered(confidence: float, method: str = "profile") -> Finder:
    """Limits that allow for lives of one vehicle being alike."""
    return lambda errors, quantity: clustered_limits(errors, quantity, confidence, method)


def model_rows(models: FittedModels, keys: pl.DataFrame) -> pl.DataFrame:
    """Rows of `model_fit`: one per stratum and distribution.

    keys: component_code, engine_family, unit, one row per stratum.
    """
    n = keys.height
    empty = np.full(n, np.nan)
    frames = [
        _rows(keys, name, fit.status, fit.reason, fit.shape, fit.scale, fit.log_likelihood, fit.aic)
        .with_columns(
            pl.Series("plot_correlation", check.correlation), pl.Series("share_outside_limits", check.share_outside)
        )
        .with_columns(is_used=pl.Series(models.kept == code), is_closest=pl.Series(models.choice.best == code))
        for code, (name, fit, check) in enumerate(zip(models.names, models.fits, models.checks, strict=False))
    ]
    held = models.exponential
    last = _rows(keys, "exponential", held.status, held.reason, np.ones(n), held.scale, held.log_likelihood, held.aic)
    frames.append(
        last.with_columns(
            pl.Series("plot_correlation", empty),
            pl.Series("share_outside_limits", empty),
            is_used=pl.lit(False),
            is_closest=pl.Series(models.choice.best == len(models.fits)),
        )
    )
    rows = pl.concat(frames)
    numbers = [name for name, kind in rows.schema.items() if kind == pl.Float64]
    return rows.with_columns(pl.when(pl.col(numbers).is_finite()).then(pl.col(numbers)))


def choice_columns(models: FittedModels) -> list[pl.Series]:
    """Columns of `estimate` that say which distribution is used, and how far off the next one is."""
    names = pl.Series([*models.names, None], dtype=pl.String)
    kept, runner = models.kept, models.choice.runner_up
    # The runner-up to what is used: the closest of the others.
    next_to = np.where(models.choice.best == kept, runner, models.choice.best)
    checks = np.stack([*(check.share_outside for check in models.checks), np.full(kept.size, np.nan)])
    plotted = np.stack([*(check.correlation for check in models.checks), np.full(kept.size, np.nan)])
    aic = np.stack([*(fit.aic for fit in models.fits), models.exponential.aic, np.full(kept.size, np.nan)])
    none, pick = len(models.names), np.arange(kept.size)
    used = np.where(kept < 0, len(models.fits), kept)
    ahead = aic[np.where(next_to < 0, none, next_to), pick] - aic[np.where(kept < 0, none, kept), pick]
    return [
        names[np.where(kept < 0, none, kept)].alias("model"),
        names[np.where((next_to < 0) | (kept < 0), none, next_to)].alias("runner_up"),
        pl.Series("aic_ahead", np.where(kept < 0, np.nan, ahead)),
        pl.Series("plot_correlation", plotted[used, pick]),
        pl.Series("share_outside_limits", checks[used, pick]),
    ]


def _only(errors: RobustErrors, wanted: np.ndarray) -> RobustErrors:
    """The errors with the other strata's fits put out of use, so that no limits are looked for there."""

    def cut(fits: Fits) -> Fits:
        return dataclasses.replace(fits, status=np.where(wanted, fits.status, "not_used"))

    return dataclasses.replace(errors, fits=cut(errors.fits), naive=cut(errors.naive))


def _rows(
    keys: pl.DataFrame,
    name: str,
    status: np.ndarray,
    reason: np.ndarray,
    shape: Floats,
    scale: Floats,
    log_likelihood: Floats,
    aic: Floats,
) -> pl.DataFrame:
    return keys.with_columns(
        pl.lit(name).alias("model"),
        pl.Series("model_status", status),
        pl.Series("reason", reason).replace("", None),
        pl.Series("model_shape", shape),
        pl.Series("model_scale_miles", scale),
        pl.Series("log_likelihood", log_likelihood),
        pl.Series("aic", aic),
    )
