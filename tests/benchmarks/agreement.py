"""How far the numbers of two programs are apart, so that a fast wrong answer shows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
from peers import Fitted, Points
from scipy import stats
from simulated import Stratum

from longmile.pipelines.estimators.fit_search import Fits
from longmile.pipelines.estimators.nonparametric import SurvivalCurves

SHORT = 1e-4  # log-likelihood units below another's maximum that count as short of it


def of_fits(fits: Fits, others: Sequence[Fitted | None], strata: Sequence[Stratum]) -> str:
    """Largest relative differences where both have a fit, who is short of the maximum, and who has a fit alone."""
    both = [s for s, other in enumerate(others) if other is not None and fits.ok[s]]
    if not both:
        return "no stratum with both fits"
    alone = Counter(str(fits.status[s]) for s, other in enumerate(others) if other is not None and not fits.ok[s])
    ours = np.array([[fits.shape[s], fits.scale[s], fits.se_log_shape[s]] for s in both])
    theirs = np.array([others[s] for s in both], dtype=float)
    apart = np.abs(theirs / ours - 1)
    gap = np.array([_ahead(fits, s, row, strata[s]) for s, row in zip(both, theirs, strict=True)])
    largest = ", ".join(
        f"{name} {np.nanmax(column):.1e}"
        for name, column in zip(("shape", "scale", "se(log shape)"), apart.T, strict=True)
    )
    short = f"short of the maximum: peer {int((gap > SHORT).sum())}, longmile {int((gap < -SHORT).sum())}"
    text = f"{len(both)} strata, largest difference {largest}; {short}"
    if np.isnan(theirs).any():
        text += f"; numbers missing in {int(np.isnan(theirs).any(axis=1).sum())}"
    if alone:
        why = ", ".join(f"{status} {n}" for status, n in sorted(alone.items()))
        text += f"\n    {alone.total()} fitted where longmile has no fit ({why})"
    return text


def of_curves(curves: SurvivalCurves, others: Sequence[Points | None]) -> str:
    """Largest absolute difference in survival and its limits, and relative in cumulative hazard, at every failure."""
    found: dict[str, list[np.ndarray]] = {}
    for s, other in enumerate(others):
        rows = slice(curves.start[s], curves.start[s + 1])
        t = curves.t[rows]
        if other is None or not t.size:
            continue
        # Programs that sum mileages round them: the place is that of the nearest at or below.
        at = np.searchsorted(other.t, t * (1 + 1e-12), side="right") - 1
        ours, theirs = curves.survival[rows], other.survival[at]
        limited = ~np.isnan(curves.lower[rows])
        found.setdefault("survival", []).append(np.abs(ours - theirs))
        found.setdefault("limits", []).append(np.abs(curves.lower[rows] - other.lower[at])[limited])
        found["limits"].append(np.abs(curves.upper[rows] - other.upper[at])[limited])
        if other.cumulative_hazard is not None:
            found.setdefault("cumulative hazard", []).append(
                np.abs(other.cumulative_hazard[at] / curves.cumulative_hazard[rows] - 1)
            )
    if not found:
        return "no stratum with both curves"
    joined = {name: np.concatenate(parts) for name, parts in found.items()}
    largest = ", ".join(f"{name} {values.max():.1e}" for name, values in joined.items())
    return f"{joined['survival'].size} failure mileages, largest difference {largest}"


def _ahead(fits: Fits, s: int, other: np.ndarray, stratum: Stratum) -> float:
    """Log-likelihood of longmile's numbers less that of the other's, by SciPy's own formulas."""
    name = fits.distribution.name
    return log_likelihood(name, fits.shape[s], fits.scale[s], stratum) - log_likelihood(name, *other[:2], stratum)


def log_likelihood(name: str, shape: float, scale: float, stratum: Stratum) -> float:
    """Sum of log density at failures, log survival at other ends, less log survival at entry."""
    law = {
        "weibull": lambda: stats.weibull_min(shape, scale=scale),
        "lognormal": lambda: stats.lognorm(1 / shape, scale=scale),
        "loglogistic": lambda: stats.fisk(shape, scale=scale),
    }[name]()
    ends = np.where(stratum.event, law.logpdf(stratum.exit_), law.logsf(stratum.exit_))
    return float((ends - law.logsf(stratum.entry)).sum())
