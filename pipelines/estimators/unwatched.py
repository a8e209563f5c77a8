"""Miles over which no unit of a stratum was watched: what happened there is in no count."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from longmile.pipelines.estimators.lives import Miles
from longmile.pipelines.estimators.nonparametric import running
from longmile.pipelines.estimators.repair_history import RepairHistory


def unwatched_miles(history: RepairHistory, stratum: npt.ArrayLike, t: npt.ArrayLike) -> Miles:
    """Miles of (0, t] over which no unit was watched; stratum and t are broadcast against each other.

    A mean cumulative number up to t takes those miles for miles without repairs: it is a lower bound there.
    """
    cell, asked = np.broadcast_arrays(np.asarray(stratum, np.int64), np.asarray(t, np.float64))
    order = np.lexsort((history.start, history.group))
    group, start = history.group[order], history.start[order]
    if not start.size:
        return asked.copy()
    first = history.group_start[group]
    reach = running(history.end[order], first, np.maximum)
    before = np.where(np.arange(start.size) == first, 0.0, np.roll(reach, 1))
    gaps = running(np.maximum(start - before, 0.0), first, np.add)
    marks = np.unique(start)
    stride = marks.size + 1
    held = history.stratum_group[cell]
    keys = group * stride + np.searchsorted(marks, start)
    row = np.searchsorted(keys, held * stride + np.searchsorted(marks, asked)) - 1
    none = row < history.group_start[held]
    place = np.where(none, 0, row)
    return np.where(none, asked, gaps[place] + np.maximum(asked - reach[place], 0.0))
