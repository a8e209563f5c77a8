"""Simulated lives, the same rows for longmile and for every peer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Lives, Miles, lives


class Stratum(NamedTuple):
    """Lives of one stratum, as a peer takes them."""

    entry: Miles
    exit_: Miles
    event: Flags


@dataclass(frozen=True)
class Rows:
    """Lives of many strata, ordered by stratum."""

    entry: Miles
    exit_: Miles
    event: Flags
    stratum: Codes
    n_strata: int

    def first(self, n: int) -> Rows:
        kept = self.stratum < n
        return Rows(self.entry[kept], self.exit_[kept], self.event[kept], self.stratum[kept], min(n, self.n_strata))

    def watched_from_new(self) -> Rows:
        """The same ends with every life watched from 0 miles."""
        return replace(self, entry=np.zeros(self.entry.size))

    def lives(self) -> Lives:
        return lives(self.entry, self.exit_, self.event, self.stratum, n_strata=self.n_strata)

    def one_by_one(self) -> list[Stratum]:
        cuts = np.searchsorted(self.stratum, np.arange(1, self.n_strata))
        columns = (np.split(column, cuts) for column in (self.entry, self.exit_, self.event))
        return [Stratum(*parts) for parts in zip(*columns, strict=True)]


def simulated(n_strata: int, n_lives: int) -> Rows:
    """Strata of n_lives each, less those that failed unseen: Weibull of shape 2, scales of 60,000 to 120,000 miles.

    First seen at 0 to 40,000 miles, watched for up to 60,000 from there; about a quarter fail.
    """
    draw = np.random.default_rng(11)
    stratum = np.repeat(np.arange(n_strata), n_lives)
    age = 60_000 * (1 + draw.random(n_strata))[stratum] * draw.weibull(2.0, stratum.size)
    entry = 40_000 * draw.random(stratum.size)
    stop = entry + 60_000 * draw.random(stratum.size) + 1
    kept = age > entry
    return Rows(entry[kept], np.minimum(age, stop)[kept], (age <= stop)[kept], stratum[kept], n_strata)
