"""The simulated shops themselves: what is known of them without any estimator."""

from __future__ import annotations

import numpy as np
import pytest


def cumulative_hazard(design, lives) -> tuple[np.ndarray, np.ndarray]:
    """Over each life, and the cluster it is in (shop and vehicle)."""
    over = (lives.exit_ / design.scale) ** design.shape - (lives.entry / design.scale) ** design.shape
    return over, lives.shop * (int(lives.cluster.max()) + 1) + lives.cluster


# Failures less the cumulative hazard watched are a martingale: 0 on average, whatever the entries, removals and ends
# of watching. Its variance is taken from the sums by vehicle. Walk-ins left out: with dependence they tell of siblings.
@pytest.mark.parametrize("shape", [0.8, 1.5, 3.0])
@pytest.mark.parametrize("dependence", ["none", "siblings"])
@pytest.mark.parametrize("removal_every", [np.inf, 100_000.0])
def test_failures_are_as_many_as_the_hazard_says(simulation, shape, dependence, removal_every):
    design = simulation.shops.Design(
        vehicles=2_000, sockets=3, shape=shape, dependence=dependence, removal_every=removal_every, walk_ins=0.0
    )
    made = simulation.shops.simulate_shops(design, 10, 5)
    over, vehicle = cumulative_hazard(design, made)
    residual = np.bincount(vehicle, weights=made.event - over)
    assert abs(residual.sum()) < 3.5 * np.sqrt((residual**2).sum())


def test_siblings_depend_on_each_other_and_vehicles_do_not(simulation):
    design = simulation.shops.Design(vehicles=20_000, sockets=2, dependence="siblings", from_new=1.0, walk_ins=0.0)
    made = simulation.shops.simulate_shops(design, 1, 6)
    over, vehicle = cumulative_hazard(design, made)
    residual = np.bincount(vehicle, weights=made.event - over)
    # Independent lives: the variance of the sum is the number of failures; with dependence it is larger.
    assert (residual**2).sum() > 1.2 * made.event.sum()
    loose = simulation.shops.Design(vehicles=20_000, sockets=2, from_new=1.0, walk_ins=0.0)
    free = simulation.shops.simulate_shops(loose, 1, 6)
    over, vehicle = cumulative_hazard(loose, free)
    residual = np.bincount(vehicle, weights=free.event - over)
    assert (residual**2).sum() == pytest.approx(free.event.sum(), rel=0.05)


def test_with_earlier_repairs_parts_are_younger_than_the_odometer(simulation):
    design = simulation.shops.Design(vehicles=20_000, shape=3.0, scale=60_000.0, earlier_repairs=True)
    made = simulation.shops.simulate_shops(design, 1, 7)
    over, _ = cumulative_hazard(design, made)
    aged = ~made.known_age
    assert made.event[aged].sum() < 0.8 * over[aged].sum()
    known = made.event[~aged].sum() - over[~aged].sum()
    assert abs(known) < 3.5 * np.sqrt(made.event[~aged].sum())


def test_a_failure_noticed_late_lies_between_two_visits(simulation):
    design = simulation.shops.Design(vehicles=2_000, found_late=0.5)
    made = simulation.shops.simulate_shops(design, 2, 8)
    within = ~np.isnan(made.left)
    assert 0.4 < within.sum() / made.event.sum() < 0.6
    assert np.all(made.event[within])
    assert np.all((made.entry <= made.left) | ~within) and np.all((made.left < made.exit_) | ~within)


def test_walk_ins_are_in_no_life(simulation):
    # Every vehicle walks in with a failure: its first part ends before a mile is watched, so every life is the shop's.
    made = simulation.shops.simulate_shops(simulation.shops.Design(vehicles=500, walk_ins=1.0), 1, 9)
    assert made.known_age.all() and np.all(made.entry == 0)


def test_the_same_seed_gives_the_same_shops(simulation):
    design = simulation.shops.Design(vehicles=50)
    one, two = (simulation.shops.simulate_shops(design, 3, 10) for _ in range(2))
    assert all(np.array_equal(a, b, equal_nan=True) for a, b in zip(one, two, strict=True))
    assert not np.array_equal(one.exit_, simulation.shops.simulate_shops(design, 3, 11).exit_)
