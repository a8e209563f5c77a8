"""Quantiles of the survival curve with limits by resampling whole clusters: they have no formula by cluster."""

from __future__ import annotations

from typing import Any

from longmile.pipelines.estimators.bootstrap import BootstrapLimits, cluster_bootstrap
from longmile.pipelines.estimators.curve_reading import survival_quantiles
from longmile.pipelines.estimators.lives import Floats, Lives, SharedExposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.steps.fit_input import FitInput
from longmile.pipelines.steps.json_numbers import number

P_FAILED = (0.1, 0.25, 0.5)


def bootstrap_parts(found: FitInput, from_age: float, n_samples: int, confidence: float) -> list[dict[str, Any] | None]:
    """One dict per stratum; None where no samples were asked for.

    Raises LivesError on fewer than 20 samples, if any are asked for.
    """
    if not n_samples:
        return [None] * found.data.n_strata
    made = {p: _quantile_limits(found, from_age, p, n_samples, confidence) for p in P_FAILED}
    return [
        {"n_samples": n_samples, "seed": 1, "quantiles": [_one(limits, p, s) for p, limits in made.items()]}
        for s in range(found.data.n_strata)
    ]


def _quantile_limits(
    found: FitInput, from_age: float, p_failed: float, n_samples: int, confidence: float
) -> BootstrapLimits:
    def quantile(data: Lives, shared: SharedExposure | None) -> Floats:
        return survival_quantiles(kaplan_meier(data, shared, start=from_age), p_failed).estimate

    return cluster_bootstrap(found.data, None, quantile, n_samples, confidence=confidence)


def _one(limits: BootstrapLimits, p_failed: float, s: int) -> dict[str, Any]:
    return {
        "p_failed": p_failed,
        "estimate": number(limits.estimate[s]),
        "se": number(limits.se[s]),
        "lower": number(limits.lower[s]),
        "upper": number(limits.upper[s]),
        "n_defined": int(limits.n_defined[s]),
    }
