"""The rule of the odometer readings worked out a second time, vehicle by vehicle, with lists and loops.

Held against the step `odometer_reading`; written from its rule in words. Miles are exact fractions, roots are not.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import floor, log, sqrt
from statistics import median
from typing import Any

KM = Fraction(1609344, 1000000)
KINDS = ["unit", "rollover", "digit_too_many", "digits_swapped", "digit_missing", "digit_wrong"]
WIDEST = dict(zip(KINDS, [1500, 1500, 300, 300, 300, 60], strict=True))


@dataclass(eq=False)
class Reading:
    """One reading; `miles` is what it is taken for while the rule goes on."""

    vehicle: str
    order: str
    which: str
    day: date
    written: Fraction
    unit: str
    fixed: bool = False
    used: bool = True
    fault: str = "none"
    treatment: str = "as_written"
    reason: str | None = None
    free: bool = True
    sure: bool = False
    factor: Fraction = Fraction(1)
    added: Fraction = Fraction(0)
    stretch: str = "none"
    slip: str = "none"
    before: tuple[date, Fraction] | None = None
    after: tuple[date, Fraction] | None = None

    def __post_init__(self) -> None:
        self.as_written = kept(self.written / self.per)
        self.miles = self.shown = self.as_written

    @property
    def per(self) -> Fraction:
        return KM if self.unit == "km" else Fraction(1)

    @property
    def turn(self) -> tuple[Any, ...]:
        return (self.day, self.shown, self.order, self.which)

    def row(self) -> dict[str, Any]:
        found = {"vehicle_id": self.vehicle, "repair_order_id": self.order, "which": self.which, "read_on": self.day}
        found |= {"odometer_written": self.written, "written_unit": self.unit, "written_miles": self.as_written}
        found |= {"odometer_miles": self.miles if self.used else self.shown, "is_used": self.used}
        found |= {"fault": self.fault, "treatment": self.treatment, "reason": self.reason}
        around = (None, None) if self.fault in ("none", "not_read") or self.fixed else (self.before, self.after)
        prior, later = (None if beside is None else beside[1] for beside in around)
        return found | {"prior_miles": prior, "next_miles": later}


def kept(miles: Fraction) -> Fraction:
    """To a millionth of a mile, halves up."""
    return Fraction(floor(miles * 10**6 + Fraction(1, 2)), 10**6)


def days(a: Reading, b: Reading) -> int:
    return (b.day - a.day).days


def legs(readings: list[Reading]) -> list[tuple[Reading, Reading]]:
    return [(a, b) for a, b in pairwise(readings) if days(a, b) >= 14]


def most(n: int, usual: Any) -> Any:
    """The most miles from one reading to another n days later."""
    wide = 1000 + 500 * n
    return wide if usual is None else min(wide, 5000 + max(150, 5 * usual) * n)


def agree(a: Reading, b: Reading, usual: Any) -> bool:
    """a comes first."""
    gap = b.miles - a.miles
    return 0 <= gap <= most(days(a, b), usual) and not (a.order == b.order and a.which == "out" and gap > 0)


def settle(readings: list[Reading]) -> None:
    """All readings of one vehicle, those below the arrival left out already."""
    leave_out_unread(readings)
    seen = sorted((r for r in readings if r.used), key=lambda r: r.turn)
    paces = [
        (b.miles - a.miles) / days(a, b) for a, b in legs(seen) if 0 <= b.miles - a.miles <= 1000 + 500 * days(a, b)
    ]
    usual = median(paces) if len(paces) >= 5 else None
    if all(agree(a, b, usual) for a, b in pairwise(seen)):
        return
    for r in seen:
        r.free = not r.fixed
    for _ in range(3):
        sure = sure_ones(seen, usual)
        if all(r in sure or not opened(r, seen, usual) for r in seen):
            break
        if not (put_right(seen, usual) or part_clusters(seen, usual)):
            break
    sure = sure_ones(seen, usual)
    for r in seen:
        r.sure = r.fixed or r in sure
    believe_those_that_fit(seen, usual)
    correct(seen, usual)
    name(seen, usual)


def leave_out_unread(readings: list[Reading]) -> None:
    first = min(r.day for r in readings)
    later = sorted((r.day, r.shown) for r in readings if r.shown > 0)
    for r in readings:
        if r.as_written == 0 and r.treatment == "as_written":
            far = bool(later) and later[0][1] > 1000 + 150 * (later[0][0] - r.day).days
            if r.day > first or far:
                r.used, r.fault, r.treatment, r.reason = False, "not_read", "left_out", "not_read"


def opened(r: Reading, seen: list[Reading], usual: Any) -> bool:
    at, fixed = seen.index(r), [(i, f) for i, f in enumerate(seen) if f.fixed]
    return r.free and all(agree(f, r, usual) if i < at else agree(r, f, usual) for i, f in fixed)


def chains(seen: list[Reading], usual: Any) -> tuple[int, dict[Reading, int], dict[Reading, int], set[Reading]]:
    """Visits in a longest chain; of the longest that ends, begins with a reading; the readings on a longest one."""
    ready = [r for r in seen if opened(r, seen, usual)]

    def longest(turned: list[Reading], is_forward: bool) -> dict[Reading, tuple[int, int]]:
        found: dict[Reading, tuple[int, int]] = {}
        for r in turned:
            ways = [(1, 0)]
            for q, (visits, seconds) in found.items():
                if agree(q, r, usual) if is_forward else agree(r, q, usual):
                    ways.append((visits, seconds + 1) if q.order == r.order else (visits + 1, seconds))
            found[r] = max(ways)
        return found

    before, after = longest(ready, True), longest(ready[::-1], False)
    visits = max((v for v, _ in before.values()), default=0)
    on = {r for r in ready if before[r][0] + after[r][0] - 1 == visits}
    return visits, {r: v for r, (v, _) in before.items()}, {r: v for r, (v, _) in after.items()}, on


def sure_ones(seen: list[Reading], usual: Any) -> set[Reading]:
    _, before, _, on = chains(seen, usual)
    found = set()
    for r in on:
        rivals = [q for q in seen if q in on and before[q] == before[r]]
        if {q.order for q in rivals} == {r.order} and all(agree(a, b, usual) for a, b in pairwise(rivals)):
            found.add(r)
    return found


def moved(readings: list[Reading], factor: Fraction, added: int) -> dict[Reading, Fraction]:
    return {r: kept(r.miles * factor + added / r.per) for r in readings if r.free}


def put_right(seen: list[Reading], usual: Any) -> bool:
    """One whole stretch, where one explanation is the best."""
    breaks = [i for i in range(1, len(seen)) if not agree(seen[i - 1], seen[i], usual)]
    if len(breaks) > 12:
        return False
    tries: list[tuple[str, Fraction, int, int, int]] = []
    for i in breaks:
        for full in (100_000, 1_000_000):
            if full / 2 < seen[i - 1].written < full and seen[i].written < full / 2:
                tries.append(("rollover", Fraction(1), full, i, len(seen)))
    edges = [0, *breaks, len(seen)]
    for a in edges:
        for b in edges:
            if b - a >= 2 and 3 * (b - a) <= len(seen):
                tries += [("unit", factor, 0, a, b) for factor in (KM, 1 / KM)]
    ranked = [(gain, t) for t in tries if (gain := gained(seen, usual, t)) >= (2 if t[0] == "rollover" else 1)]
    best = [t for gain, t in ranked if gain == max(g for g, _ in ranked)]
    if not best or len({t[:3] for t in best}) > 1:
        return False
    fault, factor, added, a, b = min(best, key=lambda t: (t[4] - t[3], t[3]))
    for r, miles in moved(seen[a:b], factor, added).items():
        r.miles, r.stretch, r.factor, r.added = miles, fault, r.factor * factor, r.added * factor + added
    return True


def gained(seen: list[Reading], usual: Any, attempt: tuple[str, Fraction, int, int, int]) -> int:
    """Visits more on the longest chain; -1 where the miles a day do not fit."""
    fault, factor, added, a, b = attempt
    without = chains(seen, usual)[0]
    stretch = moved(seen[a:b], factor, added)
    now = {r: r.miles for r in stretch}
    for r in stretch:
        r.miles = stretch[r]
    gain = chains(seen, usual)[0] - without
    sure = sure_ones(seen, usual) | {r for r in seen if r.fixed}
    fits = leads_over([r for r in seen if r in sure], set(seen[a:b]), fault)
    for r in stretch:
        r.miles = now[r]
    return gain if fits else -1


def leads_over(sure: list[Reading], inside: set[Reading], fault: str) -> bool:
    edges = [(a, b) for a, b in pairwise(sure) if (a in inside) != (b in inside)]
    within = [(b.miles - a.miles) / days(a, b) for a, b in legs(sure) if a in inside and b in inside]
    without = [(b.miles - a.miles) / days(a, b) for a, b in legs(sure) if a not in inside and b not in inside]
    if len(within) + len(without) < 2 or not edges:
        return False
    pace = median(within + without)
    share = 1 if fault == "rollover" else Fraction(1, 2)
    if any(abs(b.miles - a.miles - pace * days(a, b)) > 1000 + share * pace * days(a, b) for a, b in edges):
        return False
    if fault == "rollover":
        return True
    if len(within) < 2 or len(without) < 2 or median(within) <= 0 or median(without) <= 0:
        return False
    return abs(log(median(within) / median(without))) <= log(KM) / 2


def part_clusters(seen: list[Reading], usual: Any) -> bool:
    """One side left out, where both agree within themselves."""
    visits, before, after, _ = chains(seen, usual)
    best, gain = 0, 2
    for i in range(1, len(seen)):
        early = max((before[r] for r in seen[:i] if r in before), default=0)
        late = max((after[r] for r in seen[i:] if r in after), default=0)
        if min(early, late) >= 2 and early + late - visits > gain:
            best, gain = i, early + late - visits
    if not best:
        return False
    lost = seen[:best] if watched(seen, seen[:best], usual) < watched(seen, seen[best:], usual) else seen[best:]
    for r in lost:
        if r.free:
            r.free, r.stretch = False, "cluster_replaced"
    return True


def watched(seen: list[Reading], side: list[Reading], usual: Any) -> tuple[Fraction, int]:
    others = [r for r in seen if r.free and r not in side]
    for r in others:
        r.free = False
    sure = sure_ones(seen, usual)
    for r in others:
        r.free = True
    miles = [r.miles for r in sure]
    return (max(miles) - min(miles), len(sure)) if miles else (Fraction(0), 0)


def neighbours(r: Reading, seen: list[Reading]) -> tuple[Any, Any]:
    """(day, miles) of the last sure day before and of the first after."""
    before = [(q.day, q.miles) for q in seen if q.sure and q.day < r.day]
    after = [(q.day, q.miles) for q in seen if q.sure and q.day > r.day]
    return max(before, default=None), min(after, default=None)


def band(r: Reading, seen: list[Reading]) -> tuple[float, float] | None:
    """The least and most miles that a doubted reading should be."""
    before, after = neighbours(r, seen)
    partner = [q for q in seen if q.sure and q.order == r.order]
    if partner:
        low = partner[0].miles - (0 if r.which == "out" else 50)
        high = partner[0].miles + (50 if r.which == "out" else 0)
    else:
        middle, half = where(r, seen, before, after)
        if middle is None:
            return None
        low, high = middle - max(half, 50), middle + max(half, 50)
    low = low if before is None else max(low, before[1])
    high = high if after is None else min(high, after[1])
    return float(low), float(high)


def where(r: Reading, seen: list[Reading], before: Any, after: Any) -> tuple[Any, Any]:
    by_day: dict[date, Fraction] = {}
    for q in seen:
        if q.sure:
            by_day[q.day] = max(by_day.get(q.day, Fraction(0)), q.miles)
    points = sorted(by_day.items())
    if before and after:
        off = []
        for (d0, m0), (d1, m1), (d2, m2) in zip(points, points[1:], points[2:], strict=False):
            u, v = (d1 - d0).days, (d2 - d1).days
            off.append(float(abs(m1 - m0 - (m2 - m0) * Fraction(u, u + v))) / sqrt(u * v / (u + v)))
        scatter = median(off) if len(off) >= 3 else 100
        u, v = (r.day - before[0]).days, (after[0] - r.day).days
        return before[1] + (after[1] - before[1]) * Fraction(u, u + v), 6 * scatter * sqrt(u * v / (u + v))
    long = [((d1 - d0).days, m1 - m0) for (d0, m0), (d1, m1) in pairwise(points) if (d1 - d0).days >= 14]
    if len(long) < 3 or not (before or after):
        return None, None
    pace = median(m / n for n, m in long)
    drift = median(float(abs(m - pace * n)) / sqrt(n) for n, m in long)
    n = (r.day - before[0]).days if before else (after[0] - r.day).days
    return (before[1] + pace * n if before else after[1] - pace * n), 6 * drift * sqrt(n)


def without_conflicts(seen: list[Reading], added: dict[Reading, Fraction], usual: Any) -> dict[Reading, Fraction]:
    """Of readings to be added at these miles, those that no neighbour contradicts."""
    now = {r: r.miles for r in added}
    added = dict(added)
    for r in now:
        r.miles = added[r]
    while True:
        used = sorted((r for r in seen if r.sure or r in added), key=lambda r: (r.day, r.miles))
        wrong = {r for a, b in pairwise(used) if not agree(a, b, usual) for r in (a, b) if r in added}
        if not wrong:
            break
        added = {r: miles for r, miles in added.items() if r not in wrong}
    for r, miles in now.items():
        r.miles = miles
    return added


def believe_those_that_fit(seen: list[Reading], usual: Any) -> None:
    fitting = {}
    for r in seen:
        around = band(r, seen)
        if not r.sure and opened(r, seen, usual) and around and around[0] <= float(r.miles) <= around[1]:
            fitting[r] = r.miles
    for r in without_conflicts(seen, fitting, usual):
        r.sure = True


def readings_of(number: Fraction) -> list[tuple[str, Fraction]]:
    """All that a number may stand for, with the slip that makes it so."""
    found = [("unit", number * KM), ("unit", number / KM)]
    found += [("rollover", number + full) for full in (100_000, 1_000_000)]
    if number.denominator != 1 or number < 1:
        return found
    text = str(number.numerator)
    slips = [("digit_too_many", text[:i] + text[i + 1 :]) for i in range(len(text)) if len(text) > 1]
    slips += [("digits_swapped", text[:i] + text[i + 1] + text[i] + text[i + 2 :]) for i in range(len(text) - 1)]
    slips += [("digit_missing", text[:i] + d + text[i:]) for i in range(len(text) + 1) for d in "0123456789"]
    slips += [("digit_wrong", text[:i] + d + text[i + 1 :]) for i in range(len(text)) for d in "0123456789"]
    return found + [(kind, Fraction(int(said))) for kind, said in slips if said[0] != "0"]


def correct(seen: list[Reading], usual: Any) -> None:
    corrected = {}
    for r in seen:
        r.before, r.after = neighbours(r, seen)
        around = band(r, seen)
        if r.sure or r.stretch == "cluster_replaced" or around is None:
            continue
        low, high = around
        fits = {
            (kind, miles)
            for kind, number in readings_of(r.written)
            if number != r.written and low <= float(miles := kept((number * r.factor + r.added) / r.per)) <= high
        }
        narrow = {(kind, miles) for kind, miles in fits if high - low <= WIDEST[kind]}
        if narrow and len({miles for _, miles in fits}) == 1:
            corrected[r] = next(iter(narrow))[1]
            r.slip = min((kind for kind, _ in narrow), key=KINDS.index)
        else:
            named = {kind for kind, _ in narrow}
            named |= {kind for kind, _ in fits if kind in ("unit", "digit_too_many", "digit_missing")}
            r.slip = named.pop() if len(named) == 1 else "none"
    for r, miles in without_conflicts(seen, corrected, usual).items():
        r.sure, r.miles, r.stretch = True, miles, r.slip


def name(seen: list[Reading], usual: Any) -> None:
    """Fault, treatment and reason of every reading that is not used as written; `sure` now means used."""
    doubted = [r for r in seen if not r.sure]
    early = [r for r in doubted if r.before is None and r.after is not None]
    late = [r for r in doubted if r.after is None and r.before is not None]
    for r in seen:
        if r.sure and not r.fixed and r.stretch != "none":
            r.fault, r.treatment = r.stretch, "corrected"
    for r in doubted:
        came = [q.miles for q in seen if q.sure and q.order == r.order and q.which == "in"]
        is_below = r.which == "out" and bool(came) and r.shown < came[0]
        r.used, r.treatment, r.reason = False, "left_out", "below_in" if is_below else "contradicts"
        end = early if r in early else late if r in late else []
        rises = len({q.day for q in end}) >= 2 and all(a.shown <= b.shown for a, b in pairwise(end))
        r.fault = r.slip if r.slip != "none" else seen_beside(r, is_below, usual)
        if r.stretch == "cluster_replaced" or rises:
            r.fault = "cluster_replaced"


def seen_beside(r: Reading, is_below: bool, usual: Any) -> str:
    if is_below:
        return "below_in"
    if r.before and r.shown < r.before[1]:
        return "rollback"
    if r.before and r.shown > r.before[1] + most((r.day - r.before[0]).days, usual):
        return "too_many_miles_a_day"
    return "contradicts"
