"""Life ratios from hazard ratios: how many times longer a life is where the hazard is so many times higher."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtri

from longmile.pipelines.estimators.cox import CoxFits
from longmile.pipelines.estimators.lives import Floats
from longmile.pipelines.estimators.regression_limits import Errors, standard_errors
from longmile.pipelines.estimators.weibull_regression import WeibullRegressions


def log_life_ratios(
    hazards: CoxFits, weibull: WeibullRegressions, confidence: float = 0.95, errors: Errors = "clustered"
) -> tuple[Floats, Floats, Floats]:
    """Log life ratios with their lower and upper limits, (n_strata, p); NaN where either regression has no answer.

    log life ratio = -sigma x log hazard ratio, sigma = 1 / shape of the Weibull regression: the same as its own
    coefficient where lives are Weibull, and less bent by lives that are not, since the hazard ratio takes no shape for
    granted. The errors of the two factors are taken as unrelated (delta method).
    """
    sigma = weibull.sigma[:, None]
    of_information, clustered = weibull.covariance[:, -1, -1], weibull.clustered[:, -1, -1]
    variance = {"information": of_information, "clustered": clustered, "wider": np.fmax(of_information, clustered)}
    of_sigma = hazards.coefficient * np.sqrt(variance[errors])[:, None]
    reach = ndtri(0.5 + confidence / 2) * sigma * np.hypot(standard_errors(hazards, errors), of_sigma)
    ratio = -sigma * hazards.coefficient
    return ratio, ratio - reach, ratio + reach
