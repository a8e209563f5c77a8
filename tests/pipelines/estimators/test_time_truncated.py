from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.estimators.repair_history import repair_history
from longmile.pipelines.estimators.repair_intensity import fit_intensity
from longmile.pipelines.estimators.time_truncated import time_truncated


def made(repairs, windows):
    """Repairs (unit, at), windows (unit, start, end), one stratum."""
    unit, at = np.array(repairs, float).T
    return repair_history(at, unit, *np.array(windows, float).T)


REPAIRS = [(0, 3), (0, 8), (1, 5)]


@pytest.mark.parametrize(
    ("windows", "applies"),
    [
        ([(0, 0, 10), (1, 0, 10), (2, 0, 10)], True),
        ([(0, 0, 10), (1, 0, 10), (2, 1, 10)], False),
        ([(0, 0, 10), (1, 0, 9), (2, 0, 10)], False),
        ([(0, 0, 4), (0, 4, 10), (1, 0, 10)], False),
    ],
)
def test_applies_only_where_all_were_watched_from_0_to_one_end(windows, applies):
    data = made(REPAIRS, windows)
    found = time_truncated(data, fit_intensity(data, "power_law"))
    assert found.applies.tolist() == [applies]
    numbers = [found.beta.lower, found.miles_between.upper, found.modified_beta, found.modified_limits.lower]
    assert np.isnan(numbers).all() != applies


def test_several_units_are_one_with_all_their_repairs_and_a_rate_each():
    """The repairs of k units watched to one end are a process of k times the intensity: miles between are k times."""
    three = made(REPAIRS, [(0, 0, 10), (1, 0, 10), (2, 0, 10)])
    one = made([(0, at) for _, at in REPAIRS], [(0, 0, 10)])
    ours, theirs = (time_truncated(data, fit_intensity(data, "power_law")) for data in (three, one))
    assert ours.beta.lower == pytest.approx(theirs.beta.lower, rel=1e-12)
    assert ours.modified_beta == pytest.approx(theirs.modified_beta, rel=1e-12)
    assert ours.modified_lambda * 3 == pytest.approx(theirs.modified_lambda, rel=1e-12)
    for mine, its in ((ours.miles_between, theirs.miles_between), (ours.modified_limits, theirs.modified_limits)):
        for side in ("estimate", "lower", "upper"):
            assert getattr(mine, side) == pytest.approx(3 * getattr(its, side), rel=1e-12)


def test_no_upper_limit_where_the_large_sample_formula_has_none():
    # n - z root(n / 2) = 2 - 2.58 x 1 < 0 at 99 %.
    data = made([(0, 3), (0, 8)], [(0, 0, 10)])
    found = time_truncated(data, fit_intensity(data, "power_law"), confidence=0.99)
    assert found.modified_limits.upper.tolist() == [np.inf]
    assert np.isfinite(found.miles_between.upper).all()


def test_exact_limits_cover_what_they_say_and_a_little_more():
    """4,000 units of 3 to 20 expected repairs, in one call; n is a whole number, so that coverage may exceed 90 %."""
    rng = np.random.default_rng(11)
    n_shops, beta, end = 4000, 0.8, 100.0
    mean = rng.uniform(3, 20, n_shops)
    count = rng.poisson(mean)
    shop = np.repeat(np.arange(n_shops), count)
    at = end * rng.uniform(size=shop.size) ** (1 / beta)
    everyone = np.arange(n_shops)
    data = repair_history(
        at,
        shop,
        everyone,
        np.zeros(n_shops),
        np.full(n_shops, end),
        stratum=shop,
        group=everyone,
        stratum_group=everyone,
    )
    found = time_truncated(data, fit_intensity(data, "power_law"), confidence=0.9)
    some = found.applies
    assert (some == (count >= 2)).all()
    low, high = found.beta.lower[some], found.beta.upper[some]
    assert 0.885 < np.mean((low < beta) & (beta < high)) < 0.915
    truth = (end / (mean * beta))[some]
    inside = (found.miles_between.lower[some] < truth) & (truth < found.miles_between.upper[some])
    assert 0.895 < np.mean(inside) < 0.96
