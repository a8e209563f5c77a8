"""Limits by resampling whole vehicles."""

from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.bootstrap import cluster_bootstrap
from longmile.pipelines.estimators.clustered_rates import clustered_rates
from longmile.pipelines.estimators.curve_reading import restricted_means
from longmile.pipelines.estimators.lives import lives, miles_at_risk, n_failures, shared_exposure
from longmile.pipelines.estimators.nonparametric import kaplan_meier


def _rate(data, shared):
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.log(n_failures(data) / miles_at_risk(data, shared))


def _shop(n_vehicles: int = 200, alike: bool = True) -> dict[str, np.ndarray]:
    """Four sockets a vehicle; alike: all four of a vehicle share its luck."""
    rng = np.random.default_rng(5)
    luck = np.repeat(rng.gamma(1.0, 1.0, n_vehicles), 4) if alike else np.ones(4 * n_vehicles)
    life = rng.exponential(100 / luck)
    return {
        "entry": np.zeros(life.size),
        "exit_": np.minimum(life, 60.0),
        "event": life < 60,
        "cluster": np.repeat(np.arange(n_vehicles), 4),
    }


# A formula exists for the rate: the sandwich error by vehicle (clustered_rates). 1,000 samples tell a standard
# deviation to about 1 / sqrt(2 x 1000) = 2 %; 10 % is allowed.
@pytest.mark.parametrize("alike", [True, False])
def test_the_error_of_a_rate_is_that_of_the_formula(alike: bool):
    data = lives(**_shop(alike=alike))
    found = cluster_bootstrap(data, None, _rate, n_samples=1000)
    assert found.se[0] == pytest.approx(clustered_rates(data).se_log[0], rel=0.1)
    assert found.estimate[0] == _rate(data, None)[0]
    assert found.lower[0] < found.estimate[0] < found.upper[0]


def test_vehicles_and_not_their_parts_are_drawn():
    columns = _shop()
    by_vehicle = cluster_bootstrap(lives(**columns), None, _rate)
    by_part = cluster_bootstrap(lives(**columns | {"cluster": np.arange(800)}), None, _rate)
    assert by_vehicle.se[0] > 1.3 * by_part.se[0]


def test_the_same_seed_gives_the_same_numbers_and_another_does_not():
    data = lives(**_shop(30))
    first, again, other = (cluster_bootstrap(data, None, _rate, 50, seed) for seed in (7, 7, 8))
    assert (first.lower[0], first.upper[0], first.se[0]) == (again.lower[0], again.upper[0], again.se[0])
    assert first.se[0] != other.se[0]


# A window of vehicle 3 is drawn with the lives of vehicle 3: the same samples as with the window written out.
def test_windows_go_with_their_vehicle():
    columns = _shop(20)
    shared = shared_exposure([0, 0], [0, 5], [50, 60], [0], [2], cluster=[3, 7])
    copies = {"entry": [0, 0, 5, 5], "exit_": [50, 50, 60, 60], "event": [0] * 4, "cluster": [3, 3, 7, 7]}
    written = {name: np.append(values, copies[name]) for name, values in columns.items()}
    held = cluster_bootstrap(lives(**columns), shared, _rate, 60)
    whole = cluster_bootstrap(lives(**written), None, _rate, 60)
    assert (held.lower[0], held.upper[0]) == pytest.approx((whole.lower[0], whole.upper[0]), rel=1e-12)


# Samples without the one vehicle that failed have no rate: (1 - 1/10)^10 = 35 % of them.
def test_a_number_that_many_samples_lack_has_no_limits():
    data = lives([0] * 10, [10] * 10, [1] + [0] * 9, cluster=np.arange(10))
    found = cluster_bootstrap(data, None, _rate, 400)
    assert 0.55 < found.n_defined[0] / 400 < 0.75
    assert np.isnan([found.lower[0], found.upper[0], found.se[0]]).all()


# Without clusters the restricted mean has a formula (Klein & Moeschberger 2003, section 4.5).
def test_the_restricted_mean_of_independent_lives_agrees_with_its_formula():
    data = lives(**_shop(400, alike=False) | {"cluster": np.arange(1600)})
    found = cluster_bootstrap(data, None, lambda d, s: restricted_means(kaplan_meier(d, s), 50.0).estimate, 400)
    assert found.se[0] == pytest.approx(restricted_means(kaplan_meier(data), 50.0).se[0], rel=0.15)


def test_too_few_samples_are_refused():
    with pytest.raises(LivesError, match="at least 20"):
        cluster_bootstrap(lives([0], [1], [1]), None, _rate, 5)
