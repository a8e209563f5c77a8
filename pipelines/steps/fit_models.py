"""Fitted distributions of a plain table of lives, as parts of a JSON answer, and which of them is used."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Any, Literal

import numpy as np

from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.held_shape import HeldFits, hazard_limits, read_limits
from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.model_choice import CLEARLY
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import (
    Quantity,
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    survival_to,
    wald_limits,
)
from longmile.pipelines.estimators.robust import RobustErrors, clustered_limits, dispersion
from longmile.pipelines.steps.json_numbers import limited, number
from longmile.pipelines.steps.models import FittedModels

LimitsKind = Literal["profile", "wald"]
_Read = Callable[[Quantity], Any]

MILEAGES: dict[str, Quantity] = {
    "mean": mean_life(),
    "median": life_by(0.5),
    "b10": life_by(0.1),
    "b1": life_by(0.01),
}


def model_parts(
    models: FittedModels, largest: Floats, at: list[float], limits: LimitsKind, confidence: float, is_clustered: bool
) -> list[dict[str, Any]]:
    """One dict per stratum: every distribution by name.

    is_clustered: lives name their cluster, so limits allow for clusters and both kinds of errors are given.
    """
    parts = [
        _two_parameters(errors, _reader(errors, limits, confidence, is_clustered), largest, at, is_clustered)
        for errors in models.errors
    ]
    for check, part in zip(models.checks, parts, strict=True):
        for s, row in enumerate(part):
            row["plot_correlation"] = number(check.correlation[s])
            row["share_outside_limits"] = number(check.share_outside[s])
    held = hazard_limits(models.exponential, confidence, limits)
    parts.append(_parts(models.exponential, lambda quantity: read_limits(held, quantity), largest, at))
    return [dict(zip(models.names, row, strict=True)) for row in zip(*parts, strict=True)]


def choice_parts(models: FittedModels) -> list[dict[str, Any]]:
    """One dict per stratum: which distribution is used, which is closest, which comes next, and by how much."""
    names = [*models.names, None]
    best, runner, kept = models.choice.best, models.choice.runner_up, models.kept
    return [
        {
            "used": names[kept[s]],
            "closest": names[best[s]],
            "runner_up": names[runner[s]],
            "aic_gap": number(models.choice.gap[s]),
            "rule": f"Weibull unless another has an AIC lower by more than {CLEARLY:g}",
        }
        for s in range(best.size)
    ]


def _reader(errors: RobustErrors, limits: LimitsKind, confidence: float, is_clustered: bool) -> _Read:
    if is_clustered:
        return lambda quantity: clustered_limits(errors, quantity, confidence, limits)
    make = profile_limits if limits == "profile" else wald_limits
    return lambda quantity: make(errors.naive, quantity, confidence)


def _two_parameters(
    errors: RobustErrors, read: _Read, largest: Floats, at: list[float], is_clustered: bool
) -> list[dict[str, Any]]:
    """Parts of a distribution with a shape of its own."""
    fits = errors.naive
    rows = _parts(fits, read, largest, at)
    of_shape, spread = read(shape()), dispersion(errors, mean_life())
    for s, row in enumerate(rows):
        row["se_log_shape"] = number(fits.se_log_shape[s])
        row["cov_log_scale_log_shape"] = number(fits.cov_log[s])
        row["shape_limits"] = _one(of_shape, s)
        if is_clustered:
            row["clustered_se_log_shape"] = number(errors.fits.se_log_shape[s])
            row["clustered_se_log_scale"] = number(errors.fits.se_log_scale[s])
            row["dispersion_of_mean"] = number(spread[s])
    return rows


def _parts(fits: Fits | HeldFits, read: _Read, largest: Floats, at: list[float]) -> list[dict[str, Any]]:
    steps = [(low, high - low) for low, high in pairwise(at)]
    asked = {**MILEAGES, "scale_limits": scale()}
    asked |= {f"survival {t!r}": survival_to(t) for t in at}
    asked |= {f"further {t!r}": survival_further(t, w) for t, w in steps}
    made = {name: read(quantity) for name, quantity in asked.items()}
    return [
        {
            "status": str(fits.status[s]),
            "reason": str(fits.reason[s]) or None,
            "shape": number(fits.shape[s]),
            "scale": number(fits.scale[s]),
            "mu": number(np.log(fits.scale[s])),
            "sigma": number(1 / fits.shape[s]),
            "se_log_scale": number(fits.se_log_scale[s]),
            "log_likelihood": number(fits.log_likelihood[s]),
            "aic": number(fits.aic[s]),
            "scale_limits": _one(made["scale_limits"], s),
            **{name: _mileage(made[name], s, largest) for name in MILEAGES},
            "survival": [{"t": t, **_one(made[f"survival {t!r}"], s)} for t in at],
            "conditional": [{"t": t, "w": w, **_one(made[f"further {t!r}"], s)} for t, w in steps],
        }
        for s in range(fits.status.size)
    ]


def _one(made: Any, s: int) -> dict[str, Any]:
    """Estimate and limits of one stratum."""
    method = made.method if isinstance(made.method, str) else str(made.method[s])
    return limited(float(made.estimate[s]), float(made.lower[s]), float(made.upper[s]), float(made.se[s]), method)


def _mileage(made: Any, s: int, largest: Floats) -> dict[str, Any]:
    estimate = float(made.estimate[s])
    beyond = bool(estimate > largest[s]) if math.isfinite(estimate) else None
    return {**_one(made, s), "extrapolated": beyond}
