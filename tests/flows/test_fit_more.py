"""`longmile fit`: other distributions, clusters, causes, groups and interval curves, through the file."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from longmile.pipelines.errors import LivesError, UnreadableFileError
from longmile.pipelines.flows.fit import fit_file, fit_table

REFERENCE = Path(__file__).parents[1] / "reference"


def answers(name: str) -> dict:
    return json.loads((REFERENCE / f"{name}.json").read_text(encoding="utf-8"))


def fit(path: Path, **asked) -> dict:
    return json.loads(json.dumps(fit_file(path, **asked), allow_nan=False))


def renamed(tmp_path: Path, name: str, **columns: str) -> Path:
    """The reference file with some columns under the names that `fit` reads."""
    with (REFERENCE / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        header, *rows = csv.reader(file)
    path = tmp_path / f"{name}.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([[columns.get(cell, cell) for cell in header], *rows])
    return path


# Answers and their sources: tests/reference/distributions.json; tolerances as there.
@pytest.mark.parametrize("name", ["shock_absorbers", "nist_weibull20", "nist_km20", "left_truncated_residents"])
@pytest.mark.parametrize("limits", ["profile", "wald"])
def test_every_distribution_through_the_file(name, limits):
    models = fit(REFERENCE / f"{name}.csv", limits=limits)["strata"][0]["models"]
    for model, answer in answers("distributions")["datasets"][name]["fits"].items():
        found = models[model]
        assert found["status"] == "ok"
        assert found["log_likelihood"] == pytest.approx(answer["loglik"], rel=1e-9)
        assert found["aic"] == pytest.approx(answer["aic"], rel=1e-9)
        assert (found["mu"], found["sigma"]) == pytest.approx((answer["mu_log"], answer["sigma"]), rel=1e-6)
        for ours, theirs in {"mean": "mean_life", "median": "B50", "b10": "B10", "b1": "B1"}.items():
            ends = ("profile_lo", "profile_hi") if limits == "profile" else ("lo", "hi")
            assert found[ours]["estimate"] == pytest.approx(answer[theirs]["est"], rel=1e-6)
            if ends[0] in answer[theirs]:
                assert found[ours]["lower"] == pytest.approx(answer[theirs][ends[0]], rel=1e-6)
                assert found[ours]["upper"] == pytest.approx(answer[theirs][ends[1]], rel=1e-6)


# Answers and their sources: tests/reference/held_shape_and_calculators.json.
@pytest.mark.parametrize("name", ["shock_absorbers", "nist_weibull20", "nist_km20", "left_truncated_residents"])
def test_the_constant_rate_through_the_file(name):
    answer = answers("held_shape_and_calculators")["exponential"]["data"][name]
    found = fit(REFERENCE / f"{name}.csv")["strata"][0]["models"]["exponential"]
    assert found["log_likelihood"] == pytest.approx(answer["loglik"], rel=1e-9)
    assert found["mean"]["estimate"] == pytest.approx(answer["mean_life"]["est"], rel=1e-6)
    assert found["b10"]["lower"] == pytest.approx(answer["B10"]["profile_lo"], rel=1e-6)
    assert found["b10"]["upper"] == pytest.approx(answer["B10"]["profile_hi"], rel=1e-6)
    assert found["shape"] == 1


# AIC: Weibull 251.99, log-logistic 252.73, lognormal 253.22 (distributions.json), exponential 264.85.
def test_the_closest_distribution_and_the_next_are_named():
    choice = fit(REFERENCE / "shock_absorbers.csv")["strata"][0]["choice"]
    assert (choice["used"], choice["closest"], choice["runner_up"]) == ("weibull", "weibull", "loglogistic")
    assert choice["aic_gap"] == pytest.approx(252.73088020979 - 251.990722377666, rel=1e-6)


# R survival 3.5-3, errors by the infinitesimal jackknife (tests/reference/competing.json).
def test_incidence_of_every_cause(tmp_path):
    path = renamed(tmp_path, "shock_absorbers", event="failed", mode="event")
    answer = answers("competing")["shock_absorbers"]
    rows = fit(path, at=answer["time"])["strata"][0]["incidence"]
    by_cause = {(row["cause"], row["t"]): row for row in rows}
    for place, t in enumerate(answer["time"]):
        for cause in (1, 2):
            found = by_cause[cause, t]
            assert found["incidence"] == pytest.approx(answer[f"cif_mode{cause}"][place], rel=1e-12)
            assert found["se"] == pytest.approx(answer[f"se_ij_mode{cause}"][place], rel=1e-6)


# R survival 3.5-3 survdiff, and with strata(sex) (tests/reference/competing.json names the source).
def test_groups_are_compared_and_within_blocks():
    path = REFERENCE / "clustered_litters.csv"
    plain = fit(path, compare="treated")["strata"][0]["comparison"]["log_rank"]
    blocked = fit(path, compare="treated", within="sex")["strata"][0]["comparison"]["log_rank"]
    assert plain["chi_square"] == pytest.approx(5.54866024871025, rel=1e-9)
    assert plain["p"] == pytest.approx(0.0184948381279737, rel=1e-9)
    assert blocked["chi_square"] == pytest.approx(6.99392961872322, rel=1e-9)
    assert sum(group["observed"] for group in plain["groups"]) == 42


# R survival 3.5-3: survreg and survfit with cluster (distributions.json, curves.json).
def test_errors_are_by_cluster_where_lives_name_theirs():
    litters = fit(REFERENCE / "clustered_litters.csv", at=[60, 80, 100])["strata"][0]
    answer = answers("distributions")["clustered_litters"]["all"]
    weibull = litters["models"]["weibull"]
    assert [weibull["se_log_scale"], weibull["se_log_shape"]] == pytest.approx(answer["naive_se_mu_logsigma"], rel=1e-6)
    robust = [weibull["clustered_se_log_scale"], weibull["clustered_se_log_shape"]]
    assert robust == pytest.approx(answer["robust_se_mu_logsigma"], rel=1e-6)
    assert weibull["mean"]["limits"] == "clustered profile"
    assert litters["rate"]["limits"] == "gamma by cluster"
    curve = answers("curves")["clustered_litters"]
    at = {row["t"]: row for row in litters["survival"]}
    for t, se in zip(curve["time"], curve["se_cluster"], strict=True):
        assert at[t]["clustered_se"] == pytest.approx(se, rel=1e-9)


# The exact answer is pooled adjacent violators; R's EM stops at 0.930513 (tests/reference/curves.json).
def test_interval_lives_have_a_curve_without_a_model():
    found = fit(REFERENCE / "turbine_wheels.csv")["strata"][0]["npmle"]
    answer = answers("curves")["turbine_wheels"]["npmle"]
    assert found["status"] == "ok"
    assert [row["mass"] for row in found["support"]] == pytest.approx(answer["prob"], rel=1e-6)
    assert found["support"][0]["survival"] == pytest.approx(0.930232558139535, rel=1e-9)
    assert found["log_likelihood"] == pytest.approx(answer["loglik"], rel=1e-9)


# By hand: a late entrant fails alone at 6; 3 others run on from 10 and one fails at 20. From 10 on: 2 of 3 left.
def test_a_curve_can_speak_from_a_later_age(tmp_path):
    path = tmp_path / "lives.csv"
    path.write_text("entry,exit,event\n5,6,1\n10,20,1\n10,30,0\n10,30,0\n", encoding="utf-8")
    whole = fit(path)["strata"][0]
    assert [row["survival"] for row in whole["survival"]] == [0.0, 0.0]
    assert whole["survival_from"] == {"from": 0.0, "advised": 10.0}
    later = fit(path, from_age=10)["strata"][0]
    assert [(row["t"], row["survival"]) for row in later["survival"]] == [(20.0, pytest.approx(2 / 3, rel=1e-12))]
    text = str([column._cells for table in fit_table(fit(path)).renderables[:1] for column in table.columns])
    assert "few at risk early on: try --from 10" in text


# Clusters of one: the sampled limits of the median of 20 lives lie about where the band's do, and repeat to the digit.
def test_quantiles_by_resampling_clusters_repeat(tmp_path):
    path = REFERENCE / "nist_weibull20.csv"
    first, again = (fit(path, bootstrap=100)["strata"][0]["bootstrap"] for _ in range(2))
    assert first == again
    assert fit(path)["strata"][0]["bootstrap"] is None
    tenth = first["quantiles"][0]
    assert tenth["estimate"] == 201.5  # tests/reference/life_data.json, quantiles of nist_weibull20
    assert tenth["lower"] < 201.5 < tenth["upper"]
    with pytest.raises(LivesError, match="at least 20"):
        fit(path, bootstrap=5)


def test_what_cannot_be_asked_is_refused(tmp_path):
    with pytest.raises(LivesError, match="--from"):
        fit(REFERENCE / "shock_absorbers.csv", from_age=-1)
    with pytest.raises(UnreadableFileError, match=r"asked by --compare\). .*Nearest: treated"):
        fit(REFERENCE / "clustered_litters.csv", compare="treatd")


def test_no_number_is_ever_nan(tmp_path):
    path = tmp_path / "lives.csv"
    rows = "".join(f"{g},0,{10 + i},{e}\n" for g, e in (("a", 0), ("b", 1), ("c", 2)) for i in range(3))
    path.write_text(f"g,entry,exit,event\n{rows}", encoding="utf-8")
    strata = fit(path, by=["g"], at=[11, 12])["strata"]
    assert [s["status"] for s in strata] == ["no_failures", "thin", "no_failures"]
    assert not np.isnan([s["at_risk_total"] for s in strata]).any()
