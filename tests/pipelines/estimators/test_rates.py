from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2, poisson

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.rates import poisson_rates


def test_published_limits(expected):
    rows = expected["poisson"]["rows"]
    d, miles = [row["d"] for row in rows], [row["exposure"] for row in rows]
    both, upper = poisson_rates(d, miles), poisson_rates(d, miles, bound="upper")
    assert both.rate == pytest.approx([row["rate"] for row in rows], rel=1e-12)
    assert both.lower == pytest.approx([row["exact95"][0] for row in rows], rel=1e-10)
    assert both.upper == pytest.approx([row["exact95"][1] for row in rows], rel=1e-10)
    assert upper.upper == pytest.approx([row["upper95_one_sided"] for row in rows], rel=1e-10)
    between = [row["mean_between_lower95_one_sided"] for row in rows]
    assert 1 / upper.upper == pytest.approx(between, rel=1e-10)


def test_no_failures_keeps_an_exact_upper_limit():
    # e^-x = 0.025 gives x = 3.6889; one tail alone, e^-x = 0.05, gives 2.9957.
    rates = poisson_rates([0.0], [1000.0])
    assert rates.status.tolist() == ["no_failures"]
    assert rates.lower.tolist() == [0.0]
    assert rates.upper == pytest.approx([-np.log(0.025) / 1000], rel=1e-12)
    assert poisson_rates([0.0], [1000.0], bound="upper").upper == pytest.approx([-np.log(0.05) / 1000], rel=1e-12)


def test_limits_leave_the_stated_tail_and_are_the_chi_square_ones():
    rates = poisson_rates(np.arange(1, 40), 1.0, confidence=0.9)
    assert poisson.sf(np.arange(0, 39), rates.lower) == pytest.approx(0.05, rel=1e-9)
    assert poisson.cdf(np.arange(1, 40), rates.upper) == pytest.approx(0.05, rel=1e-9)
    assert rates.lower == pytest.approx(chi2.ppf(0.05, 2 * np.arange(1, 40)) / 2, rel=1e-9)


def test_one_sided_lower_leaves_the_upper_open():
    rates = poisson_rates([3.0], [10.0], bound="lower")
    assert np.isinf(rates.upper[0])
    assert poisson.sf(2, 10 * rates.lower[0]) == pytest.approx(0.05, rel=1e-9)


def test_no_miles_is_a_status_not_a_number():
    rates = poisson_rates([0.0, 1.0], [0.0, 5.0])
    assert rates.status.tolist() == ["too_few_at_risk", "ok"]
    assert np.isnan([rates.rate[0], rates.lower[0], rates.upper[0]]).all()


@pytest.mark.parametrize(
    "asked", [([-1.0], [1.0], 0.95), ([1.0], [-1.0], 0.95), ([1.0], [1.0], 1.0), ([np.nan], [1.0], 0.9)]
)
def test_what_cannot_be_is_refused(asked):
    with pytest.raises(LivesError):
        poisson_rates(*asked)
