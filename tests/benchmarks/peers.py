"""General-purpose survival libraries, each asked for the same answers from the lives of one stratum.

What the library computes lies in `fit` and `curves`, which are timed; `fitted` and `points` read the numbers off,
outside the clock.
"""

from __future__ import annotations

import importlib
import importlib.metadata
from types import ModuleType
from typing import Any, ClassVar, NamedTuple

import numpy as np
from simulated import Stratum


class Fitted(NamedTuple):
    """Shape and scale as longmile means them: log T = log scale + Z / shape."""

    shape: float
    scale: float
    se_log_shape: float


class Points(NamedTuple):
    """A curve at the mileages t, after each; cumulative hazard: None where the library has none for late entry."""

    t: np.ndarray
    survival: np.ndarray
    lower: np.ndarray
    upper: np.ndarray
    cumulative_hazard: np.ndarray | None


class Peer:
    """A library. distributions: those that it fits to lives with late entry."""

    package: ClassVar[str]
    module: ClassVar[str]
    distributions: ClassVar[tuple[str, ...]] = ()
    curves_note: ClassVar[str] = ""

    def __init__(self) -> None:
        self.library: ModuleType = importlib.import_module(self.module)
        self.name = f"{self.package} {importlib.metadata.version(self.package)}"

    def fit(self, distribution: str, stratum: Stratum) -> Any:
        """The library's fit with what it needs for standard errors."""
        raise LookupError(distribution)

    def fitted(self, distribution: str, made: Any) -> Fitted:
        """Numbers of a fit."""
        raise LookupError(distribution)

    def says_failed(self, made: Any) -> bool:
        """True where the library itself says that its fit did not succeed."""
        return False

    def curves(self, stratum: Stratum) -> Any:
        """Kaplan-Meier with log-log limits at every mileage, and Nelson-Aalen."""
        raise LookupError

    def points(self, made: Any) -> Points:
        """Numbers of the curves."""
        raise LookupError


class Lifelines(Peer):
    package, module = "lifelines", "lifelines"
    distributions = ("weibull", "lognormal", "loglogistic")
    fitters: ClassVar[dict[str, str]] = {
        "weibull": "WeibullFitter",
        "lognormal": "LogNormalFitter",
        "loglogistic": "LogLogisticFitter",
    }

    def fit(self, distribution: str, stratum: Stratum) -> Any:
        fitter = getattr(self.library, self.fitters[distribution])()
        return fitter.fit(stratum.exit_, stratum.event, entry=stratum.entry)

    def fitted(self, distribution: str, made: Any) -> Fitted:
        value = made.params_
        se = dict(zip(value.index, np.sqrt(np.diag(made.variance_matrix_)), strict=True))
        if distribution == "lognormal":
            return Fitted(1 / value["sigma_"], float(np.exp(value["mu_"])), se["sigma_"] / value["sigma_"])
        scale, shape = ("lambda_", "rho_") if distribution == "weibull" else ("alpha_", "beta_")
        return Fitted(value[shape], value[scale], se[shape] / value[shape])

    def curves(self, stratum: Stratum) -> Any:
        survival = self.library.KaplanMeierFitter().fit(stratum.exit_, stratum.event, entry=stratum.entry)
        hazard = self.library.NelsonAalenFitter(nelson_aalen_smoothing=False)
        return survival, hazard.fit(stratum.exit_, stratum.event, entry=stratum.entry)

    def points(self, made: Any) -> Points:
        survival, hazard = made
        t = survival.survival_function_.index.to_numpy()
        lower, upper = survival.confidence_interval_.to_numpy().T
        total = hazard.cumulative_hazard_at_times(t).to_numpy()
        return Points(t, survival.survival_function_.to_numpy()[:, 0], lower, upper, total)


class Surpyval(Peer):
    package, module = "surpyval", "surpyval"
    distributions = ("weibull", "lognormal", "loglogistic")
    models: ClassVar[dict[str, str]] = {"weibull": "Weibull", "lognormal": "LogNormal", "loglogistic": "LogLogistic"}

    def fit(self, distribution: str, stratum: Stratum) -> Any:
        model = getattr(self.library, self.models[distribution])
        made = model.fit(x=stratum.exit_, c=(~stratum.event).astype(int), tl=stratum.entry)
        return made, made.standard_errors()

    def fitted(self, distribution: str, made: Any) -> Fitted:
        (first, second), se = made[0].params, made[1]
        if distribution == "lognormal":
            return Fitted(1 / second, float(np.exp(first)), se[1] / second)
        return Fitted(second, first, se[1] / second)

    def says_failed(self, made: Any) -> bool:
        return not made[0].res.success

    def curves(self, stratum: Stratum) -> Any:
        given = {"x": stratum.exit_, "c": (~stratum.event).astype(int), "tl": stratum.entry}
        survival = self.library.KaplanMeier.fit(**given)
        return survival, survival.cb(survival.x, on="sf"), self.library.NelsonAalen.fit(**given)

    def points(self, made: Any) -> Points:
        survival, limits, hazard = made
        return Points(survival.x, survival.R, limits[:, 0], limits[:, 1], hazard.H)


class ScikitSurvival(Peer):
    package, module = "scikit-survival", "sksurv.nonparametric"
    curves_note = "Kaplan-Meier alone: its Nelson-Aalen takes no late entry"

    def curves(self, stratum: Stratum) -> Any:
        return self.library.kaplan_meier_estimator(
            stratum.event, stratum.exit_, time_enter=stratum.entry, conf_type="log-log"
        )

    def points(self, made: Any) -> Points:
        t, survival, limits = made
        return Points(t, survival, limits[0], limits[1], None)


def installed_peers() -> tuple[list[Peer], list[str]]:
    """The peers that can be had, and the names of those that are not installed."""
    peers, missing = [], []
    for kind in (Lifelines, Surpyval, ScikitSurvival):
        try:
            peers.append(kind())
        except ImportError:
            missing.append(kind.package)
    return peers, missing
