"""Trend models and trend tests of repeated repairs, laid out as dicts ready for JSON. Nothing is estimated here."""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy.stats import chi2

from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.quantities import Limits
from longmile.pipelines.estimators.repair_expectations import (
    expected_repairs,
    intensity_at,
    miles_between,
    scale_limits,
    trend_limits,
)
from longmile.pipelines.estimators.repair_history import RepairHistory
from longmile.pipelines.estimators.repair_intensity import IntensityFits, constant_log_likelihood, fit_intensity
from longmile.pipelines.estimators.time_truncated import TimeTruncated, time_truncated
from longmile.pipelines.estimators.trend_tests import TrendTests
from longmile.pipelines.steps.json_numbers import limited, number


def trend_models(history: RepairHistory, at: list[float], confidence: float) -> list[dict[str, Any]]:
    """Constant rate, power law and log-linear intensity of each stratum, and which has the lowest AIC.

    at: mileages by which to say how many repairs a model expects of a unit.
    """
    constant = constant_log_likelihood(history)
    power, line = fit_intensity(history, "power_law"), fit_intensity(history, "log_linear")
    lam, eta = scale_limits(power, confidence)
    exact = time_truncated(history, power, confidence)
    named = {"beta": trend_limits(power, confidence), "lambda": lam, "eta": eta}
    of_power = _fitted(power, constant, named, at, confidence)
    of_line = _fitted(line, constant, {"slope": trend_limits(line, confidence)}, at, confidence)
    aic = np.stack([2 - 2 * constant, power.aic, line.aic])
    best = np.where(np.isfinite(aic[0]), np.argmin(np.where(np.isfinite(aic), aic, np.inf), axis=0), -1)
    return [
        {
            "constant": {"log_likelihood": number(constant[s]), "aic": number(aic[0, s])},
            "power_law": {**of_power[s], **_exact(exact, s)},
            "log_linear": of_line[s],
            "lowest_aic": (None, "constant", "power_law", "log_linear")[int(best[s]) + 1],
        }
        for s in range(history.n_strata)
    ]


def _fitted(
    fits: IntensityFits, constant: Floats, named: dict[str, Limits], at: list[float], confidence: float
) -> list[dict[str, Any]]:
    """A model's verdict, its parameters, what it says of the last mileage watched, and repairs expected by each at.

    constant: log-likelihood were the rate constant, against which the model is tested (twice the difference is
    chi-square with 1 degree of freedom).
    """
    ratio = np.maximum(2 * (fits.log_likelihood - constant), 0.0)
    p_value = chi2.sf(ratio, 1)
    last = np.where(np.isfinite(fits.last_miles), fits.last_miles, 1.0)
    named = named | {
        "intensity_at_end": intensity_at(fits, last, confidence),
        "miles_between_at_end": miles_between(fits, last, confidence),
    }
    expected = [(t, expected_repairs(fits, 0.0, t, confidence)) for t in at]
    return [
        {
            "status": str(fits.status[s]),
            "reason": str(fits.reason[s]) or None,
            "log_likelihood": number(fits.log_likelihood[s]),
            "aic": number(fits.aic[s]),
            "against_constant": {"chi_square": number(ratio[s]), "p": number(p_value[s])},
            "end": number(fits.last_miles[s]),
            **{name: _limited(limits, s) for name, limits in named.items()},
            "expected": [
                {"t": t, **_limited(limits, s), "extrapolated": bool(t > fits.last_miles[s])} for t, limits in expected
            ],
        }
        for s in range(fits.status.size)
    ]


def _exact(made: TimeTruncated, s: int) -> dict[str, Any]:
    """Exact limits and the modified estimate of one stratum; None where they do not apply."""
    if not made.applies[s]:
        return {"exact": None, "modified": None}
    return {
        "exact": {
            "beta": _limited(made.beta, s),
            "miles_between_at_end": _limited(made.miles_between, s),
        },
        "modified": {
            "beta": number(made.modified_beta[s]),
            "lambda": number(made.modified_lambda[s]),
            "miles_between_at_end": _limited(made.modified_limits, s),
        },
    }


def _limited(made: Limits, s: int) -> dict[str, Any]:
    return limited(made.estimate[s], made.lower[s], made.upper[s], made.se[s], made.method)


def trend_test_rows(made: TrendTests) -> list[dict[str, Any]]:
    """The trend tests of each stratum."""
    return [
        {
            "status": str(made.status[s]),
            "laplace": {"z": number(made.laplace[s]), "p": number(made.laplace_p[s])},
            "laplace_by_unit": {
                "z": number(made.laplace_by_unit[s]),
                "p": number(made.laplace_by_unit_p[s]),
                "status": str(made.by_unit_status[s]),
            },
            "mil_hdbk_189": {
                "chi_square": number(made.chi_square[s]),
                "df": number(made.df[s]),
                "p": number(made.chi_square_p[s]),
            },
        }
        for s in range(made.status.size)
    ]
