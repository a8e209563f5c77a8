from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import binom

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.binomial import binomial_shares

EXACT = 1e-10
FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ANSWERS = json.loads(FILE.read_text(encoding="utf-8"))["binomial"]


def test_published_limits():
    rows = ANSWERS["rows"]
    x, n = [row["x"] for row in rows], [row["n"] for row in rows]
    exact, upper = binomial_shares(x, n), binomial_shares(x, n, bound="upper")
    wilson = binomial_shares(x, n, method="wilson")
    for made, name in ((exact, "clopper_pearson"), (wilson, "wilson")):
        assert np.stack([made.lower, made.upper], axis=1) == pytest.approx(
            np.array([row[name] for row in rows]), rel=EXACT, abs=1e-15
        )
    assert upper.upper == pytest.approx([row["upper95_one_sided_cp"] for row in rows], rel=EXACT)
    assert upper.lower.tolist() == [0.0] * len(rows)


def test_limits_leave_the_stated_tail():
    n, x = 17, np.arange(1, 17)
    made = binomial_shares(x, n, confidence=0.9)
    assert binom.sf(x - 1, n, made.lower) == pytest.approx(0.05, rel=1e-9)
    assert binom.cdf(x, n, made.upper) == pytest.approx(0.05, rel=1e-9)


def test_one_sided_lower_is_the_upper_one_of_what_did_not_happen():
    x, n = np.array([0, 3, 9, 20]), 20
    lower, upper = binomial_shares(x, n, bound="lower"), binomial_shares(n - x, n, bound="upper")
    assert lower.lower == pytest.approx(1 - upper.upper, abs=1e-12)
    assert lower.upper.tolist() == [1.0] * 4


# Wilson's limits are the shares p at which |x / n - p| = z root(p (1 - p) / n), z = 1.6448536269514722 for 90 %.
def test_wilson_limits_solve_their_equation():
    x, n, z = np.array([1.0, 7.0, 29.0]), 30.0, 1.6448536269514722
    made = binomial_shares(x, n, confidence=0.9, method="wilson")
    for p in (made.lower, made.upper):
        assert np.abs(x / n - p) == pytest.approx(z * np.sqrt(p * (1 - p) / n), rel=1e-9)


def test_none_looked_at_is_a_status_not_a_number():
    made = binomial_shares([0, 0, 2], [0, 5, 4])
    assert made.status.tolist() == ["too_few_at_risk", "no_failures", "ok"]
    assert np.isnan([made.share[0], made.lower[0], made.upper[0]]).all()


@pytest.mark.parametrize("asked", [(3, 2, 0.95), (-1, 2, 0.95), (1, 2, 1.0), (np.nan, 2, 0.95), (1, np.inf, 0.95)])
def test_what_cannot_be_is_refused(asked):
    with pytest.raises(LivesError):
        binomial_shares(*asked)
