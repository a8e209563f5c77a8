"""What is tried on the simulated shops: a method is a name, what it estimates, and how; new ones go into the tables."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple, TypeAlias

import numpy as np

from longmile.pipelines.estimators.clustered_curves import clustered_survival
from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.curve_reading import survival_at
from longmile.pipelines.estimators.curve_start import curve_start
from longmile.pipelines.estimators.first_parts import ROUNDS, original_below
from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.lives import Lives, miles_at_risk, n_failures
from longmile.pipelines.estimators.nonparametric import SurvivalCurves, kaplan_meier
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import (
    Limits,
    Quantity,
    life_by,
    mean_life,
    survival_to,
    wald_limits,
)
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.renewal_errors import renewed_errors
from longmile.pipelines.estimators.renewal_mixture import fit_weibull_renewed
from longmile.pipelines.estimators.robust import RobustErrors, clustered_limits, robust_errors
from longmile.pipelines.estimators.weibull import fit_weibull

MILES = 100_000.0
FEWEST_FAILURES = 5  # below so many, longmile calls an answer thin
TAIL_SHARE, TAIL = 0.1, 20.0  # fewer at risk than both this share of the most and this many: limits miss too often


class Answer(NamedTuple):
    """One element a shop."""

    estimate: np.ndarray
    lower: np.ndarray
    upper: np.ndarray
    status: np.ndarray


class Shops:
    """The lives of all shops of a case, and what several methods share, computed once."""

    def __init__(self, data: Lives, known_age: np.ndarray) -> None:
        self.data = data
        self.known_age = known_age
        self.is_starved = np.zeros(data.n_strata, np.bool_)

    @cached_property
    def failures(self) -> np.ndarray:
        return n_failures(self.data)

    @cached_property
    def curves(self) -> SurvivalCurves:
        return kaplan_meier(self.data)

    @cached_property
    def fits(self) -> Fits:
        return fit_weibull(self.data)

    @cached_property
    def errors(self) -> RobustErrors:
        return robust_errors(self.fits, self.data)

    @cached_property
    def renewed(self) -> Fits:
        """Fits that take the age of a part at first sight for unknown."""
        return fit_weibull_renewed(self.data, self.known_age)

    @cached_property
    def renewed_errors(self) -> RobustErrors:
        return renewed_errors(self.renewed, self.data, self.known_age)

    @cached_property
    def known(self) -> Shops:
        """The same shops, with the lives of known age alone."""
        return self.only(self.known_age)

    @cached_property
    def early(self) -> Shops:
        """The same shops, of the first parts those alone that are likely the originals, as the pages have it."""
        kept = self
        below = np.full(self.data.n_strata, np.inf)
        for _ in range(ROUNDS):
            found = np.where(kept.failures >= FEWEST_FAILURES, original_below(kept.fits), np.nan)
            below = np.where(np.isnan(found), np.inf, found)
            kept = self.only(self.known_age | (self.data.entry < below[self.data.stratum]))
        starved = (kept.failures < FEWEST_FAILURES) & (self.failures >= FEWEST_FAILURES)
        found = self.only(self.known_age | (self.data.entry < np.where(starved, np.inf, below)[self.data.stratum]))
        found.is_starved = starved
        return found

    def only(self, which: np.ndarray) -> Shops:
        columns = ("entry", "exit_", "event", "stratum", "weight", "left", "cluster")
        kept = {name: getattr(self.data, name)[which] for name in columns}
        return Shops(replace(self.data, **kept), self.known_age[which])

    def thin_or(self, status: np.ndarray) -> np.ndarray:
        """The status, or `thin` where it is `ok` on few failures, or on first parts that are likely no originals."""
        few = (self.failures < FEWEST_FAILURES) | self.is_starved
        return np.where((status == "ok") & few, "thin", status)


Method: TypeAlias = Callable[[Shops], Answer]
Methods: TypeAlias = Mapping[tuple[str, str], Method]
"""(what it estimates, how) -> estimate, lower, upper and status of every shop."""


def poisson(shops: Shops) -> Answer:
    found = poisson_rates(shops.failures, miles_at_risk(shops.data))
    return Answer(found.rate, found.lower, found.upper, shops.thin_or(found.status))


def poisson_by_vehicle(shops: Shops) -> Answer:
    found = clustered_rates(shops.data).rates
    return Answer(found.rate, found.lower, found.upper, shops.thin_or(found.status))


def kaplan_meier_at_miles(shops: Shops) -> Answer:
    read = survival_at(shops.curves, np.arange(shops.data.n_strata), MILES)
    return Answer(read.survival, read.lower, read.upper, _curve_status(shops, read.lower))


def kaplan_meier_by_vehicle(shops: Shops) -> Answer:
    read = clustered_survival(shops.curves, shops.data, None, np.arange(shops.data.n_strata), MILES)
    return Answer(read.survival, read.lower, read.upper, _curve_status(shops, read.lower))


def _curve_status(shops: Shops, lower: np.ndarray) -> np.ndarray:
    """`ok` where the curve speaks from age 0 on, MILES is not in its thin tail, and it has limits there."""
    curves = shops.curves
    watched = survival_at(curves, np.arange(shops.data.n_strata), MILES).at_risk
    most = np.zeros(shops.data.n_strata)
    np.maximum.at(most, curves.stratum, curves.at_risk)
    in_tail = (watched < 1) | ((watched < TAIL) & (watched < TAIL_SHARE * most))
    status = np.where(shops.failures > 0, "ok", "no_failures")
    status = np.where(in_tail | (curve_start(curves) > 0), "too_few_at_risk", status)
    return shops.thin_or(np.where((status == "ok") & np.isnan(lower), "no_limits", status))


Finder: TypeAlias = Callable[[Shops, Quantity], Limits]


def from_fit(quantity: Quantity, find: Finder) -> Method:
    def found(shops: Shops) -> Answer:
        made = find(shops, quantity)
        return Answer(made.estimate, made.lower, made.upper, shops.thin_or(shops.fits.status))

    return found


def renewed(quantity: Quantity, find: Finder) -> Method:
    """All lives, the age at first sight taken for unknown."""

    def found(shops: Shops) -> Answer:
        made = find(shops, quantity)
        return Answer(made.estimate, made.lower, made.upper, shops.thin_or(shops.renewed.status))

    return found


def _profile(shops: Shops, quantity: Quantity) -> Limits:
    return profile_limits(shops.fits, quantity)


def _wald(shops: Shops, quantity: Quantity) -> Limits:
    return wald_limits(shops.fits, quantity)


def _renewed_profile(shops: Shops, quantity: Quantity) -> Limits:
    return profile_limits(shops.renewed, quantity)


def _renewed_clustered(shops: Shops, quantity: Quantity) -> Limits:
    return clustered_limits(shops.renewed_errors, quantity)


def _clustered(shops: Shops, quantity: Quantity) -> Limits:
    return clustered_limits(shops.errors, quantity)


QUANTITIES: dict[str, Quantity] = {"mean": mean_life(), "B10": life_by(0.1), "S(100k)": survival_to(MILES)}
METHODS: dict[tuple[str, str], Method] = {
    ("rate", "Poisson"): poisson,
    ("rate", "by vehicle"): poisson_by_vehicle,
    ("mean", "Wald"): from_fit(QUANTITIES["mean"], _wald),
    ("mean", "profile"): from_fit(QUANTITIES["mean"], _profile),
    ("mean", "by vehicle"): from_fit(QUANTITIES["mean"], _clustered),
    ("B10", "profile"): from_fit(QUANTITIES["B10"], _profile),
    ("B10", "by vehicle"): from_fit(QUANTITIES["B10"], _clustered),
    ("S(100k)", "profile"): from_fit(QUANTITIES["S(100k)"], _profile),
    ("S(100k)", "by vehicle"): from_fit(QUANTITIES["S(100k)"], _clustered),
    ("S(100k)", "Kaplan-Meier"): kaplan_meier_at_miles,
    ("S(100k)", "Kaplan-Meier by vehicle"): kaplan_meier_by_vehicle,
}
"""Where every age is right: limits that take lives for independent, and limits by vehicle."""


def on(shops_of: Callable[[Shops], Shops], quantity: Quantity, limits: Finder = _profile) -> Method:
    """Fits and limits on some of the lives, whose number decides what is thin."""
    return lambda shops: from_fit(quantity, limits)(shops_of(shops))


AGE_METHODS: dict[tuple[str, str], Method] = {
    (name, how): method
    for name, quantity in QUANTITIES.items()
    for how, method in {
        "odometer as age": from_fit(quantity, _profile),
        "seen early": on(lambda shops: shops.early, quantity),
        "seen early, by vehicle": on(lambda shops: shops.early, quantity, _clustered),
        "known ages": on(lambda shops: shops.known, quantity),
        "age unknown": renewed(quantity, _renewed_profile),
        "age unknown, by vehicle": renewed(quantity, _renewed_clustered),
    }.items()
} | {
    ("rate", "by vehicle"): poisson_by_vehicle,
    ("S(100k)", "Kaplan-Meier"): kaplan_meier_at_miles,
    ("S(100k)", "Kaplan-Meier, seen early"): lambda shops: kaplan_meier_at_miles(shops.early),
}
"""Where parts were replaced before the shop saw the vehicle: which lives are used, and as what."""
