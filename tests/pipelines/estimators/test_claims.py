from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ndtr

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.claims import claim_probability, failure_forecast, refund_share

FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ANSWERS = json.loads(FILE.read_text(encoding="utf-8"))
CLAIM = ("shape", "scale_miles", "usage_log_mean_miles_per_month", "usage_log_sd", "limit_miles", "limit_months")


def weibull_failed(t: float, shape: float, scale: float) -> float:
    return float(-np.expm1(-((t / scale) ** shape)))


def test_published_refunds():
    rows = ANSWERS["refund"]["rows"]
    found = refund_share(*([row[key] for row in rows] for key in ("shape", "scale", "w")))
    assert found == pytest.approx([row["value"] for row in rows], rel=1e-10)


# At a constant rate the mean of 1 - e^-x over x from 0 to h is 1 - (1 - e^-h) / h; here h = 0.5.
def test_refund_at_a_constant_rate_by_hand():
    assert refund_share(1.0, 40_000.0, 20_000.0) == pytest.approx(1 - (1 - np.exp(-0.5)) / 0.5, rel=1e-12)


@pytest.mark.parametrize(("shape", "term"), [(0.5, 1e-6), (0.5, 3.0), (2.0, 1e-4), (6.0, 0.02), (6.0, 4.0)])
def test_refund_is_the_mean_chance_over_the_term(shape, term):
    mean = quad(weibull_failed, 0, term, (shape, 1.0), epsabs=0, epsrel=1e-12)[0] / term
    assert refund_share(shape, 1.0, term) == pytest.approx(mean, rel=1e-10)


def test_published_claims():
    rows = ANSWERS["claims"]["rows"]
    found = claim_probability(*([row[key] for row in rows] for key in CLAIM))
    assert found == pytest.approx([row["probability"] for row in rows], rel=1e-8)


@pytest.mark.parametrize("shape", [0.4, 1.0, 3.0, 10.0])
@pytest.mark.parametrize("sd", [0.05, 0.4, 1.5])
@pytest.mark.parametrize("scale", [4e3, 6e4, 2e6])
def test_claims_against_an_adaptive_integral(shape, sd, scale):
    miles, months, mean = 36_000.0, 24.0, float(np.log(1000))
    split = (np.log(miles / months) - mean) / sd

    def slow(z: float) -> float:
        return weibull_failed(np.exp(mean + sd * z) * months, shape, scale) * np.exp(-z * z / 2) / np.sqrt(2 * np.pi)

    cuts = np.linspace(-12, min(split, 12 + shape * sd), 60)
    total = sum(quad(slow, a, b, epsabs=0, epsrel=1e-12)[0] for a, b in pairwise(cuts))
    total += weibull_failed(miles, shape, scale) * ndtr(-split)
    assert claim_probability(shape, scale, mean, sd, miles, months) == pytest.approx(total, rel=1e-10)


# 1,000 miles a month for 12 months is 12,000 miles, more than the 9,000 promised; for 6 months it is less.
def test_a_fixed_usage_rate_ends_at_whichever_comes_first():
    found = claim_probability(2.0, 30_000.0, np.log(1000.0), 0.0, 9_000.0, [12.0, 6.0])
    assert found == pytest.approx([weibull_failed(9e3, 2, 3e4), weibull_failed(6e3, 2, 3e4)], rel=1e-12)


def test_without_a_limit_of_months_the_miles_alone_count():
    found = claim_probability(2.5, 42_000.0, 7.0, [0.0, 0.35], 12_000.0, np.inf)
    assert found == pytest.approx([weibull_failed(12e3, 2.5, 42e3)] * 2, rel=1e-12)
    no_miles = claim_probability(2.5, 42_000.0, 7.0, 0.35, [np.inf, 1e9], 12.0)
    assert no_miles[0] == pytest.approx(no_miles[1], rel=1e-10)


@settings(deadline=None, max_examples=50)
@given(shape=st.floats(0.3, 9), sd=st.floats(0.0, 1.2), months=st.floats(1, 60), miles=st.floats(500, 2e5))
def test_a_longer_promise_never_costs_less_and_never_more_than_its_miles(shape, sd, months, miles):
    found = claim_probability(shape, 5e4, 7.0, sd, miles, [months, months * 1.1, np.inf])
    assert found[0] <= found[1] * (1 + 1e-9) <= found[2] * (1 + 2e-9)
    scaled = claim_probability(shape, 5e5, 7.0 + np.log(10), sd, 10 * miles, months)
    assert scaled == pytest.approx(found[0], rel=1e-9, abs=1e-300)


def test_published_forecast():
    answer = ANSWERS["forecast"]
    made = failure_forecast(answer["ages"], answer["window"], answer["shape"], answer["scale"])
    assert made.p_each == pytest.approx(answer["p_each"], rel=1e-10)
    assert (made.expected[0], made.sd[0]) == pytest.approx((answer["expected"], answer["sd"]), rel=1e-10)


# At a constant rate every part has the same chance p = 1 - e^-0.5 whatever its age: 3 p and root(3 p (1 - p)).
def test_forecast_at_a_constant_rate_by_stratum_and_weight():
    made = failure_forecast([0.0, 5.0, 9.0], 1.0, 1.0, 2.0, stratum=[1, 1, 0], n_strata=3, weight=[1, 2, 4])
    p = 1 - np.exp(-0.5)
    assert made.expected == pytest.approx([4 * p, 3 * p, 0.0], rel=1e-12)
    assert made.sd == pytest.approx(np.sqrt([4 * p * (1 - p), 3 * p * (1 - p), 0.0]), rel=1e-12)


def test_forecast_keeps_the_digits_of_late_and_short_windows():
    # H(age + 1) - H(age) = 2 age + 1 in units of scale^2: 2e6 + 1 over 1e16 at age 1e6, scale 1e8, shape 2.
    made = failure_forecast(1e6, 1.0, 2.0, 1e8)
    assert made.expected[0] == pytest.approx((2e6 + 1) / 1e16, rel=1e-9)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: refund_share(1.0, 0.0, 1.0),
        lambda: claim_probability(1.0, 1.0, 0.0, -0.1, 1.0, 1.0),
        lambda: claim_probability(1.0, 1.0, 0.0, 0.1, np.inf, np.inf),
        lambda: failure_forecast(-1.0, 1.0, 1.0, 1.0),
        lambda: failure_forecast([1.0, 2.0], 1.0, 1.0, 1.0, stratum=[0, 2], n_strata=2),
    ],
)
def test_what_cannot_be_is_refused(asked):
    with pytest.raises(LivesError):
        asked()
