"""Gray's test: do groups differ in the share that one cause ends, other causes competing? Many comparisons at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.comparison_rows import (
    ComparisonRows,
    GroupTest,
    chi_square_test,
    comparison_rows,
)
from longmile.pipelines.estimators.incidence_influence import running_columns
from longmile.pipelines.estimators.life_codes import causes_of, groups_of
from longmile.pipelines.estimators.lives import Codes, Floats, Lives, SharedExposure
from longmile.pipelines.estimators.nonparametric import running

_ROUNDING = 1e-9  # what is left of a share below this is rounding


def gray_test(
    data: Lives,
    cause: npt.ArrayLike,
    group: npt.ArrayLike,
    of_cause: int = 1,
    block: npt.ArrayLike | None = None,
    n_groups: int | None = None,
    shared: SharedExposure | None = None,
    start: npt.ArrayLike | None = None,
) -> GroupTest:
    """Test of equal cumulative incidence of one cause in the groups of every comparison, weight rho = 0.

    data, group, block, shared, start: as in `log_rank`.   cause: as in `cumulative_incidence`; all but of_cause
    compete with it.   observed, expected: failures of that cause; expected is by the weighed numbers at risk below.

    In group g at t, Y lives are at risk, S is survival from all causes and F the incidence of the cause, both just
    before t. The risk set of the test weighs Y (1 - F) / S: those at risk, and those that another cause ended,
    as far as they would still be watched. With late entry this is Geskus's weighted risk set: each life that another
    cause ended at s stays with weight G(t) H(t) / (G(s) H(s)), G the share not yet censored and H the share already
    entered, both by the product limit; these weights add up to the same Y (1 - F) / S. So Y counts late entry, the
    test needs only that entry is independent of what happens later, and the variance, which comes from the
    martingales of lives at risk, holds as it is. Once nobody of a group is at risk the group is no longer compared.
    Where S of a group has fallen to 0 (a lone early entrant failed) its later failures have no weight: they are left
    out, counted in `left_out`, and the status is `thin`; so are failures after the pooled incidence has reached 1.
    A `start` beyond the thin early risk sets avoids the first.

    The variance is Gray's: lives under the pooled incidence that the hypothesis of no difference allows, with (n - d) /
    (n - 1) for d failures tied at one mileage. It differs from the hypergeometric one of the log-rank test, whose
    score this one has where nothing competes.
    Raises LivesError on codes that do not fit the lives, or as `log_rank` does.
    Source: Gray 1988, Ann. Stat. 16:1141-1154; late entry: Geskus 2011, Biometrics 67:39-49.
    """
    code, _ = causes_of(data, cause)
    if of_cause < 1:
        raise LivesError(f"Gray's test: cause {of_cause} was asked for. Expected 1 or more.")
    groups = groups_of(data, group, block, n_groups)
    mine = code == of_cause
    rows = comparison_rows(data, groups, (mine, (code > 0) & ~mine), shared, start)
    table = _table(rows)
    struck = table.own.sum(axis=1)
    at_risk = table.per_survivor * (1 - table.incidence)
    share = at_risk / _or_one(at_risk.sum(axis=1))[:, None]
    variance = np.zeros((data.n_strata, share.shape[1], share.shape[1]))
    for g in range(share.shape[1]):
        _add_group(variance, rows, table, g)
    left_out = rows.total(rows.events[0] - table.own).sum(axis=1)
    return chi_square_test(rows, rows.total(table.own), rows.total(struck[:, None] * share), variance, left_out)


@dataclass(frozen=True)
class _Table:
    """Per row and group what the test sums: shape (rows, n_groups) unless said otherwise.

    before, after: survival from all causes around t.   per_survivor: at risk over `before`, 0 where that is 0.
    incidence: of the cause, just before t.   own, other: events counted.   step: rise of the pooled incidence,
    shape (rows,).   none_before, none_after: one minus the pooled incidence around t, shape (rows,).
    """

    before: Floats
    after: Floats
    per_survivor: Floats
    incidence: Floats
    own: Floats
    other: Floats
    step: Floats
    none_before: Floats
    none_after: Floats


def _table(rows: ComparisonRows) -> _Table:
    own, other = rows.events
    left = rows.at_risk - own - other
    left = np.where(left > _ROUNDING * rows.at_risk, left, 0.0)
    ratio = np.where(rows.at_risk > 0, left / _or_one(rows.at_risk), 1.0)
    after = np.stack([running(column, rows.first, np.multiply) for column in ratio.T], axis=1)
    before = _just_before(after, rows.first, 1.0)
    alive = before > 0
    own, other = own * alive, other * alive
    incidence = running_columns(before * own / _or_one(rows.at_risk), rows.first)
    per_survivor = np.where(alive, rows.at_risk / np.where(alive, before, 1.0), 0.0)
    step, none_before, none_after = _pooled(own, per_survivor, rows.first)
    own, step = own * (none_before > 0)[:, None], step * (none_before > 0)
    return _Table(
        before=before,
        after=after,
        per_survivor=per_survivor,
        incidence=_just_before(incidence, rows.first, 0.0),
        own=own,
        other=other,
        step=step,
        none_before=_or_one(none_before),
        none_after=none_after,
    )


def _pooled(own: Floats, per_survivor: Floats, first: Codes) -> tuple[Floats, Floats, Floats]:
    """Rise of the pooled incidence at each row, and one minus it just before and after; never below 0.

    Of groups far apart it may pass 1; the test then ends there.
    """
    step = own.sum(axis=1) / _or_one(per_survivor.sum(axis=1))
    pooled = running_columns(step[:, None], first)
    before, after = 1 - _just_before(pooled, first, 0.0)[:, 0], 1 - pooled[:, 0]
    return step, np.where(before > _ROUNDING, before, 0.0), np.where(after > _ROUNDING, after, 0.0)


def _add_group(variance: Floats, rows: ComparisonRows, table: _Table, g: int) -> None:
    """Adds the variance that the failures of group g bring.

    A failure in g at u moves score i at once, and all later scores of i through the survival and incidence of g. With
    w = Y / S of g and of all groups W, pull(i) = w ([i = g] - w_i / W): what a rise of the incidence of g moves i by;
    later(i) = sum of pull x rise of the pooled incidence F / (1 - F) over later mileages.
    """
    w, total = table.per_survivor, _or_one(table.per_survivor.sum(axis=1))
    pull = -w * (w[:, g] / total)[:, None]
    pull[:, g] = w[:, g] * np.delete(w, g, axis=1).sum(axis=1) / total
    later = _total_after(pull * (table.step / table.none_before)[:, None], rows.first)
    at_risk, before, after = _or_one(rows.at_risk[:, g]), table.before[:, g], table.after[:, g]
    bend = np.where(after > 0, table.none_after / _or_one(after), 0.0)
    some = rows.at_risk[:, g] > 0
    own = np.where(some, before * table.step / at_risk, 0.0) * _untied(table.own.sum(axis=1), before * total)
    variance += rows.products(pull + (1 - bend)[:, None] * later, own)
    other = before**2 * table.other[:, g] / at_risk**2 * _untied(table.other[:, g], rows.at_risk[:, g])
    variance += rows.products(bend[:, None] * later, other)


def _untied(failed: Floats, watched: Floats) -> Floats:
    """(n - d) / (n - 1) where several fail at once, else 1."""
    tied = failed > 1
    return np.where(tied, np.maximum(watched - failed, 0.0) / np.where(tied & (watched > 1), watched - 1, 1.0), 1.0)


def _total_after(values: Floats, first: Codes) -> Floats:
    """Sum of each column over the later rows of the same segment."""
    n = values.shape[0]
    # Seen from the end, a segment begins where the next one would end.
    last = n - np.searchsorted(first, first, side="right")
    return running_columns(values[::-1], last[::-1])[::-1] - values


def _just_before(values: Floats, first: Codes, at_first: float) -> Floats:
    """Values of the row before, in the same segment; at_first in its first row."""
    shifted = np.concatenate([np.full((1, values.shape[1]), at_first), values])[: values.shape[0]]
    shifted[first] = at_first
    return shifted


def _or_one(values: Floats) -> Floats:
    """Values, 1 where they are 0: to divide by where the quotient is not used."""
    return np.where(values > 0, values, 1.0)
