"""Published and independently computed answers, each compared; tests/reference/life_data.json says whose."""

from __future__ import annotations

import numpy as np
import pytest

from longmile.pipelines.estimators.curve_reading import restricted_means, survival_at, survival_quantiles
from longmile.pipelines.estimators.lives import lives, miles_at_risk, n_failures, n_lives
from longmile.pipelines.estimators.nonparametric import kaplan_meier
from longmile.pipelines.estimators.profile import profile_limits
from longmile.pipelines.estimators.quantities import (
    life_by,
    mean_life,
    scale,
    shape,
    survival_further,
    survival_to,
    wald_limits,
)
from longmile.pipelines.estimators.rates import poisson_rates
from longmile.pipelines.estimators.weibull import fit_weibull

FULL = ["shock_absorbers", "nist_weibull20", "nist_km20", "left_truncated_residents"]
EXACT, FIT, LOGLIK = 1e-12, 1e-6, 1e-9
B_LIVES = {"B1": life_by(0.01), "B10": life_by(0.1), "B50": life_by(0.5)}


def check_table(data, table, transform):
    curve = kaplan_meier(data, transform=transform)
    read = survival_at(curve, 0, [row["time"] for row in table])
    pairs = {
        "at_risk_next": "at_risk_just_before",
        "survival": "S",
        "se": "se_greenwood",
        "cumulative_hazard": "H_nelson_aalen",
        "se_cumulative_hazard": "se_H_nelson_aalen",
        "lower": f"lo_{transform}",
        "upper": f"hi_{transform}",
    }
    for ours, theirs in pairs.items():
        assert getattr(read, ours) == pytest.approx([row[theirs] for row in table], rel=EXACT), theirs


def check_weibull(data, answer):
    fits = fit_weibull(data)
    assert fits.status.tolist() == ["ok"]
    assert fits.slope[0] < 1e-8
    assert fits.log_likelihood[0] == pytest.approx(answer["loglik"], rel=LOGLIK)
    for ours, theirs in [
        (fits.shape, "shape"),
        (fits.scale, "scale"),
        (fits.se_log_shape, "se_log_sigma"),
        (fits.se_log_scale, "se_mu"),
    ]:
        assert ours[0] == pytest.approx(answer[theirs], rel=FIT), theirs
    check_quantities(fits, answer)


def check_quantities(fits, answer):
    """Mean and B-lives with both kinds of limits, survival, conditional survival, covariance, where given."""
    for name, quantity in {"mean_life": mean_life(), **B_LIVES}.items():
        if name in answer:
            check_mileage(fits, quantity, answer[name])
    for row in answer.get("survival", []):
        made = wald_limits(fits, survival_to(row["t"]))
        found = (made.estimate[0], made.lower[0], made.upper[0])
        assert found == pytest.approx((row["S"], row["lo"], row["hi"]), rel=FIT)
    for row in answer.get("conditional", []):
        made = wald_limits(fits, survival_further(row["t"], row["w"]))
        assert made.estimate[0] == pytest.approx(row["P_survive"], rel=FIT)
    for name, quantity in {"shape_ci95_log": shape(), "scale_ci95_log": scale()}.items():
        if name in answer:
            made = wald_limits(fits, quantity)
            assert (made.lower[0], made.upper[0]) == pytest.approx(answer[name], rel=FIT)
    if "cov_mu_logsigma" in answer:
        # log sigma = -log shape, so the covariance changes its sign.
        assert -fits.cov_log[0] == pytest.approx(answer["cov_mu_logsigma"][0][1], rel=FIT)


def check_mileage(fits, quantity, answer):
    made = wald_limits(fits, quantity)
    found = (made.estimate[0], made.se[0], made.lower[0], made.upper[0])
    assert found == pytest.approx((answer["est"], answer["se_log"], answer["lo"], answer["hi"]), rel=FIT)
    if "profile_lo" in answer:
        profile = profile_limits(fits, quantity)
        theirs = (answer["profile_lo"], answer["profile_hi"])
        assert (profile.lower[0], profile.upper[0]) == pytest.approx(theirs, rel=FIT)


@pytest.mark.parametrize("name", FULL)
def test_counts_miles_and_rate(name, expected, life_data):
    answer, data = expected["data"][name], life_data(name)
    assert n_lives(data).tolist() == [answer["n"]]
    assert n_failures(data).tolist() == [answer["events"]]
    assert miles_at_risk(data).tolist() == [answer["exposure"]]
    rates = poisson_rates(n_failures(data), miles_at_risk(data))
    assert (rates.lower[0], rates.upper[0]) == pytest.approx(answer["poisson_rate_exact95"], rel=1e-10)


@pytest.mark.parametrize("transform", ["plain", "log", "loglog"])
@pytest.mark.parametrize("name", FULL)
def test_kaplan_meier_and_nelson_aalen(name, transform, expected, life_data):
    check_table(life_data(name), expected["data"][name]["kaplan_meier"]["table"], transform)


@pytest.mark.parametrize("transform", ["plain", "log", "loglog"])
@pytest.mark.parametrize("name", FULL)
def test_quantiles_with_limits(name, transform, expected, life_data):
    curve = kaplan_meier(life_data(name), transform=transform)
    for row in expected["data"][name]["kaplan_meier"][f"quantiles_{transform}"]:
        read = survival_quantiles(curve, row["p_fail"])
        theirs = [np.nan if row[key] is None else row[key] for key in ("est", "lo", "hi")]
        ours = [read.estimate[0], read.lower[0], read.upper[0]]
        assert ours == pytest.approx(theirs, rel=EXACT, nan_ok=True), row["p_fail"]


@pytest.mark.parametrize("name", FULL)
def test_restricted_mean(name, expected, life_data):
    answer = expected["data"][name]["rmst"]
    mean = restricted_means(kaplan_meier(life_data(name)), answer["tau"])
    found = (mean.estimate[0], mean.se[0], mean.lower[0], mean.upper[0])
    assert found == pytest.approx((answer["rmst"], answer["se"], answer["lo"], answer["hi"]), rel=EXACT)


def test_residents_seen_from_800_months_on(expected, life_data):
    whole = life_data("left_truncated_residents")
    late = whole.entry >= 800
    data = lives(whole.entry[late], whole.exit_[late], whole.event[late])
    table = expected["data"]["left_truncated_residents"]["km_given_alive_at_800_entry_ge_800"]
    for transform in ("plain", "log", "loglog"):
        check_table(data, table, transform)


@pytest.mark.parametrize("name", FULL)
def test_weibull(name, expected, life_data):
    check_weibull(life_data(name), expected["data"][name]["weibull"])


def test_weibull_of_one_failure_mode(expected, life_data):
    data = life_data("shock_absorbers", failed=lambda row: row["mode"] == "1")
    check_weibull(data, expected["data"]["shock_absorbers"]["weibull_mode1_only"])


def test_weibull_of_wheels_looked_at_once(expected, wheels):
    check_weibull(wheels, expected["data"]["turbine_wheels"]["weibull"])


def test_weibull_published_to_four_decimals(life_data):
    # NIST/SEMATECH e-Handbook 8.4.1.3 prints shape 1.7208 and scale 606.528 (606.5280).
    fits = fit_weibull(life_data("nist_weibull20"))
    assert (round(fits.shape[0], 4), round(fits.scale[0], 3)) == (1.7208, 606.528)


@pytest.mark.parametrize("family", ["Alder-20", "Birch-16"])
def test_simulated_pads_late_entry_and_renewals(family, expected, life_data):
    answer = expected["data"]["sim_pads"]
    data = life_data("sim_pads", only=lambda row: row["family"] == family)
    for transform in ("plain", "log", "loglog"):
        check_table(data, answer[family]["km"], transform)
    check_weibull(data, answer[family]["weibull"])
    made = profile_limits(fit_weibull(data), scale())
    assert made.lower[0] < answer["truth"]["scale"][family] < made.upper[0]


def test_all_data_sets_fitted_at_once_as_strata(expected, life_data):
    parts = [life_data(name) for name in FULL]
    stratum = np.repeat(np.arange(len(parts)), [part.entry.size for part in parts])
    columns = [np.concatenate([getattr(part, key) for part in parts]) for key in ("entry", "exit_", "event")]
    fits = fit_weibull(lives(*columns, stratum))
    b10 = profile_limits(fits, life_by(0.1))
    for s, name in enumerate(FULL):
        answer = expected["data"][name]["weibull"]
        assert fits.shape[s] == pytest.approx(answer["shape"], rel=FIT)
        assert b10.upper[s] == pytest.approx(answer["B10"]["profile_hi"], rel=FIT)
