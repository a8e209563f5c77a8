"""Codes that come beside lives: what ended each, which group and block it is of. Checks them, sums nothing."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.lives import Codes, Flags, Lives


def causes_of(data: Lives, cause: npt.ArrayLike, n_causes: int | None = None) -> tuple[Codes, int]:
    """Cause of each life, 0 for one that ended sound or weighs nothing, and the number of causes (at least 1).

    Raises LivesError on codes that are not whole numbers 0..n_causes, one per life; on an event without a cause; on
    a cause of a life that weighs less than nothing.
    """
    code = _whole(data, cause, "cause")
    n = max(int(code.max(initial=1)), 1) if n_causes is None else n_causes
    _refuse((code < 0) | (code > n), code, "causes", f"0 for a life that ended sound, else 1..{n}")
    _refuse(data.event & (code == 0), code, "causes", "a cause of every life that is an event")
    _refuse((code > 0) & (data.weight < 0), code, "causes", "none of lives that weigh less than nothing")
    return np.where(data.weight > 0, code, 0), n


def groups_of(
    data: Lives, group: npt.ArrayLike, block: npt.ArrayLike | None, n_groups: int | None
) -> tuple[Codes, Codes, int]:
    """Group and block (0 where none is given) of each life, and the number of groups (at least 2).

    Raises LivesError on codes that are not whole numbers from 0, one per life, groups below n_groups.
    """
    code = _whole(data, group, "group")
    n = max(int(code.max(initial=1)) + 1, 2) if n_groups is None else n_groups
    _refuse((code < 0) | (code >= n), code, "groups", f"0..{n - 1}")
    sheet = np.zeros(code.size, np.int64) if block is None else _whole(data, block, "block")
    _refuse(sheet < 0, sheet, "blocks", "0 or more")
    return code, sheet, n


def _whole(data: Lives, values: npt.ArrayLike, name: str) -> Codes:
    given = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if given.shape != data.entry.shape:
        raise LivesError(f"{name}s: {given.size:,} codes for {data.entry.size:,} lives. Expected one per life.")
    wrong = ~np.isfinite(given)
    wrong |= given != np.floor(np.where(wrong, 0.0, given))
    _refuse(wrong, given, f"{name}s", "whole numbers")
    return given.astype(np.int64)


def _refuse(wrong: Flags, code: npt.NDArray[np.generic], name: str, expected: str) -> None:
    if wrong.any():
        at = int(np.argmax(wrong))
        raise LivesError(
            f"{name}: {int(wrong.sum()):,} of {wrong.size:,} codes cannot be (first: number {at + 1}, {code[at]}). "
            f"Expected {expected}."
        )
