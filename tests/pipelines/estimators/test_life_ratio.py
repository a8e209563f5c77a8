"""Life ratios where earlier repairs are not known: the reason why they come from hazard ratios."""

from __future__ import annotations

import numpy as np

from longmile.pipelines.estimators.cox import cox
from longmile.pipelines.estimators.life_ratio import log_life_ratios
from longmile.pipelines.estimators.lives import Lives, lives
from longmile.pipelines.estimators.regression_limits import wald_limits
from longmile.pipelines.estimators.weibull_regression import weibull_regression


def shops_that_do_not_know_earlier_repairs(n_shops: int, n_vehicles: int) -> tuple[Lives, np.ndarray]:
    """Parts live a Weibull of shape 3, mean 71,000 miles; a failed one is renewed. Usage changes nothing.

    A vehicle drives 12,000 miles a year x a lognormal factor, is first seen at the age of 2 to 14 years and watched for
    4 more. The part it comes with is taken to be as old as the vehicle, which it often is not. Returned with the lives:
    the log2 of the vehicle's factor.
    """
    draw = np.random.default_rng(12)
    n = n_shops * n_vehicles
    usage = draw.normal(0, 0.65, n)
    a_year = 12_000 * 2**usage
    first = a_year * draw.uniform(2, 14, n)
    last = first + 4 * a_year
    fails = np.cumsum(80_000 * draw.weibull(3, (n, 30)), axis=1)
    start = np.concatenate([np.zeros((n, 1)), fails[:, :-1]], axis=1)
    vehicle, place = np.nonzero((fails > first[:, None]) & (start < last[:, None]))
    begun, ended = start[vehicle, place], fails[vehicle, place]
    is_first = begun <= first[vehicle]
    start_known = np.where(is_first, 0.0, begun)
    entry = np.where(is_first, first[vehicle], 0.0)
    exit_ = np.minimum(ended, last[vehicle]) - start_known
    event = ended <= last[vehicle]
    data = lives(entry, exit_, event, vehicle // n_vehicles, n_strata=n_shops, cluster=vehicle)
    return data, usage[vehicle]


def shops_with_early_failures(n_shops: int, n_vehicles: int) -> tuple[Lives, np.ndarray]:
    """Replacement parts of known age: 8 in 100 live 3,000 miles on average, the others a Weibull of shape 3.

    Watched for up to 8 years at 12,000 miles a year x a factor, which changes nothing; returned with its log2.
    """
    draw = np.random.default_rng(5)
    n = n_shops * n_vehicles
    usage = draw.normal(0, 0.65, n)
    stop = 12_000 * 2**usage * draw.uniform(0.2, 8, n)
    life = np.where(draw.random(n) < 0.08, 3_000 * draw.exponential(size=n), 90_000 * draw.weibull(3, n))
    data = lives(np.zeros(n), np.minimum(life, stop), life <= stop, np.arange(n) // n_vehicles, n_strata=n_shops)
    return data, usage


def share_left_out(limits: tuple[np.ndarray, ...]) -> float:
    """Share of shops whose limits leave out that there is no effect."""
    lower, upper = limits
    return float(((lower > 0) | (upper < 0)).mean())


# 200 shops: a share of 5 % is known to about +-3 %.
def test_early_failures_look_like_an_effect_of_usage_to_a_weibull_alone():
    data, usage = shops_with_early_failures(200, 300)
    weibull, hazards = weibull_regression(data, usage), cox(data, usage)
    assert weibull.ok.all() and hazards.ok.all()
    assert share_left_out(wald_limits(weibull)[:2]) > 0.4
    ratio, *limits = log_life_ratios(hazards, weibull)
    assert share_left_out(tuple(limits)) < 0.08
    assert abs(np.median(ratio)) < 0.02


def test_ages_that_are_not_known_mislead_both_and_lives_of_known_age_neither():
    data, usage = shops_that_do_not_know_earlier_repairs(200, 300)
    weibull, hazards = weibull_regression(data, usage), cox(data, usage)
    assert share_left_out(wald_limits(weibull)[:2]) > 0.2
    assert share_left_out(wald_limits(hazards)[:2]) > 0.1
    data, usage = shops_that_do_not_know_earlier_repairs(100, 1_000)
    known = data.entry == 0
    kept = {key: getattr(data, key)[known] for key in ("entry", "exit_", "event", "stratum", "cluster")}
    replaced = lives(**kept, n_strata=100)
    weibull, hazards = weibull_regression(replaced, usage[known]), cox(replaced, usage[known])
    assert share_left_out(wald_limits(hazards)[:2]) < 0.1
    assert share_left_out(log_life_ratios(hazards, weibull)[1:]) < 0.1
