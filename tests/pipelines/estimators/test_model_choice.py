"""Which distribution is used, and whether it follows its own plot."""

from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.estimators.distributions import LOGNORMAL
from longmile.pipelines.estimators.lives import lives
from longmile.pipelines.estimators.location_scale import fit_distribution
from longmile.pipelines.estimators.model_choice import choose
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.plot_check import plot_check
from longmile.pipelines.estimators.weibull import fit_weibull

NAN = np.nan


# Columns are strata: a lead within 10 keeps the first; one of 10.1 does not; no first takes the best; none at all.
def test_the_habitual_model_is_kept_unless_clearly_beaten():
    found = choose(np.array([[100.0, 110.1, NAN, NAN], [90.5, 100.0, 50.0, NAN], [101.5, 101.0, NAN, NAN]]))
    assert found.best.tolist() == [1, 1, 1, -1]
    assert found.runner_up.tolist() == [0, 2, -1, -1]
    assert found.kept.tolist() == [0, 1, 1, -1]
    assert found.gap[:2].tolist() == [9.5, 1.0]
    assert np.isnan(found.gap[2:]).all()


# Shock absorbers: AIC of Weibull 251.991, log-logistic 252.731, lognormal 253.217, exponential 264.847
# (tests/reference/distributions.json and life_data.json; the exponential's is 2 - 2 x -131.4237).
def test_published_aics_choose_the_weibull_before_the_loglogistic():
    found = choose(np.array([[251.990722], [253.217100], [252.730880], [264.847456]]))
    assert (found.best[0], found.runner_up[0]) == (0, 2)


# Five failures at the deciles of an exponential with mean 1: z of the half-steps against log t, by hand.
def test_points_half_way_up_the_steps_are_plotted():
    t = np.array([0.2, 0.5, 0.9, 1.5, 2.5])
    data = lives(np.zeros(5), t, np.ones(5))
    found = plot_check(fit_weibull(data), kaplan_meier(data))
    middle = 1 - (np.arange(5) + 0.5) / 5
    assert found.n_points[0] == 5
    assert found.correlation[0] == pytest.approx(np.corrcoef(np.log(t), np.log(-np.log(middle)))[0, 1], rel=1e-12)
    assert found.share_outside[0] == 0


# 400 lives from a mixture of early failures and late wear-out: one Weibull cannot follow, and the check says so.
def test_a_curve_that_does_not_follow_is_caught():
    rng = np.random.default_rng(1)
    early, late = rng.weibull(1, 200) * 5, 100 + rng.weibull(4, 200) * 20
    data = lives(np.zeros(400), np.append(early, late), np.ones(400))
    curves = kaplan_meier(data)
    bad = plot_check(fit_weibull(data), curves)
    assert bad.share_outside[0] > 0.5
    straight = lives(np.zeros(400), rng.weibull(2, 400) * 50, np.ones(400))
    good = plot_check(fit_weibull(straight), kaplan_meier(straight))
    assert good.share_outside[0] < 0.2
    assert good.correlation[0] > bad.correlation[0]


def test_two_points_are_no_line():
    data = lives([0, 0, 0], [3, 5, 6], [1, 1, 0])
    found = plot_check(fit_distribution(LOGNORMAL, data), kaplan_meier(data))
    assert np.isnan(found.correlation[0])
    assert np.isnan(found.share_outside[0])
