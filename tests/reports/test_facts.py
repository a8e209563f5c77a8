"""Facts from frames: curves, hazard, evidence, chance, statuses."""

from __future__ import annotations

import polars as pl
import pytest

from longmile.reports import stratum
from longmile.reports.facts import briefing
from longmile.reports.stratum import Limited, hazard_of


def test_comparisons_by_chance_are_counted_on_one_side(invented_shop):
    told = briefing(invented_shop.frames()).comparison
    # 4 comparisons * (1 - 0.95) / 2 = 0.1
    assert told.n_compared == 4
    assert told.n_by_chance == pytest.approx(0.1)
    assert (told.n_higher, told.n_lower, told.is_more_than_chance) == (2, 2, True)


@pytest.mark.parametrize(
    ("shape", "hazard"),
    [
        (Limited(2.0, 1.01, 3.0), "wears_out"),
        (Limited(0.6, 0.4, 0.99), "early"),
        (Limited(1.4, 0.9, 2.0), "cannot_tell"),
        (Limited(1.4, 1.0, 2.0), "cannot_tell"),
        (Limited(2.0, None, None), "cannot_tell"),
        (None, "not_known"),
    ],
)
def test_the_hazard_is_named_only_where_both_limits_agree(shape, hazard):
    assert hazard_of(shape) == hazard


def test_a_fit_that_is_not_ok_gives_no_mileage(invented_shop):
    estimate = invented_shop.frames().estimate.with_columns(
        pl.lit("did_not_converge").alias("weibull_status"), pl.lit(None, pl.String).alias("model")
    )
    told = briefing(invented_shop.frames(estimate=estimate))
    first = told.standing_out[0]
    assert (first.mean, first.median, first.b10, first.shape, first.conditional) == (
        None,
        None,
        None,
        None,
        (),
    )
    assert told.wrong_answer is None


def test_the_curve_at_round_ages_has_the_counts_of_the_next_failure(invented_shop):
    pump = next(s for s in briefing(invented_shop.frames()).standing_out if s.component_code == "water_pump")
    # Failures at 15,000, 30,000, ... 150,000; at risk 110 - 10 a step; watched to 180,000: steps of 50,000.
    # At 0: next failure at 15,000 (100 at risk), all running. At 50,000: last failure 45,000 (step 3: 0.88),
    # next at 60,000 (step 4: 70). At 150,000: step 10 itself: 0.60 and 10.
    assert [(r.age_miles, r.at_risk, pytest.approx(r.survival)) for r in pump.curve_table] == [
        (0, 100, 1.0),
        (50_000, 70, 0.88),
        (100_000, 40, 0.76),
        (150_000, 10, 0.60),
    ]
    assert pump.curve[0].survival == 1
    assert pump.curve[-1].age_miles == 180_000
    assert pump.curve[1].upper is None


def test_a_long_curve_is_thinned_and_keeps_its_ends():
    n = 5_000
    points = pl.DataFrame(
        {
            "age_miles": [float(i + 1) for i in range(n)],
            "at_risk": [n - i for i in range(n)],
            "survival": [1 - (i + 1) / n for i in range(n)],
            "survival_lower": [0.0] * n,
            "survival_upper": [float("nan")] * n,
        }
    )
    curve = stratum.curve_points(points, None)
    assert len(curve) == stratum.MAX_CURVE_POINTS + 1
    assert (curve[1].age_miles, curve[-1].age_miles, curve[-1].survival) == (1.0, float(n), 0.0)
    assert curve[5].upper is None


@pytest.mark.parametrize(("span", "step"), [(180_000, 50_000), (60_000, 10_000), (120_000, 20_000), (7, 2)])
def test_round_steps_are_1_2_or_5_and_at_most_six(span, step):
    assert stratum.round_step(span, 6) == step


def test_evidence_is_one_row_an_order_newest_first(invented_shop):
    frames = invented_shop.frames()
    twice = pl.concat([frames.evidence, frames.evidence.with_columns(pl.lit("2").alias("position"))])
    told = briefing(invented_shop.frames(evidence=twice))
    pump = next(s for s in told.standing_out if s.component_code == "water_pump")
    assert len(pump.evidence) == stratum.MAX_EVIDENCE_SHOWN
    assert pump.evidence[0].positions == "only, 2"
    days = [row.opened_on for row in pump.evidence]
    assert days == sorted(days, reverse=True)


def test_the_wrong_answer_is_outside_the_limits_of_the_mean(invented_shop):
    # Only where the limits of the mean lie within the miles watched.
    assert briefing(invented_shop.frames()).wrong_answer is None
    watched = invented_shop.frames().estimate.with_columns(largest_miles=pl.lit(400_000.0))
    told = briefing(invented_shop.frames(estimate=watched))
    assert told.wrong_answer is not None
    # 186,400 / 91,234 = 2.0431
    assert told.wrong_answer_times == pytest.approx(2.0431, abs=1e-4)
    inside = invented_shop.frames().estimate.with_columns(plain_mean_miles=pl.lit(170_000.0))
    assert briefing(invented_shop.frames(estimate=inside)).wrong_answer is None


def test_missing_columns_are_named(invented_shop):
    with pytest.raises(ValueError, match="result frame evidence: 1 of 15 columns are missing: concern"):
        invented_shop.frames(evidence=invented_shop.frames().evidence.drop("concern"))


def test_a_confidence_that_is_none_is_refused(invented_shop):
    with pytest.raises(ValueError, match="confidence is 95"):
        invented_shop.frames(confidence=95)
