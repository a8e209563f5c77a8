from __future__ import annotations

from math import log, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.estimators.repair_history import repair_history
from longmile.pipelines.estimators.trend_tests import trend_tests


# Worked by hand. Unit 0 over (0, 10] and (20, 30]: 20 miles, centre 15, variance 10^2/12 + 10^2 = 108 1/3; repairs at 5
# and 28. Unit 1 over (4, 16]: centre 10, variance 12; repairs at 12, 12 and 15.
def test_units_with_gaps_and_late_windows():
    data = repair_history([5, 28, 12, 12, 15], [0, 0, 1, 1, 1], [0, 0, 1], [0, 20, 4], [10, 30, 16])
    found = trend_tests(data)
    off = [(5 - 15) + (28 - 15), 2 + 2 + 5]
    assert found.laplace == pytest.approx([sum(off) / sqrt(2 * (100 / 12 + 100) + 3 * 12)], rel=1e-14)
    assert found.laplace_by_unit == pytest.approx([sum(off) / sqrt(off[0] ** 2 + off[1] ** 2)], rel=1e-14)
    # Shares of the miles before: 5/20, (10 + 8)/20, 8/12 twice, 11/12.
    share = [5 / 20, 18 / 20, 8 / 12, 8 / 12, 11 / 12]
    assert found.chi_square == pytest.approx([-2 * sum(log(u) for u in share)], rel=1e-14)
    assert (found.df.tolist(), found.status.tolist(), found.by_unit_status.tolist()) == ([10], ["ok"], ["thin"])


def test_two_sided_p_values():
    # 4 repairs in the last tenth of (0, 10]: u = 0.95 each; chi-square with 8 degrees of freedom, P(<= x) by its sum:
    # 1 - e^(-h) (1 + h + h^2/2 + h^3/6), h = x / 2 = -4 log 0.95.
    found = trend_tests(repair_history([9.5] * 4, [0] * 4, [0], [0], [10]))
    h = -4 * log(0.95)
    below = 1 - np.exp(-h) * (1 + h + h**2 / 2 + h**3 / 6)
    assert found.chi_square_p == pytest.approx([2 * below], rel=1e-9)
    # z = 4 x 4.5 / root(4 x 100/12) = 3.117691...; 2 x (1 - Phi(3.1177)) = 0.00182 (scipy 1.17 norm.sf).
    assert found.laplace == pytest.approx([18 / sqrt(400 / 12)], rel=1e-14)
    assert found.laplace_p == pytest.approx([0.0018227], rel=1e-3)
    assert np.isnan(found.laplace_by_unit).all()


def test_statuses():
    everyone = np.arange(4)
    data = repair_history(
        [5, *[2.0] * 24], [1, *np.repeat(np.arange(2, 14), 2)], np.arange(14), np.zeros(14), np.full(14, 10.0),
        stratum=[1, *[2] * 24], group=[0, 1, *[2] * 12], stratum_group=everyone,
    )  # fmt: skip
    found = trend_tests(data)
    assert found.status.tolist() == ["no_failures", "thin", "ok", "too_few_at_risk"]
    assert found.by_unit_status.tolist() == ["no_failures", "thin", "ok", "too_few_at_risk"]
    assert np.isnan(found.laplace).tolist() == [True, False, False, True]
    assert np.isnan(found.chi_square_p).tolist() == [True, False, False, True]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 3), st.floats(0.01, 1.0)), min_size=1, max_size=12),
    st.sampled_from([0.001, 1.609344, 1000.0]),
    st.randoms(use_true_random=False),
)
def test_neither_the_unit_of_miles_nor_the_order_matters(placed, factor, random):
    start, end = np.array([0.0, 5, 0, 40]), np.array([10.0, 9, 30, 44])

    def tested(rows, scale):
        unit, share = np.array([u for u, _ in rows]), np.array([x for _, x in rows])
        at = start[unit] + share * (end - start)[unit]
        return trend_tests(repair_history(at * scale, unit, np.arange(4), start * scale, end * scale))

    one, other = tested(placed, 1.0), tested(random.sample(placed, len(placed)), factor)
    for name in ("laplace", "laplace_by_unit", "chi_square", "chi_square_p"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=1e-6, abs=1e-9, nan_ok=True), name


def test_under_a_constant_rate_of_each_unit_the_tests_are_what_they_say():
    """2,000 shops of 12 units with rates of their own, late windows; in bunches only the by-unit error holds."""
    rng = np.random.default_rng(5)
    n_shops, n_units = 2000, 12
    start = rng.uniform(0, 50, (n_shops, n_units))
    end = start + rng.uniform(5, 50, (n_shops, n_units))
    count = rng.poisson(rng.gamma(1.5, 1.5, (n_shops, n_units)))
    shop, unit = (np.repeat(code.ravel(), count.ravel()) for code in np.indices((n_shops, n_units)))
    at = start[shop, unit] + rng.uniform(0.001, 1, shop.size) * (end - start)[shop, unit]
    windows = np.tile(np.arange(n_units), n_shops), start.ravel(), end.ravel()
    group = np.repeat(np.arange(n_shops), n_units)
    found = trend_tests(repair_history(at, unit, *windows, stratum=shop, group=group))
    for p in (found.laplace_p, found.chi_square_p):
        assert 0.04 < np.nanmean(p < 0.05) < 0.06
    bunched = trend_tests(
        repair_history(np.repeat(at, 4), np.repeat(unit, 4), *windows, stratum=np.repeat(shop, 4), group=group)
    )
    assert np.nanmean(bunched.laplace_p < 0.05) > 0.25
    assert np.nanmean(bunched.laplace_by_unit_p < 0.05) < 0.06
