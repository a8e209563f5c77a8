"""The log-likelihood of a Weibull accelerated-life regression, every stratum, with slope and curvature.

Inside, the hazard of a life is H(t) = exp(k x + c), as in `weibull_likelihood`: k = exp(b) the shape, x = log(t /
reference mileage of the stratum), and c = g_0 + sum of g_j x standardised covariate j. Coordinates are (g_0, g_1,
..., g_p, b). Sums, no search.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from longmile.pipelines.estimators.lives import Codes, Flags, Floats, Lives, weighed
from longmile.pipelines.estimators.regression_columns import Columns
from longmile.pipelines.estimators.regression_search import Values
from longmile.pipelines.estimators.row_blocks import RowBlocks, add_by_owner, row_blocks
from longmile.pipelines.estimators.stretch import log_width, stretch
from longmile.pipelines.estimators.weibull_likelihood import chance_within, log_reference


@dataclass(frozen=True)
class _Part:
    """Stretches of miles in blocks, one per life that has one: survived, or in which a failure lies.

    far: log of the far end / reference.   width: log(far / near).
    """

    blocks: RowBlocks
    far: Floats
    width: Floats
    is_interval: bool

    def terms(self, row: Codes, c: Floats, b: Floats) -> tuple[Floats, ...]:
        """Log-likelihood of one copy of each row, its slopes in c and b, its curvatures in cc, cb, bb."""
        k = np.exp(b)
        over = stretch(k, c, self.far[row], self.width[row])
        if self.is_interval:
            return chance_within(over)
        return -over.h, -over.h, -over.h_b, -over.h, -over.h_b, -over.h_bb


@dataclass(frozen=True)
class RegressionLikelihood:
    """Lives of all strata, prepared; made by `regression_likelihood()`.

    exact: weight of each life whose failure is exactly known, else 0.   n_exact, sum_x, sum_log_t: sums over those;
    sum_columns: of 1 and the standardised covariates, shape (n_strata, p + 1).
    """

    data: Lives
    columns: Columns
    log_ref: Floats
    failures: Floats
    exact: Floats
    sum_columns: Floats
    sum_x: Floats
    sum_log_t: Floats
    parts: tuple[_Part, ...]

    @property
    def m(self) -> int:
        """Number of coordinates."""
        return self.columns.p + 2

    def evaluate(self, rows: Codes, at: Floats) -> Values:
        """Log-likelihood given survival to entry, including -log t; -inf where it cannot be computed."""
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            values = self._of_exact(rows, at)
            for part in self.parts:
                for owner, block in part.blocks.chunks(rows):
                    self._add(values, part, block, owner, rows[owner], at[owner])
            curvature = values.curvature
            curvature[:, -1, :] = curvature[:, :, -1]
            sound = np.isfinite(values.loglik + values.slope.sum(axis=1) + curvature.sum(axis=(1, 2)))
        values.loglik[~sound] = -np.inf
        values.slope[~sound], curvature[~sound] = 0.0, 0.0
        unused = np.flatnonzero(~np.pad(self.columns.active[rows], ((0, 0), (1, 1)), constant_values=True))
        curvature.reshape(-1, self.m)[unused, unused % self.m] = -1.0
        return values

    def scores(self, at: Floats) -> Floats:
        """Slope of each life's own log-likelihood, weights counted, shape (lives, m); at: a row per stratum."""
        found = np.zeros((self.data.entry.size, self.m))
        k = np.exp(at[:, -1])[self.data.stratum]
        x = np.log(self.data.exit_) - self.log_ref[self.data.stratum]
        found[:, 0], found[:, -1] = self.exact, self.exact * (1 + k * x)
        with np.errstate(over="ignore", invalid="ignore"):
            for part in self.parts:
                kept = part.blocks.row[part.blocks.is_row]
                c = self._height(kept, at)
                _, slope_c, slope_b, *_ = part.terms(kept, c, at[self.data.stratum[kept], -1])
                found[kept, 0] += self.data.weight[kept] * slope_c
                found[kept, -1] += self.data.weight[kept] * slope_b
        every = np.arange(self.data.entry.size)
        found[:, 1:-1] = found[:, :1] * self.columns.standardised(every, self.data.stratum)
        return found

    def _height(self, row: Codes, at: Floats) -> Floats:
        """The height c of each life's log hazard."""
        stratum = self.data.stratum[row]
        columns = self.columns.standardised(row, stratum)
        height: Floats = at[stratum, 0] + np.einsum("nj,nj->n", columns, at[stratum, 1:-1])
        return height

    def _of_exact(self, rows: Codes, at: Floats) -> Values:
        """The part of the failures exactly known: log hazard summed, linear but for k."""
        b, k = at[:, -1], np.exp(at[:, -1])
        columns, kx = self.sum_columns[rows], k * self.sum_x[rows]
        loglik = columns[:, 0] * b + (columns * at[:, :-1]).sum(axis=1) + kx - self.sum_log_t[rows]
        curvature = np.zeros((rows.size, self.m, self.m))
        curvature[:, -1, -1] = kx
        return Values(loglik, np.concatenate([columns, (columns[:, 0] + kx)[:, None]], axis=1), curvature)

    def _add(self, values: Values, part: _Part, block: Codes, owner: Codes, stratum: Codes, at: Floats) -> None:
        """Adds what the rows of some blocks contribute."""
        row = part.blocks.row[block]
        columns = np.ones((*row.shape, self.m - 1))
        columns[..., 1:] = self.columns.standardised(row, np.broadcast_to(stratum[:, None], row.shape))
        c = np.matmul(columns, at[:, :-1, None])[..., 0]
        weight = np.where(part.blocks.is_row[block], self.data.weight[row], 0.0)
        value, s_c, s_b, h_cc, h_cb, h_bb = (weight * term for term in part.terms(row, c, at[:, -1:]))
        along = np.stack([s_c, h_cb], axis=1) @ columns
        slope = np.concatenate([along[:, 0], s_b.sum(axis=1)[:, None]], axis=1)
        curvature = np.empty((block.size, self.m, self.m))
        curvature[:, :-1, :-1] = (columns * h_cc[..., None]).transpose(0, 2, 1) @ columns
        curvature[:, :-1, -1] = along[:, 1]
        curvature[:, -1, -1] = h_bb.sum(axis=1)
        curvature[:, -1, :-1] = 0.0
        add_by_owner(values.loglik, owner, value.sum(axis=1))
        add_by_owner(values.slope, owner, slope)
        add_by_owner(values.curvature, owner, curvature)


def regression_likelihood(data: Lives, columns: Columns) -> RegressionLikelihood:
    """Prepared likelihood; a stratum's reference is that of its fit without covariates."""
    failed = data.event & (data.weight > 0)
    within = failed & ~np.isnan(data.left)
    exact = np.where(failed & ~within, data.weight, 0.0)
    log_ref = log_reference(data)
    log_exit = np.log(data.exit_)
    survived_to = np.where(within, data.left, data.exit_)
    counted = (data.weight > 0) & (survived_to > data.entry)
    known = np.flatnonzero(exact > 0)
    stratum = data.stratum[known]
    weighted = columns.standardised(known, stratum) * exact[known, None]
    sums = [weighed(stratum, column, data.n_strata) for column in (exact[known], *weighted.T)]
    return RegressionLikelihood(
        data=data,
        columns=columns,
        log_ref=log_ref,
        failures=weighed(data.stratum, np.where(failed, data.weight, 0.0), data.n_strata),
        exact=exact,
        sum_columns=np.stack(sums, axis=1),
        sum_x=weighed(data.stratum, exact * (log_exit - log_ref[data.stratum]), data.n_strata),
        sum_log_t=weighed(data.stratum, exact * log_exit, data.n_strata),
        parts=(
            _part(data, counted, data.entry, survived_to, log_ref, is_interval=False),
            _part(data, within, data.left, data.exit_, log_ref, is_interval=True),
        ),
    )


def _part(data: Lives, which: Flags, near: Floats, far: Floats, log_ref: Floats, *, is_interval: bool) -> _Part:
    """Stretches of the lives in `which`; the others have none."""
    low, high = np.where(which, near, 0.0), np.where(which, far, 1.0)
    return _Part(
        blocks=row_blocks(data.stratum, data.n_strata, which),
        far=np.log(high) - log_ref[data.stratum],
        width=log_width(low, high),
        is_interval=is_interval,
    )
