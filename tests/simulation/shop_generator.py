"""Invented shops whose truth is known: lives as a shop's records would cut them. numpy alone, no estimator.

One component on one engine family. A vehicle is driven from mile 0 at its own rate; a part that fails is replaced at
once, wherever the vehicle then is; the shop sees the vehicle only from its first visit to its last. Every life follows
the stated Weibull, with or without dependence between lives of a vehicle (see `Design.dependence`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import erfc, gamma, log, sqrt
from typing import NamedTuple

import numpy as np

FROM_NEW_BELOW = 500.0  # as in the lives: first seen below it, the part is known to be the original one
_AT_ONCE = 300_000  # sockets simulated at once: bounds memory; the numbers drawn depend on it


@dataclass(frozen=True)
class Design:
    """How a shop and its parts are; miles throughout. Shares and spreads are invented, none is taken from anywhere.

    dependence: `none`; `siblings`: the n-th parts of a vehicle's sockets depend on each other; `vehicle`: all its
    parts do, a part's successor too. Normal scores with this correlation are turned into lives, so that each life taken
    alone stays exactly Weibull (a Gaussian copula).
    earlier_repairs: False leaves out a part that is not the original at first sight, until the shop itself replaces it
    (so that every age is right); True cuts it as the records would, with the odometer for its age.
    removal_every: mean miles to a preventive removal, infinite for none.   found_late: share of failures that are
    noticed only at the next visit.   walk_ins: share of vehicles that come first with a failure of this component.
    """

    vehicles: int = 600
    sockets: int = 1
    shape: float = 1.5
    scale: float = 150_000.0
    dependence: str = "none"
    correlation: float = 0.6
    earlier_repairs: bool = False
    removal_every: float = np.inf
    found_late: float = 0.0
    walk_ins: float = 0.05
    from_new: float = 0.15
    oldest_years: float = 10.0
    longest_years: float = 6.0

    @property
    def mean_life(self) -> float:
        return self.scale * gamma(1 + 1 / self.shape)

    @property
    def b10(self) -> float:
        return self.scale * (-np.log(0.9)) ** (1 / self.shape)

    def survival(self, miles: float) -> float:
        return float(np.exp(-((miles / self.scale) ** self.shape)))


class ShopLives(NamedTuple):
    """One element a life: what `longmile...lives.lives` takes, and whether the age of the part is known.

    first_sight: odometer at which the vehicle was first seen; for a part of unknown age it equals entry.
    """

    entry: np.ndarray
    exit_: np.ndarray
    event: np.ndarray
    left: np.ndarray
    cluster: np.ndarray
    shop: np.ndarray
    known_age: np.ndarray

    def only(self, which: np.ndarray) -> ShopLives:
        return ShopLives(*(values[which] for values in self))


def simulate_shops(design: Design, n_shops: int, seed: int) -> ShopLives:
    """Lives of n_shops independent shops of one design; walk-ins are left out, as they carry no miles."""
    per_shop = design.vehicles * design.sockets
    step = max(1, _AT_ONCE // per_shop)
    parts = [
        _simulate(design, np.arange(low, min(low + step, n_shops)), [seed, low]) for low in range(0, n_shops, step)
    ]
    return ShopLives(*(np.concatenate(columns) for columns in zip(*parts, strict=True)))


def true_rate(design: Design, seed: int, vehicles: int) -> float:
    """Expected failures over expected miles watched, from so many vehicles of the same design."""
    per_shop = max(1, _AT_ONCE // design.sockets)
    made = simulate_shops(replace(design, vehicles=per_shop), -(-vehicles // per_shop), seed)
    return float(made.event.sum() / (made.exit_ - made.entry).sum())


@dataclass
class _Fleet:
    """Vehicles of some shops (one element each) and the vehicle of each socket."""

    shop: np.ndarray
    first: np.ndarray
    gap: np.ndarray
    visits: np.ndarray
    of_socket: np.ndarray

    @property
    def last(self) -> np.ndarray:
        return self.first + self.visits * self.gap


class _Parts(NamedTuple):
    """The next part of each socket: miles to failure, to a preventive removal, and whether a failure goes unnoticed."""

    life: np.ndarray
    removal: np.ndarray
    unnoticed: np.ndarray


def _simulate(design: Design, shops: np.ndarray, seed: list[int]) -> ShopLives:
    fleet = _fleet(design, shops, np.random.default_rng([*seed, 0]))
    _walk_in(design, fleet, seed)
    socket_first, socket_last = fleet.first[fleet.of_socket], fleet.last[fleet.of_socket]
    gap = fleet.gap[fleet.of_socket]
    fitted = np.zeros(fleet.of_socket.size)
    found: list[ShopLives] = []
    for parts in _generations(design, fleet, seed):
        fails = parts.life <= parts.removal
        stop = fitted + np.minimum(parts.life, parts.removal)
        seen = (stop > socket_first) & (fitted < socket_last)
        late = seen & fails & parts.unnoticed
        visit = np.ceil((stop - socket_first) / gap)
        before = np.maximum(socket_first + (visit - 1) * gap, np.maximum(fitted, socket_first))
        stop = np.where(late, socket_first + visit * gap, stop)
        ours = fitted >= socket_first
        exact = ours | (fitted == 0)
        cut = seen & (exact | design.earlier_repairs)
        origin = np.where(ours, fitted, 0.0)
        event = fails & (stop <= socket_last)
        found.append(
            ShopLives(
                entry=np.where(ours, 0.0, socket_first),
                exit_=np.minimum(stop, socket_last) - origin,
                event=event,
                left=np.where(event & late, before - origin, np.nan),
                cluster=fleet.of_socket + seed[1] * design.vehicles,
                shop=fleet.shop[fleet.of_socket],
                known_age=ours | (socket_first < FROM_NEW_BELOW),
            ).only(cut)
        )
        fitted = np.where(fitted < socket_last, stop, fitted)
        if not (fitted < socket_last).any():
            break
    made = ShopLives(*(np.concatenate(columns) for columns in zip(*found, strict=True)))
    return made.only(made.exit_ > made.entry)


def _fleet(design: Design, shops: np.ndarray, draw: np.random.Generator) -> _Fleet:
    """Vehicles at their own rate (median 12,000 miles a year), two visits a year from the first to the last."""
    n = shops.size * design.vehicles
    rate = 12_000 * np.exp(0.35 * draw.standard_normal(n))
    old = rate * draw.uniform(0.1, design.oldest_years, n)
    first = np.where(draw.random(n) < design.from_new, draw.uniform(5, FROM_NEW_BELOW - 50, n), old)
    gap = rate / 2
    visits = np.ceil(2 * draw.uniform(0.5, design.longest_years, n))
    return _Fleet(
        shop=np.repeat(shops, design.vehicles),
        first=first,
        gap=gap,
        visits=visits,
        of_socket=np.repeat(np.arange(n), design.sockets),
    )


def _walk_in(design: Design, fleet: _Fleet, seed: list[int]) -> None:
    """Moves the first visit of some vehicles to the first failure in any of their sockets after it would have been."""
    walks = np.random.default_rng([*seed, 1]).random(fleet.first.size) < design.walk_ins
    socket_first = fleet.first[fleet.of_socket]
    fitted = np.zeros(fleet.of_socket.size)
    failure = np.full(fleet.of_socket.size, np.inf)
    wanted = walks[fleet.of_socket]
    for parts in _generations(design, fleet, seed):
        stop = fitted + np.minimum(parts.life, parts.removal)
        hit = wanted & (parts.life <= parts.removal) & (stop > socket_first)
        failure[hit] = stop[hit]
        wanted &= ~hit
        fitted = stop
        if not wanted.any():
            break
    by_vehicle = failure.reshape(-1, design.sockets).min(axis=1)
    fleet.first = np.where(walks, by_vehicle, fleet.first)


def _generations(design: Design, fleet: _Fleet, seed: list[int]) -> Iterator[_Parts]:
    """First, second, ... part of every socket; the same ones whenever asked with the same seed."""
    n, n_vehicles = fleet.of_socket.size, fleet.first.size
    standing = np.random.default_rng([*seed, 2]).standard_normal(n_vehicles)
    for number in range(10_000):
        draw = np.random.default_rng([*seed, 3, number])
        common = standing if design.dependence == "vehicle" else draw.standard_normal(n_vehicles)
        rho = 0.0 if design.dependence == "none" else design.correlation
        score = np.sqrt(rho) * common[fleet.of_socket] + np.sqrt(1 - rho) * draw.standard_normal(n)
        life = design.scale * _exponential(score) ** (1 / design.shape)
        removal = np.full(n, np.inf)
        if np.isfinite(design.removal_every):
            removal = design.removal_every * draw.standard_exponential(n)
        yield _Parts(life, removal, draw.random(n) < design.found_late)
    raise RuntimeError("more than 10,000 parts in one socket")


def _exponential(score: np.ndarray) -> np.ndarray:
    """Exponential numbers of mean 1 from standard normal ones, -log(1 - Phi(score)), to about 1e-7."""
    return np.interp(score, _SCORES, _EXPONENTIALS)


_SCORES = np.arange(-8_000, 8_001) / 1_000
_EXPONENTIALS = np.array([-log(erfc(score / sqrt(2)) / 2) for score in _SCORES.tolist()])
