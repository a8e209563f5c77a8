"""The partial likelihood of proportional hazards with late entry, every stratum, with slope and curvature.

At risk at t means entry < t <= exit_. Sums over risk sets are running sums over failure mileages, from the last back:
each life is added at the last one at which it was watched and taken off before its entry. Sums, no search.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, weighed
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.regression_columns import Columns
from longmile.pipelines.estimators.regression_search import Values
from longmile.pipelines.estimators.row_blocks import sums_of_products


@dataclass(frozen=True)
class PartialLikelihood:
    """Lives and failure mileages of all strata, prepared; made by `partial_likelihood()`.

    life: index of each life ever at risk at a failure.   x: standardised columns of those, (lives, p); stratum, weight:
    likewise.   active: columns used, (n_strata, p).   first, last: at risk at failure mileages first:last.
    died: index of the failure mileage at which it failed, -1 where it did not.
    start: failure mileages of stratum s are start[s]:start[s + 1].   deaths: failures at each.
    of, share, copies: the steps of the product: at mileage `of`, with `share` of the failing already gone (Efron; 0
    for Breslow), counted `copies` times.
    """

    x: Floats
    active: Flags
    life: Codes
    stratum: Codes
    weight: Floats
    first: Codes
    last: Codes
    died: Codes
    start: Codes
    deaths: Floats
    of: Codes
    share: Floats
    copies: Floats

    @property
    def n_strata(self) -> int:
        """Number of strata."""
        return int(self.start.size - 1)

    @property
    def owner(self) -> Codes:
        """Stratum of each step."""
        return np.repeat(np.arange(self.n_strata), np.diff(self.start))[self.of]

    def evaluate(self, rows: Codes, at: Floats) -> Values:
        """Log partial likelihood of the asked strata; -inf where it cannot be computed."""
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            return self.only(rows).values(at)

    def values(self, at: Floats) -> Values:
        """Log partial likelihood of every stratum held, at a row of coordinates each."""
        risk, height = self._lives_at(at)
        zeroth, mean = self._step_means(risk)
        r, p = at.shape
        owner = self.owner
        failed = np.flatnonzero(self.died >= 0)
        gone, whose = self.weight[failed], self.stratum[failed]
        loglik = self._loglik(zeroth, height)
        slope = np.zeros((r, p))
        for j in range(p):
            slope[:, j] = weighed(whose, gone * self.x[failed, j], r) - weighed(owner, self.copies * mean[:, j], r)
        # Sums over risk sets of x x' are sums over lives of x x' times the hazard each has passed.
        passed = risk * self._passed(self.copies[:, None] / zeroth[:, None])[:, 0]
        curvature = sums_of_products(owner, r, mean, self.copies) - sums_of_products(self.stratum, r, self.x, passed)
        sound = np.isfinite(loglik + slope.sum(axis=1) + curvature.sum(axis=(1, 2)))
        loglik[~sound], slope[~sound], curvature[~sound] = -np.inf, 0.0, 0.0
        unused = np.flatnonzero(~self.active)
        curvature.reshape(-1, p)[unused, unused % p] = -1.0
        return Values(loglik, slope, curvature)

    def loglik(self, at: Floats) -> Floats:
        """Log partial likelihood of every stratum held, without slope and curvature."""
        risk, height = self._lives_at(at)
        return self._loglik(self._at_steps(risk), height)

    def _loglik(self, zeroth: Floats, height: Floats) -> Floats:
        """Relative hazard of those that failed, against that of all at risk."""
        failed = np.flatnonzero(self.died >= 0)
        gained = weighed(self.stratum[failed], self.weight[failed] * height[failed], self.n_strata)
        return gained - weighed(self.owner, self.copies * np.log(zeroth), self.n_strata)

    def residuals(self, at: Floats, n_lives: int) -> Floats:
        """Score residuals of all n_lives, weights counted, shape (n_lives, p); 0 for lives never at risk.

        What a life adds to the slope, less what it is expected to by its share in each risk set. Among tied failures
        each is taken as gone for the same share of the steps (Efron). Source: Lin & Wei 1989, J. Am. Stat. Assoc.
        84:1074-1078; Therneau & Grambsch 2000, section 7.2.
        """
        risk, _ = self._lives_at(at)
        zeroth, mean = self._step_means(risk)
        rate = (self.copies / zeroth)[:, None]
        over = self._passed(np.concatenate([rate, rate * mean], axis=1))
        each = -risk[:, None] * (self.x * over[:, :1] - over[:, 1:])
        average = self._per_mileage(self.copies[:, None] * mean) / self.deaths[:, None]
        failed = np.flatnonzero(self.died >= 0)
        each[failed] += self.weight[failed, None] * (self.x[failed] - average[self.died[failed]])
        found = np.zeros((n_lives, at.shape[1]))
        found[self.life] = each
        return found

    def only(self, rows: Codes) -> PartialLikelihood:
        """The same for the asked strata alone, renumbered in their order (which must rise)."""
        if rows.size == self.n_strata:
            return self
        place = np.full(self.n_strata, -1, np.int64)
        place[rows] = np.arange(rows.size)
        size = np.diff(self.start)
        start = np.append(0, np.cumsum(size[rows])).astype(np.int64)
        mileage_stratum = np.repeat(np.arange(self.n_strata), size)
        moved = start[place] - self.start[:-1]  # by how much the numbers of a stratum's failure mileages fall
        lives_kept = np.flatnonzero(place[self.stratum] >= 0)
        steps_kept = np.flatnonzero(place[mileage_stratum[self.of]] >= 0)
        by = moved[self.stratum[lives_kept]]
        died = self.died[lives_kept]
        return replace(
            self,
            x=self.x[lives_kept],
            active=self.active[rows],
            life=self.life[lives_kept],
            stratum=place[self.stratum[lives_kept]],
            weight=self.weight[lives_kept],
            first=self.first[lives_kept] + by,
            last=self.last[lives_kept] + by,
            died=np.where(died >= 0, died + by, -1),
            start=start,
            deaths=self.deaths[place[mileage_stratum] >= 0],
            of=self.of[steps_kept] + moved[mileage_stratum[self.of[steps_kept]]],
            share=self.share[steps_kept],
            copies=self.copies[steps_kept],
        )

    def _lives_at(self, at: Floats) -> tuple[Floats, Floats]:
        """Weighted relative hazard of each life, and its logarithm without weight, less the highest of its stratum."""
        height = np.einsum("nj,nj->n", self.x, at[self.stratum])
        top = np.full(at.shape[0], -np.inf)
        np.maximum.at(top, self.stratum, height)
        height -= top[self.stratum]
        return self.weight * np.exp(height), height

    def _step_means(self, risk: Floats) -> tuple[Floats, Floats]:
        """Sum of risk over those at risk at each step, and their mean of x weighed by it."""
        zeroth = self._at_steps(risk)
        return zeroth, np.stack([self._at_steps(risk * column) for column in self.x.T], axis=1) / zeroth[:, None]

    def _at_steps(self, values: Floats) -> Floats:
        """Sum of values over those at risk at each step, the share of the failing that is gone taken off."""
        n = self.deaths.size
        late = np.flatnonzero(self.first > self.start[self.stratum])
        change = weighed(self.last - 1, values, n) - weighed(self.first[late] - 1, values[late], n)
        # From the last mileage back, so that few lives at risk are not what is left of many.
        segment = np.repeat(n - self.start[1:], np.diff(self.start))[::-1]
        at_risk = running(change[::-1], segment, np.add)[::-1]
        failed = np.flatnonzero(self.died >= 0)
        failing = weighed(self.died[failed], values[failed], n)
        return at_risk[self.of] - self.share * failing[self.of]

    def _per_mileage(self, values: Floats) -> Floats:
        """Sums of the steps at each failure mileage."""
        return np.stack([weighed(self.of, column, self.deaths.size) for column in values.T], axis=1)

    def _passed(self, rate: Floats) -> Floats:
        """What each life has passed of `rate`, one row per step: a life that fails is spared its share of the last."""
        segment = np.repeat(self.start[:-1], np.diff(self.start))
        total = np.stack([running(column, segment, np.add) for column in self._per_mileage(rate).T], axis=1)
        late = np.flatnonzero(self.first > self.start[self.stratum])
        failed = np.flatnonzero(self.died >= 0)
        passed = total[self.last - 1]
        passed[late] -= total[self.first[late] - 1]
        passed[failed] -= self._per_mileage(self.share[:, None] * rate)[self.died[failed]]
        return passed


def partial_likelihood(data: Lives, columns: Columns, *, efron: bool) -> PartialLikelihood:
    """Prepared partial likelihood; a failure known only to an interval is taken at exit_, the mileage found."""
    marks = np.unique(np.concatenate([data.entry, data.exit_]))
    stride = marks.size + 1
    base = data.stratum * stride
    key_in, key_out = base + np.searchsorted(marks, data.entry), base + np.searchsorted(marks, data.exit_)
    has_failed = data.event & (data.weight > 0)
    keys = np.unique(key_out[has_failed])
    first, last = np.searchsorted(keys, key_in, side="right"), np.searchsorted(keys, key_out, side="right")
    life = np.flatnonzero((last > first) & (data.weight > 0))
    died = np.where(has_failed[life], last[life] - 1, -1)
    deaths = weighed(died[died >= 0], data.weight[life][died >= 0], keys.size)
    repeats = np.rint(deaths).astype(np.int64) if efron else np.ones(keys.size, np.int64)
    of = np.repeat(np.arange(keys.size), repeats)
    place = np.arange(of.size) - np.repeat(np.cumsum(repeats) - repeats, repeats)
    return PartialLikelihood(
        x=columns.standardised(life, data.stratum[life]),
        active=columns.active,
        life=life,
        stratum=data.stratum[life],
        weight=data.weight[life],
        first=first[life],
        last=last[life],
        died=died,
        start=np.searchsorted(keys, np.arange(data.n_strata + 1) * stride),
        deaths=deaths,
        of=of,
        share=place / deaths[of] if efron else np.zeros(of.size),
        copies=np.ones(of.size) if efron else deaths,
    )
