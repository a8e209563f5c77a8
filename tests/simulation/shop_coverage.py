"""How often 95 % limits hold the truth over many simulated shops, as rows and as Markdown tables."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np
from coverage_methods import MILES, Answer, Methods, Shops
from shop_generator import Design, ShopLives, simulate_shops, true_rate

from longmile.pipelines.estimators.lives import Lives, lives


@dataclass(frozen=True)
class Row:
    """One method on one case. Shares are of shops, 0 to 1.

    covered: of those with status `ok` (limits that could not be found count as misses); covered_any: of all that have
    limits.   low, high: `ok` ones whose limits lie wholly below or above the truth.   median_error, mean_error: of the
    estimate, relative to the truth.   width: median of upper over lower limit.
    """

    case: str
    quantity: str
    method: str
    truth: float
    n_ok: int
    covered: float
    low: float
    high: float
    covered_any: float
    median_error: float
    mean_error: float
    width: float
    statuses: str


def band(n: int) -> float:
    """Half the band in which 95 of 100 true coverages of 95 % are seen from n shops (binomial, normal limits)."""
    return float(1.96 * np.sqrt(0.95 * 0.05 / n))


def as_lives(made: ShopLives, n_shops: int) -> Lives:
    return lives(made.entry, made.exit_, made.event, made.shop, left=made.left, n_strata=n_shops, cluster=made.cluster)


def truth_of(quantity: str, design: Design, seed: int, fleet: int) -> float:
    """True value; the rate's is that of a huge fleet of so many vehicles, the others' follow from the design."""
    if quantity == "rate":
        return true_rate(design, seed, fleet)
    by_design = {
        "shape": design.shape,
        "mean": design.mean_life,
        "B10": design.b10,
        "S(100k)": design.survival(MILES),
    }
    return by_design[quantity]


def measure(case: str, design: Design, n_shops: int, seed: int, methods: Methods, fleet: int = 600_000) -> list[Row]:
    """Rows of one case: every method on the same shops, all shops in one call."""
    made = simulate_shops(design, n_shops, seed)
    shops = Shops(as_lives(made, n_shops), made.known_age)
    truth = {name: truth_of(name, design, seed + 1, fleet) for name in {name for name, _ in methods}}
    return [summed(case, key, method(shops), truth[key[0]]) for key, method in methods.items()]


def summed(case: str, key: tuple[str, str], answer: Answer, truth: float) -> Row:
    ok = answer.status == "ok"
    given = ~(np.isnan(answer.lower) | np.isnan(answer.upper))
    low, high = given & (answer.upper < truth), given & (answer.lower > truth)
    hit = given & ~low & ~high
    error = answer.estimate[ok] / truth - 1
    with np.errstate(divide="ignore", over="ignore"):
        ratio = answer.upper[ok & given] / answer.lower[ok & given]
    counts = Counter(answer.status.tolist())
    return Row(
        case=case,
        quantity=key[0],
        method=key[1],
        truth=truth,
        n_ok=int(ok.sum()),
        covered=_mean(hit[ok]),
        low=_mean(low[ok]),
        high=_mean(high[ok]),
        covered_any=_mean(hit[given]),
        median_error=_median(error),
        mean_error=_mean(error),
        width=_median(ratio),
        statuses=", ".join(f"{name} {count}" for name, count in counts.most_common()),
    )


def _mean(values: np.ndarray) -> float:
    return float(values.mean()) if values.size else np.nan


def _median(values: np.ndarray) -> float:
    return float(np.median(values)) if values.size else np.nan


def columns(methods: Methods) -> list[tuple[str, str]]:
    """Methods in the order of what they estimate."""
    order = list(dict.fromkeys(name for name, _ in methods))
    return sorted(methods, key=lambda key: order.index(key[0]))


def header(methods: Methods) -> str:
    names = ["case", *(f"{name}: {how}" for name, how in columns(methods))]
    return "| " + " | ".join(names) + " |\n|---" + "|---:" * (len(names) - 1) + "|"


def line(rows: list[Row], methods: Methods, n_shops: int) -> str:
    """One case: coverage, its median error where that is above 2 %, and how many shops were `ok` where not all."""
    by_key = {(row.quantity, row.method): row for row in rows}
    cells = [_cell(by_key[key], n_shops) for key in columns(methods)]
    return "| " + " | ".join([rows[0].case, *cells]) + " |"


def _cell(row: Row, n_shops: int) -> str:
    if not row.n_ok:
        return "no `ok`"
    edge = 0.02 + max(band(row.n_ok) - band(n_shops), 0.0)
    shown = f"{100 * row.covered:.1f}" + ("" if abs(row.covered - 0.95) <= edge + 1e-9 else "\\*")
    if abs(row.median_error) > 0.02 and row.truth > 1e-3:
        shown += f" ({100 * row.median_error:+.0f})"
    return shown if row.n_ok == n_shops else f"{shown} of {row.n_ok}"


DETAIL_HEADER = (
    "| case | quantity | method | truth | covered, `ok` | too low | too high | covered, any status | median error "
    "| mean error | width | statuses |\n|---|---|---|---:|---:|---:|---:|---:|---:|---:|---:|---|"
)


def detail_line(row: Row) -> str:
    truth = f"{row.truth:.3g}" if row.truth < 10 else f"{row.truth:,.0f}"
    shares = f"{row.covered:.1%} | {row.low:.1%} | {row.high:.1%} | {row.covered_any:.1%}"
    errors = f"{row.median_error:+.1%} | {row.mean_error:+.1%}"
    name = f"{row.case} | {row.quantity} | {row.method}"
    return f"| {name} | {truth} | {shares} | {errors} | {row.width:.3g} | {row.statuses} |"
