"""Which of several fitted distributions lies closest, by Akaike's criterion, and which comes next."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Floats

CLEARLY = 10.0
"""A difference in AIC beyond which a model has essentially no support against the other (Burnham & Anderson 2002,
section 2.6). Nothing less moves the habitual model: a mean depends on the tail beyond what was watched, and AIC
judges by the body; with 2 for 10, fleets of Weibull lives now and then got a heavy tail and a mean a fifth too long."""


@dataclass(frozen=True)
class ModelChoice:
    """Per stratum: codes of the best model and of the runner-up (-1: none), and how much AIC lies between them.

    kept: the model to use: the first (the habitual one) unless the best beats it by more than `CLEARLY`.   gap: NaN
    where there are not two.
    """

    best: Codes
    runner_up: Codes
    gap: Floats
    kept: Codes


def choose(aic: Floats) -> ModelChoice:
    """Choice among models, aic of shape (models, n_strata), NaN where a model has no fit.

    Source: Akaike 1974, IEEE Trans. Autom. Control 19:716-723.
    """
    ranked = np.where(np.isnan(aic), np.inf, aic)
    order = np.argsort(ranked, axis=0, kind="stable")
    sorted_aic = np.take_along_axis(ranked, order, axis=0)
    has_one, has_two = np.isfinite(sorted_aic[0]), np.isfinite(sorted_aic[1])
    best = np.where(has_one, order[0], -1)
    with np.errstate(invalid="ignore"):
        gap = np.where(has_two, sorted_aic[1] - sorted_aic[0], np.nan)
        beaten = ~np.isfinite(ranked[0]) | (ranked[0] - sorted_aic[0] > CLEARLY)
    return ModelChoice(best, np.where(has_two, order[1], -1), gap, np.where(beaten, best, 0))
