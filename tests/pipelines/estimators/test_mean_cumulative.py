from __future__ import annotations

from math import exp, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.mean_cumulative import curves_at, mean_cumulative
from longmile.pipelines.estimators.repair_history import repair_history
from longmile.pipelines.estimators.repair_influence import repair_rows, squared_contributions

Z = 1.959963984540054  # the 97.5 % point of the standard normal
quick = settings(max_examples=60, deadline=None)


# Worked by hand. Unit 0: (0, 10], repairs at 2 and 6; unit 1: (0, 4] and (8, 12], repair at 2 and 9; unit 2: (3, 12].
# At 2: 2 at risk, 2 repairs, M = 1. At 6: units 0 and 2, M = 3/2. At 9: all three, M = 11/6.
def three_units(cost=None):
    return repair_history([2, 6, 2, 9], [0, 0, 1, 1], [0, 1, 1, 2], [0, 0, 8, 3], [10, 4, 12, 12], cost=cost)


def test_gaps_late_entry_and_a_tie_between_units():
    found = mean_cumulative(three_units())
    assert found.rows.t.tolist() == [2, 6, 9]
    assert found.rows.at_risk.tolist() == [2, 2, 3]
    assert found.rows.events.tolist() == [2, 1, 1]
    assert found.number.mean == pytest.approx([1, 3 / 2, 11 / 6], rel=1e-15)
    # At 2 both did the same: 0. At 6: unit 0 (1 - 1/2)/2, unit 2 the opposite. At 9: unit 1 (1 - 1/3)/3, others -1/9.
    squares = [0, 2 / 16, (1 / 4 - 1 / 9) ** 2 + (2 / 9) ** 2 + (-1 / 4 - 1 / 9) ** 2]
    assert found.number.se == pytest.approx(np.sqrt(squares), rel=1e-14)
    assert found.se_poisson == pytest.approx([sqrt(1 / 2), sqrt(3 / 4), sqrt(3 / 4 + 1 / 9)], rel=1e-15)
    assert found.number.lower[2] == pytest.approx(11 / 6 * exp(-Z * sqrt(squares[2]) * 6 / 11), rel=1e-14)
    assert found.number.upper_plain[2] == pytest.approx(11 / 6 + Z * sqrt(squares[2]), rel=1e-14)


def test_units_that_do_the_same_have_no_limits_and_not_narrow_ones():
    found = mean_cumulative(three_units())
    assert np.isnan([found.number.lower[0], found.number.upper_plain[0]]).all()


def test_cost_in_the_place_of_numbers():
    found = mean_cumulative(three_units(cost=[10, 40, 30, 90]))
    assert found.cost.mean == pytest.approx([20, 40, 70], rel=1e-15)
    # At 2: (10 - 20)/2 and (30 - 20)/2. At 6: (40 - 20)/2 and its opposite. At 9: (90 - 30)/3, -10 and -10.
    squares = [50, (-5 + 10) ** 2 + 25 + 100, (-5 + 10 - 10) ** 2 + (5 + 20) ** 2 + (-10 - 10) ** 2]
    assert found.cost.se == pytest.approx(np.sqrt(squares), rel=1e-14)
    assert found.number.mean == pytest.approx([1, 3 / 2, 11 / 6], rel=1e-15)


def test_read_off_between_before_and_beyond():
    read = curves_at(mean_cumulative(three_units()), 0, [1, 6, 7.5, 9, 13])
    assert read.number.mean == pytest.approx([0, 3 / 2, 3 / 2, 11 / 6, 11 / 6], rel=1e-15)
    assert np.isnan([read.number.se[0], read.number.lower[0], read.se_poisson[0]]).all()
    assert read.repairs.tolist() == [0, 3, 3, 4, 4]
    assert read.at_risk.tolist() == [2, 2, 2, 3, 0]
    assert read.is_beyond.tolist() == [False] * 4 + [True]
    assert read.unwatched.tolist() == [0, 0, 0, 0, 1]
    assert read.cost is None


def test_strata_without_repairs_or_windows_have_no_rows():
    found = mean_cumulative(repair_history([], [], [0], [0], [9], stratum_group=[0, 1]))
    assert found.rows.start.tolist() == [0, 0, 0]
    read = curves_at(found, [0, 1], 5.0)
    assert (read.number.mean.tolist(), read.at_risk.tolist()) == ([0, 0], [1, 0])
    assert read.is_beyond.tolist() == [False, True]


def test_confidence_that_cannot_be_is_refused():
    with pytest.raises(LivesError, match="between 0 and 1"):
        mean_cumulative(three_units(), confidence=95)


@st.composite
def shops(draw):
    """Groups of units with gaps, strata that share them, repairs of whole miles (ties) with costs, in any order."""
    n_groups = draw(st.integers(1, 2))
    windows = []
    for unit in range(draw(st.integers(n_groups, 6))):
        at = draw(st.integers(0, 4))
        for _ in range(draw(st.integers(1, 3))):
            end = at + draw(st.integers(1, 7))
            windows.append((unit % n_groups, unit, at, end))
            at = end + draw(st.integers(0, 3))
    groups = draw(st.lists(st.integers(0, n_groups - 1), min_size=1, max_size=3))
    repairs = []
    for stratum, group in enumerate(groups):
        mine = [w for w in windows if w[0] == group]
        for place, step, cost in draw(
            st.lists(st.tuples(st.integers(0, 20), st.integers(0, 6), st.integers(0, 90)), max_size=9)
        ):
            _, unit, start, end = mine[place % len(mine)]
            repairs.append((stratum, unit, start + 1 + step % (end - start), cost))
    return draw(st.permutations(repairs)), draw(st.permutations(windows)), groups


def made(shop, scale=1.0):
    repairs, windows, groups = shop
    stratum, unit, at, cost = np.array(repairs, float).reshape(-1, 4).T
    group, window_unit, start, end = np.array(windows, float).T
    return repair_history(
        at * scale, unit, window_unit, start * scale, end * scale,
        cost=cost, stratum=stratum, group=group, stratum_group=groups,
    )  # fmt: skip


def by_definition(shop, stratum, is_cost):
    """Mileage, mean and sum of squares of one stratum, straight from the definition: every unit at every mileage."""
    repairs, windows, groups = shop
    mine = [(u, t, c if is_cost else 1) for s, u, t, c in repairs if s == stratum]
    watched = [(u, a, b) for g, u, a, b in windows if g == groups[stratum]]
    units = sorted({u for u, _, _ in watched})
    own = dict.fromkeys(units, 0.0)
    mean, found = 0.0, []
    for t in sorted({t for _, t, _ in mine}):
        there = [u for u in units if any(v == u and a < t <= b for v, a, b in watched)]
        step = sum(c for _, at, c in mine if at == t) / len(there)
        for u in there:
            own[u] += (sum(c for v, at, c in mine if at == t and v == u) - step) / len(there)
        mean += step
        found.append((t, mean, sum(x * x for x in own.values())))
    return found


@quick
@given(shops())
def test_as_the_definition_has_it_for_number_and_cost(shop):
    found = mean_cumulative(made(shop))
    for stratum in range(len(shop[2])):
        some = slice(found.rows.start[stratum], found.rows.start[stratum + 1])
        for is_cost, of in ((False, found.number), (True, found.cost)):
            answer = by_definition(shop, stratum, is_cost)
            assert found.rows.t[some].tolist() == [t for t, _, _ in answer]
            assert of.mean[some] == pytest.approx([mean for _, mean, _ in answer], rel=1e-12)
            size = 1 + max((mean for _, mean, _ in answer), default=0)
            assert of.se[some] ** 2 == pytest.approx([v for _, _, v in answer], rel=1e-9, abs=1e-12 * size**2)


@quick
@given(shops(), st.randoms(use_true_random=False))
def test_row_order_never_matters(shop, random):
    repairs, windows, groups = shop
    one = mean_cumulative(made(shop))
    other = mean_cumulative(made((random.sample(repairs, len(repairs)), random.sample(windows, len(windows)), groups)))
    for ours, theirs in ((one.number, other.number), (one.cost, other.cost)):
        assert ours.mean == pytest.approx(theirs.mean, rel=1e-12)
        assert ours.se == pytest.approx(theirs.se, rel=1e-9)


@quick
@given(shops(), st.sampled_from([0.001, 1.609344, 1000.0]))
def test_the_unit_of_the_miles_does_not_matter(shop, factor):
    one, other = mean_cumulative(made(shop)), mean_cumulative(made(shop, factor))
    assert other.rows.t == pytest.approx(one.rows.t * factor, rel=1e-12)
    assert other.number.mean.tolist() == one.number.mean.tolist()
    assert other.number.se == pytest.approx(one.number.se, rel=1e-9)


@quick
@given(shops())
def test_every_unit_twice_leaves_the_mean_and_halves_the_variance(shop):
    repairs, windows, groups = shop
    again = [(s, u + 100, t, c) for s, u, t, c in repairs], [(g, u + 100, a, b) for g, u, a, b in windows]
    one = mean_cumulative(made(shop))
    two = mean_cumulative(made(([*repairs, *again[0]], [*windows, *again[1]], groups)))
    assert two.number.mean == pytest.approx(one.number.mean, rel=1e-12)
    assert two.cost.se * sqrt(2) == pytest.approx(one.cost.se, rel=1e-7, abs=1e-5)


@quick
@given(shops())
def test_parts_of_the_units_add_up_to_the_whole(shop):
    """Repairs and units at risk first, squares with the whole's rows then: both are sums over units."""
    repairs, windows, groups = shop
    whole = made(shop)
    rows = repair_rows(whole)
    total = squared_contributions(whole, rows, (whole.cost, rows.cost))[0]
    parts = []
    for odd in (0, 1):
        mine = [w for w in windows if w[1] % 4 // 2 == odd]
        if mine:
            part = made(([r for r in repairs if r[1] % 4 // 2 == odd], mine, groups))
            parts.append((part, squared_contributions(part, rows, (part.cost, rows.cost))[0]))
    at_risk = sum(part.sets.at_risk(rows.stratum, rows.t) for part, _ in parts)
    assert at_risk.tolist() == rows.at_risk.tolist()
    size = 1 + float(np.max(rows.cost, initial=0)) ** 2
    assert sum(squares for _, squares in parts) == pytest.approx(total, rel=1e-9, abs=1e-11 * size)
